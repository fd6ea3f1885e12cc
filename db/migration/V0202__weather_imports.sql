-- A file of days: kept with its mapping until it is taken, afterwards only what came of it.
create table weather_import (
  vineyard_id uuid not null default rootling_vineyard(),
  id uuid not null,
  file_name text not null check (length(file_name) <= 120),
  content bytea check (length(content) <= 12582912),
  at timestamptz not null default now(),
  account_id uuid default rootling_account(),
  taken_at timestamptz,
  added int,
  corrected int,
  unchanged int,
  refused int,
  refused_lines jsonb,
  primary key (vineyard_id, id),
  check ((taken_at is null) = (added is null))
);
select rootling_fence('weather_import', false);
