-- Fills a bench vineyard with :vines vines: blocks of 100 rows of 100 places, one lot. Run as the schema's owner.
\set ON_ERROR_STOP on
begin;
select set_config('rootling.vineyard', :'vineyard', true);
insert into block (vineyard_id, id, code, name, boundary, area_m2, boundary_source, row_spacing_m, vine_spacing_m, row_count, place_count, row_metres)
select :'vineyard'::uuid, md5('block' || :'tag' || b)::uuid, 'X' || :'tag' || b, 'Bench ' || b,
       '{"type":"Polygon","coordinates":[[[0,0],[230,0],[230,140],[0,140],[0,0]]]}', 32200, 'TYPED', 2.2, 1.2,
       least(100, ceil((:vines - b * 10000) / 100.0)), least(10000, :vines - b * 10000),
       120 * least(100, ceil((:vines - b * 10000) / 100.0))
  from generate_series(0, ceil(:vines / 10000.0)::int - 1) b;
insert into vine_row (vineyard_id, id, block_id, number, places)
select :'vineyard'::uuid, md5('row' || :'tag' || r)::uuid, md5('block' || :'tag' || r / 100)::uuid, r % 100 + 1, 100
  from generate_series(0, ceil(:vines / 100.0)::int - 1) r;
insert into row_stretch (vineyard_id, id, row_id, segment, first_place, places, start_x, start_y, end_x, end_y, start_gap_m, end_gap_m, vine_spacing_m)
select :'vineyard'::uuid, md5('stretch' || :'tag' || r)::uuid, md5('row' || :'tag' || r)::uuid, 1, 1, 100,
       2 + (r % 100) * 2.2, 6, 2 + (r % 100) * 2.2, 126, 0.6, 0.6, 1.2
  from generate_series(0, ceil(:vines / 100.0)::int - 1) r;
insert into planting (vineyard_id, id, row_id, lot_id, places, vines, planted_on, planted_by)
select :'vineyard'::uuid, md5('planting' || :'tag' || r)::uuid, md5('row' || :'tag' || r)::uuid, :'lot'::uuid, '{[1,101)}', 100, '2027-04-01', :'account'::uuid
  from generate_series(0, ceil(:vines / 100.0)::int - 1) r;
insert into vine (vineyard_id, id, block_id, row_id, place, lot_id, planting_id, planted_on, planted_by, state, state_on)
select :'vineyard'::uuid, md5('vine' || :'tag' || n)::uuid, md5('block' || :'tag' || n / 10000)::uuid, md5('row' || :'tag' || n / 100)::uuid,
       n % 100 + 1, :'lot'::uuid, md5('planting' || :'tag' || n / 100)::uuid, '2027-04-01', :'account'::uuid,
       (array['GROWING','GROWING','GROWING','GROWING','GROWING','GROWING','WEAK','DEAD','PLANTED','MISSING'])[1 + n % 10], '2027-05-01'
  from generate_series(0, :vines - 1) n;
commit;
analyze block, vine_row, row_stretch, planting, vine;
