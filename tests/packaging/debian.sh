#!/bin/bash
# debian.sh SOURCE BUILD: makes the Debian packages and tries them in a Debian 12 that has nothing else.
set -euo pipefail
source=$1
build=$2
if [ "$(id -u)" -ne 0 ]; then
  echo "Not run: a bare Debian is made by root only."
  exit 77
fi
. "$source/examples/packages.sh"
# shellcheck disable=SC2086  # one word for each package
(cd "$source" && need_packages $packaging_packages)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

cmake --build "$build" >"$work/log" 2>&1 && cpack --config "$build/CPackConfig.cmake" -G DEB -B "$work/cpack" >>"$work/log" 2>&1 ||
  { tail -n 30 "$work/log"; exit 1; }
mkdir "$work/packages"
mv "$work"/cpack/*.deb "$work/packages"
for package in "$work"/packages/*.deb; do
  dpkg-deb --info "$package"
done
lintian --suppress-tags no-copyright-file --fail-on error "$work"/packages/*.deb

# mmdebstrap mounts, unmounts and removes what it needs; the root is thrown away when the last hook is over.
mmdebstrap --variant=minbase --format=null --aptopt='Acquire::Check-Valid-Until "false"' \
  --customize-hook="copy-in '$work/packages' /root" \
  --customize-hook="copy-in '$source/tests/packaging/in_bare_debian.sh' /root" \
  --chrooted-customize-hook='sh /root/in_bare_debian.sh' \
  bookworm - /etc/apt/sources.list.d/debian.sources
