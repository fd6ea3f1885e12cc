-- Fills the vineyard with :vines vines as a review finds them: blocks of 100 rows of 100 places, each planted with two lots
-- on three days by everyone, looked at on four days, a tenth not yet. Run as the schema's owner.
\set ON_ERROR_STOP on
begin;
select set_config('rootling.vineyard', :'vineyard', true);
create temporary table bench_row on commit drop as
select r, md5('row' || :'tag' || r)::uuid as row_id, md5('block' || :'tag' || r / 100)::uuid as block_id,
       (select id from lot where vineyard_id = :'vineyard'::uuid order by id offset (r / 100 + r / 25 % 2) % (select count(*) from lot) limit 1) as lot_id,
       date '2027-04-01' + (r / 100 % 5) * 3 + r / 30 % 3 as planted_on,
       (select account_id from membership where vineyard_id = :'vineyard'::uuid order by account_id offset r % (select count(*) from membership) limit 1) as planted_by
  from generate_series(0, ceil(:vines / 100.0)::int - 1) r;
insert into block (vineyard_id, id, code, name, boundary, area_m2, boundary_source, row_spacing_m, vine_spacing_m, row_count, place_count, row_metres)
select :'vineyard'::uuid, md5('block' || :'tag' || b)::uuid, 'X' || :'tag' || b, 'Bench ' || b,
       '{"type":"Polygon","coordinates":[[[0,0],[230,0],[230,140],[0,140],[0,0]]]}', 32200, 'TYPED', 2.2, 1.2,
       least(100, ceil((:vines - b * 10000) / 100.0)), least(10000, :vines - b * 10000),
       120 * least(100, ceil((:vines - b * 10000) / 100.0))
  from generate_series(0, ceil(:vines / 10000.0)::int - 1) b;
insert into vine_row (vineyard_id, id, block_id, number, places)
select :'vineyard'::uuid, row_id, block_id, r % 100 + 1, 100 from bench_row;
insert into row_stretch (vineyard_id, id, row_id, segment, first_place, places, start_x, start_y, end_x, end_y, start_gap_m, end_gap_m, vine_spacing_m)
select :'vineyard'::uuid, md5('stretch' || :'tag' || r)::uuid, row_id, 1, 1, 100,
       2 + (r % 100) * 2.2, 6, 2 + (r % 100) * 2.2, 126, 0.6, 0.6, 1.2 from bench_row;
insert into planting (vineyard_id, id, row_id, lot_id, places, vines, planted_on, planted_by)
select :'vineyard'::uuid, md5('planting' || :'tag' || r)::uuid, row_id, lot_id, '{[1,101)}', 100, planted_on, planted_by from bench_row;
insert into vine (vineyard_id, id, block_id, row_id, place, lot_id, planting_id, planted_on, planted_by, state, state_on)
select :'vineyard'::uuid, md5('vine' || :'tag' || n)::uuid, block_id, row_id, n % 100 + 1, lot_id,
       md5('planting' || :'tag' || r)::uuid, planted_on, planted_by,
       (array['GROWING','GROWING','GROWING','GROWING','GROWING','GROWING','WEAK','DEAD','PLANTED','MISSING'])[1 + kind],
       case when kind = 8 then planted_on else date '2027-05-10' + (n / 7 % 4) * 21 end
  from (select n, (hashint4(n) & 2147483647) % 10 as kind from generate_series(0, :vines - 1) n) v
  join bench_row on r = n / 100;
commit;
vacuum analyze vine;
analyze;
