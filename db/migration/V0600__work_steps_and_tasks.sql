-- A vineyard's own settings of a work step, or a step of its own. Steps that come with the program have a row here
-- only once somebody changed them.
create table work_step (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  code text not null check (code ~ '^[A-Z][A-Z0-9_]{1,29}$'),
  name text check (length(name) between 1 and 60),
  people_least int not null check (people_least between 1 and 20),
  people_most int not null check (people_most between people_least and 20),
  tool text check (length(tool) between 1 and 40),
  skill text check (length(skill) between 1 and 40),
  after_steps text[] not null default '{}' check (cardinality(after_steps) <= 12),
  wait_days int not null default 0 check (wait_days between 0 and 60),
  outdoors boolean not null default true,
  guess_minutes numeric(8, 2) check (guess_minutes > 0 and guess_minutes <= 10000),
  withdrawn_at timestamptz,
  version int not null default 0,
  primary key (vineyard_id, id),
  unique (vineyard_id, code)
);
select rootling_fence('work_step');

-- One work step on some places of one row.
create table task (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  step text not null check (length(step) between 2 and 30),
  row_id uuid not null,
  lot_id uuid,
  places int4multirange not null check (not isempty(places)),
  quantity int not null check (quantity between 1 and 100000),
  done_places int4multirange not null default '{}',
  done int not null default 0 check (done between 0 and quantity),
  due date check (due between date '1990-01-01' and date '2100-12-31'),
  note text check (length(note) between 1 and 500),
  status text not null default 'OPEN' check (status in ('OPEN', 'STARTED', 'DONE', 'CLOSED', 'DROPPED')),
  ended_on date,
  version int not null default 0,
  primary key (vineyard_id, id),
  foreign key (vineyard_id, row_id) references vine_row (vineyard_id, id),
  foreign key (vineyard_id, lot_id) references lot (vineyard_id, id),
  check (done_places <@ places),
  check ((status = 'OPEN') = (done = 0) or status in ('CLOSED', 'DROPPED')),
  check ((status = 'DONE') = (done = quantity) or status in ('CLOSED', 'DROPPED')),
  check ((ended_on is null) = (status in ('OPEN', 'STARTED')))
);
create index task_open on task (vineyard_id, due) where status in ('OPEN', 'STARTED');
create index task_row on task (vineyard_id, row_id);
create index task_lot on task (vineyard_id, lot_id) where lot_id is not null;
select rootling_fence('task');

create table task_person (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  task_id uuid not null,
  account_id uuid not null references account (id),
  primary key (vineyard_id, id),
  unique (vineyard_id, task_id, account_id),
  foreign key (vineyard_id, task_id) references task (vineyard_id, id)
);
create index task_person_account on task_person (vineyard_id, account_id);
select rootling_fence('task_person', true, true);
