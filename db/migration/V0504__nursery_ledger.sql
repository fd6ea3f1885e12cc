-- The stock ledger: every change of a lot's whereabouts is one movement between two accounts of the lot.
-- It is only ever added to. A wrong movement is answered by one in the other direction.
create table movement (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  seq bigint generated always as identity,
  lot_id uuid not null,
  kind text not null check (kind in ('RECEIVED', 'REJECTED', 'PLACED', 'MOVED', 'LIFTED', 'PLANTED', 'RETURNED',
    'LOST', 'FOUND', 'COUNTED', 'SPLIT_OFF', 'SPLIT_IN', 'UNDONE')),
  count int not null check (count between 1 and 1000000),
  on_day date not null check (on_day between date '1990-01-01' and date '2100-12-31'),
  from_account text not null check (from_account in
    ('OUTSIDE', 'UNPLACED', 'HOLD', 'LIFTED', 'PLANTED', 'REJECTED', 'RETURNED', 'LOST', 'SPLIT')),
  from_hold uuid,
  to_account text not null check (to_account in
    ('OUTSIDE', 'UNPLACED', 'HOLD', 'LIFTED', 'PLANTED', 'REJECTED', 'RETURNED', 'LOST', 'SPLIT')),
  to_hold uuid,
  reason text check (length(reason) between 1 and 300),
  reference uuid,
  answers uuid,
  by_account uuid default rootling_account(),
  at timestamptz not null default now(),
  primary key (vineyard_id, id),
  foreign key (vineyard_id, lot_id) references lot (vineyard_id, id),
  foreign key (vineyard_id, lot_id, from_hold) references hold (vineyard_id, lot_id, id),
  foreign key (vineyard_id, lot_id, to_hold) references hold (vineyard_id, lot_id, id),
  foreign key (vineyard_id, answers) references movement (vineyard_id, id),
  check ((from_account = 'HOLD') = (from_hold is not null)),
  check ((to_account = 'HOLD') = (to_hold is not null)),
  check ((from_account, from_hold) is distinct from (to_account, to_hold)),
  check ((kind = 'UNDONE') = (answers is not null)),
  check (kind not in ('REJECTED', 'LOST', 'FOUND', 'COUNTED', 'RETURNED') or reason is not null)
);
create index movement_lot on movement (vineyard_id, lot_id, on_day, seq);
create index movement_reference on movement (vineyard_id, reference);
-- A movement can be answered once.
create unique index movement_answers on movement (vineyard_id, answers) where answers is not null;
select rootling_fence('movement', false);
revoke update on movement from "${app_role}";

-- What stands in each account now: the sums of the movements, kept by the trigger below and by nothing else.
create table lot_balance (
  vineyard_id uuid not null references vineyard (id),
  lot_id uuid not null,
  account text not null,
  hold_id uuid not null,
  count int not null,
  primary key (vineyard_id, lot_id, account, hold_id),
  foreign key (vineyard_id, lot_id) references lot (vineyard_id, id),
  constraint lot_balance_not_below_zero check (count >= 0 or account = 'OUTSIDE')
);
create index lot_balance_hold on lot_balance (vineyard_id, hold_id) where account = 'HOLD' and count > 0;
select rootling_fence('lot_balance', false);
revoke insert, update on lot_balance from "${app_role}";

-- Books a movement: locks the lot, so that two people cannot both take the last vines, and refuses what would leave
-- less than nothing, today or (for a movement entered late) on any day since.
create function rootling_book_movement() returns trigger
  language plpgsql security definer set search_path = public, pg_temp as $$
declare
  nil constant uuid := '00000000-0000-0000-0000-000000000000';
  there int;
  lowest bigint;
begin
  perform 1 from lot where vineyard_id = new.vineyard_id and id = new.lot_id for update;
  if not found then
    raise exception 'no such lot' using errcode = '23503';
  end if;
  if new.from_account <> 'OUTSIDE' then
    select count into there from lot_balance
     where vineyard_id = new.vineyard_id and lot_id = new.lot_id
       and account = new.from_account and hold_id = coalesce(new.from_hold, nil);
    if coalesce(there, 0) < new.count then
      raise exception 'only % there, % asked', coalesce(there, 0), new.count
        using errcode = 'RL001', detail = format('%s %s', new.count, coalesce(there, 0));
    end if;
    if exists (select 1 from movement where vineyard_id = new.vineyard_id and lot_id = new.lot_id
                 and on_day > new.on_day) then
      select min(running) into lowest from (
        select on_day, sum(sum(case
                 when m.from_account = new.from_account and m.from_hold is not distinct from new.from_hold then -m.count
                 else m.count end)) over (order by on_day) as running
          from movement m
         where m.vineyard_id = new.vineyard_id and m.lot_id = new.lot_id
           and ((m.from_account = new.from_account and m.from_hold is not distinct from new.from_hold)
             or (m.to_account = new.from_account and m.to_hold is not distinct from new.from_hold))
         group by on_day) days
       where on_day >= new.on_day;
      select least(lowest, coalesce(sum(case
               when m.from_account = new.from_account and m.from_hold is not distinct from new.from_hold then -m.count
               else m.count end), 0)) into lowest
        from movement m
       where m.vineyard_id = new.vineyard_id and m.lot_id = new.lot_id and m.on_day <= new.on_day
         and ((m.from_account = new.from_account and m.from_hold is not distinct from new.from_hold)
           or (m.to_account = new.from_account and m.to_hold is not distinct from new.from_hold));
      if lowest < new.count then
        raise exception 'only % there on or after %, % asked', lowest, new.on_day, new.count
          using errcode = 'RL002', detail = format('%s %s', new.count, lowest);
      end if;
    end if;
  end if;
  insert into lot_balance as b (vineyard_id, lot_id, account, hold_id, count)
  values (new.vineyard_id, new.lot_id, new.to_account, coalesce(new.to_hold, nil), new.count)
  on conflict (vineyard_id, lot_id, account, hold_id) do update set count = b.count + excluded.count;
  if new.from_account = 'OUTSIDE' then
    insert into lot_balance as b (vineyard_id, lot_id, account, hold_id, count)
    values (new.vineyard_id, new.lot_id, 'OUTSIDE', nil, 0) on conflict do nothing;
  end if;
  update lot_balance set count = count - new.count
   where vineyard_id = new.vineyard_id and lot_id = new.lot_id
     and account = new.from_account and hold_id = coalesce(new.from_hold, nil);
  return new;
end $$;
create trigger book before insert on movement for each row execute function rootling_book_movement();

create function rootling_keep_movement() returns trigger language plpgsql as $$
begin
  raise exception 'the stock ledger is only added to' using errcode = 'RL003';
end $$;
create trigger keep before update or delete on movement for each row execute function rootling_keep_movement();
create trigger keep_all before truncate on movement for each statement execute function rootling_keep_movement();

-- Every balance that is not the sum of its movements, in the current vineyard: empty as long as the books are right.
create function rootling_ledger_differences()
  returns table (lot_id uuid, account text, hold_id uuid, kept bigint, summed bigint)
  language sql stable as $$
  with nil as (select '00000000-0000-0000-0000-000000000000'::uuid as id),
  entries as (
    select m.lot_id, m.to_account as account, coalesce(m.to_hold, nil.id) as hold_id, m.count::bigint as count
      from movement m, nil where m.vineyard_id = rootling_vineyard()
    union all
    select m.lot_id, m.from_account, coalesce(m.from_hold, nil.id), -m.count::bigint
      from movement m, nil where m.vineyard_id = rootling_vineyard()),
  sums as (select e.lot_id, e.account, e.hold_id, sum(e.count)::bigint as summed from entries e group by 1, 2, 3)
  select coalesce(b.lot_id, s.lot_id), coalesce(b.account, s.account), coalesce(b.hold_id, s.hold_id),
         coalesce(b.count, 0)::bigint, coalesce(s.summed, 0)
    from (select * from lot_balance where vineyard_id = rootling_vineyard()) b
    full join sums s on s.lot_id = b.lot_id and s.account = b.account and s.hold_id = b.hold_id
   where coalesce(b.count, 0) <> coalesce(s.summed, 0) $$;
