-- The last transaction that changed a vineyard's days, so that what was reckoned from them knows whether it still holds,
-- at the cost of one row and not of all days. Transactions that change days of one vineyard wait for each other here.
create table weather_mark (
  vineyard_id uuid primary key references vineyard (id),
  changed_by xid8 not null
);
insert into weather_mark (vineyard_id, changed_by)
select distinct vineyard_id, pg_current_xact_id() from weather_day;
select rootling_fence('weather_mark', false);
revoke insert, update on weather_mark from "${app_role}";

create function rootling_mark_weather() returns trigger
  language plpgsql security definer set search_path = public, pg_temp as $$
begin
  insert into weather_mark as m (vineyard_id, changed_by)
  select distinct vineyard_id, pg_current_xact_id() from changed
  on conflict (vineyard_id) do update set changed_by = excluded.changed_by where m.changed_by <> excluded.changed_by;
  return null;
end $$;
create trigger mark_added after insert on weather_day
  referencing new table as changed for each statement execute function rootling_mark_weather();
create trigger mark_changed after update on weather_day
  referencing new table as changed for each statement execute function rootling_mark_weather();
