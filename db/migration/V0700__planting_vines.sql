-- One planting: vines of one lot put into places of one row on one day. Its id is the reference that the stock ledger
-- knows it by. Undoing it marks it; nothing is removed.
create table planting (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  row_id uuid not null,
  lot_id uuid not null,
  places int4multirange not null check (not isempty(places)),
  vines int not null check (vines between 1 and 10000),
  planted_on date not null check (planted_on between date '1990-01-01' and date '2100-12-31'),
  planted_by uuid not null,
  recorded_at timestamptz not null default now(),
  undone_on date check (undone_on >= planted_on),
  undone_by uuid,
  version int not null default 0,
  primary key (vineyard_id, id),
  foreign key (vineyard_id, row_id) references vine_row (vineyard_id, id),
  foreign key (vineyard_id, lot_id) references lot (vineyard_id, id),
  check ((undone_on is null) = (undone_by is null))
);
create index planting_row on planting (vineyard_id, row_id);
create index planting_lot on planting (vineyard_id, lot_id);
select rootling_fence('planting');

-- One vine in one place. A place outlives its vines: a replacement is a new row, and the old one is ended.
create table vine (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  block_id uuid not null,
  row_id uuid not null,
  place int not null check (place between 1 and 100000),
  lot_id uuid not null,
  planting_id uuid not null,
  planted_on date not null,
  planted_by uuid not null,
  state text not null default 'PLANTED'
    check (state in ('PLANTED', 'GROWING', 'WEAK', 'NOT_MOVING', 'DEAD', 'MISSING')),
  state_on date not null,
  recorded_at timestamptz not null default now(),
  ended_on date,
  ended_how text check (ended_how in ('REPLACED', 'UNDONE', 'REMOVED')),
  ended_by_planting uuid,
  ended_at timestamptz,
  primary key (vineyard_id, id),
  foreign key (vineyard_id, block_id) references block (vineyard_id, id),
  foreign key (vineyard_id, row_id) references vine_row (vineyard_id, id),
  foreign key (vineyard_id, lot_id) references lot (vineyard_id, id),
  foreign key (vineyard_id, planting_id) references planting (vineyard_id, id),
  foreign key (vineyard_id, ended_by_planting) references planting (vineyard_id, id),
  constraint vine_state_after_planting check (state_on >= planted_on),
  constraint vine_end_after_planting check (ended_on >= planted_on),
  check ((ended_on is null) = (ended_how is null) and (ended_on is null) = (ended_at is null)),
  check ((ended_by_planting is not null) = (ended_how is not distinct from 'REPLACED'))
);
-- At most one present vine (alive, dead or missing, but not yet replaced) in a place.
create unique index vine_one_in_a_place on vine (vineyard_id, row_id, place) where ended_on is null;
create index vine_formerly on vine (vineyard_id, row_id, place) where ended_on is not null;
create index vine_planting on vine (vineyard_id, planting_id);
create index vine_replaced_by on vine (vineyard_id, ended_by_planting) where ended_by_planting is not null;
select rootling_fence('vine', false);

-- What was seen, as runs of places: one row for a whole walk along a row, so that it does not grow with the vines.
create table vine_observation (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  row_id uuid not null,
  places int4multirange not null check (not isempty(places)),
  state text check (state in ('GROWING', 'WEAK', 'NOT_MOVING', 'DEAD', 'MISSING')),
  note text check (length(note) between 1 and 2000),
  seen_on date not null check (seen_on between date '1990-01-01' and date '2100-12-31'),
  seen_by uuid not null,
  log_id uuid,
  recorded_at timestamptz not null default now(),
  withdrawn_at timestamptz,
  primary key (vineyard_id, id),
  foreign key (vineyard_id, row_id) references vine_row (vineyard_id, id),
  check (state is not null or note is not null)
);
create index vine_observation_row on vine_observation (vineyard_id, row_id, recorded_at);
create index vine_observation_log on vine_observation (vineyard_id, log_id) where log_id is not null;
select rootling_fence('vine_observation', false);

-- What was found at a place while planting: why it stayed empty, or what became of the vine meant for it.
create table place_note (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  row_id uuid not null,
  place int not null check (place between 1 and 100000),
  what text not null check (length(what) between 1 and 40),
  noted_on date not null check (noted_on between date '1990-01-01' and date '2100-12-31'),
  noted_by uuid not null,
  log_id uuid,
  recorded_at timestamptz not null default now(),
  withdrawn_at timestamptz,
  primary key (vineyard_id, id),
  foreign key (vineyard_id, row_id) references vine_row (vineyard_id, id)
);
create index place_note_row on place_note (vineyard_id, row_id, place);
create index place_note_log on place_note (vineyard_id, log_id) where log_id is not null;
select rootling_fence('place_note', false);
