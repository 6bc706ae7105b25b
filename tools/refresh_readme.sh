#!/usr/bin/env bash
# Keeps the answer that README.md shows the one that the program prints.
#   tools/refresh_readme.sh [PROGRAM]           captures it anew
#   tools/refresh_readme.sh --check [PROGRAM]   fails, and shows the difference, if they part
# Each part between "<!-- output of: ARGUMENTS -->" and "<!-- end of output -->" is what PROGRAM prints for
# these arguments, run from the top of the repository. An answer follows from its call file and seed alone.
set -euo pipefail
top=$(cd -- "$(dirname -- "${BASH_SOURCE[0]}")/.." && pwd)
cd "$top"

check=""
if [ "${1:-}" = --check ]; then
  check=yes
  shift
fi
program=${1:-build/release/apps/cli/coldwright}
[ -x "$program" ] || { echo "refresh_readme: $program is not there; ./run builds it" >&2; exit 1; }

fresh=$(mktemp)
trap 'rm -f "$fresh"' EXIT

inside=""
parts=0
while IFS= read -r line; do
  case "$line" in
    "<!-- output of: "*" -->")
      words=${line#<!-- output of: }
      read -ra arguments <<<"${words% -->}"
      printf '%s\n\n```text\n' "$line"
      "$program" "${arguments[@]}" </dev/null || { echo "refresh_readme: $program ${arguments[*]} failed" >&2; exit 1; }
      # shellcheck disable=SC2016 # backticks of Markdown
      printf '```\n\n'
      inside=yes
      parts=$((parts + 1))
      ;;
    "<!-- end of output -->")
      inside=""
      printf '%s\n' "$line"
      ;;
    *) [ -n "$inside" ] || printf '%s\n' "$line" ;;
  esac
done <README.md >"$fresh"

[ -z "$inside" ] || { echo "refresh_readme: README.md has an output without its end" >&2; exit 1; }
[ "$parts" -gt 0 ] || { echo "refresh_readme: README.md shows no captured answer" >&2; exit 1; }

if [ -n "$check" ]; then
  diff -u README.md "$fresh" || { echo "README.md shows another answer than the program gives: tools/refresh_readme.sh" >&2; exit 1; }
else
  cat "$fresh" >README.md
fi
