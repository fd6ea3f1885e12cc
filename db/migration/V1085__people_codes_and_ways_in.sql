-- An owner can ask for a second factor from everyone who decides or plans in the vineyard.
alter table vineyard add column codes_required boolean not null default false;

-- A token opens no more than its person could: it says when a second factor is asked for and missing.
drop function rootling_token(text);
create function rootling_token(p_hash text)
  returns table (vineyard_id uuid, account_id uuid, email text, name text, token_role text, member_role text, units text,
                 code_missing boolean)
  language sql stable security definer set search_path = public, pg_temp
  as $$ select t.vineyard_id, t.account_id, a.email, a.name, t.role, m.role, a.units,
               v.codes_required and m.role in ('OWNER', 'LEAD')
                 and not exists (select 1 from second_factor f where f.account_id = a.id and f.confirmed_at is not null)
          from api_token t
          join vineyard v on v.id = t.vineyard_id
          join account a on a.id = t.account_id and a.closed_at is null
          join membership m on m.vineyard_id = t.vineyard_id and m.account_id = t.account_id and m.ended_at is null
         where t.token_hash = p_hash and t.revoked_at is null $$;

-- Ways back in for who forgot a password: only the hash of the link's secret, good once and for an hour. The application
-- reaches them by the functions below alone. One that also ends the second factor can only be made by the schema's owner.
create table way_in (
  token_hash text primary key,
  account_id uuid not null references account (id) on delete cascade,
  expires_at timestamptz not null,
  ends_factor boolean not null default false
);
create index way_in_account on way_in (account_id);
alter table way_in enable row level security;
grant select on way_in to "${app_role}";

-- Makes one for an address; says to whom, or nothing where there is no such account.
create function rootling_make_way_in(p_email text, p_hash text, p_now timestamptz, p_expires timestamptz)
  returns table (email text, name text, locale text)
  language sql volatile security definer set search_path = public, pg_temp
  as $$
    delete from way_in where expires_at < p_now;
    insert into way_in (token_hash, account_id, expires_at)
      select p_hash, a.id, p_expires from account a where a.email = lower(p_email) and a.closed_at is null;
    select a.email, a.name, a.locale from way_in w join account a on a.id = w.account_id where w.token_hash = p_hash;
  $$;
revoke execute on function rootling_make_way_in(text, text, timestamptz, timestamptz) from public;
grant execute on function rootling_make_way_in(text, text, timestamptz, timestamptz) to "${app_role}";

create function rootling_way_in(p_hash text, p_now timestamptz) returns table (account_id uuid, email text, name text)
  language sql stable security definer set search_path = public, pg_temp
  as $$ select a.id, a.email, a.name from way_in w join account a on a.id = w.account_id and a.closed_at is null
         where w.token_hash = p_hash and w.expires_at > p_now $$;
revoke execute on function rootling_way_in(text, timestamptz) from public;
grant execute on function rootling_way_in(text, timestamptz) to "${app_role}";

-- Sets the new password, and ends this and every other way in of the person; false when it was used or is too old.
create function rootling_use_way_in(p_hash text, p_now timestamptz, p_password_hash text) returns boolean
  language plpgsql volatile security definer set search_path = public, pg_temp as $$
declare
  taken way_in;
begin
  select w.* into taken from way_in w join account a on a.id = w.account_id and a.closed_at is null
   where w.token_hash = p_hash and w.expires_at > p_now for update of w;
  if not found then
    return false;
  end if;
  delete from way_in where account_id = taken.account_id;
  if taken.ends_factor then
    delete from recovery_code where account_id = taken.account_id;
    delete from second_factor where account_id = taken.account_id;
  end if;
  update account set password_hash = p_password_hash, version = version + 1 where id = taken.account_id;
  return true;
end $$;
revoke execute on function rootling_use_way_in(text, timestamptz, text) from public;
grant execute on function rootling_use_way_in(text, timestamptz, text) to "${app_role}";
