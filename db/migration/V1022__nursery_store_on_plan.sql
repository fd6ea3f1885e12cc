-- A bed or store lies on a block's plan: metres east and north in that block's own plane.
alter table store
  add column block_id uuid,
  add foreign key (vineyard_id, block_id) references block (vineyard_id, id),
  add check (block_id is null or east_m is not null);
create index store_block on store (vineyard_id, block_id) where withdrawn_at is null;
