# Sets up what ./run and ./test need on Debian 12. Sourced by them, never run by itself.
# Everything it says goes to standard error, so that standard output carries the answer alone.
# shellcheck shell=bash disable=SC2034 # the package lists are used by the scripts that source this

# What the program needs to be built. Header-only libraries but for the compiler itself, Pango, which draws
# the printed pages and brings Cairo and pkg-config along, librsvg, which draws their pictures, the faces they
# are set in, and the client of MQTT.
BUILD_PACKAGES=(g++ cmake ninja-build libeigen3-dev nlohmann-json3-dev libfmt-dev libcli11-dev
  libpango1.0-dev librsvg2-dev fonts-dejavu-core fonts-noto-core libmosquitto-dev)
# What the server needs besides to be built: Boost's Asio and Beast, headers alone.
SERVER_PACKAGES=(libboost-dev)
# What the web app needs besides: Python, to fetch Node. The compiler for WebAssembly is tools/web.sh's to find.
WEB_PACKAGES=(python3 python3-venv ca-certificates)
# What the tests and the gates need besides. clang-format is pinned: each version formats differently.
# poppler-utils reads printed pages back; SUNDIALS integrates the virtual cabinet, NLopt fits what it
# teaches; mosquitto is the broker that live readings come from.
TEST_PACKAGES=(libgtest-dev googletest clang-format-14 shellcheck python3 poppler-utils libsundials-dev libnlopt-dev
  mosquitto mosquitto-clients)
# What the tests in a real browser need besides.
BROWSER_PACKAGES=(chromium fonts-dejavu-core)
# What the live comparison with a library from PyPI needs besides.
LIVE_PACKAGES=(python3 python3-venv ca-certificates)

say() { printf '%s\n' "$*" >&2; }

die() {
  printf 'coldwright: %s\n' "$*" >&2
  exit 1
}

# One line a step, with what the clock says since the start.
step() { printf '[%3d s] %s\n' "$SECONDS" "$*" >&2; }

# missing_packages NAME... : prints those that dpkg doesn't know as installed.
missing_packages() {
  local name
  for name in "$@"; do
    # A package may be known but removed ("deinstall ok config-files"), so the status itself is read.
    dpkg-query -W -f '${Status}' "$name" 2>/dev/null | grep -q '^install ok installed$' || printf '%s\n' "$name"
  done
}

require_debian() {
  local ID="" ID_LIKE="" VERSION_ID="" PRETTY_NAME="an unknown system"
  # shellcheck source=/dev/null
  [ -r /etc/os-release ] && . /etc/os-release
  local by_hand="Install $* by hand, then run again with COLDWRIGHT_SETUP=skip."
  if ! command -v apt-get >/dev/null || ! command -v dpkg-query >/dev/null; then
    die "this set-up is written for Debian 12; this machine runs $PRETTY_NAME, without apt-get. $by_hand"
  fi
  case " $ID $ID_LIKE " in *" debian "*) ;; *)
    die "this set-up is written for Debian 12; this machine runs $PRETTY_NAME. $by_hand" ;;
  esac
  if [ "$ID" = debian ] && [ -n "$VERSION_ID" ] && [ "${VERSION_ID%%.*}" -lt 12 ]; then
    die "Debian 12 or newer is needed (g++ 12 and cmake 3.25); this machine runs $PRETTY_NAME."
  fi
}

# as_root COMMAND... : as it is for root, through sudo for everyone else.
as_root() {
  if [ "$(id -u)" -eq 0 ]; then
    "$@"
  else
    sudo "$@"
  fi
}

# Reads apt's status lines and passes on one line for each tenth of the way.
# dlstatus:n:PERCENT:text while fetching, pmstatus:package:PERCENT:text while unpacking.
show_apt_progress() {
  local kind percent last="" what
  while IFS=: read -r kind _ percent _; do
    case "$kind" in
      dlstatus) what=fetching ;;
      pmstatus) what=installing ;;
      *) continue ;;
    esac
    percent=${percent%%.*}
    [ "$what $((percent / 10))" != "$last" ] || continue
    last="$what $((percent / 10))"
    say "$(printf '        %s packages: %3d %%' "$what" "$percent")"
  done
}

# apt_get LOG ARGUMENTS... : quiet and unattended, progress in tenths, everything else into LOG.
# The progress has a descriptor of its own, opened inside since sudo closes all but three: apt makes it
# non-blocking, and a package's script that writes to it would fail when the machine is busy.
apt_get() {
  # shellcheck disable=SC2016 # expanded by the inner shell
  as_root env DEBIAN_FRONTEND=noninteractive LC_ALL=C.UTF-8 bash -c '
    log=$1
    shift
    exec 3>&1 >>"$log" 2>&1 </dev/null
    exec apt-get -q -y -o APT::Status-Fd=3 -o Dpkg::Use-Pty=0 -o DPkg::Lock::Timeout=120 \
      -o Acquire::Retries=2 "$@"' apt_get "$@" | show_apt_progress
  return "${PIPESTATUS[0]}"
}

# may_install NAME... : goes on only where packages can be installed: as root, or with sudo.
may_install() {
  [ "$(id -u)" -ne 0 ] || return 0
  command -v sudo >/dev/null ||
    die "installing packages needs root, and there is no sudo here. As root: apt-get install $*"
  say "        Installing needs root; sudo may ask for your password."
  sudo -v || die "sudo refused. Ask an administrator for: apt-get install $*"
}

# refresh_lists LOG : what Debian has now; once a run. A failure alone is no reason to stop: an unrelated source
# may be down.
lists_fresh=""
refresh_lists() {
  [ -z "$lists_fresh" ] || return 0
  apt_get "$1" update 2>/dev/null || say "        apt-get update complained; trying with the lists at hand."
  lists_fresh=yes
}

# ensure_packages NAME... : does nothing, without network, when all are there.
ensure_packages() {
  if [ "${COLDWRIGHT_SETUP:-}" = skip ]; then
    say "Set-up skipped, as COLDWRIGHT_SETUP=skip asks."
    return
  fi
  require_debian "$@"
  local missing
  mapfile -t missing < <(missing_packages "$@")
  [ "${#missing[@]}" -gt 0 ] || return 0

  step "installing from Debian: ${missing[*]}"
  may_install "${missing[@]}"
  local log
  log=$(mktemp -d)/apt.log || die "no temporary folder could be made."
  refresh_lists "$log"
  if ! apt_get "$log" install --no-install-recommends "${missing[@]}"; then
    grep -E '^(E|Err|W):' "$log" | head -n 4 >&2
    die "these packages could not be installed: ${missing[*]}. Is the network there? All of apt's words: $log"
  fi
  rm -rf "${log%/apt.log}"
}

# forget_moved SOURCE BUILD : a build folder that came along when the repository was moved or copied still
# points to the old place, and cmake would refuse it.
forget_moved() {
  if [ -f "$2/CMakeCache.txt" ] && ! grep -Fqx "CMAKE_HOME_DIRECTORY:INTERNAL=$1" "$2/CMakeCache.txt"; then
    say "The build in $2 belongs to another place; starting anew."
    rm -rf "$2"
  fi
}

# show_build WHAT : reads what the build says and passes on one line a step; nothing at all when everything is built
# already. (Not awk: mawk holds lines back.)
show_build() {
  local line shown=""
  while IFS= read -r line; do
    case "$line" in *"Re-checking globbed directories"* | *"no work to do"*) continue ;; esac
    [ -n "$shown" ] || step "building $1"
    shown=yes
    say "$line"
  done
}

# build BUILD WHAT [TARGET...] : WHAT names it for the person who waits; without targets everything is built.
build() {
  local folder=$1 what=$2
  shift 2
  NINJA_STATUS="        [%p] " cmake --build "$folder" ${1:+--target "$@"} 2>&1 | show_build "$what" ||
    die "the build of $what failed; the compiler's words are above."
}

# configure SOURCE PRESET BUILD : writes the build files; quiet unless it fails.
configure() {
  local said
  step "configuring ($2)"
  if ! said=$(cmake --preset "$2" -S "$1" 2>&1); then
    printf '%s\n' "$said" >&2
    rm -f "$3/build.ninja" # so that the next try configures again
    die "the build could not be configured; cmake's words are above."
  fi
}
