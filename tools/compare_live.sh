#!/usr/bin/env bash
# Compares our fluids with CoolProp, an independent open library, taken live from PyPI by compare_live.py
# into a virtual environment under build/. This sets up what that needs from Debian.
set -euo pipefail
top=$(cd -- "$(dirname -- "${BASH_SOURCE[0]}")/.." && pwd)
# shellcheck source=tools/setup.sh
. "$top/tools/setup.sh"

ensure_packages "${LIVE_PACKAGES[@]}"

# The environment made last time, if it loads; compare_live.py makes one where it doesn't.
python=$top/build/live/bin/python
"$python" -c 'import CoolProp' 2>/dev/null || python=python3

step "comparing the fluids live with an independent library"
exec "$python" "$top/tools/compare_live.py" "$@"
