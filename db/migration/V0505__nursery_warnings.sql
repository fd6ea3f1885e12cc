-- A hold that runs short is warned of once per allowance, escalated, taken over by a person, and closed by what happened.
create table hold_warning (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  hold_id uuid not null,
  allowance text not null check (allowance in ('DAYS', 'WARMTH', 'DRYNESS')),
  level text not null check (level in ('SOON', 'OVER')),
  raised_on date not null,
  escalated_on date,
  runs_out_on date,
  taken_by uuid,
  taken_on date,
  taken_note text check (length(taken_note) <= 300),
  closed_on date,
  closed_by text check (closed_by in ('EMPTIED', 'EASED')),
  version int not null default 0,
  primary key (vineyard_id, id),
  foreign key (vineyard_id, hold_id) references hold (vineyard_id, id),
  check ((closed_on is null) = (closed_by is null)),
  check ((taken_by is null) = (taken_on is null))
);
create unique index hold_warning_open on hold_warning (vineyard_id, hold_id, allowance) where closed_on is null;
select rootling_fence('hold_warning');
