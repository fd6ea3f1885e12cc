-- Varieties and rootstocks that the vineyard adds to the published lists, which themselves stay in shared/reference.
create table own_variety (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  name text not null check (length(name) between 1 and 60),
  colour text not null check (colour in ('WHITE', 'GREY', 'ROSE', 'BLACK')),
  note text check (length(note) <= 500),
  withdrawn_at timestamptz,
  version int not null default 0,
  primary key (vineyard_id, id)
);
create unique index own_variety_name on own_variety (vineyard_id, lower(name)) where withdrawn_at is null;
select rootling_fence('own_variety');

create table own_rootstock (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  name text not null check (length(name) between 1 and 60),
  note text check (length(note) <= 500),
  withdrawn_at timestamptz,
  version int not null default 0,
  primary key (vineyard_id, id)
);
create unique index own_rootstock_name on own_rootstock (vineyard_id, lower(name)) where withdrawn_at is null;
select rootling_fence('own_rootstock');

-- Limits of a kind of store that the vineyard has changed; without a row the published or customary one holds.
create table store_limit (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  kind text not null check (kind in ('HEELED_IN', 'UNDER_COVER', 'COLD_STORE', 'SHED', 'POTTED')),
  allowance text not null check (length(allowance) between 1 and 40),
  warn_at numeric(8, 3) check (warn_at >= 0),
  limit_value numeric(8, 3) not null check (limit_value >= 0),
  source text not null check (length(source) between 1 and 300),
  version int not null default 0,
  primary key (vineyard_id, id),
  unique (vineyard_id, kind, allowance),
  check (warn_at is null or warn_at <= limit_value)
);
select rootling_fence('store_limit');
