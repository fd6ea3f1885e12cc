-- A second factor by time-based one-time passwords (RFC 6238). The secret is stored encrypted with a key that is not in
-- this database; the step of the last code that was taken keeps a code from being used twice.
create table second_factor (
  account_id uuid primary key references account (id),
  secret bytea not null,
  made_at timestamptz not null default now(),
  confirmed_at timestamptz,
  last_step bigint not null default 0
);
alter table second_factor enable row level security;
create policy self on second_factor using (account_id = rootling_account()) with check (account_id = rootling_account());
grant select, insert, update, delete on second_factor to "${app_role}";

-- Codes on paper for the day the phone is lost: only their hashes, each good once.
create table recovery_code (
  account_id uuid not null references account (id),
  code_hash text not null,
  used_at timestamptz,
  primary key (account_id, code_hash)
);
alter table recovery_code enable row level security;
create policy self on recovery_code using (account_id = rootling_account()) with check (account_id = rootling_account());
grant select, insert, update, delete on recovery_code to "${app_role}";
