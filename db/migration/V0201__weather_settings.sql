-- How heat is summed, where frost begins, and where days are fetched from. A vineyard without a row uses the defaults.
create table weather_setting (
  vineyard_id uuid not null default rootling_vineyard(),
  id uuid not null,
  base_c double precision not null check (base_c between -5 and 20),
  cut_c double precision check (cut_c between 20 and 50),
  cut_kind text not null check (cut_kind in ('NONE', 'LEVEL', 'MIRRORED')),
  frost_c double precision not null check (frost_c between -5 and 5),
  margin_k double precision not null check (margin_k between 0 and 6),
  stage text not null check (length(stage) <= 20),
  coastal boolean not null,
  fetch_on boolean not null,
  fetch_url text check (length(fetch_url) <= 500),
  fetch_paths jsonb not null default '{}',
  temperature_unit text not null check (length(temperature_unit) <= 20),
  rain_unit text not null check (length(rain_unit) <= 20),
  wind_unit text not null check (length(wind_unit) <= 20),
  wind_height_m double precision not null check (wind_height_m between 0.5 and 100),
  radiation_unit text not null check (length(radiation_unit) <= 20),
  version int not null default 0,
  primary key (vineyard_id, id),
  unique (vineyard_id),
  check (not fetch_on or fetch_url is not null)
);
select rootling_fence('weather_setting');

-- When the next fetch is due and how the last went. Claiming a fetch moves next_at on, so that one node does it.
create table weather_fetch (
  vineyard_id uuid not null default rootling_vineyard(),
  next_at timestamptz not null,
  last_at timestamptz,
  last_good_at timestamptz,
  failures int not null default 0,
  outcome text check (length(outcome) <= 80),
  primary key (vineyard_id)
);
select rootling_fence('weather_fetch', false);
