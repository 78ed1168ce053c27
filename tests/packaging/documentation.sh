#!/bin/bash
# documentation.sh SOURCE BUILD: the API documentation builds without a warning, and shows the example of each layer.
set -euo pipefail
source=$1
build=$2
. "$source/examples/packages.sh"
# shellcheck disable=SC2086  # one word for each package
(cd "$source" && need_packages $packaging_packages)
cmake -S "$source" -B "$build" >/dev/null # Doxygen may be new
cmake --build "$build" --target docs
for example in "$source"/examples/library/*.cpp; do
  layer=$(basename "$example" .cpp)
  page=$(grep -rlF --include='dir_*.html' "runnel/$layer Directory Reference" "$build/docs")
  grep -q 'class="fragment"' "$page" || { echo "no example of $layer in $page"; exit 1; }
done
