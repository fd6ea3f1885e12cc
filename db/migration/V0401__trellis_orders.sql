-- How a thing is sold; the key names it by kind and size.
create table trellis_terms (
  vineyard_id uuid not null default rootling_vineyard(),
  id uuid not null,
  item_key text not null check (length(item_key) <= 80),
  pack_size numeric(12, 3) not null check (pack_size > 0),
  pack_price numeric(12, 2) check (pack_price >= 0),
  spare_percent numeric(5, 2) not null check (spare_percent between 0 and 100),
  primary key (vineyard_id, id),
  unique (vineyard_id, item_key)
);
select rootling_fence('trellis_terms');

-- What was bought; withdrawn, never deleted. Without a block it stands for the whole vineyard.
create table trellis_purchase (
  vineyard_id uuid not null default rootling_vineyard(),
  id uuid not null,
  item_key text not null check (length(item_key) <= 80),
  block_id uuid,
  quantity numeric(12, 3) not null check (quantity > 0),
  bought_on date not null,
  paid numeric(12, 2) check (paid >= 0),
  note text check (length(note) <= 200),
  withdrawn_at timestamptz,
  primary key (vineyard_id, id),
  foreign key (vineyard_id, block_id) references block (vineyard_id, id)
);
create index trellis_purchase_item on trellis_purchase (vineyard_id, item_key) where withdrawn_at is null;
select rootling_fence('trellis_purchase');

-- A kept order sheet: what the plans needed then, to show what has changed since.
create table trellis_sheet (
  vineyard_id uuid not null default rootling_vineyard(),
  id uuid not null,
  kept_on date not null,
  kept_by uuid not null default rootling_account(),
  kept_at timestamptz not null default now(),
  block_ids uuid[] not null check (cardinality(block_ids) between 1 and 1000),
  delivery numeric(12, 2) not null check (delivery >= 0),
  primary key (vineyard_id, id)
);
select rootling_fence('trellis_sheet');

create table trellis_sheet_line (
  vineyard_id uuid not null default rootling_vineyard(),
  id uuid not null,
  sheet_id uuid not null,
  item_key text not null check (length(item_key) <= 80),
  needed numeric(12, 3) not null check (needed >= 0),
  primary key (vineyard_id, id),
  unique (vineyard_id, sheet_id, item_key),
  foreign key (vineyard_id, sheet_id) references trellis_sheet (vineyard_id, id)
);
select rootling_fence('trellis_sheet_line', false);
