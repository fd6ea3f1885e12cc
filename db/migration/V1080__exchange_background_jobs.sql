-- Work that takes longer than a second: how far it is, the wish to stop it, and what came of it. It stands in the database,
-- so that any node can show it or stop it; a day after its start it is forgotten.
create table background_job (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  title text not null check (length(title) between 1 and 300),
  by_account uuid not null default rootling_account() references account (id),
  state text not null check (state in ('RUNNING', 'DONE', 'FAILED', 'CANCELLED')),
  started_at timestamptz not null default now(),
  heard_at timestamptz not null default now(),
  done bigint not null default 0 check (done >= 0),
  total bigint not null default 0 check (total >= 0),
  cancel_asked boolean not null default false,
  back text not null check (back like '/%' and length(back) <= 300),
  page text check (page like '/%' and length(page) <= 300),
  answer text,
  reason text check (length(reason) <= 2000),
  file_name text check (length(file_name) between 1 and 200),
  file_type text check (length(file_type) <= 100),
  file_bytes bigint not null default 0 check (file_bytes >= 0),
  primary key (vineyard_id, id)
);
create index background_job_of on background_job (vineyard_id, by_account, started_at);
select rootling_fence('background_job', false, true);

-- A file that such work made, in pieces.
create table background_file (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  job_id uuid not null,
  part int not null,
  content bytea not null check (octet_length(content) between 1 and 1048576),
  primary key (vineyard_id, job_id, part),
  foreign key (vineyard_id, job_id) references background_job (vineyard_id, id) on delete cascade
);
select rootling_fence('background_file', false, true);

-- As before, but what was done in the background is no record of the vineyard.
create or replace function rootling_first_filled() returns text
  language plpgsql stable security definer set search_path = public, pg_temp as $$
declare
  tbl text;
  filled boolean;
begin
  for tbl in
    select c.relname from pg_class c
     where c.relnamespace = 'public'::regnamespace and c.relkind in ('r', 'p')
       and exists (select 1 from pg_attribute a where a.attrelid = c.oid and a.attname = 'vineyard_id')
       and c.relname not in ('membership', 'invitation', 'api_token', 'calendar_feed', 'audit_entry', 'daily_run',
         'form_receipt', 'digest_mail', 'weather_fetch', 'archive_restore', 'archive_part', 'restoring', 'deleting',
         'background_job', 'background_file')
     order by 1
  loop
    execute format('select exists (select 1 from %I where vineyard_id = rootling_vineyard())', tbl) into filled;
    if filled then
      return tbl;
    end if;
  end loop;
  return null;
end $$;
