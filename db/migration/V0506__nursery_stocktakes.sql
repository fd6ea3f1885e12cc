-- A count of what really stands somewhere; the difference is booked in the ledger with the same reason.
create table stocktake (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  lot_id uuid not null,
  account text not null check (account in ('UNPLACED', 'HOLD', 'LIFTED')),
  hold_id uuid,
  on_day date not null check (on_day between date '1990-01-01' and date '2100-12-31'),
  expected int not null check (expected >= 0),
  counted int not null check (counted between 0 and 1000000),
  reason text check (length(reason) between 1 and 300),
  by_account uuid default rootling_account(),
  at timestamptz not null default now(),
  primary key (vineyard_id, id),
  foreign key (vineyard_id, lot_id, hold_id) references hold (vineyard_id, lot_id, id),
  foreign key (vineyard_id, lot_id) references lot (vineyard_id, id),
  check (expected = counted or reason is not null)
);
create index stocktake_lot on stocktake (vineyard_id, lot_id, on_day);
select rootling_fence('stocktake');
