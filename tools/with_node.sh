#!/usr/bin/env bash
# Runs a command with the Node that ./run and ./test set up: tools/with_node.sh npm --prefix web test
set -euo pipefail
top=$(cd -- "$(dirname -- "${BASH_SOURCE[0]}")/.." && pwd)
# shellcheck source=tools/setup.sh
. "$top/tools/setup.sh"
# shellcheck source=tools/web.sh
. "$top/tools/web.sh"
use_node "$top" || die "no Node $NODE_OLDEST or newer is set up; ./test does that."
exec "$@"
