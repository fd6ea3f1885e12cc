-- When the whole database was last put into a backup, so that a page can say when that is long ago.
create table backup_made (
  id bigint generated always as identity primary key,
  at timestamptz not null default now(),
  bytes bigint not null check (bytes > 0)
);
grant select on backup_made to "${app_role}";
