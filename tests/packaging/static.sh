#!/bin/bash
# static.sh SOURCE BUILD: builds the program with RUNNEL_STATIC and reads what it still asks the system for.
. "$(dirname "$0")/begin.sh"

# What a program is linked with does not depend on the optimiser.
quietly "$work/log" cmake --preset release -B "$build/static" -DRUNNEL_STATIC=ON -DRUNNEL_TESTS=OFF \
  -DCMAKE_CXX_FLAGS_RELEASE=-O0
quietly "$work/log" cmake --build "$build/static" --target runnel
runnel=$build/static/cli/runnel

needed=$(readelf -d "$runnel" | sed -n 's/.*(NEEDED).*\[\(.*\)\].*/\1/p')
echo "Needs: ${needed//$'\n'/ }"
case $needed in
  *libdate-tz.so*) ;;
  *) echo "libdate-tz is not among them: is this the program?"; exit 1 ;;
esac
if echo "$needed" | grep -vE '^(libdate-tz|libc|libm|ld-linux.*)\.so'; then
  echo "these should be in the program"
  exit 1
fi

# What libdate-tz throws is caught on the other side, in a program with a C++ library of its own.
cd "$work"
"$runnel" new garden >/dev/null
"$runnel" plan garden/garden.yaml >plan.txt
grep -q "Set on the timer" plan.txt
sed -i 's|Europe/[A-Za-z]*|Europe/Lisbona|' garden/garden.yaml
if "$runnel" check garden/garden.yaml >check.txt; then
  echo "a time zone was taken that is none"
  exit 1
fi
tr -s '\n ' '  ' <check.txt | grep -q 'did you mean "Europe/Lisbon"'
