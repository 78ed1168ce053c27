#!/bin/sh
# sh tests/count.sh RESULTS.xml...: "N passed, N failed" from the JUnit files that CTest wrote.
# A test that could not be run counts as failed. Fails when one did, or when none passed.
set -eu
total=0
failed=0
for results; do
  # The counts stand in the first <testsuite ...>, as attributes on lines of their own.
  attribute() { sed -n "s/^[[:space:]]*$1=\"\([0-9]*\)\".*/\1/p" "$results" | head -n 1; }
  total=$((total + $(attribute tests)))
  failed=$((failed + $(attribute failures) + $(attribute skipped) + $(attribute disabled)))
done
passed=$((total - failed))
echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ] && [ "$passed" -gt 0 ]
