-- A photo of what was seen; alone, or with a note.
alter table vine_observation add column picture_id uuid;
alter table vine_observation add foreign key (vineyard_id, picture_id) references picture (vineyard_id, id);
alter table vine_observation drop constraint vine_observation_check;
alter table vine_observation add constraint vine_observation_says check (num_nonnulls(state, note, picture_id) > 0);
