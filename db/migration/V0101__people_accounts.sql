-- An account is one person and belongs to no vineyard; memberships tie it to vineyards.
create table account (
  id uuid primary key,
  email text not null check (length(email) between 3 and 254 and email = lower(email)),
  name text not null check (length(name) between 1 and 80),
  password_hash text not null,
  locale text not null default 'en' check (locale in ('en', 'de', 'fr')),
  units text not null default 'metric' check (units in ('metric', 'us')),
  contrast boolean not null default false,
  created_at timestamptz not null default now(),
  closed_at timestamptz,
  version int not null default 0
);
create unique index account_email on account (email);

create table vineyard (
  id uuid primary key,
  slug text not null unique check (slug ~ '^[a-z0-9][a-z0-9-]{1,39}$'),
  name text not null check (length(name) between 1 and 80),
  zone text not null,
  latitude double precision check (latitude between -66 and 66),
  longitude double precision check (longitude between -180 and 180),
  altitude_m double precision check (altitude_m between -430 and 5000),
  created_at timestamptz not null default now(),
  closed_at timestamptz,
  version int not null default 0
);

create table membership (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  account_id uuid not null references account (id),
  role text not null check (role in ('OWNER', 'LEAD', 'HELPER', 'READER')),
  since timestamptz not null default now(),
  ended_at timestamptz,
  version int not null default 0,
  primary key (vineyard_id, id),
  unique (vineyard_id, account_id)
);
create index membership_account on membership (account_id);

create table invitation (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  token_hash text not null unique,
  role text not null check (role in ('OWNER', 'LEAD', 'HELPER', 'READER')),
  note text check (length(note) <= 200),
  expires_at timestamptz not null,
  used_at timestamptz,
  used_by uuid references account (id),
  withdrawn_at timestamptz,
  created_at timestamptz not null default now(),
  created_by uuid not null references account (id),
  version int not null default 0,
  primary key (vineyard_id, id),
  check (used_at is null or withdrawn_at is null)
);

create table api_token (
  vineyard_id uuid not null default rootling_vineyard() references vineyard (id),
  id uuid not null,
  account_id uuid not null references account (id),
  name text not null check (length(name) between 1 and 80),
  token_hash text not null unique,
  role text not null check (role in ('OWNER', 'LEAD', 'HELPER', 'READER')),
  created_at timestamptz not null default now(),
  revoked_at timestamptz,
  version int not null default 0,
  primary key (vineyard_id, id)
);

select rootling_fence('membership');
select rootling_fence('invitation');
select rootling_fence('api_token');

-- Own memberships are visible before a vineyard is chosen.
create policy own on membership for select using (account_id = rootling_account());

alter table account enable row level security;
create policy self on account using (id = rootling_account()) with check (id = rootling_account());
create policy fellow on account for select
  using (exists (select 1 from membership m where m.account_id = account.id and m.vineyard_id = rootling_vineyard()));
grant select, insert, update on account to "${app_role}";

alter table vineyard enable row level security;
create policy fence on vineyard using (id = rootling_vineyard()) with check (id = rootling_vineyard());
create policy own on vineyard for select
  using (exists (select 1 from membership m where m.vineyard_id = vineyard.id and m.account_id = rootling_account()));
grant select, insert, update on vineyard to "${app_role}";

-- The few look-ups that must work before it is known who asks: each returns only what its secret unlocks.
create function rootling_sign_in(p_email text)
  returns table (id uuid, email text, name text, password_hash text, locale text, units text, contrast boolean)
  language sql stable security definer set search_path = public, pg_temp
  as $$ select a.id, a.email, a.name, a.password_hash, a.locale, a.units, a.contrast
          from account a where a.email = lower(p_email) and a.closed_at is null $$;
create function rootling_token(p_hash text)
  returns table (vineyard_id uuid, account_id uuid, email text, name text, token_role text, member_role text, units text)
  language sql stable security definer set search_path = public, pg_temp
  as $$ select t.vineyard_id, t.account_id, a.email, a.name, t.role, m.role, a.units
          from api_token t
          join account a on a.id = t.account_id and a.closed_at is null
          join membership m on m.vineyard_id = t.vineyard_id and m.account_id = t.account_id and m.ended_at is null
         where t.token_hash = p_hash and t.revoked_at is null $$;
create function rootling_invitation(p_hash text)
  returns table (vineyard_id uuid, id uuid, vineyard_name text, vineyard_slug text, role text, expires_at timestamptz, used boolean, withdrawn boolean)
  language sql stable security definer set search_path = public, pg_temp
  as $$ select i.vineyard_id, i.id, v.name, v.slug, i.role, i.expires_at, i.used_at is not null, i.withdrawn_at is not null
          from invitation i join vineyard v on v.id = i.vineyard_id where i.token_hash = p_hash $$;
create function rootling_vineyards() returns setof uuid
  language sql stable security definer set search_path = public, pg_temp
  as $$ select id from vineyard where closed_at is null order by id $$;
create function rootling_is_new() returns boolean
  language sql stable security definer set search_path = public, pg_temp
  as $$ select not exists (select 1 from vineyard) $$;
create function rootling_email_taken(p_email text) returns boolean
  language sql stable security definer set search_path = public, pg_temp
  as $$ select exists (select 1 from account where email = lower(p_email)) $$;
create function rootling_slug_taken(p_slug text) returns boolean
  language sql stable security definer set search_path = public, pg_temp
  as $$ select exists (select 1 from vineyard where slug = p_slug) $$;
