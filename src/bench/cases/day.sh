# What a server of 100 vineyards gets in a day, within an hour: 600 people, 36,000 pages and logs; the heap after each part.
demo; sql -v most="${VINEYARDS:-100}" -v from="$vineyard" -f src/bench/vineyards.sql
for v in $(sql -c "select id from vineyard order by slug"); do
  sql -v people=6 -v tag="$v" -v vineyard="$v" -v account="$account" -f src/bench/people.sql >/dev/null; done
people; echo "$(sql -c 'select count(*) from vineyard') vineyards, $(wc -l <"$work/people") people, $(sql -c 'select count(*) from vine') vines"
echo "heap in use after a full collection, before: $(heap)"
for part in 1 2 3 4 5 6; do
  crowd $((${SECONDS_LONG:-3600} / 6)) "${PAUSE:-60}" $((part * 10 - 9))
  echo "heap in use after a full collection, after part $part of 6: $(heap)"
done
