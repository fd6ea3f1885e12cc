-- Copies the vineyard :from until there are :most, all its tables as they are but secrets, history and jobs. Run as the
-- schema's owner.
\set ON_ERROR_STOP on
begin;
select set_config('bench.most', :'most', true), set_config('bench.from', :'from', true);
do $$
declare
  source uuid := current_setting('bench.from')::uuid;
  target uuid;
  open text[];
  later text[];
  tbl text;
  columns text;
  went boolean;
  left_out constant text[] := array['audit_entry', 'api_token', 'invitation', 'calendar_link', 'day_link', 'job', 'daily_run', 'restoring', 'deleting'];
begin
  select array_agg(c.table_name::text) into open from information_schema.columns c
    join pg_tables t on t.schemaname = 'public' and t.tablename = c.table_name
   where c.table_schema = 'public' and c.column_name = 'vineyard_id' and not c.table_name = any (left_out);
  foreach tbl in array open loop execute format('alter table %I disable trigger user', tbl); end loop;
  for n in 2 .. current_setting('bench.most')::int loop
    target := md5('vineyard' || n)::uuid;
    insert into vineyard (id, slug, name, zone, latitude, longitude, altitude_m)
      select target, 'bench-' || n, 'Bench ' || n, zone, latitude, longitude, altitude_m from vineyard where id = source;
    perform set_config('rootling.vineyard', target::text, true);
    later := open;
    loop -- what refers to a table that is not copied yet is tried again
      went := false;
      foreach tbl in array later loop
        begin
          select string_agg(quote_ident(column_name), ', ') into columns from information_schema.columns
           where table_schema = 'public' and table_name = tbl and column_name <> 'vineyard_id' and is_generated = 'NEVER' and is_identity = 'NO';
          execute format('insert into %I (vineyard_id, %s) select %L, %s from %I where vineyard_id = %L', tbl, columns, target, columns, tbl, source);
          later := array_remove(later, tbl);
          went := true;
        exception
          when foreign_key_violation then null;
          when unique_violation then later := array_remove(later, tbl);
        end;
      end loop;
      exit when cardinality(later) = 0;
      if not went then raise exception 'not copied: %', later; end if;
    end loop;
  end loop;
  foreach tbl in array open loop execute format('alter table %I enable trigger user', tbl); end loop;
end $$;
commit;
analyze vineyard, membership, lot, block, vine_row, vine, task;
