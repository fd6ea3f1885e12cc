-- Sessions as Spring Session stores them.
create table spring_session (
  primary_id char(36) not null,
  session_id char(36) not null,
  creation_time bigint not null,
  last_access_time bigint not null,
  max_inactive_interval int not null,
  expiry_time bigint not null,
  principal_name varchar(100),
  constraint spring_session_pk primary key (primary_id)
);
create unique index spring_session_ix1 on spring_session (session_id);
create index spring_session_ix2 on spring_session (expiry_time);
create index spring_session_ix3 on spring_session (principal_name);
create table spring_session_attributes (
  session_primary_id char(36) not null,
  attribute_name varchar(200) not null,
  attribute_bytes bytea not null,
  constraint spring_session_attributes_pk primary key (session_primary_id, attribute_name),
  constraint spring_session_attributes_fk foreign key (session_primary_id) references spring_session (primary_id) on delete cascade
);
grant select, insert, update, delete on spring_session, spring_session_attributes to "${app_role}";

-- Events between modules, kept until handled (Spring Modulith's table, version 2).
create table event_publication (
  id uuid not null primary key,
  listener_id text not null,
  event_type text not null,
  serialized_event text not null,
  publication_date timestamptz not null,
  completion_date timestamptz,
  status text,
  completion_attempts int,
  last_resubmission_date timestamptz
);
create index event_publication_open on event_publication (completion_date, publication_date);
grant select, insert, update, delete on event_publication to "${app_role}";

-- One run of a daily job per vineyard and day, across all nodes: whoever inserts the row does the work,
-- in the same transaction, so that a run killed half way leaves no trace and is done again.
create table daily_run (
  vineyard_id uuid not null default rootling_vineyard(),
  job text not null check (length(job) <= 60),
  day date not null,
  done_at timestamptz not null default now(),
  primary key (vineyard_id, job, day)
);
select rootling_fence('daily_run', false);

-- A form carries a number made when it was shown; the first submit keeps it, a second is recognised.
create table form_receipt (
  vineyard_id uuid not null default rootling_vineyard(),
  id uuid not null,
  at timestamptz not null default now(),
  account_id uuid default rootling_account(),
  primary key (vineyard_id, id)
);
select rootling_fence('form_receipt', false, true);

-- Failed sign-ins by e-mail and by address (both as hashes), counted here so that all nodes count together.
create table sign_in_throttle (
  key text primary key,
  failures int not null,
  last_at timestamptz not null
);
grant select, insert, update, delete on sign_in_throttle to "${app_role}";
