# Sourced by the scripts beside it, with the source and the build folder: has what they need, and a folder that goes at the end.
# shellcheck shell=bash
set -euo pipefail
# shellcheck disable=SC2034  # build is for those who source this
source=$1 build=$2
cd "$source"
. examples/packages.sh
# shellcheck disable=SC2086  # one word for each package
need_packages $packaging_packages
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
