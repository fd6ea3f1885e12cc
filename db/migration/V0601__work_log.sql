-- What was really done. Only ever added to; the id is the entry's own, made where it was written down, so that an
-- entry sent twice is recognised.
create table task_log (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  task_id uuid not null,
  places int4multirange not null,
  place_count int not null check (place_count between 0 and 100000),
  minutes int check (minutes between 0 and 1440),
  on_day date not null check (on_day between date '1990-01-01' and date '2100-12-31'),
  at timestamptz not null,
  by_account uuid not null references account (id),
  note text check (length(note) between 1 and 500),
  taken_at timestamptz not null,
  primary key (vineyard_id, id),
  foreign key (vineyard_id, task_id) references task (vineyard_id, id)
);
create index task_log_task on task_log (vineyard_id, task_id, at);
create index task_log_person on task_log (vineyard_id, by_account, on_day);
create index task_log_day on task_log (vineyard_id, on_day);
select rootling_fence('task_log', false);

-- Something found at a place of the row while working.
create table task_log_found (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  log_id uuid not null,
  place int not null check (place between 1 and 100000),
  what text not null check (what in ('dead', 'missing', 'broken', 'no-root', 'wrong-variety', 'hole-too-wet')),
  primary key (vineyard_id, id),
  unique (vineyard_id, log_id, place, what),
  foreign key (vineyard_id, log_id) references task_log (vineyard_id, id)
);
select rootling_fence('task_log_found', false);

-- A log taken back; the log itself stays.
create table task_log_undo (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  log_id uuid not null,
  at timestamptz not null,
  by_account uuid not null references account (id),
  reason text check (length(reason) between 1 and 300),
  primary key (vineyard_id, id),
  unique (vineyard_id, log_id),
  foreign key (vineyard_id, log_id) references task_log (vineyard_id, id)
);
select rootling_fence('task_log_undo', false);

-- An entry that contradicts what is known, kept as it came until a person settles it.
create table log_conflict (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  task_id uuid not null,
  places int4multirange not null,
  found jsonb not null default '[]',
  minutes int check (minutes between 0 and 1440),
  note text check (length(note) between 1 and 500),
  at timestamptz not null,
  by_account uuid not null references account (id),
  taken_at timestamptz not null,
  kind text not null check (kind in ('PLACES_DONE', 'TASK_ENDED', 'CLOCK_AHEAD', 'CLOCK_BEHIND', 'NOT_POSSIBLE')),
  against uuid,
  reason_key text not null check (length(reason_key) <= 100),
  reason_args text[] not null default '{}',
  settled_at timestamptz,
  settled_by uuid references account (id),
  settled_how text check (settled_how in ('TAKEN', 'SET_ASIDE')),
  version int not null default 0,
  primary key (vineyard_id, id),
  foreign key (vineyard_id, task_id) references task (vineyard_id, id),
  foreign key (vineyard_id, against) references task_log (vineyard_id, id),
  check ((settled_at is null) = (settled_how is null))
);
create index log_conflict_open on log_conflict (vineyard_id, taken_at) where settled_at is null;
select rootling_fence('log_conflict');

create function rootling_only_added_to() returns trigger language plpgsql as $$
begin
  raise exception '% is only ever added to', tg_table_name using errcode = '42501';
end $$;
create trigger only_added_to before update or delete on task_log for each row execute function rootling_only_added_to();
create trigger only_added_to before update or delete on task_log_found for each row execute function rootling_only_added_to();
create trigger only_added_to before update or delete on task_log_undo for each row execute function rootling_only_added_to();
