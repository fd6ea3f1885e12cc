-- Tension of a wire as measured. Wire name and height are kept as they were on that day, since plans change.
create table trellis_reading (
  vineyard_id uuid not null default rootling_vineyard(),
  id uuid not null,
  row_id uuid not null,
  wire_name text not null check (length(wire_name) between 1 and 40),
  height_m double precision not null check (height_m > 0 and height_m <= 8),
  measured_on date not null,
  scale_n double precision check (scale_n > 0),
  deflection_m double precision check (deflection_m > 0),
  span_m double precision check (span_m > 0),
  tension_n double precision not null check (tension_n >= 0 and tension_n <= 1e6),
  wanted_n double precision not null check (wanted_n > 0),
  temperature_c double precision check (temperature_c between -60 and 60),
  due_on date check (due_on > measured_on),
  measured_by uuid not null default rootling_account(),
  withdrawn_at timestamptz,
  primary key (vineyard_id, id),
  foreign key (vineyard_id, row_id) references vine_row (vineyard_id, id),
  check (num_nulls(scale_n, deflection_m, span_m) in (0, 3))
);
create index trellis_reading_row on trellis_reading (vineyard_id, row_id, measured_on desc) where withdrawn_at is null;
select rootling_fence('trellis_reading');
