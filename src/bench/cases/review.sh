demo; v=/v/quillow-bank
for vines in 10000 1000000; do
  sql -v vines=$vines -v tag="$vines" -v vineyard="$vineyard" -f src/bench/review.sql >/dev/null
  echo "with $(sql -c 'select count(*) from vine') vines in $(sql -c 'select count(*) from vine_row') rows:"
  read_pages "${ROUNDS:-20}" $v/bare $v/review "$v/review?by=block" "$v/review?by=planter" "$v/review/clusters?block=X${vines}0" $v/review/replacing
done
