#!/usr/bin/env bash
# Makes data/practice anew from the virtual cabinet: tools/make_practice_recordings.sh BUILD
# One visit of each cause, each of another cabinet, and six of two causes; some two minutes.
set -euo pipefail
top=$(cd -- "$(dirname -- "${BASH_SOURCE[0]}")/.." && pwd)
build=$(cd -- "$1" && pwd)
visits=$(mktemp)
trap 'rm -f "$visits"' EXIT
causes=(low_charge dirty_condenser restriction evaporator_fan worn_valves overcharge iced_evaporator sound
  noncondensable condenser_fan low_voltage not_pumping moisture_freeze control high_load start_or_winding
  pumping_lost_at_times)
cabinet=0
for cause in "${causes[@]}"; do
  "$build/bench/lab_visits" 1 --seed 11 --first $((4 * cabinet)) --only "$cause" --minutes 120 --to "$visits"
  cabinet=$((cabinet + 1))
done
for _ in 1 2 3 4 5 6; do
  "$build/bench/lab_visits" 1 --seed 11 --first $((4 * cabinet)) --two 1 --minutes 120 --to "$visits"
  cabinet=$((cabinet + 1))
done
# In an order that tells nothing, the same every time.
shuffled=$(mktemp)
shuf --random-source=<(yes 7) "$visits" >"$shuffled"
mkdir -p "$top/data/practice"
rm -f "$top"/data/practice/*.json
"$build/tools/make_practice_recordings" "$shuffled" "$top/data/practice"
rm -f "$shuffled"
