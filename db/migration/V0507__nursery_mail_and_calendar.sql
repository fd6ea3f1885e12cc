-- Mails wait here until a server has taken them; one digest a day and person, whatever the number of nodes.
create table digest_mail (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  account_id uuid not null references account (id),
  day date not null,
  to_address text not null check (length(to_address) between 3 and 254),
  subject text not null check (length(subject) between 1 and 200),
  body_text text not null,
  body_html text not null,
  sent_at timestamptz,
  tries int not null default 0,
  next_try_at timestamptz not null default now(),
  primary key (vineyard_id, id),
  unique (vineyard_id, account_id, day)
);
create index digest_mail_waiting on digest_mail (vineyard_id, next_try_at) where sent_at is null;
select rootling_fence('digest_mail', false);

-- A person's private calendar address; only the hash of its secret is kept.
create table calendar_feed (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  account_id uuid not null references account (id),
  secret_hash text not null unique,
  created_at timestamptz not null default now(),
  revoked_at timestamptz,
  primary key (vineyard_id, id)
);
select rootling_fence('calendar_feed');

-- Which feed a secret opens: only while it is not revoked and its person is still a member.
create function rootling_calendar_feed(p_hash text)
  returns table (vineyard_id uuid, account_id uuid)
  language sql stable security definer set search_path = public, pg_temp
  as $$ select f.vineyard_id, f.account_id
          from calendar_feed f
          join membership m on m.vineyard_id = f.vineyard_id and m.account_id = f.account_id and m.ended_at is null
         where f.secret_hash = p_hash and f.revoked_at is null $$;
