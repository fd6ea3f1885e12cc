-- Nurseries that vines come from, and what was ordered from them.
create table supplier (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  name text not null check (length(name) between 1 and 80),
  registration_no text check (length(registration_no) <= 40),
  country text check (country ~ '^[A-Z]{2}$'),
  contact text check (length(contact) <= 200),
  bundle_size int not null default 25 check (bundle_size between 1 and 1000),
  withdrawn_at timestamptz,
  version int not null default 0,
  primary key (vineyard_id, id)
);
create unique index supplier_name on supplier (vineyard_id, lower(name)) where withdrawn_at is null;
select rootling_fence('supplier');

create table nursery_order (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  supplier_id uuid not null,
  reference text not null check (length(reference) between 1 and 40),
  ordered_on date not null check (ordered_on between date '1990-01-01' and date '2100-12-31'),
  status text not null default 'PLACED' check (status in ('PLACED', 'CONFIRMED', 'CANCELLED')),
  currency text not null default 'EUR' check (currency ~ '^[A-Z]{3}$'),
  note text check (length(note) <= 1000),
  version int not null default 0,
  primary key (vineyard_id, id),
  foreign key (vineyard_id, supplier_id) references supplier (vineyard_id, id)
);
create unique index nursery_order_reference on nursery_order (vineyard_id, supplier_id, lower(reference));
select rootling_fence('nursery_order');

create table order_line (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  order_id uuid not null,
  line_no int not null check (line_no between 1 and 200),
  variety text not null check (length(variety) between 1 and 60),
  clone_name text check (length(clone_name) <= 40),
  rootstock text not null check (length(rootstock) between 1 and 60),
  vines int not null check (vines between 1 and 1000000),
  price_each numeric(9, 4) check (price_each >= 0),
  expected_week date check (extract(isodow from expected_week) = 1),
  withdrawn_at timestamptz,
  version int not null default 0,
  primary key (vineyard_id, id),
  unique (vineyard_id, order_id, line_no),
  foreign key (vineyard_id, order_id) references nursery_order (vineyard_id, id)
);
select rootling_fence('order_line');
