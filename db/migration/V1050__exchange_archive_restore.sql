-- Putting an archive back into an empty vineyard: the upload in pieces, and how the work stands. Both are in the database,
-- so that any node can go on and a killed one leaves a trace.
create table archive_restore (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  file_name text not null check (length(file_name) between 1 and 200),
  bytes bigint not null check (bytes >= 0),
  state text not null check (state in ('CHECKING', 'READY', 'REFUSED', 'RUNNING', 'DONE', 'FAILED', 'CANCELLED')),
  by_account uuid not null references account (id),
  at timestamptz not null,
  seen_at timestamptz not null,
  rows_all bigint not null default 0,
  rows_done bigint not null default 0,
  found jsonb,
  reason_key text check (length(reason_key) <= 100),
  reason_args text[] not null default '{}',
  primary key (vineyard_id, id)
);
select rootling_fence('archive_restore', false, true);

create table archive_part (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  restore_id uuid not null,
  part int not null,
  content bytea not null check (octet_length(content) between 1 and 1048576),
  primary key (vineyard_id, restore_id, part),
  foreign key (vineyard_id, restore_id) references archive_restore (vineyard_id, id) on delete cascade
);
select rootling_fence('archive_part', false, true);

-- Vineyards into which an archive is being put, each with the one transaction that does it. There is no policy: the
-- application sees none of it and writes none of it; only the functions below do.
create table restoring (
  vineyard_id uuid primary key references vineyard (id),
  xact xid8 not null
);
alter table restoring enable row level security;
grant select on restoring to "${app_role}";

create function rootling_is_restoring(p_vineyard uuid) returns boolean
  language sql stable security definer set search_path = public, pg_temp
  as $$ select exists (select 1 from restoring where vineyard_id = p_vineyard and xact = pg_current_xact_id_if_assigned()) $$;

-- Whether nothing was recorded in the current vineyard yet: the first such table, or null.
create function rootling_first_filled() returns text
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
         'form_receipt', 'digest_mail', 'weather_fetch', 'archive_restore', 'archive_part', 'restoring')
     order by 1
  loop
    execute format('select exists (select 1 from %I where vineyard_id = rootling_vineyard())', tbl) into filled;
    if filled then
      return tbl;
    end if;
  end loop;
  return null;
end $$;

-- Opens an empty vineyard, for its owner and for this transaction only, to records that were made elsewhere.
create function rootling_restore_begin() returns void
  language plpgsql security definer set search_path = public, pg_temp as $$
declare
  tbl text;
begin
  if not exists (select 1 from membership where vineyard_id = rootling_vineyard() and account_id = rootling_account()
                   and role = 'OWNER' and ended_at is null) then
    raise exception 'only an owner puts an archive back' using errcode = '42501';
  end if;
  insert into restoring values (rootling_vineyard(), pg_current_xact_id())
    on conflict (vineyard_id) do update set xact = excluded.xact;
  tbl := rootling_first_filled();
  if tbl is not null then
    raise exception 'the vineyard is not empty: %', tbl using errcode = 'RL010', detail = tbl;
  end if;
end $$;

-- A person of the archive who is not a member here: a name that records can point at, without a way in.
create function rootling_restore_person(p_name text) returns uuid
  language plpgsql security definer set search_path = public, pg_temp as $$
declare
  person uuid := gen_random_uuid();
begin
  if not rootling_is_restoring(rootling_vineyard()) then
    raise exception 'no archive is being put back' using errcode = '42501';
  end if;
  insert into account (id, email, name, password_hash, closed_at)
  values (person, person || '@restored.invalid', p_name, 'none', now());
  insert into membership (vineyard_id, id, account_id, role, ended_at)
  values (rootling_vineyard(), gen_random_uuid(), person, 'READER', now());
  return person;
end $$;

-- The history that came with the archive, in its order, numbered anew.
create function rootling_restore_history(p_at text[], p_account text[], p_action text[], p_table text[], p_row text[],
    p_before text[], p_after text[]) returns void
  language plpgsql security definer set search_path = public, pg_temp as $$
begin
  if not rootling_is_restoring(rootling_vineyard()) then
    raise exception 'no archive is being put back' using errcode = '42501';
  end if;
  insert into audit_entry (vineyard_id, at, account_id, action, table_name, row_id, before, after)
  select rootling_vineyard(), h.at::timestamptz, h.account::uuid, h.action, h.tbl, h.row_id::uuid, h.b::jsonb, h.a::jsonb
    from unnest(p_at, p_account, p_action, p_table, p_row, p_before, p_after)
         with ordinality as h (at, account, action, tbl, row_id, b, a, n)
   order by h.n;
end $$;

-- Closes the vineyard again and notes in its history that an archive was put back.
create function rootling_restore_end(p_run uuid, p_file text) returns void
  language plpgsql security definer set search_path = public, pg_temp as $$
begin
  if not rootling_is_restoring(rootling_vineyard()) then
    raise exception 'no archive is being put back' using errcode = '42501';
  end if;
  delete from restoring where vineyard_id = rootling_vineyard();
  insert into audit_entry (vineyard_id, account_id, action, table_name, row_id, after)
  values (rootling_vineyard(), rootling_account(), 'added', 'archive_restore', p_run, jsonb_build_object('file_name', p_file));
end $$;

revoke execute on function rootling_is_restoring(uuid), rootling_first_filled(), rootling_restore_begin(),
  rootling_restore_person(text), rootling_restore_end(uuid, text),
  rootling_restore_history(text[], text[], text[], text[], text[], text[], text[]) from public;
grant execute on function rootling_first_filled(), rootling_restore_begin(), rootling_restore_person(text),
  rootling_restore_end(uuid, text),
  rootling_restore_history(text[], text[], text[], text[], text[], text[], text[]) to "${app_role}";

-- As before, but what an archive brings is not noted as new: it brings its own history.
create or replace function rootling_audit() returns trigger
  language plpgsql security definer set search_path = public, pg_temp as $$
declare
  secret constant text[] := array['password_hash', 'token_hash', 'secret_hash'];
  b jsonb := case when tg_op = 'INSERT' then null else to_jsonb(old) - secret end;
  a jsonb := case when tg_op = 'DELETE' then null else to_jsonb(new) - secret end;
begin
  if tg_op = 'UPDATE' and a - 'version' = b - 'version' then
    return new;
  end if;
  if tg_op = 'INSERT' and rootling_is_restoring((a ->> 'vineyard_id')::uuid) then
    return new;
  end if;
  insert into audit_entry (vineyard_id, account_id, action, table_name, row_id, before, after)
  values (coalesce((a ->> 'vineyard_id')::uuid, (b ->> 'vineyard_id')::uuid), rootling_account(),
          case tg_op when 'INSERT' then 'added' when 'UPDATE' then 'changed' else 'removed' end,
          tg_table_name, coalesce((a ->> 'id')::uuid, (b ->> 'id')::uuid), b, a);
  return coalesce(new, old);
end $$;
