#!/bin/bash
# documentation.sh SOURCE BUILD: the API documentation builds without a warning, and shows the example of each layer.
. "$(dirname "$0")/begin.sh"

quietly "$work/log" cmake "$build" # Doxygen may have come since
cmake --build "$build" --target docs
for example in examples/library/*.cpp; do
  layer=$(basename "$example" .cpp)
  page=$(grep -lF "<title>Runnel: runnel/$layer Directory Reference</title>" "$build"/docs/dir_*.html)
  # The program, and what it prints.
  if ! grep -q 'int.* main(' "$page" || ! grep -qF "$(head -n 1 "${example%.cpp}.txt")" "$page"; then
    echo "$page does not show $example"
    exit 1
  fi
done
