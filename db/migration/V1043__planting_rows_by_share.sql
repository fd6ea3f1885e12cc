-- Share alive of the vines seen since planting, by row and lot, so that the rows that stay behind are found from the worst
-- on; null where none was seen.
alter table vine_row_tally add column share_alive double precision generated always as
  ((growing + weak + not_moving)::float8 / nullif(growing + weak + not_moving + dead + missing, 0)) stored;
create index vine_row_tally_share on vine_row_tally (vineyard_id, share_alive);
