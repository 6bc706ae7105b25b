#!/usr/bin/env bash
# The judge on cabinets built otherwise: draws forty calls in each lab of bench/judge/other_labs.txt, has them
# answered without a gauge (set G) and with everything asked as well (K), and follows some to their verdict.
#   tools/judge_other_labs.sh FOLDER [BUILD]     hours on one core; what was stopped goes on where it stood
# Calls stand in FOLDER/visits.jsonl five labs at a time, one call of each in turn, so that each fifth
# (judge --fifth) holds labs which the others don't.
set -euo pipefail
top=$(cd -- "$(dirname -- "${BASH_SOURCE[0]}")/.." && pwd)
folder=${1:?where visits and rows go}
bench=${2:-$top/build/release}/bench
labs=$top/bench/judge/other_labs.txt
mkdir -p "$folder"

# Rows go by the number of a call in visits.jsonl: another list of labs needs another folder.
[ -e "$folder/labs.txt" ] || cp "$labs" "$folder/labs.txt"
cmp -s "$labs" "$folder/labs.txt" || { echo "$folder holds calls of other labs than $labs" >&2; exit 1; }

drawn=()
while read -r first lab || [ -n "$first" ]; do
  [ -n "$first" ] || continue
  visits=$folder/lab_$first.jsonl
  if [ ! -e "$visits" ]; then
    rm -f "$visits.part"
    "$bench/lab_visits" 40 --seed 11 --first "$first" --lab "$lab" --to "$visits.part"
    mv "$visits.part" "$visits"
  fi
  drawn+=("$visits")
done <"$labs"
[ $((${#drawn[@]} % 5)) = 0 ] || { echo "$labs holds no multiple of five labs" >&2; exit 1; }

: >"$folder/visits.jsonl"
for ((i = 0; i < ${#drawn[@]}; i += 5)); do
  paste -d '\n' "${drawn[@]:i:5}" >>"$folder/visits.jsonl"
done
# As in docs/evidence.md; 40 machines a cause in each round are what an hour a thousand calls allows.
way=(--draws 40 --seed 7)
"$bench/judge" run "$folder/visits.jsonl" --rows "$folder/rows.txt" --sets GK "${way[@]}"
for set in G K; do "$bench/judge" tally "$folder/rows.txt" --set "$set"; done
"$bench/judge" paths "$folder/visits.jsonl" --rows "$folder/paths.txt" --first 100 --calls 200 --two 0 "${way[@]}"
"$bench/judge" tally-paths "$folder/paths.txt"
