#!/bin/sh
# Builds everything and runs the tests: sh tests/run.sh
# The last line is "N passed, N failed". Not run: the labels packaging, pages and slow.
set -eu
cd "$(dirname "$0")/.."
. examples/packages.sh

# shellcheck disable=SC2086  # one word for each package
need_packages $build_packages $test_packages

echo "Building in build/release ..." >&2
quietly build/configure.log cmake --preset release -DRUNNEL_TESTS=ON
quietly build/build.log cmake --build build/release

# A zone far from UTC and with half an hour: nothing may depend on the machine's own.
TZ=Asia/Kolkata
export TZ
results=$PWD/build/release/results.xml
rm -f "$results"
status=0
ctest --test-dir build/release --label-exclude '^(packaging|pages|slow)$' -j2 --output-on-failure \
  --no-tests=error --output-junit "$results" || status=$?
sh tests/count.sh "$results" || status=1
exit "$status"
