address=(); pg=""; bin=$(ls -d /usr/lib/postgresql/*/bin 2>/dev/null | tail -1)
if ls /usr/share/postgresql/*/extension/postgis.control >/dev/null 2>&1 && [ -n "$bin" ]; then
  pg=$(mktemp -d); as=(); if [ "$(id -u)" = 0 ]; then chown postgres "$pg"; as=(runuser -u postgres --); fi
  trap 'stop; "${as[@]}" "$bin/pg_ctl" -D "$pg/data" -m fast stop >/dev/null 2>&1 || true; rm -rf "$work" "$pg"' EXIT
  (cd "$pg"; "${as[@]}" "$bin/initdb" -D "$pg/data" -A trust -U bench >/dev/null
   "${as[@]}" "$bin/pg_ctl" -D "$pg/data" -w -l "$pg/log" -o "-p 18089 -c listen_addresses=127.0.0.1 -k $pg" start >/dev/null
   "$bin/psql" -qAt -h 127.0.0.1 -p 18089 -U bench -d postgres -c "create extension postgis; select postgis_full_version()")
  address=("jdbc:postgresql://127.0.0.1:18089/postgres?user=bench")
else echo "PostGIS is missing here (Debian: apt-get install postgresql-15-postgis-3)."; fi
java -Xmx512m -cp "$work/classes:$classes$libs" org.rootling.bench.LayoutBench "${address[@]}"
demo
java -cp "$work/classes" LargeField "$url" "$email" "$password" quillow-bank
