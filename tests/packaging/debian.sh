#!/bin/bash
# debian.sh SOURCE BUILD: makes the Debian packages and tries them in a Debian 12 that has nothing else.
if [ "$(id -u)" -ne 0 ]; then
  echo "Not run: a bare Debian is made by root only."
  exit 77
fi
. "$(dirname "$0")/begin.sh"

quietly "$work/log" cmake --build "$build" --target runnel
quietly "$work/log" cpack --config "$build/CPackConfig.cmake" -G DEB -B "$work/cpack"
mkdir "$work/packages"
mv "$work"/cpack/*.deb "$work/packages"
for package in "$work"/packages/*.deb; do
  dpkg-deb --info "$package"
done
lintian --allow-root --suppress-tags no-copyright-file --fail-on error "$work"/packages/*.deb

# mmdebstrap mounts, unmounts and removes what it needs; this root is gone when the last hook is over.
mmdebstrap --variant=minbase --format=null --aptopt='Acquire::Check-Valid-Until "false"' \
  --customize-hook="copy-in '$work/packages' '$source/tests/packaging/in_bare_debian.sh' /root" \
  --chrooted-customize-hook='sh /root/in_bare_debian.sh' \
  bookworm - /etc/apt/sources.list.d/debian.sources
