-- What the water account of a block's young vines rests on; without a row the customary values hold.
create table block_water (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  block_id uuid not null,
  soil text not null check (length(soil) between 1 and 40),
  area_m2 numeric(5, 2) not null check (area_m2 between 0.05 and 10),
  hose_l_min numeric(6, 1) not null check (hose_l_min between 0.1 and 1000),
  tank_l numeric(8, 1) not null check (tank_l between 1 and 100000),
  version int not null default 0,
  primary key (vineyard_id, id),
  unique (vineyard_id, block_id),
  foreign key (vineyard_id, block_id) references block (vineyard_id, id)
);
select rootling_fence('block_water');

create table field_watering (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  block_id uuid not null,
  done_on date not null check (done_on between date '1990-01-01' and date '2100-12-31'),
  litres_per_vine numeric(6, 1) not null check (litres_per_vine > 0 and litres_per_vine <= 500),
  done_by uuid not null,
  note text check (length(note) between 1 and 2000),
  recorded_at timestamptz not null default now(),
  withdrawn_at timestamptz,
  version int not null default 0,
  primary key (vineyard_id, id),
  foreign key (vineyard_id, block_id) references block (vineyard_id, id)
);
create index field_watering_block on field_watering (vineyard_id, block_id, done_on);
select rootling_fence('field_watering');
