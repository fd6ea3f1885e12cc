-- How the block falls: metres of fall on a hundred metres of map, and the direction it falls towards, degrees clockwise
-- from north. Corners are kept as they were measured: level, as on a map, or along the ground.
alter table block add column slope_percent double precision not null default 0
  check (slope_percent between 0 and 100);
alter table block add column downhill_deg double precision not null default 0
  check (downhill_deg >= 0 and downhill_deg < 360);
alter table block add column measured_level boolean not null default true;
