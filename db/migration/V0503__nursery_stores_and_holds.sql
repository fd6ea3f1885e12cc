-- Where vines can stand while they wait, what stands there since when, and when it was watered.
create table store (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  name text not null check (length(name) between 1 and 60),
  kind text not null check (kind in ('HEELED_IN', 'UNDER_COVER', 'COLD_STORE', 'SHED', 'POTTED')),
  capacity int check (capacity between 1 and 1000000),
  set_temperature_c numeric(4, 1) check (set_temperature_c between -5 and 25),
  soil text check (length(soil) between 1 and 40),
  where_it_is text check (length(where_it_is) <= 200),
  east_m double precision check (east_m between -100000 and 100000),
  north_m double precision check (north_m between -100000 and 100000),
  withdrawn_at timestamptz,
  version int not null default 0,
  primary key (vineyard_id, id),
  check ((east_m is null) = (north_m is null))
);
create unique index store_name on store (vineyard_id, lower(name)) where withdrawn_at is null;
select rootling_fence('store');

-- One placing of one lot into one store on one day. Its count is the balance of its account in the ledger.
create table hold (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  lot_id uuid not null,
  store_id uuid not null,
  since date not null check (since between date '1990-01-01' and date '2100-12-31'),
  came_from uuid,
  placed_by uuid default rootling_account(),
  version int not null default 0,
  primary key (vineyard_id, id),
  unique (vineyard_id, lot_id, id),
  foreign key (vineyard_id, lot_id) references lot (vineyard_id, id),
  foreign key (vineyard_id, store_id) references store (vineyard_id, id),
  foreign key (vineyard_id, came_from) references hold (vineyard_id, id)
);
create index hold_store on hold (vineyard_id, store_id);
select rootling_fence('hold');

create table watering (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  store_id uuid not null,
  on_day date not null check (on_day between date '1990-01-01' and date '2100-12-31'),
  mm numeric(6, 1) check (mm between 0 and 1000),
  by_account uuid default rootling_account(),
  withdrawn_at timestamptz,
  version int not null default 0,
  primary key (vineyard_id, id),
  foreign key (vineyard_id, store_id) references store (vineyard_id, id)
);
create index watering_store on watering (vineyard_id, store_id, on_day);
select rootling_fence('watering');
