-- :people helpers and leads of one vineyard, each with the owner's password, a token of their own and a row to weed; :tag
-- tells them from those of other vineyards. Run as the schema's owner.
\set ON_ERROR_STOP on
begin;
select set_config('rootling.vineyard', :'vineyard', true);
insert into account (id, email, name, password_hash)
select md5('person' || :'tag' || n)::uuid, 'p' || n || '.' || :'tag' || '@bench.example', 'Person ' || n, (select password_hash from account where id = :'account'::uuid)
  from generate_series(1, :people) n;
insert into membership (vineyard_id, id, account_id, role)
select :'vineyard'::uuid, md5('member' || n)::uuid, md5('person' || :'tag' || n)::uuid, case when n % 2 = 0 then 'LEAD' else 'HELPER' end
  from generate_series(1, :people) n;
insert into api_token (vineyard_id, id, account_id, name, token_hash, role)
select :'vineyard'::uuid, md5('token' || n)::uuid, md5('person' || :'tag' || n)::uuid, 'bench', encode(sha256(convert_to('rtl_bench' || n || '-' || :'tag', 'UTF8')), 'hex'), 'HELPER'
  from generate_series(1, :people) n;
insert into task (vineyard_id, id, step, row_id, places, quantity)
select :'vineyard'::uuid, md5('task' || r.n)::uuid, 'WEED', r.id, int4multirange(int4range(1, r.places + 1)), r.places
  from (select r.id, r.places, row_number() over (order by r.places desc, b.code, r.number) n
          from vine_row r join block b on b.vineyard_id = r.vineyard_id and b.id = r.block_id
         where not exists (select 1 from task t where t.vineyard_id = r.vineyard_id and t.row_id = r.id and t.step = 'WEED')
           and r.vineyard_id = :'vineyard'::uuid and r.withdrawn_at is null) r where r.n <= :people;
insert into task_person (vineyard_id, id, task_id, account_id)
select :'vineyard'::uuid, md5('does' || n)::uuid, md5('task' || n)::uuid, md5('person' || :'tag' || n)::uuid
  from generate_series(1, :people) n where exists (select 1 from task where vineyard_id = :'vineyard'::uuid and id = md5('task' || n)::uuid);
commit;
