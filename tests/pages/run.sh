#!/bin/sh
# Opens the HTML pages in Chromium: sh tests/pages/run.sh RUNNEL
set -eu
runnel=$(realpath "$1")
cd "$(dirname "$0")/../.."
. examples/packages.sh
# shellcheck disable=SC2086  # one word for each package
need_packages $page_packages
exec python3 tests/pages/pages_test.py "$runnel" "$PWD"
