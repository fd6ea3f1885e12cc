-- The bed or store that the vines of a planting stood in before; null where they stood in none or in several.
alter table planting add column store_id uuid;
alter table planting add foreign key (vineyard_id, store_id) references store (vineyard_id, id);
-- Of what was planted before, only what is certain: the lot had one store in all its time.
alter table planting disable trigger audit;
update planting p set store_id = s.store_id
  from (select vineyard_id, lot_id, min(store_id::text)::uuid as store_id from hold
         group by vineyard_id, lot_id having count(distinct store_id) = 1) s
 where s.vineyard_id = p.vineyard_id and s.lot_id = p.lot_id;
alter table planting enable trigger audit;

-- The vines that ever stood in a block, replaced ones included, plantings taken back not: how many of them were lost
-- ('L'), last seen alive ('A') or not seen since planting ('U') so many days after planting, by each thing they can be
-- grouped by. A group is known by an id (nil where its vines stood in no one bed), a planting day by its date. Kept by the
-- triggers below and by nothing else, so that the review does not grow with the vines.
create table vine_life_tally (
  vineyard_id uuid not null references vineyard (id),
  block_id uuid not null,
  grouping_by text not null check (grouping_by in ('BLOCK', 'LOT', 'BED', 'PLANTER', 'DAY')),
  member uuid not null,
  day date not null,
  outcome char(1) not null check (outcome in ('L', 'A', 'U')),
  days int not null check (days >= 0),
  vines int not null check (vines >= 0),
  primary key (vineyard_id, grouping_by, block_id, member, day, outcome, days)
);
create index vine_life_tally_nobody on vine_life_tally (vineyard_id, block_id) where vines = 0;
select rootling_fence('vine_life_tally', false);
revoke insert, update on vine_life_tally from "${app_role}";

-- So many vines more or fewer that share all of this.
create type rootling_life_change as (
  vineyard_id uuid, block_id uuid, lot_id uuid, planting_id uuid, planted_on date, planted_by uuid, state text,
  state_on date, vines int);

create function rootling_add_lives(changes rootling_life_change[]) returns void
  language plpgsql security definer set search_path = public, pg_temp as $$
declare
  nil constant uuid := '00000000-0000-0000-0000-000000000000';
  none constant date := '-infinity';
begin
  -- The update does not see what the insert of the same statement adds, so no change is taken twice.
  with change as materialized (
    select c.vineyard_id, c.block_id, g.grouping_by, g.member, g.day,
           case when c.state in ('DEAD', 'MISSING') then 'L' when c.state = 'PLANTED' then 'U' else 'A' end as outcome,
           c.state_on - c.planted_on as days, sum(c.vines) as vines
      from unnest(changes) c
      join planting p on p.vineyard_id = c.vineyard_id and p.id = c.planting_id
     cross join lateral (values ('BLOCK', c.block_id, none), ('LOT', c.lot_id, none),
           ('BED', coalesce(p.store_id, nil), none), ('PLANTER', c.planted_by, none), ('DAY', nil, c.planted_on))
           as g (grouping_by, member, day)
     group by 1, 2, 3, 4, 5, 6, 7
    having sum(c.vines) <> 0),
  added as (
    insert into vine_life_tally (vineyard_id, block_id, grouping_by, member, day, outcome, days, vines)
    select vineyard_id, block_id, grouping_by, member, day, outcome, days, vines from change where vines > 0
    on conflict do nothing)
  update vine_life_tally t set vines = t.vines + c.vines
    from change c
   where t.vineyard_id = c.vineyard_id and t.grouping_by = c.grouping_by and t.block_id = c.block_id
     and t.member = c.member and t.day = c.day and t.outcome = c.outcome and t.days = c.days;
  -- What is nobody any more is no line either: the sums are those of the vines alone, not of what was done to them.
  delete from vine_life_tally t using (select distinct vineyard_id, block_id from unnest(changes)) c
   where t.vineyard_id = c.vineyard_id and t.block_id = c.block_id and t.vines = 0;
end $$;
revoke execute on function rootling_add_lives(rootling_life_change[]) from public;

create function rootling_tally_lives() returns trigger
  language plpgsql security definer set search_path = public, pg_temp as $$
declare
  changes rootling_life_change[];
begin
  -- The same lock, in the same order, as the tallies of rows and blocks.
  perform pg_advisory_xact_lock(hashtextextended(t.block_id::text, 700))
    from (select distinct block_id from touched order by block_id) t;
  if tg_op = 'INSERT' then
    select array_agg(row(c.*)::rootling_life_change) into changes from (
      select vineyard_id, block_id, lot_id, planting_id, planted_on, planted_by, state, state_on, count(*)::int
        from touched where ended_how is distinct from 'UNDONE' group by 1, 2, 3, 4, 5, 6, 7, 8) c;
  else
    select array_agg(row(c.*)::rootling_life_change) into changes from (
      select vineyard_id, block_id, lot_id, planting_id, planted_on, planted_by, state, state_on, sum(n)::int
        from (select *, 1 as n from touched union all select *, -1 from before) t
       where ended_how is distinct from 'UNDONE' group by 1, 2, 3, 4, 5, 6, 7, 8 having sum(n) <> 0) c;
  end if;
  if changes is not null then
    perform rootling_add_lives(changes);
  end if;
  return null;
end $$;
revoke execute on function rootling_tally_lives() from public;

create trigger vine_lives_added after insert on vine
  referencing new table as touched for each statement execute function rootling_tally_lives();
create trigger vine_lives_changed after update on vine
  referencing old table as before new table as touched for each statement execute function rootling_tally_lives();

do $$
declare
  stood record;
begin
  for stood in
    select array_agg(row(c.*)::rootling_life_change) as changes from (
      select vineyard_id, block_id, lot_id, planting_id, planted_on, planted_by, state, state_on, count(*)::int
        from vine where ended_how is distinct from 'UNDONE' group by 1, 2, 3, 4, 5, 6, 7, 8) c
     group by c.block_id
  loop
    perform rootling_add_lives(stood.changes);
  end loop;
end $$;
-- What the review read before.
drop index vine_cohort;
