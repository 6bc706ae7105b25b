#!/usr/bin/env bash
# The judge on cabinets built otherwise: forty calls in each lab of bench/judge/other_labs.txt, five labs at a time
# line by line, answered without a gauge (set G) and with everything asked as well (K). Hours on one core.
#   tools/judge_other_labs.sh FOLDER [BUILD]     visits and rows go to FOLDER; a run that was stopped goes on
set -euo pipefail
top=$(cd -- "$(dirname -- "${BASH_SOURCE[0]}")/.." && pwd)
folder=${1:?where visits and rows go}
bench=${2:-$top/build/release}/bench
mkdir -p "$folder"

drawn=()
while read -r first lab; do
  visits=$folder/lab_$first.jsonl
  if [ ! -e "$visits" ]; then
    rm -f "$visits.part"
    "$bench/lab_visits" 40 --seed 11 --first "$first" --lab "$lab" --to "$visits.part"
    mv "$visits.part" "$visits"
  fi
  drawn+=("$visits")
done <"$top/bench/judge/other_labs.txt"

: >"$folder/visits.jsonl"
for ((i = 0; i + 5 <= ${#drawn[@]}; i += 5)); do
  paste -d '\n' "${drawn[@]:i:5}" >>"$folder/visits.jsonl"
done
"$bench/judge" run "$folder/visits.jsonl" --rows "$folder/rows.txt" --sets GK --draws 40 --two 0.15 --seed 7 \
  --weights equal
"$bench/judge" tally "$folder/rows.txt" --set G
