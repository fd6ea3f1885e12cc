-- Vines of a block that somebody meant to look at, so that its share alive is known as well as wanted.
create table sample_plan (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  block_id uuid not null,
  drawn_on date not null check (drawn_on between date '1990-01-01' and date '2100-12-31'),
  drawn_by uuid not null,
  confidence numeric(6, 4) not null check (confidence > 0 and confidence < 1),
  margin numeric(6, 4) not null check (margin > 0 and margin <= 0.5),
  vines int not null check (vines > 0),
  size int not null check (size between 1 and vines),
  withdrawn_at timestamptz,
  primary key (vineyard_id, id),
  foreign key (vineyard_id, block_id) references block (vineyard_id, id)
);
create index sample_plan_block on sample_plan (vineyard_id, block_id, drawn_on) where withdrawn_at is null;
select rootling_fence('sample_plan');

-- Which places of which rows; a block of many rows has as many lines.
create table sample_place (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  sample_id uuid not null,
  row_id uuid not null,
  places int4multirange not null check (not isempty(places)),
  primary key (vineyard_id, id),
  unique (vineyard_id, sample_id, row_id),
  foreign key (vineyard_id, sample_id) references sample_plan (vineyard_id, id),
  foreign key (vineyard_id, row_id) references vine_row (vineyard_id, id)
);
select rootling_fence('sample_place', false);
