-- Photos and scans of labels, delivery notes and invoices: of a whole delivery, or of one lot of it.
create table stock_paper (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  delivery_id uuid not null,
  lot_id uuid,
  picture_id uuid not null,
  what text not null check (what in ('LABEL', 'DELIVERY_NOTE', 'INVOICE', 'CREDIT_NOTE', 'OTHER')),
  added_on date not null,
  added_by uuid default rootling_account(),
  withdrawn_at timestamptz,
  version int not null default 0,
  primary key (vineyard_id, id),
  foreign key (vineyard_id, delivery_id) references delivery (vineyard_id, id),
  foreign key (vineyard_id, lot_id) references lot (vineyard_id, id),
  foreign key (vineyard_id, picture_id) references picture (vineyard_id, id)
);
create index stock_paper_delivery on stock_paper (vineyard_id, delivery_id);
select rootling_fence('stock_paper');
