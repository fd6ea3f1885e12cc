-- Pictures and papers that belong to something in a vineyard. The bytes are what we made of the upload, never the upload
-- itself (papers excepted); the history would only repeat them, so a picture is not audited: it never changes.
create table picture (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  kind text not null check (kind in ('PHOTO', 'PAPER')),
  content bytea not null check (octet_length(content) between 1 and 12582912),
  small bytea check (octet_length(small) <= 262144),
  kept_at timestamptz not null default now(),
  kept_by uuid default rootling_account() references account (id),
  primary key (vineyard_id, id),
  check ((kind = 'PHOTO') = (small is not null))
);
select rootling_fence('picture', false);
