-- ISO 4217 code of the prices on a kept order sheet; null where none was named.
alter table trellis_sheet add column currency text check (currency ~ '^[A-Z]{3}$');
