-- What came, when and with which papers. Each line of a delivery becomes one lot.
create table delivery (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  supplier_id uuid not null,
  order_id uuid,
  received_on date not null check (received_on between date '1990-01-01' and date '2100-12-31'),
  days_in_transit int check (days_in_transit between 0 and 60),
  delivery_note_no text check (length(delivery_note_no) <= 40),
  invoice_no text check (length(invoice_no) <= 40),
  note text check (length(note) <= 1000),
  received_by uuid default rootling_account(),
  version int not null default 0,
  primary key (vineyard_id, id),
  foreign key (vineyard_id, supplier_id) references supplier (vineyard_id, id),
  foreign key (vineyard_id, order_id) references nursery_order (vineyard_id, id)
);
select rootling_fence('delivery');

create table delivery_line (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  delivery_id uuid not null,
  line_no int not null check (line_no between 1 and 200),
  order_line_id uuid,
  bundles int not null check (bundles between 0 and 40000),
  bundle_size int not null check (bundle_size between 1 and 1000),
  loose int not null check (loose between 0 and 1000000),
  billed int check (billed between 0 and 1000000),
  rejected int not null default 0 check (rejected >= 0),
  reject_reason text check (length(reject_reason) between 1 and 300),
  roots text not null check (roots in ('GOOD', 'DOUBTFUL', 'BAD', 'NOT_LOOKED')),
  graft text not null check (graft in ('GOOD', 'DOUBTFUL', 'BAD', 'NOT_LOOKED')),
  wax text not null check (wax in ('GOOD', 'DOUBTFUL', 'BAD', 'NOT_LOOKED')),
  mould text not null check (mould in ('GOOD', 'DOUBTFUL', 'BAD', 'NOT_LOOKED')),
  dryness text not null check (dryness in ('GOOD', 'DOUBTFUL', 'BAD', 'NOT_LOOKED')),
  label text not null check (label in ('GOOD', 'DOUBTFUL', 'BAD', 'NOT_LOOKED')),
  version int not null default 0,
  primary key (vineyard_id, id),
  unique (vineyard_id, delivery_id, line_no),
  foreign key (vineyard_id, delivery_id) references delivery (vineyard_id, id),
  foreign key (vineyard_id, order_line_id) references order_line (vineyard_id, id),
  check (bundles::bigint * bundle_size + loose between 1 and 1000000),
  check (rejected <= bundles::bigint * bundle_size + loose),
  check ((rejected = 0) = (reject_reason is null))
);
create index delivery_line_order_line on delivery_line (vineyard_id, order_line_id);
select rootling_fence('delivery_line');

-- The next letters of a year's lot codes.
create table lot_series (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  year int not null check (year between 1990 and 2100),
  last_no int not null check (last_no >= 1),
  primary key (vineyard_id, year)
);
select rootling_fence('lot_series', false);

create table lot (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  code text not null check (code ~ '^[0-9]{2}-[A-Z]{1,4}$'),
  series_year int not null,
  series_no int not null,
  delivery_line_id uuid not null,
  split_from uuid,
  variety text not null check (length(variety) between 1 and 60),
  colour text not null check (colour in ('WHITE', 'GREY', 'ROSE', 'BLACK')),
  clone_name text check (length(clone_name) <= 40),
  rootstock text not null check (length(rootstock) between 1 and 60),
  received_on date not null,
  passport_botanical text check (length(passport_botanical) <= 80),
  passport_registration text check (length(passport_registration) <= 40),
  passport_trace text check (length(passport_trace) <= 60),
  passport_origin text check (length(passport_origin) <= 40),
  passport_extra text check (length(passport_extra) <= 80),
  note text check (length(note) <= 1000),
  version int not null default 0,
  primary key (vineyard_id, id),
  unique (vineyard_id, code),
  unique (vineyard_id, series_year, series_no),
  foreign key (vineyard_id, delivery_line_id) references delivery_line (vineyard_id, id),
  foreign key (vineyard_id, split_from) references lot (vineyard_id, id)
);
create index lot_delivery_line on lot (vineyard_id, delivery_line_id);
create index lot_passport on lot (vineyard_id, passport_trace);
select rootling_fence('lot');
