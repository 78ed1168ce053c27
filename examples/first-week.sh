#!/bin/sh
# Builds Runnel and plans the example garden's week: sh examples/first-week.sh
set -eu
cd "$(dirname "$0")/.."
. examples/packages.sh

# shellcheck disable=SC2086  # one word for each package
need_packages $build_packages

# The program alone needs no test packages. A build directory that has the tests keeps them.
tests=
[ -f build/release/CMakeCache.txt ] || tests=-DRUNNEL_TESTS=OFF
echo "Building Runnel in build/release (a few minutes the first time) ..." >&2
quietly build/configure.log cmake --preset release $tests
quietly build/build.log cmake --build build/release --target runnel

exec build/release/cli/runnel plan examples/terrace/garden.yaml
