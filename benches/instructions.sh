#!/usr/bin/env bash
# Prints the instructions of ten sessions, counted by valgrind: `benches/instructions.sh [PROGRAM]`, about 20 s.
#
# It is the difference between a comparison of twelve days and one of two, so start and report do not count. Load of
# the machine changes it by less than one in a thousand; a change of the model or of the compiler changes it at once.
set -euo pipefail
cd "$(dirname "$0")/.."
program="${1:-target/release/shoalwise}"
scratch="$(mktemp -d)"
trap 'rm -rf "$scratch"' EXIT

instructions() {
    local written
    written="$(valgrind --tool=callgrind --callgrind-out-file=/dev/null \
        "$program" compare scenarios/tern-bar.toml --plan bar-five-minutes --days "$1" --threads 1 --quiet \
        --out "$scratch/$1" 2>&1)" || { echo "$written" >&2; return 1; }
    sed -n 's/.*Collected : //p' <<<"$written"
}

short="$(instructions 2)"
long="$(instructions 12)"
echo "ten sessions of bar-five-minutes (tern-bar): $(((long - short) / 1000000)) million instructions"
