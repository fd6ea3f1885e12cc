-- How many present vines of each state stand where, by row and lot, and the same by block and lot. Kept by the trigger
-- below and by nothing else, so that no page ever counts vines.
create table vine_row_tally (
  vineyard_id uuid not null references vineyard (id),
  row_id uuid not null,
  lot_id uuid not null,
  block_id uuid not null,
  planted int not null,
  growing int not null,
  weak int not null,
  not_moving int not null,
  dead int not null,
  missing int not null,
  first_planted date,
  last_planted date,
  primary key (vineyard_id, row_id, lot_id)
);
create index vine_row_tally_block on vine_row_tally (vineyard_id, block_id, lot_id);
select rootling_fence('vine_row_tally', false);
revoke insert, update on vine_row_tally from "${app_role}";

create table vine_block_tally (
  vineyard_id uuid not null references vineyard (id),
  block_id uuid not null,
  lot_id uuid not null,
  planted int not null,
  growing int not null,
  weak int not null,
  not_moving int not null,
  dead int not null,
  missing int not null,
  first_planted date,
  last_planted date,
  primary key (vineyard_id, block_id, lot_id)
);
select rootling_fence('vine_block_tally', false);
revoke insert, update on vine_block_tally from "${app_role}";

-- After each statement, counts the touched rows anew and sums their blocks anew. A row is at most a few hundred vines,
-- a block a few hundred rows. One statement at a time per block, taken in the order of ids so that none waits in a ring.
create function rootling_tally_vines() returns trigger
  language plpgsql security definer set search_path = public, pg_temp as $$
begin
  perform pg_advisory_xact_lock(hashtextextended(t.block_id::text, 700))
    from (select distinct block_id from touched order by block_id) t;

  insert into vine_row_tally (vineyard_id, row_id, lot_id, block_id, planted, growing, weak, not_moving, dead, missing,
    first_planted, last_planted)
  select t.vineyard_id, t.row_id, t.lot_id, t.block_id,
    count(v.id) filter (where v.state = 'PLANTED'),
    count(v.id) filter (where v.state = 'GROWING'),
    count(v.id) filter (where v.state = 'WEAK'),
    count(v.id) filter (where v.state = 'NOT_MOVING'),
    count(v.id) filter (where v.state = 'DEAD'),
    count(v.id) filter (where v.state = 'MISSING'),
    min(v.planted_on), max(v.planted_on)
  from (select distinct vineyard_id, row_id, lot_id, block_id from touched) t
  left join vine v on v.vineyard_id = t.vineyard_id and v.row_id = t.row_id and v.lot_id = t.lot_id
    and v.ended_on is null
  group by t.vineyard_id, t.row_id, t.lot_id, t.block_id
  on conflict (vineyard_id, row_id, lot_id) do update set
    planted = excluded.planted, growing = excluded.growing, weak = excluded.weak, not_moving = excluded.not_moving,
    dead = excluded.dead, missing = excluded.missing,
    first_planted = excluded.first_planted, last_planted = excluded.last_planted;

  insert into vine_block_tally (vineyard_id, block_id, lot_id, planted, growing, weak, not_moving, dead, missing,
    first_planted, last_planted)
  select r.vineyard_id, r.block_id, r.lot_id, sum(r.planted), sum(r.growing), sum(r.weak), sum(r.not_moving),
    sum(r.dead), sum(r.missing), min(r.first_planted), max(r.last_planted)
  from (select distinct vineyard_id, block_id, lot_id from touched) t
  join vine_row_tally r on r.vineyard_id = t.vineyard_id and r.block_id = t.block_id and r.lot_id = t.lot_id
  group by r.vineyard_id, r.block_id, r.lot_id
  on conflict (vineyard_id, block_id, lot_id) do update set
    planted = excluded.planted, growing = excluded.growing, weak = excluded.weak, not_moving = excluded.not_moving,
    dead = excluded.dead, missing = excluded.missing,
    first_planted = excluded.first_planted, last_planted = excluded.last_planted;
  return null;
end $$;
revoke execute on function rootling_tally_vines() from public;

create trigger vine_tally_added after insert on vine
  referencing new table as touched for each statement execute function rootling_tally_vines();
create trigger vine_tally_changed after update on vine
  referencing new table as touched for each statement execute function rootling_tally_vines();

-- Where a vine stands, what it is and when it came do not change; only its state and its end do.
create function rootling_vine_stays() returns trigger language plpgsql as $$
begin
  raise exception 'a vine keeps its place, its lot and its planting' using errcode = '23514';
end $$;
create trigger vine_stays before update on vine for each row
  when ((old.id, old.block_id, old.row_id, old.place, old.lot_id, old.planting_id, old.planted_on)
    is distinct from (new.id, new.block_id, new.row_id, new.place, new.lot_id, new.planting_id, new.planted_on))
  execute function rootling_vine_stays();
