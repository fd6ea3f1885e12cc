# What a server of 100 vineyards gets in a day, within an hour: 600 people, about 36,000 pages and logs; the heap meanwhile.
seconds=${SECONDS_LONG:-3600}
demo; sql -v most="${VINEYARDS:-100}" -v from="$vineyard" -f src/bench/vineyards.sql >/dev/null
for v in $(sql -c "select id from vineyard order by slug"); do
  sql -v people=6 -v tag="$v" -v vineyard="$v" -v account="$account" -f src/bench/people.sql >/dev/null; done
people; echo "$(sql -c 'select count(*) from vineyard') vineyards, $(wc -l <"$work/people") people, $(sql -c 'select count(*) from vine') vines"
echo "heap in use after a full collection, before: $(heap)"
crowd "$seconds" "${PAUSE:-60}" 1 >"$work/crowd" & crowd=$!
until grep -q 'signed in' "$work/crowd"; do kill -0 $crowd || exit 1; sleep 1; done
for part in 1 2 3 4 5 6; do sleep $((seconds / 6)); echo "heap in use after a full collection, after $((seconds * part / 6)) s: $(heap)"; done
wait $crowd; cat "$work/crowd"
