demo; lot=$(sql -c "select id from lot limit 1"); v=/v/quillow-bank
for vines in ${VINES:-300 30000 1000000}; do
  sql -v vines=$vines -v tag="$vines" -v vineyard="$vineyard" -v account="$account" -v lot="$lot" -f src/bench/vines.sql >/dev/null
  row=$(sql -c "select id from vine_row where block_id = md5('block$vines' || '0')::uuid order by number limit 1")
  echo "with $(sql -c 'select count(*) from vine') vines in the database:"
  read_pages "${ROUNDS:-60}" $v/bare $v/progress "$v/rows/$row" $v/ $v/trellis $v/trellis/order $v/trellis/blocks/GP $v/trellis/blocks/GP/loads
done
echo "heap in use after a full collection: $(heap)"
