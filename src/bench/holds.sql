-- Ten years of days before :today and 200 holds of 200 lots in four stores; then movements up to :movements in all.
-- Run as the schema's owner; a second run with more movements only adds what is missing.
\set ON_ERROR_STOP on
begin;
select set_config('rootling.vineyard', :'vineyard', true);
insert into weather_day (vineyard_id, id, date, low_c, high_c, rain_mm, forecast, source)
select :'vineyard'::uuid, md5('day' || d)::uuid, d::date,
       5 - 7 * cos(extract(doy from d) * 2 * pi() / 365), 14 - 9 * cos(extract(doy from d) * 2 * pi() / 365),
       case when extract(doy from d)::int % 4 = 0 then 6 else 0 end, false, 'bench'
  from generate_series(:'today'::date - interval '10 years', :'today'::date, interval '1 day') d
on conflict do nothing;
insert into supplier (vineyard_id, id, name) values (:'vineyard', md5('supplier')::uuid, 'Bench nursery') on conflict do nothing;
insert into delivery (vineyard_id, id, supplier_id, received_on)
values (:'vineyard', md5('delivery')::uuid, md5('supplier')::uuid, :'today'::date - 40) on conflict do nothing;
insert into store (vineyard_id, id, name, kind, soil)
select :'vineyard'::uuid, md5('store' || k)::uuid, 'Bench ' || k, (array['HEELED_IN','UNDER_COVER','COLD_STORE','SHED'])[k + 1],
       case when k < 2 then 'loam' end
  from generate_series(0, 3) k on conflict do nothing;
insert into delivery_line (vineyard_id, id, delivery_id, line_no, bundles, bundle_size, loose, roots, graft, wax, mould, dryness, label)
select :'vineyard'::uuid, md5('line' || n)::uuid, md5('delivery')::uuid, n + 1, 40, 25, 0, 'GOOD', 'GOOD', 'GOOD', 'GOOD', 'GOOD', 'GOOD'
  from generate_series(0, 199) n on conflict do nothing;
insert into lot (vineyard_id, id, code, series_year, series_no, delivery_line_id, variety, colour, rootstock, received_on)
select :'vineyard'::uuid, md5('lot' || n)::uuid, '99-' || chr(65 + n / 26) || chr(65 + n % 26), 1999, n + 1, md5('line' || n)::uuid,
       'Bacchus', 'WHITE', 'SO4', :'today'::date - 40
  from generate_series(0, 199) n on conflict do nothing;
-- One in five came from another store.
insert into hold (vineyard_id, id, lot_id, store_id, since)
select :'vineyard'::uuid, md5('before' || n)::uuid, md5('lot' || n)::uuid, md5('store' || (n + 1) % 4)::uuid, :'today'::date - 35
  from generate_series(0, 199, 5) n on conflict do nothing;
insert into hold (vineyard_id, id, lot_id, store_id, since, came_from)
select :'vineyard'::uuid, md5('hold' || n)::uuid, md5('lot' || n)::uuid, md5('store' || n % 4)::uuid, :'today'::date - 1 - n % 30,
       case when n % 5 = 0 then md5('before' || n)::uuid end
  from generate_series(0, 199) n on conflict do nothing;
insert into movement (vineyard_id, id, lot_id, kind, count, on_day, from_account, to_account)
select :'vineyard'::uuid, md5('received' || n)::uuid, md5('lot' || n)::uuid, 'RECEIVED', 1000, :'today'::date - 40, 'OUTSIDE', 'UNPLACED'
  from generate_series(0, 199) n where not exists (select 1 from movement where id = md5('received' || n)::uuid);
insert into movement (vineyard_id, id, lot_id, kind, count, on_day, from_account, to_account, to_hold)
select :'vineyard'::uuid, md5('placed' || n)::uuid, md5('lot' || n)::uuid, 'PLACED', 1000, :'today'::date - 1 - n % 30, 'UNPLACED', 'HOLD', md5('hold' || n)::uuid
  from generate_series(0, 199) n where not exists (select 1 from movement where id = md5('placed' || n)::uuid);
-- Lifted and put back, over and over.
insert into movement (vineyard_id, id, lot_id, kind, count, on_day, from_account, from_hold, to_account, to_hold)
select :'vineyard'::uuid, md5('more' || m)::uuid, md5('lot' || m / 2 % 200)::uuid, case when m % 2 = 0 then 'LIFTED' else 'PLACED' end, 1,
       :'today'::date - 1, case when m % 2 = 0 then 'HOLD' else 'LIFTED' end, case when m % 2 = 0 then md5('hold' || m / 2 % 200)::uuid end,
       case when m % 2 = 0 then 'LIFTED' else 'HOLD' end, case when m % 2 = 1 then md5('hold' || m / 2 % 200)::uuid end
  from generate_series((select count(*) from movement where lot_id in (select id from lot where series_year = 1999) and kind in ('LIFTED', 'PLACED')) - 200, :movements - 401) m;
commit;
-- Booked one by one each would have made room for the next; here they came in one transaction.
vacuum full lot_balance, lot_day;
vacuum analyze;
