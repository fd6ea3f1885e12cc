-- One record a day: what was measured, or foretold until it is. The bounds are those of the application's own check.
create table weather_day (
  vineyard_id uuid not null default rootling_vineyard(),
  id uuid not null,
  date date not null check (date between '1900-01-01' and '2100-12-31'),
  low_c double precision not null check (low_c between -60 and 57),
  high_c double precision not null check (high_c between -60 and 57),
  rain_mm double precision check (rain_mm between 0 and 1900),
  wind_ms double precision check (wind_ms between 0 and 60),
  humidity_pct double precision check (humidity_pct between 0 and 100),
  humidity_high_pct double precision check (humidity_high_pct between 0 and 100),
  humidity_low_pct double precision check (humidity_low_pct between 0 and 100),
  radiation_mj double precision check (radiation_mj between 0 and 45),
  sun_h double precision check (sun_h between 0 and 24),
  forecast boolean not null,
  source text not null check (length(source) <= 120),
  recorded_at timestamptz not null default now(),
  withdrawn boolean not null default false,
  version int not null default 0,
  primary key (vineyard_id, id),
  check (low_c <= high_c),
  check (humidity_low_pct is null or humidity_high_pct is null or humidity_low_pct <= humidity_high_pct)
);
create unique index weather_day_one_a_day on weather_day (vineyard_id, date) where not withdrawn;
select rootling_fence('weather_day');
