-- Who does not come any more keeps the name and the wage under which they worked.
alter table work_person add column former_account uuid references account (id);
create index work_person_former on work_person (vineyard_id, former_account) where former_account is not null;

-- Whose work a log is: the helper that a lead wrote down, or whoever logged it, who may have left the list since.
create function rootling_worker(p_person uuid, p_account uuid) returns uuid
  language sql stable
  as $$ select coalesce(p_person,
    (select id from work_person where vineyard_id = rootling_vineyard() and account_id = p_account),
    (select id from work_person where vineyard_id = rootling_vineyard() and former_account = p_account
      order by withdrawn_at desc, id limit 1)) $$;

-- A person who is forgotten is forgotten here too.
create function rootling_forget_worker() returns trigger
  language plpgsql security definer set search_path = public, pg_temp as $$
begin
  update work_person set name = new.name, version = version + 1 where former_account = new.id and name <> new.name;
  return new;
end $$;
revoke execute on function rootling_forget_worker() from public;
create trigger forget_worker after update of name on account
  for each row when (new.email like '%@deleted.invalid') execute function rootling_forget_worker();
