-- What moved against the schedule before and why, and what found no time.
alter table work_schedule add column moves jsonb not null default '[]';
alter table work_schedule add column unplanned text[] not null default '{}';

-- Steps that a person would rather do.
alter table work_person add column wishes text[] not null default '{}' check (cardinality(wishes) <= 40);

-- When a day counts as lost for outdoor work, and how often somebody expected does not come. One row for a vineyard.
create table work_weather (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  rain_mm numeric(5, 1) not null check (rain_mm between 0 and 500),
  frost_c numeric(4, 1) not null check (frost_c between -30 and 10),
  no_show numeric(4, 3) not null check (no_show between 0 and 0.9),
  version int not null default 0,
  primary key (vineyard_id, id),
  unique (vineyard_id)
);
select rootling_fence('work_weather');

-- Seasons played to see whether it will be done in time, and the answer.
create table work_outlook (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  state text not null check (state in ('RUNNING', 'DONE', 'CANCELLED', 'FAILED')),
  starts_on date not null,
  started_at timestamptz not null,
  heard_at timestamptz not null,
  seasons int not null check (seasons between 1 and 20000),
  seed bigint not null,
  played int not null default 0,
  total int not null default 0,
  answer jsonb,
  cancel_asked boolean not null default false,
  by_account uuid default rootling_account(),
  primary key (vineyard_id, id)
);
create index work_outlook_newest on work_outlook (vineyard_id, started_at desc);
select rootling_fence('work_outlook', false);
