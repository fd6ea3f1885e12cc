-- :people helpers and leads of the bench vineyard, each with the owner's password, a token of their own and a row of their
-- own to weed. Run as the schema's owner, after vines.sql.
\set ON_ERROR_STOP on
begin;
select set_config('rootling.vineyard', :'vineyard', true);
insert into account (id, email, name, password_hash)
select md5('person' || n)::uuid, 'person' || n || '@bench.example', 'Person ' || n, (select password_hash from account where id = :'account'::uuid)
  from generate_series(1, :people) n;
insert into membership (vineyard_id, id, account_id, role)
select :'vineyard'::uuid, md5('member' || n)::uuid, md5('person' || n)::uuid, case when n % 2 = 0 then 'LEAD' else 'HELPER' end
  from generate_series(1, :people) n;
insert into api_token (vineyard_id, id, account_id, name, token_hash, role)
select :'vineyard'::uuid, md5('token' || n)::uuid, md5('person' || n)::uuid, 'bench', encode(sha256(convert_to('rtl_bench' || n, 'UTF8')), 'hex'), 'HELPER'
  from generate_series(1, :people) n;
insert into task (vineyard_id, id, step, row_id, places, quantity)
select :'vineyard'::uuid, md5('task' || n)::uuid, 'WEED', md5('row' || :'tag' || n)::uuid, '{[1,101)}', 100
  from generate_series(1, :people) n;
insert into task_person (vineyard_id, id, task_id, account_id)
select :'vineyard'::uuid, md5('does' || n)::uuid, md5('task' || n)::uuid, md5('person' || n)::uuid
  from generate_series(1, :people) n;
commit;
analyze;
