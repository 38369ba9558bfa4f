#!/usr/bin/env bash
# Prints the instructions of ten sessions, counted by valgrind: `benches/instructions.sh [PROGRAM]`, about 20 s.
#
# Only what runs inside `run_session` counts: neither the drawing of days nor the report. Load of the machine changes it by
# less than one in a thousand; a change of the model or of the compiler changes it at once.
set -euo pipefail
cd "$(dirname "$0")/.."
program="${1:-target/release/shoalwise}"
scratch="$(mktemp -d)"
trap 'rm -rf "$scratch"' EXIT

written="$(valgrind --tool=callgrind --callgrind-out-file=/dev/null --toggle-collect='*session*run_session*' \
    "$program" compare scenarios/tern-bar.toml --plan bar-five-minutes --days 10 --threads 1 --quiet \
    --out "$scratch/ten" 2>&1)" || { echo "$written" >&2; exit 1; }
instructions="$(sed -n 's/.*Collected : //p' <<<"$written")"
if [ "${instructions:-0}" -eq 0 ]; then
    echo "valgrind found no function run_session in $program" >&2
    exit 1
fi
echo "ten sessions of bar-five-minutes (tern-bar): $((instructions / 1000000)) million instructions"
