# A disk of 900 MB runs full under writes, then gets room again. Needs root, for the mount.
disk="$work/home"; mkdir -p "$disk"; mount -t tmpfs -o size=900m tmpfs "$disk"
trap 'stop; sleep 1; umount -l "$disk"; rm -rf "$work"' EXIT
chmod 755 "$work" "$disk"
demo
lot=$(sql -c "select id from lot limit 1")
sql -v vines=6000 -v tag=1 -v vineyard="$vineyard" -v account="$account" -v lot="$lot" -f src/bench/vines.sql >/dev/null
sql -v people=50 -v tag=1 -v vineyard="$vineyard" -v account="$account" -f src/bench/people.sql >/dev/null
at=$(date -u -d "+$(cat "$home/demo-shift-days") days" +%Y-%m-%dT%H:%M:%SZ)
log() { # person, place: says the status; notes what was acknowledged
  local id task code; id=$(cat /proc/sys/kernel/random/uuid)
  task=$(printf 'task%s' "$1" | md5sum | sed -E 's/(.{8})(.{4})(.{4})(.{4})(.{12}).*/\1-\2-\3-\4-\5/')
  code=$(curl -s -m 20 -o "$work/../answer.$$" -w '%{http_code}' -H "Authorization: Bearer rtl_bench$1-1" -H 'Content-Type: application/json' \
    -d "{\"entries\":[{\"id\":\"$id\",\"task\":\"$task\",\"places\":\"X10 r$1 $2\",\"at\":\"$at\"}]}" "$url/api/v1/field-logs" || true)
  if [ "$code" = 200 ] && grep -q '"taken"' "$work/../answer.$$"; then echo "$id" >>"$work/acknowledged"; fi; echo "$code"; }
: >"$work/acknowledged"; : >"$work/codes"
for place in 1 2 3; do log 1 $place >>"$work/codes"; done
dd if=/dev/zero of="$disk/filler" bs=1M 2>/dev/null || true; echo "disk full: $(df --output=avail -k "$disk" | tail -1) kB left"
refused=0; for person in $(seq 2 50); do for place in $(seq 1 100); do
  code=$(log "$person" "$place"); echo "$code" >>"$work/codes"; [ "$code" = 200 ] || refused=$((refused + 1)); [ $refused -lt 8 ] || break 2; done; done
echo "answers until eight were refused: $(sort "$work/codes" | uniq -c | awk '{print $2 " x" $1}' | tr '\n' ' ')"
curl -s -m 20 -H 'Accept: text/html' "$url/sign-in" | grep -o '<p>[^<]*</p>' | head -1 || true
rm "$disk/filler"; for n in $(seq 1 90); do [ "$(log 1 $((3 + n)))" != 200 ] || break; sleep 1; done; echo "room again: writes taken after $n tries"
dbport=$(sed -n 4p "$home/postgres/data/postmaster.pid"); lost=0
while read -r id; do [ "$(sql -c "select count(*) from task_log where id = '$id'")" = 1 ] || lost=$((lost + 1)); done <"$work/acknowledged"
rm -f "$work/../answer.$$"
echo "disk: $(wc -l <"$work/acknowledged") acknowledged entries, $lost lost"
