seconds() { # name, port, command...: seconds until healthy
  local name=$1 port=$2; shift 2; local t0; t0=$(date +%s.%N)
  "$@" >"$work/log" 2>&1 & pid=$!
  healthy "$port" || { tail -20 "$work/log"; exit 1; }
  local s; s=$(echo "$(date +%s.%N) - $t0" | bc); stop; echo "$name $s" >>"$work/times"; }
median() { grep "^$1 " "$work/times" | awk '{print $2}' | sort -n | awk '{v[NR]=$1} END {print v[int((NR+1)/2)]}'; }

# The bare application is our own jar with nothing of ours in it but Bare.
mkdir "$work/j"; (cd "$work/j"; jar -xf "$OLDPWD/$jar"; rm -rf BOOT-INF/classes/* META-INF/spring.factories; cp -r ../classes/bare BOOT-INF/classes/)
sed -i 's/^Start-Class: .*/Start-Class: bare.Bare\r/' "$work/j/META-INF/MANIFEST.MF"
jar -c -0 -f "$work/bare.jar" -m "$work/j/META-INF/MANIFEST.MF" -C "$work/j" .
for round in $(seq 1 "${ROUNDS:-3}"); do
  for kind in new again; do
    seconds bare-$kind 18081 java -Dbare.home="$work/b$round" -jar "$work/bare.jar" --server.port=18081
    seconds rootling-$kind 18082 java -jar "$jar" --server.port=18082 --rootling.home="$work/r$round"
  done
done
for kind in new again; do
  b=$(median bare-$kind); r=$(median rootling-$kind)
  echo "start, $kind home: bare $b s, rootling $r s, ratio $(echo "scale=2; $r / $b" | bc)"
done
