-- The review reads sums over all vines that ever stood: this index holds all it needs, in the order it groups by, so that
-- a million vines are summed without reading them.
create index vine_cohort on vine (vineyard_id, block_id, lot_id, planted_on, planted_by, state, state_on)
  where ended_how is distinct from 'UNDONE';
-- Those that need a look are few among many.
create index vine_ailing on vine (vineyard_id, state, block_id, row_id, place)
  where ended_on is null and state in ('WEAK', 'NOT_MOVING', 'DEAD', 'MISSING');
