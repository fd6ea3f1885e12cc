-- Weather that one step cannot stand; what is not told is as for the vineyard.
alter table work_step add column most_rain_mm numeric(5, 1) check (most_rain_mm between 0 and 500);
alter table work_step add column least_temp_c numeric(4, 1) check (least_temp_c between -30 and 40);
alter table work_step add column most_wind_ms numeric(4, 1) check (most_wind_ms between 0 and 60);

-- Somebody was expected on a day and did not come.
create table work_absence (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  person_id uuid not null,
  day date not null check (day between date '1990-01-01' and date '2100-12-31'),
  primary key (vineyard_id, id),
  unique (vineyard_id, person_id, day),
  foreign key (vineyard_id, person_id) references work_person (vineyard_id, id)
);
select rootling_fence('work_absence', true, true);
