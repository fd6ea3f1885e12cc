-- A block: its boundary in metres about its own origin (x east, y north), and the layout that its rows follow.
create table block (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  code text not null check (code ~ '^[A-Z0-9][A-Z0-9._-]{0,11}$'),
  name text not null check (length(name) between 1 and 80),
  boundary text not null check (length(boundary) <= 200000),
  area_m2 double precision not null check (area_m2 >= 1 and area_m2 < 1e9),
  boundary_source text not null check (boundary_source in ('TYPED', 'TAPE', 'WALKED', 'IMPORTED', 'SPLIT')),
  boundary_note text check (length(boundary_note) <= 400),
  origin_latitude double precision check (origin_latitude between -90 and 90),
  origin_longitude double precision check (origin_longitude between -180 and 180),
  row_spacing_m double precision not null default 0 check (row_spacing_m >= 0),
  vine_spacing_m double precision not null default 0 check (vine_spacing_m >= 0),
  headland_m double precision not null default 0 check (headland_m >= 0),
  side_margin_m double precision not null default 0 check (side_margin_m >= 0),
  end_gap_m double precision not null default 0 check (end_gap_m >= 0),
  row_bearing_deg double precision not null default 0 check (row_bearing_deg >= 0 and row_bearing_deg < 180),
  first_row_offset_m double precision not null default 0 check (first_row_offset_m >= 0),
  min_vines_per_row int not null default 3 check (min_vines_per_row >= 1),
  alignment text not null default 'ROW' check (alignment in ('ROW', 'SQUARE')),
  row_count int not null default 0 check (row_count >= 0),
  place_count int not null default 0 check (place_count >= 0),
  withdrawn_at timestamptz,
  version int not null default 0,
  primary key (vineyard_id, id),
  check ((origin_latitude is null) = (origin_longitude is null))
);
create unique index block_code on block (vineyard_id, code) where withdrawn_at is null;
select rootling_fence('block');

-- Every boundary a block ever had, with how it was found; the last one stands in the block as well.
create table block_boundary (
  vineyard_id uuid not null default rootling_vineyard(),
  id uuid not null,
  block_id uuid not null,
  boundary text not null check (length(boundary) <= 200000),
  area_m2 double precision not null,
  source text not null,
  note text,
  recorded_at timestamptz not null default now(),
  recorded_by uuid default rootling_account(),
  primary key (vineyard_id, id),
  foreign key (vineyard_id, block_id) references block (vineyard_id, id)
);
create index block_boundary_block on block_boundary (vineyard_id, block_id, recorded_at);
select rootling_fence('block_boundary', false);

-- Trees, wells, wet spots: what no row may touch.
create table block_exclusion (
  vineyard_id uuid not null default rootling_vineyard(),
  id uuid not null,
  block_id uuid not null,
  name text not null check (length(name) between 1 and 80),
  shape text not null check (length(shape) <= 200000),
  withdrawn_at timestamptz,
  version int not null default 0,
  primary key (vineyard_id, id),
  foreign key (vineyard_id, block_id) references block (vineyard_id, id)
);
create index block_exclusion_block on block_exclusion (vineyard_id, block_id);
select rootling_fence('block_exclusion');

-- A row is one line; its places are numbered 1 to places over its stretches. There is no table of places.
create table vine_row (
  vineyard_id uuid not null default rootling_vineyard(),
  id uuid not null,
  block_id uuid not null,
  number int not null check (number between 1 and 100000),
  places int not null check (places between 1 and 100000),
  withdrawn_at timestamptz,
  version int not null default 0,
  primary key (vineyard_id, id),
  foreign key (vineyard_id, block_id) references block (vineyard_id, id)
);
create unique index vine_row_number on vine_row (vineyard_id, block_id, number) where withdrawn_at is null;
select rootling_fence('vine_row');

create table row_stretch (
  vineyard_id uuid not null default rootling_vineyard(),
  id uuid not null,
  row_id uuid not null,
  segment int not null check (segment >= 1),
  first_place int not null check (first_place >= 1),
  places int not null check (places >= 1),
  start_x double precision not null,
  start_y double precision not null,
  end_x double precision not null,
  end_y double precision not null,
  start_gap_m double precision not null check (start_gap_m >= 0),
  end_gap_m double precision not null check (end_gap_m >= 0),
  vine_spacing_m double precision not null check (vine_spacing_m > 0),
  primary key (vineyard_id, id),
  unique (vineyard_id, row_id, segment),
  foreign key (vineyard_id, row_id) references vine_row (vineyard_id, id)
);
select rootling_fence('row_stretch', false, true);
