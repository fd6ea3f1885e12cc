-- The review of heights reads the shoots of a whole block in one season.
create index shoot_record_block on shoot_record (vineyard_id, block_id, seen_on) where withdrawn_at is null;
