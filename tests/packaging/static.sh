#!/bin/bash
# static.sh SOURCE: builds the program with RUNNEL_STATIC and reads what it still asks the system for.
set -euo pipefail
source=$1
. "$source/examples/packages.sh"
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

cmake -S "$source" --preset release -B "$work/build" -DRUNNEL_STATIC=ON -DRUNNEL_TESTS=OFF >"$work/log" 2>&1 &&
  cmake --build "$work/build" --target runnel >>"$work/log" 2>&1 || { tail -n 30 "$work/log"; exit 1; }
runnel=$work/build/cli/runnel

needed=$(readelf -d "$runnel" | sed -n 's/.*(NEEDED).*\[\(.*\)\].*/\1/p' | sort | tr '\n' ' ')
echo "needed: $needed"
for library in $needed; do
  case $library in
    libdate-tz.so.* | libc.so.* | libm.so.* | ld-linux*) ;;
    *) echo "$library should be in the program"; exit 1 ;;
  esac
done
case $needed in
  *libdate-tz*) ;;
  *) echo "libdate-tz is not shared: this test reads the wrong program"; exit 1 ;;
esac
# Time zones and what libdate-tz throws pass between the two C++ libraries.
"$runnel" plan "$source/examples/terrace/garden.yaml" | grep -q "Larkspur Terrace"
(cd "$work" && "$runnel" new garden && sed -i 's|timezone: .*|timezone: Europe/Lisbona|' garden/garden.yaml) >"$work/new.log"
if "$runnel" check "$work/garden/garden.yaml" >"$work/check.log" 2>&1; then
  echo "a time zone that is none was taken"
  exit 1
fi
grep -q "Europe/Lisbon" "$work/check.log"
