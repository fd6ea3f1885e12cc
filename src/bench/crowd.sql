-- A line for each person of the bench: vineyard, email, role, token, task, its row, its places, and a row to look at.
select v.slug, a.email, m.role, 'rtl_bench' || (regexp_match(a.email, '^p(\d+)\.'))[1] || '-' || (regexp_match(a.email, '\.(.*)@'))[1],
       t.id, b.code || ' r' || r.number, r.places, (select x.id from vine_row x where x.vineyard_id = v.id and x.block_id = b.id order by x.number limit 1)
  from account a
  join membership m on m.account_id = a.id
  join vineyard v on v.id = m.vineyard_id
  join task_person p on p.vineyard_id = v.id and p.account_id = a.id
  join task t on t.vineyard_id = v.id and t.id = p.task_id
  join vine_row r on r.vineyard_id = v.id and r.id = t.row_id
  join block b on b.vineyard_id = v.id and b.id = r.block_id
 where a.email like '%@bench.example'
 order by v.slug, (regexp_match(a.email, '^p(\d+)\.'))[1]::int;
