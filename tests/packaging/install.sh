#!/bin/bash
# install.sh SOURCE BUILD: installs the build into an empty folder, moves it, and uses it from a project outside.
. "$(dirname "$0")/begin.sh"

# DESTDIR stands before the prefix; then the whole is moved to where nothing was said of.
quietly "$work/log" cmake --build "$build" --target runnel
DESTDIR=$work/staged quietly "$work/log" cmake --install "$build" --prefix /opt/runnel
prefix=$work/moved
mv "$work/staged/opt/runnel" "$prefix"
[ -z "$(find "$work/staged" -type f)" ] || { echo "installed outside the prefix:"; find "$work/staged" -type f; exit 1; }

for file in bin/runnel share/man/man1/runnel.1 share/bash-completion/completions/runnel \
  share/zsh/site-functions/_runnel share/fish/vendor_completions.d/runnel.fish; do
  [ -s "$prefix/$file" ] || { echo "not installed: $file"; exit 1; }
done
# Every table, document and header of the source is there; nothing names a folder of this machine.
diff <(cd data && find . -type f ! -name CMakeLists.txt | sort) <(cd "$prefix/share/runnel" && find . -type f | sort)
diff <(cd lib/include && find . -name '*.hpp' | sort) <(cd "$prefix/include" && find . -name '*.hpp' | sort)
if grep -rlF -e "$source" -e "$build" -e "$work" "$prefix"; then
  echo "the files above name a folder of the build"
  exit 1
fi
man -l "$prefix/share/man/man1/runnel.1" >"$work/page"
grep -q "EXIT STATUS" "$work/page"
(cd "$work" && "$prefix/bin/runnel" new garden && "$prefix/bin/runnel" plan garden/garden.yaml) >"$work/plan"
grep -q "Set on the timer" "$work/plan"

# Those who use the library are examples of its documentation.
prints() { # EXAMPLE PROGRAM ARGUMENTS...
  cmake -DEXPECTED="$source/examples/library/$1.txt" -P tests/cmake/prints.cmake -- "${@:2}"
}
garden=$source/tests/garden/sanity-week/garden.yaml

with_cmake() { # COMPONENT EXAMPLE OPTIONS...
  quietly "$work/log" cmake -S tests/consumer -B "$work/$1" -G Ninja -DCOMPONENT="$1" -DEXAMPLE="$2" \
    -DCMAKE_PREFIX_PATH="$prefix" "${@:3}"
  quietly "$work/log" cmake --build "$work/$1"
}
without=(-DCMAKE_DISABLE_FIND_PACKAGE_yaml-cpp=TRUE -DCMAKE_DISABLE_FIND_PACKAGE_date=TRUE)
with_cmake core reference_et "${without[@]}"
prints reference_et "$work/core/consumer"
with_cmake core reference_et --fresh -DOPTIONAL=garden "${without[@]}"
with_cmake garden garden
prints garden "$work/garden/consumer" "$garden"
# Of the garden both are asked for: else their absence above would show nothing.
if (with_cmake garden garden --fresh "${without[@]}") 2>/dev/null; then
  echo "runnel::garden was found without yaml-cpp and date"
  exit 1
fi

PKG_CONFIG_PATH=$(dirname "$(find "$prefix" -name runnel-core.pc)")
export PKG_CONFIG_PATH
for package in runnel-core runnel-garden; do
  for static in "" --static; do
    example=reference_et
    [ $package = runnel-core ] || example=garden
    # shellcheck disable=SC2046,SC2086  # words as a compiler takes them
    c++ -std=c++20 examples/library/$example.cpp $(pkg-config $static --cflags --libs $package) -o "$work/with_$package"
  done
done
prints reference_et "$work/with_runnel-core"
prints garden "$work/with_runnel-garden" "$garden"
echo "Installed, moved and used by CMake and pkg-config."
