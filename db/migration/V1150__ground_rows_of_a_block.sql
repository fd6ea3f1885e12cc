-- All rows of a block, those taken out of use too: without it they were looked for among the rows of every vineyard.
create index vine_row_block on vine_row (vineyard_id, block_id);

-- Metres of the rows in use, kept beside their number; null in what came with an archive from before.
alter table block add column row_metres double precision check (row_metres >= 0);
alter table block disable trigger user;
update block b set row_metres = (
  select coalesce(sum(sqrt((s.end_x - s.start_x) ^ 2 + (s.end_y - s.start_y) ^ 2)), 0)
    from vine_row r join row_stretch s on s.vineyard_id = r.vineyard_id and s.row_id = r.id
   where r.vineyard_id = b.vineyard_id and r.block_id = b.id and r.withdrawn_at is null);
alter table block enable trigger user;
