#!/bin/bash
# install.sh SOURCE BUILD: installs the build into an empty folder, moves it, and uses it from a project outside.
set -euo pipefail
source=$1
build=$2
. "$source/examples/packages.sh"
# shellcheck disable=SC2086  # one word for each package
(cd "$source" && need_packages $packaging_packages)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

# DESTDIR stands before the prefix; then the whole is moved to where nothing was said of.
cmake --build "$build" --target runnel runnel_lib_core runnel_lib_garden >"$work/build.log" 2>&1 ||
  { tail "$work/build.log"; exit 1; }
DESTDIR=$work/staged cmake --install "$build" --prefix /opt/runnel >"$work/install.log"
prefix=$work/moved
mv "$work/staged/opt/runnel" "$prefix"
[ -z "$(find "$work/staged" -type f)" ] || { echo "installed outside the prefix:"; find "$work/staged" -type f; exit 1; }

for file in bin/runnel share/man/man1/runnel.1 share/bash-completion/completions/runnel \
  share/zsh/site-functions/_runnel share/fish/vendor_completions.d/runnel.fish share/runnel/crops.csv \
  include/runnel/schedule/plan.hpp; do
  [ -s "$prefix/$file" ] || { echo "not installed: $file"; exit 1; }
done
# Every table and header of the source is there; nothing names a folder of this machine.
diff <(cd "$source/data" && ls ./*.csv) <(cd "$prefix/share/runnel" && ls ./*.csv)
diff <(cd "$source/lib/include" && find . -name '*.hpp' | sort) <(cd "$prefix/include" && find . -name '*.hpp' | sort)
if grep -rlF -e "$source" -e "$build" -e "$work" "$prefix"; then
  echo "the files above name a folder of the build"
  exit 1
fi
man -l "$prefix/share/man/man1/runnel.1" | grep -q "EXIT STATUS"
(cd "$work" && "$prefix/bin/runnel" new garden && cd garden && "$prefix/bin/runnel" plan) | grep -q "Set on the timer"

# use CORE|GARDEN HOW OPTIONS...: builds tests/consumer and compares what it prints.
use() {
  local what=$1 how=$2 dir=$work/$1-$2 expected=reference_et arguments=()
  shift 2
  if [ "$what" = garden ]; then
    expected=garden
    arguments=("$source/tests/garden/sanity-week/garden.yaml")
  fi
  PKG_CONFIG_PATH=$(dirname "$(find "$prefix" -name runnel-core.pc)") \
    cmake -S "$source/tests/consumer" -B "$dir" -G Ninja -DUSE="$what" -DHOW="$how" \
    -DCMAKE_PREFIX_PATH="$prefix" "$@" >"$dir.log" 2>&1 && cmake --build "$dir" >>"$dir.log" 2>&1 ||
    { tail -n 30 "$dir.log"; return 1; }
  cmake -DEXPECTED="$source/examples/library/$expected.txt" -P "$source/tests/cmake/prints.cmake" -- \
    "$dir/consumer" "${arguments[@]}"
}
without_garden="-DCMAKE_DISABLE_FIND_PACKAGE_yaml-cpp=TRUE -DCMAKE_DISABLE_FIND_PACKAGE_date=TRUE"
# shellcheck disable=SC2086  # two options
use core package $without_garden
use garden package
use core pkgconfig
use garden pkgconfig
# The garden asks for both, and a version to come is refused: without this the checks above could not fail.
# shellcheck disable=SC2086
if cmake -S "$source/tests/consumer" -B "$work/refused" -DUSE=garden -DHOW=package -DCMAKE_PREFIX_PATH="$prefix" \
  $without_garden >"$work/refused.log" 2>&1; then
  echo "runnel::garden was found without yaml-cpp and date"
  exit 1
fi
