demo; v=/v/quillow-bank; today=$(date -u -d "+$(cat "$home/demo-shift-days") days" +%F)
for movements in 1000 100000; do
  sql -v movements=$movements -v vineyard="$vineyard" -v today="$today" -f src/bench/holds.sql >/dev/null
  echo "with $(sql -c 'select count(*) from movement') movements, $(sql -c 'select count(*) from weather_day') days:"
  read_pages "${ROUNDS:-60}" $v/bare $v/lots =$v/bench/holds | tee "$work/$movements"
done
for what in balance all-balances balance-of-a-day; do
  echo "$what, 100,000 movements to 1,000: $(paste <(grep "^$what-ms" "$work/100000") <(grep "^$what-ms" "$work/1000") | awk '{printf "%.2f", $2 / $4}')"
done
