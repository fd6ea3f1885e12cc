-- Somebody who comes for a day or a few without an account of their own: a member of one vineyard, helper and no more, until
-- an instant. A link signs their phone in; only its hash is kept. Their account is a name without any other way in.
alter table membership add column guest_until timestamptz;
alter table membership add column token_hash text unique;
alter table membership add check (guest_until is null or role = 'HELPER');
alter table membership add check (token_hash is null or guest_until is not null);

-- The name that a guest's records point at; given again, it is changed. Closed from its first moment: no password opens it.
create function rootling_make_guest(p_account uuid, p_name text) returns void
  language plpgsql security definer set search_path = public, pg_temp as $$
begin
  insert into account (id, email, name, password_hash, closed_at)
  values (p_account, p_account || '@guest.invalid', p_name, 'none', now())
  on conflict (id) do update set name = excluded.name
   where account.email = p_account || '@guest.invalid'
     and exists (select 1 from membership m where m.account_id = p_account and m.vineyard_id = rootling_vineyard());
end $$;

-- Whose link it is, while it is open.
create function rootling_guest(p_hash text)
  returns table (vineyard_name text, vineyard_slug text, zone text, account_id uuid, email text, name text, guest_until timestamptz)
  language sql stable security definer set search_path = public, pg_temp
  as $$ select v.name, v.slug, v.zone, a.id, a.email, a.name, m.guest_until
          from membership m join vineyard v on v.id = m.vineyard_id join account a on a.id = m.account_id
         where m.token_hash = p_hash and m.ended_at is null and m.guest_until > now() and v.closed_at is null $$;

-- A guest belongs to one vineyard and is forgotten with it.
create function rootling_forget_guests() returns trigger
  language plpgsql security definer set search_path = public, pg_temp as $$
begin
  delete from account a where a.email like '%@guest.invalid'
     and not exists (select 1 from membership m where m.account_id = a.id);
  return old;
end $$;
revoke execute on function rootling_forget_guests() from public;
create trigger forget_guests after delete on vineyard for each row execute function rootling_forget_guests();
