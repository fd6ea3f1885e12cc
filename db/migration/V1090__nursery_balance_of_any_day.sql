-- What came into and went out of each account of a lot on each day: the sums of the movements, kept by the trigger below
-- and by nothing else, so that the balance of any day costs its days and not its movements.
create table lot_day (
  vineyard_id uuid not null references vineyard (id),
  lot_id uuid not null,
  on_day date not null,
  account text not null,
  hold_id uuid not null,
  change int not null,
  primary key (vineyard_id, lot_id, on_day, account, hold_id),
  foreign key (vineyard_id, lot_id) references lot (vineyard_id, id)
);
insert into lot_day (vineyard_id, lot_id, on_day, account, hold_id, change)
select e.vineyard_id, e.lot_id, e.on_day, e.account, coalesce(e.hold_id, '00000000-0000-0000-0000-000000000000'), sum(e.change)
  from (select vineyard_id, lot_id, on_day, to_account as account, to_hold as hold_id, count as change from movement
        union all
        select vineyard_id, lot_id, on_day, from_account, from_hold, -count from movement) e
 group by 1, 2, 3, 4, 5;
select rootling_fence('lot_day', false);
revoke insert, update on lot_day from "${app_role}";

-- A balance is written with every movement: room for its next version on the same page.
alter table lot_balance set (fillfactor = 50);

create function rootling_add_to_day() returns trigger
  language plpgsql security definer set search_path = public, pg_temp as $$
declare
  nil constant uuid := '00000000-0000-0000-0000-000000000000';
begin
  insert into lot_day as d (vineyard_id, lot_id, on_day, account, hold_id, change)
  values (new.vineyard_id, new.lot_id, new.on_day, new.to_account, coalesce(new.to_hold, nil), new.count),
         (new.vineyard_id, new.lot_id, new.on_day, new.from_account, coalesce(new.from_hold, nil), -new.count)
  on conflict (vineyard_id, lot_id, on_day, account, hold_id) do update set change = d.change + excluded.change;
  return null;
end $$;
create trigger add_to_day after insert on movement for each row execute function rootling_add_to_day();

-- As before, and now the sums of the days too.
create or replace function rootling_ledger_differences()
  returns table (lot_id uuid, account text, hold_id uuid, kept bigint, summed bigint)
  language sql stable as $$
  with nil as (select '00000000-0000-0000-0000-000000000000'::uuid as id),
  entries as (
    select m.lot_id, m.on_day, m.to_account as account, coalesce(m.to_hold, nil.id) as hold_id, m.count::bigint as count
      from movement m, nil where m.vineyard_id = rootling_vineyard()
    union all
    select m.lot_id, m.on_day, m.from_account, coalesce(m.from_hold, nil.id), -m.count::bigint
      from movement m, nil where m.vineyard_id = rootling_vineyard()),
  days as (select e.lot_id, e.on_day, e.account, e.hold_id, sum(e.count)::bigint as summed from entries e group by 1, 2, 3, 4),
  sums as (select d.lot_id, d.account, d.hold_id, sum(d.summed)::bigint as summed from days d group by 1, 2, 3)
  select coalesce(b.lot_id, s.lot_id), coalesce(b.account, s.account), coalesce(b.hold_id, s.hold_id),
         coalesce(b.count, 0)::bigint, coalesce(s.summed, 0)
    from (select * from lot_balance where vineyard_id = rootling_vineyard()) b
    full join sums s on s.lot_id = b.lot_id and s.account = b.account and s.hold_id = b.hold_id
   where coalesce(b.count, 0) <> coalesce(s.summed, 0)
  union all
  select coalesce(k.lot_id, d.lot_id), coalesce(k.account, d.account), coalesce(k.hold_id, d.hold_id),
         coalesce(k.change, 0)::bigint, coalesce(d.summed, 0)
    from (select * from lot_day where vineyard_id = rootling_vineyard()) k
    full join days d
      on d.lot_id = k.lot_id and d.on_day = k.on_day and d.account = k.account and d.hold_id = k.hold_id
   where coalesce(k.change, 0) <> coalesce(d.summed, 0) $$;
