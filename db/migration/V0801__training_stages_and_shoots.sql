-- Growth stages that somebody saw, by block or by single vine.
create table stage_record (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  block_id uuid not null,
  vine_id uuid,
  stage int not null check (stage between 0 and 97),
  seen_on date not null check (seen_on between date '1990-01-01' and date '2100-12-31'),
  seen_by uuid not null,
  note text check (length(note) between 1 and 2000),
  recorded_at timestamptz not null default now(),
  withdrawn_at timestamptz,
  withdrawn_by uuid,
  version int not null default 0,
  primary key (vineyard_id, id),
  foreign key (vineyard_id, block_id) references block (vineyard_id, id),
  foreign key (vineyard_id, vine_id) references vine (vineyard_id, id)
);
create index stage_record_block on stage_record (vineyard_id, block_id, seen_on) where withdrawn_at is null and vine_id is null;
create index stage_record_vine on stage_record (vineyard_id, vine_id, seen_on) where vine_id is not null;
select rootling_fence('stage_record');

-- Shoots and height of one vine on one day. The latest one is what the row page shows.
create table shoot_record (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  vine_id uuid not null,
  row_id uuid not null,
  block_id uuid not null,
  place int not null,
  seen_on date not null check (seen_on between date '1990-01-01' and date '2100-12-31'),
  seen_by uuid not null,
  shoots int check (shoots between 0 and 40),
  height_cm int check (height_cm between 0 and 500),
  chosen boolean not null default false,
  recorded_at timestamptz not null default now(),
  withdrawn_at timestamptz,
  primary key (vineyard_id, id),
  foreign key (vineyard_id, vine_id) references vine (vineyard_id, id),
  foreign key (vineyard_id, row_id) references vine_row (vineyard_id, id),
  check (shoots is not null or height_cm is not null or chosen)
);
create unique index shoot_record_day on shoot_record (vineyard_id, vine_id, seen_on) where withdrawn_at is null;
create index shoot_record_row on shoot_record (vineyard_id, row_id, seen_on) where withdrawn_at is null;
select rootling_fence('shoot_record', false);
