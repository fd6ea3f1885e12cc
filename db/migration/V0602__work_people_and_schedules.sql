-- Who can be given work, with or without an account: hours by weekday from Monday, skills, and what an hour costs.
create table work_person (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  account_id uuid references account (id),
  name text not null check (length(name) between 1 and 80),
  hours numeric(4, 2)[] not null check (cardinality(hours) = 7 and 0 <= all (hours) and 16 >= all (hours)),
  skills text[] not null default '{}' check (cardinality(skills) <= 30),
  wage numeric(9, 2) check (wage >= 0 and wage <= 100000),
  currency text not null default 'EUR' check (currency ~ '^[A-Z]{3}$'),
  withdrawn_at timestamptz,
  version int not null default 0,
  primary key (vineyard_id, id),
  unique (vineyard_id, account_id)
);
select rootling_fence('work_person');

create table work_day_off (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  person_id uuid not null,
  day date not null check (day between date '1990-01-01' and date '2100-12-31'),
  primary key (vineyard_id, id),
  unique (vineyard_id, person_id, day),
  foreign key (vineyard_id, person_id) references work_person (vineyard_id, id)
);
select rootling_fence('work_day_off', true, true);

create table work_tool (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  name text not null check (length(name) between 1 and 40),
  count int not null check (count between 0 and 1000),
  version int not null default 0,
  primary key (vineyard_id, id),
  unique (vineyard_id, name)
);
select rootling_fence('work_tool');

-- A search for a schedule and the best answer it has. The newest finished one is in force.
create table work_schedule (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  state text not null check (state in ('RUNNING', 'DONE', 'CANCELLED', 'FAILED')),
  starts_on date not null,
  started_at timestamptz not null,
  heard_at timestamptz not null,
  seconds int not null check (seconds between 1 and 300),
  answers int not null default 0,
  finish date,
  late bigint,
  bound_finish date,
  bound_late bigint,
  proven boolean not null default false,
  stints jsonb not null default '[]',
  reason_key text check (length(reason_key) <= 100),
  reason_args text[] not null default '{}',
  cancel_asked boolean not null default false,
  by_account uuid default rootling_account(),
  primary key (vineyard_id, id)
);
create index work_schedule_newest on work_schedule (vineyard_id, started_at desc);
select rootling_fence('work_schedule', false);

-- What the lead has fixed: this person works on this task on this day.
create table work_pin (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  task_id uuid not null,
  person_id uuid not null,
  day date not null,
  primary key (vineyard_id, id),
  unique (vineyard_id, task_id, person_id, day),
  foreign key (vineyard_id, task_id) references task (vineyard_id, id),
  foreign key (vineyard_id, person_id) references work_person (vineyard_id, id)
);
select rootling_fence('work_pin', true, true);
