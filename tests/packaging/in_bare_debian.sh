#!/bin/sh
# Run by debian.sh as root of a bare Debian 12, with the packages in /root/packages.
set -eu
export DEBIAN_FRONTEND=noninteractive
everything() {
  find / -xdev \( -path /proc -o -path /sys -o -path /dev -o -path /tmp -o -path /root \) -prune -o -print | sort
}

apt-get update -q
everything >/tmp/before
apt-get install -qy --no-install-recommends /root/packages/runnel_*.deb
for file in /usr/bin/runnel /usr/share/man/man1/runnel.1.gz /usr/share/bash-completion/completions/runnel \
  /usr/share/zsh/vendor-completions/_runnel /usr/share/fish/vendor_completions.d/runnel.fish /usr/share/runnel/crops.csv; do
  [ -s "$file" ] || { echo "the package has no $file"; exit 1; }
done
gzip -dc /usr/share/man/man1/runnel.1.gz | grep -q "SH EXIT STATUS"

cd /tmp
runnel new garden
runnel plan garden/garden.yaml

# What the package brought goes with it, folders too.
dpkg -L runnel | sort | comm -23 - /tmp/before >/tmp/brought
[ "$(wc -l </tmp/brought)" -gt 20 ]
apt-get remove -qy runnel
apt-get purge -qy runnel
while read -r path; do
  [ ! -e "$path" ] || { echo "left behind: $path"; exit 1; }
done </tmp/brought

apt-get install -qy --no-install-recommends /root/packages/librunnel-dev_*.deb >/dev/null
[ -s /usr/lib/librunnel_garden.a ]
echo "The packages install, run and leave nothing behind."
