-- Deleting an account or a vineyard: asked for, then after a waiting time done by the program, once and for all.
alter table account add column delete_after timestamptz;
alter table vineyard add column delete_after timestamptz;

-- The vineyard that is being deleted, with the one transaction that does it. The application sees and writes none of it.
create table deleting (
  vineyard_id uuid primary key,
  xact xid8 not null
);
alter table deleting enable row level security;
grant select on deleting to "${app_role}";

create function rootling_is_deleting(p_vineyard uuid) returns boolean
  language sql stable security definer set search_path = public, pg_temp
  as $$ select exists (select 1 from deleting where vineyard_id = p_vineyard and xact = pg_current_xact_id_if_assigned()) $$;
revoke execute on function rootling_is_deleting(uuid) from public;

-- What is only ever added to goes with its vineyard, and with nothing less.
create or replace function rootling_only_added_to() returns trigger
  language plpgsql security definer set search_path = public, pg_temp as $$
begin
  if tg_op = 'DELETE' and rootling_is_deleting(old.vineyard_id) then
    return old;
  end if;
  raise exception '% is only ever added to', tg_table_name using errcode = '42501';
end $$;

create or replace function rootling_keep_movement() returns trigger
  language plpgsql security definer set search_path = public, pg_temp as $$
begin
  if tg_op = 'DELETE' and rootling_is_deleting(old.vineyard_id) then
    return old;
  end if;
  raise exception 'the stock ledger is only added to' using errcode = 'RL003';
end $$;

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
  -- An archive brings its own history.
  if tg_op = 'INSERT' and rootling_is_restoring((a ->> 'vineyard_id')::uuid) then
    return new;
  end if;
  -- A history of a vineyard that is gone would be of no one.
  if tg_op = 'DELETE' and rootling_is_deleting((b ->> 'vineyard_id')::uuid) then
    return old;
  end if;
  insert into audit_entry (vineyard_id, account_id, action, table_name, row_id, before, after)
  values (coalesce((a ->> 'vineyard_id')::uuid, (b ->> 'vineyard_id')::uuid), rootling_account(),
          case tg_op when 'INSERT' then 'added' when 'UPDATE' then 'changed' else 'removed' end,
          tg_table_name, coalesce((a ->> 'id')::uuid, (b ->> 'id')::uuid), b, a);
  return coalesce(new, old);
end $$;

-- Deletes every row of a vineyard, those that need others first, and then the vineyard.
create function rootling_delete_vineyard(p_vineyard uuid) returns void
  language plpgsql security definer set search_path = public, pg_temp as $$
declare
  left_over oid[];
  gone oid[];
  tbl oid;
  names uuid[];
begin
  -- People who came with an archive are only names, and names of this vineyard.
  select array_agg(a.id) into names from account a join membership m on m.account_id = a.id
   where m.vineyard_id = p_vineyard and a.email like '%@restored.invalid';
  insert into deleting values (p_vineyard, pg_current_xact_id())
    on conflict (vineyard_id) do update set xact = excluded.xact;
  select array_agg(c.oid) into left_over from pg_class c
   where c.relnamespace = 'public'::regnamespace and c.relkind in ('r', 'p') and c.relname not in ('vineyard', 'deleting')
     and exists (select 1 from pg_attribute a where a.attrelid = c.oid and a.attname = 'vineyard_id');
  while cardinality(left_over) > 0 loop
    gone := '{}';
    foreach tbl in array left_over loop
      if not exists (select 1 from pg_constraint k where k.contype = 'f' and k.confrelid = tbl and k.conrelid <> tbl
                       and k.conrelid = any (left_over) and not k.conrelid = any (gone)) then
        execute format('delete from %s where vineyard_id = $1', tbl::regclass) using p_vineyard;
        gone := gone || tbl;
      end if;
    end loop;
    if cardinality(gone) = 0 then
      raise exception 'tables need each other: %', left_over;
    end if;
    left_over := array(select unnest(left_over) except select unnest(gone));
  end loop;
  delete from event_publication where serialized_event like '%' || p_vineyard || '%';
  delete from account where id = any (names);
  delete from vineyard where id = p_vineyard;
  delete from deleting where vineyard_id = p_vineyard;
end $$;
revoke execute on function rootling_delete_vineyard(uuid) from public;

-- Forgets a person: ways in, sessions, mails, address and name, also in the history of every vineyard. What they did stays,
-- done by a person who is not known any more.
create function rootling_delete_account(p_account uuid) returns void
  language plpgsql security definer set search_path = public, pg_temp as $$
declare
  was account;
  nobody constant text := '…';
begin
  select * into was from account where id = p_account for update;
  delete from api_token where account_id = p_account;
  delete from calendar_feed where account_id = p_account;
  delete from digest_mail where account_id = p_account;
  delete from second_factor where account_id = p_account;
  delete from recovery_code where account_id = p_account;
  delete from form_receipt where account_id = p_account;
  delete from spring_session where principal_name = was.email;
  update membership set ended_at = now(), version = version + 1 where account_id = p_account and ended_at is null;
  update work_person set name = nobody, version = version + 1 where account_id = p_account and name <> nobody;
  update account set email = id || '@deleted.invalid', name = nobody, password_hash = 'none', locale = 'en',
         units = 'metric', contrast = false, closed_at = now(), delete_after = null, version = version + 1
   where id = p_account;
  -- The history keeps what was done and forgets by whose name: in rows about the person, and wherever the address stands.
  update audit_entry
     set before = rootling_forget(before, was.name, was.email, nobody),
         after = rootling_forget(after, was.name, was.email, nobody)
   where vineyard_id in (select vineyard_id from membership where account_id = p_account)
     and (before::text like '%' || p_account || '%' or after::text like '%' || p_account || '%'
       or before::text like '%' || was.email || '%' or after::text like '%' || was.email || '%');
end $$;

create function rootling_forget(p_row jsonb, p_name text, p_email text, p_nobody text) returns jsonb
  language sql immutable set search_path = public, pg_temp
  as $$ select case when p_row is null then null else
    (select jsonb_object_agg(key, case
        when jsonb_typeof(value) = 'string' and value #>> '{}' = p_name then to_jsonb(p_nobody)
        when jsonb_typeof(value) = 'string' and position(p_email in value #>> '{}') > 0
          then to_jsonb(replace(value #>> '{}', p_email, p_nobody))
        else value end) from jsonb_each(p_row)) end $$;
revoke execute on function rootling_delete_account(uuid), rootling_forget(jsonb, text, text, text) from public;

-- Does one deletion whose waiting time is over: says what it deleted, or null when there is none. The application may call
-- this, but cannot choose.
create function rootling_delete_next() returns text
  language plpgsql security definer set search_path = public, pg_temp as $$
declare
  one uuid;
begin
  select id into one from vineyard where delete_after < now() order by delete_after limit 1 for update skip locked;
  if one is not null then
    perform rootling_delete_vineyard(one);
    return 'vineyard';
  end if;
  select id into one from account a where delete_after < now() and closed_at is null
     and not exists (select 1 from membership m where m.account_id = a.id and m.role = 'OWNER' and m.ended_at is null
       and not exists (select 1 from membership o where o.vineyard_id = m.vineyard_id and o.account_id <> a.id
                         and o.role = 'OWNER' and o.ended_at is null))
   order by delete_after limit 1 for update skip locked;
  if one is not null then
    perform rootling_delete_account(one);
    return 'account';
  end if;
  return null;
end $$;
revoke execute on function rootling_delete_next() from public;
grant execute on function rootling_delete_next() to "${app_role}";

-- As before; a note of a deletion under way is no record either.
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
         'form_receipt', 'digest_mail', 'weather_fetch', 'archive_restore', 'archive_part', 'restoring', 'deleting')
     order by 1
  loop
    execute format('select exists (select 1 from %I where vineyard_id = rootling_vineyard())', tbl) into filled;
    if filled then
      return tbl;
    end if;
  end loop;
  return null;
end $$;
