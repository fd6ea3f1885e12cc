demo; lot=$(sql -c "select id from lot limit 1")
sql -v vines=1000000 -v tag=1 -v vineyard="$vineyard" -v account="$account" -v lot="$lot" -f src/bench/vines.sql >/dev/null
sql -v people="${PEOPLE:-200}" -v tag=1 -v vineyard="$vineyard" -v account="$account" -f src/bench/people.sql >/dev/null
people; echo "with $(sql -c 'select count(*) from vine') vines in the database:"
crowd "${SECONDS_LONG:-120}" 5
echo "heap in use after a full collection: $(heap)"
