-- Who and which vineyard a connection works for. The application sets both at every checkout;
-- when they are not set the policies below match nothing: row-level security fails closed.
create function rootling_vineyard() returns uuid language sql stable parallel safe
  as $$ select nullif(current_setting('rootling.vineyard', true), '')::uuid $$;
create function rootling_account() returns uuid language sql stable parallel safe
  as $$ select nullif(current_setting('rootling.account', true), '')::uuid $$;

-- Who changed what and when. Written by a trigger only; the application may read its own vineyard's entries.
create table audit_entry (
  vineyard_id uuid not null,
  id bigint generated always as identity,
  at timestamptz not null default now(),
  account_id uuid,
  action text not null check (action in ('added', 'changed', 'removed')),
  table_name text not null,
  row_id uuid not null,
  before jsonb,
  after jsonb,
  primary key (vineyard_id, id)
);
create index audit_entry_subject on audit_entry (vineyard_id, table_name, row_id, id);
alter table audit_entry enable row level security;
create policy fence on audit_entry using (vineyard_id = rootling_vineyard());
grant select on audit_entry to "${app_role}";

create function rootling_audit() returns trigger language plpgsql security definer set search_path = public, pg_temp as $$
declare
  secret constant text[] := array['password_hash', 'token_hash', 'secret_hash'];
  b jsonb := case when tg_op = 'INSERT' then null else to_jsonb(old) - secret end;
  a jsonb := case when tg_op = 'DELETE' then null else to_jsonb(new) - secret end;
begin
  if tg_op = 'UPDATE' and a - 'version' = b - 'version' then
    return new;
  end if;
  insert into audit_entry (vineyard_id, account_id, action, table_name, row_id, before, after)
  values (coalesce((a ->> 'vineyard_id')::uuid, (b ->> 'vineyard_id')::uuid), rootling_account(),
          case tg_op when 'INSERT' then 'added' when 'UPDATE' then 'changed' else 'removed' end,
          tg_table_name, coalesce((a ->> 'id')::uuid, (b ->> 'id')::uuid), b, a);
  return coalesce(new, old);
end $$;

-- Puts a table behind the fence of its vineyard, and under audit. Deleting is granted only where asked for.
create function rootling_fence(tbl text, audited boolean default true, deletable boolean default false)
  returns void language plpgsql as $$
begin
  execute format('alter table %I enable row level security', tbl);
  execute format('create policy fence on %I using (vineyard_id = rootling_vineyard()) with check (vineyard_id = rootling_vineyard())', tbl);
  execute format('grant select, insert, update on %I to %I', tbl, '${app_role}');
  if deletable then
    execute format('grant delete on %I to %I', tbl, '${app_role}');
  end if;
  if audited then
    execute format('create trigger audit after insert or update or delete on %I for each row execute function rootling_audit()', tbl);
  end if;
end $$;
revoke execute on function rootling_fence(text, boolean, boolean) from public;
