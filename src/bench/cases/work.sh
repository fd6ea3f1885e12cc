java -Xmx512m -cp "$work/classes:$classes$libs" WorkBench "${SECONDS_TO_PLAN:-10}" 2>/dev/null
demo; stop
java -Xmx512m -cp "$work/classes:src/bench:$classes$libs" org.rootling.Rootling --spring.profiles.active=demo --server.port=18083 --rootling.home="$home" --rootling.bench=field-logs --rootling.bench.vineyard="$vineyard" --rootling.bench.account="$account" >"$work/log" 2>&1 || true
grep "^field logs" "$work/log" || { grep -m3 -E "Exception|Caused" "$work/log"; exit 1; }
