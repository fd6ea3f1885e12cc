-- What a delivery cost: the price on the invoice where it differs from the order's, and what the nursery credited for
-- short or bad vines.
alter table delivery add column currency text check (currency ~ '^[A-Z]{3}$');
alter table delivery_line
  add column price_each numeric(9, 4) check (price_each >= 0),
  add column credited numeric(12, 2) check (credited >= 0),
  add column credit_note text check (length(credit_note) between 1 and 200);
