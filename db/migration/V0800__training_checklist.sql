-- The year's checklist, to begin with our own (shared/reference/year-one-checklist.csv), from then on the owner's.
-- Exactly one of the at_ columns says when an item first falls due.
create table care_item (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  code text not null check (code ~ '^[a-z0-9][a-z0-9-]{0,39}$'),
  position int not null check (position between 0 and 100000),
  name text not null check (length(name) between 1 and 80),
  at_days int check (at_days between 0 and 730),
  at_stage int check (at_stage between 0 and 97),
  at_date text check (at_date ~ '^(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])$'),
  at_heat numeric(6, 1) check (at_heat > 0 and at_heat <= 5000),
  at_rain numeric(5, 1) check (at_rain > 0 and at_rain <= 500),
  or_after_days int check (or_after_days between 0 and 730),
  window_days int not null check (window_days between 0 and 365),
  repeat_days int check (repeat_days between 1 and 365),
  until_date text check (until_date ~ '^(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])$'),
  after_item_id uuid,
  why text not null check (length(why) between 1 and 600),
  how text not null check (length(how) between 1 and 1200),
  caution text check (length(caution) between 1 and 40),
  step text check (length(step) between 1 and 40),
  source text not null check (length(source) between 1 and 600),
  how_known text not null check (length(how_known) between 1 and 40),
  withdrawn_at timestamptz,
  version int not null default 0,
  primary key (vineyard_id, id),
  unique (vineyard_id, code),
  foreign key (vineyard_id, after_item_id) references care_item (vineyard_id, id),
  check (num_nonnulls(at_days, at_stage, at_date, at_heat, at_rain) = 1),
  check (or_after_days is null or at_stage is not null),
  check (after_item_id is distinct from id)
);
select rootling_fence('care_item');

-- Done, on these places of one row on one day.
create table care_tick (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  item_id uuid not null,
  block_id uuid not null,
  row_id uuid not null,
  places int4multirange not null check (not isempty(places)),
  done_on date not null check (done_on between date '1990-01-01' and date '2100-12-31'),
  done_by uuid not null,
  log_id uuid,
  note text check (length(note) between 1 and 2000),
  recorded_at timestamptz not null default now(),
  withdrawn_at timestamptz,
  withdrawn_by uuid,
  primary key (vineyard_id, id),
  foreign key (vineyard_id, item_id) references care_item (vineyard_id, id),
  foreign key (vineyard_id, block_id) references block (vineyard_id, id),
  foreign key (vineyard_id, row_id) references vine_row (vineyard_id, id)
);
create index care_tick_row on care_tick (vineyard_id, row_id, item_id) where withdrawn_at is null;
create index care_tick_block on care_tick (vineyard_id, block_id, item_id, done_on) where withdrawn_at is null;
create index care_tick_log on care_tick (vineyard_id, log_id) where log_id is not null;
select rootling_fence('care_tick', false);

-- How many places of a block an item's round has covered; written when ticks are, read by the overview of all blocks.
create table care_block_tally (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  block_id uuid not null,
  item_id uuid not null,
  round_from date not null,
  places int not null check (places >= 0),
  primary key (vineyard_id, block_id, item_id),
  foreign key (vineyard_id, block_id) references block (vineyard_id, id),
  foreign key (vineyard_id, item_id) references care_item (vineyard_id, id)
);
select rootling_fence('care_block_tally', false);
