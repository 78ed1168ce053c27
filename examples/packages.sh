# Sourced by the scripts that build: what Runnel needs from Debian, and how to run a step quietly.
# shellcheck shell=sh
# shellcheck disable=SC2034  # the lists are read by those who source this file
build_packages="build-essential cmake ninja-build libeigen3-dev libhowardhinnant-date-dev \
libcli11-dev libyaml-cpp-dev tzdata"
# mandoc, zsh and fish judge the manual page and the completion.
test_packages="doctest-dev libnova-dev libudunits2-dev libical-dev libbenchmark-dev mandoc zsh fish"
check_packages="clang clang-format clang-tidy"
page_packages="chromium python3"
packaging_packages="doxygen lintian man-db mmdebstrap pkg-config"

# missing_packages NAME...: those not installed, one to a line.
missing_packages() {
  for package; do
    state=$(dpkg-query -W -f='${db:Status-Status}' "$package" 2>/dev/null) || state=none
    [ "$state" = installed ] || printf '%s\n' "$package"
  done
}

# need_packages NAME...: installs what is missing, or says what to type and fails.
need_packages() {
  if ! command -v dpkg-query >/dev/null; then
    echo "Not a Debian system: taking for granted what these packages hold: $*" >&2
    return 0
  fi
  missing=$(missing_packages "$@" | tr '\n' ' ')
  missing=${missing% }
  [ -n "$missing" ] || return 0
  if [ "$(id -u)" -ne 0 ] || ! command -v apt-get >/dev/null; then
    {
      echo "These packages are missing: $missing"
      echo "Please install them, then run this again:"
      echo "  sudo apt-get update && sudo apt-get install -y --no-install-recommends $missing"
    } >&2
    return 1
  fi
  echo "Installing: $missing" >&2
  quietly build/packages.log apt-get update || return 1
  # Unquoted on purpose: one word for each package.
  # shellcheck disable=SC2086
  quietly build/packages.log env DEBIAN_FRONTEND=noninteractive \
    apt-get install -y --no-install-recommends $missing
}

# quietly LOG COMMAND...: output goes to the log; its end is shown when the command fails.
quietly() {
  log=$1
  shift
  mkdir -p "$(dirname "$log")"
  if "$@" >"$log" 2>&1 </dev/null; then
    return 0
  fi
  {
    echo "Failed: $*"
    echo "The end of $log:"
    tail -n 40 "$log"
  } >&2
  return 1
}
