-- Photos of an entry from the field. The entry may be a log or still a conflict, which keeps its id when it becomes one;
-- the id of the row is the photo's own, made on the phone, so that a photo sent twice is recognised.
create table entry_photo (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  entry_id uuid not null,
  picture_id uuid not null,
  by_account uuid not null references account (id),
  taken_at timestamptz not null,
  primary key (vineyard_id, id),
  foreign key (vineyard_id, picture_id) references picture (vineyard_id, id)
);
create index entry_photo_entry on entry_photo (vineyard_id, entry_id);
select rootling_fence('entry_photo', false);
create trigger only_added_to before update or delete on entry_photo for each row execute function rootling_only_added_to();

-- A helper without an account whose work a lead wrote down.
alter table task_log add column person_id uuid;
alter table task_log add foreign key (vineyard_id, person_id) references work_person (vineyard_id, id);
alter table log_conflict add column person_id uuid;
alter table log_conflict add foreign key (vineyard_id, person_id) references work_person (vineyard_id, id);
