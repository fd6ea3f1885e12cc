-- What is typed in inches, gallons, degrees Fahrenheit or miles per hour needs more decimals of our units than a tenth, to
-- come back as it was typed. How many are kept is said in one place (org.rootling.platform.Measure).
alter table work_step
  alter column most_rain_mm type numeric,
  alter column least_temp_c type numeric,
  alter column most_wind_ms type numeric;
alter table work_weather
  alter column rain_mm type numeric,
  alter column frost_c type numeric;
alter table care_item
  alter column at_heat type numeric,
  alter column at_rain type numeric;
alter table treatment
  alter column water_litres type numeric,
  alter column area_m2 type numeric,
  alter column wind_ms type numeric;
alter table block_water
  alter column area_m2 type numeric,
  alter column hose_l_min type numeric,
  alter column tank_l type numeric;
alter table field_watering alter column litres_per_vine type numeric;
alter table store alter column set_temperature_c type numeric;
alter table watering alter column mm type numeric;
alter table store_limit
  alter column warn_at type numeric,
  alter column limit_value type numeric;
