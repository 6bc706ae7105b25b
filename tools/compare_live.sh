#!/usr/bin/env bash
# Compares our fluids with CoolProp, an independent open library, taken live from PyPI.
# Sets itself up: Debian's python3-venv, a virtual environment under build/, the library at a fixed version.
set -euo pipefail
top=$(cd -- "$(dirname -- "${BASH_SOURCE[0]}")/.." && pwd)
# shellcheck source=tools/setup.sh
. "$top/tools/setup.sh"

venv=$top/build/live
python=$venv/bin/python
library="CoolProp==8.0.0"

ensure_packages "${LIVE_PACKAGES[@]}"
if ! "$python" -c 'import CoolProp' 2>/dev/null; then
  step "installing $library from PyPI into build/live"
  python3 -m venv --clear "$venv" || die "the virtual environment could not be made."
  "$python" -m pip install --quiet --disable-pip-version-check "$library" ||
    die "$library could not be installed from PyPI, so the live comparison could not run."
fi

step "comparing with $library"
exec "$python" "$top/tools/compare_live.py" "$@"
