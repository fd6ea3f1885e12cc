-- Sprays and feeds as facts, copied from label and memory of the day. Rootling recommends none.
create table treatment (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  block_id uuid not null,
  kind text not null check (kind in ('SPRAY', 'FEED')),
  done_on date not null check (done_on between date '1990-01-01' and date '2100-12-31'),
  product text not null check (length(product) between 1 and 120),
  reason text check (length(reason) between 1 and 200),
  amount numeric(10, 3) not null check (amount > 0),
  unit text not null check (unit in ('L', 'ML', 'KG', 'G')),
  water_litres numeric(10, 1) check (water_litres > 0),
  area_m2 numeric(12, 1) not null check (area_m2 > 0),
  wind_ms numeric(4, 1) check (wind_ms between 0 and 60),
  operator text not null check (length(operator) between 1 and 80),
  reentry_hours int check (reentry_hours between 0 and 2000),
  waiting_days int check (waiting_days between 0 and 1000),
  note text check (length(note) between 1 and 2000),
  recorded_by uuid not null,
  recorded_at timestamptz not null default now(),
  withdrawn_at timestamptz,
  version int not null default 0,
  primary key (vineyard_id, id),
  foreign key (vineyard_id, block_id) references block (vineyard_id, id)
);
create index treatment_block on treatment (vineyard_id, block_id, done_on);
select rootling_fence('treatment');
