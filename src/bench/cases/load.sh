people=${PEOPLE:-200}
demo; lot=$(sql -c "select id from lot limit 1")
sql -v vines=1000000 -v tag=1 -v vineyard="$vineyard" -v account="$account" -v lot="$lot" -f src/bench/vines.sql >/dev/null
sql -v people="$people" -v tag=1 -v vineyard="$vineyard" -v account="$account" -f src/bench/people.sql >/dev/null
sql -c "select id from vine_row where block_id = md5('block17')::uuid" >"$work/rows"
at=$(date -u -d "+$(cat "$home/demo-shift-days") days" +%Y-%m-%dT%H:%M:%SZ)
echo "with $(sql -c 'select count(*) from vine') vines in the database:"
java -Xmx512m -cp "$work/classes" Crowd "$url" quillow-bank "$password" "$people" "${SECONDS_LONG:-120}" "$work/rows" "$at"
echo "heap in use after a full collection: $(heap)"
