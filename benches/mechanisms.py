#!/usr/bin/env python3
"""What each mechanism of the model costs: `benches/mechanisms.py`, some five minutes; needs valgrind.

Counts the instructions inside ten sessions of the demo's first plan, with all mechanisms and without each of them. Without a
mechanism the fish do something else, so a row is its own arithmetic and what it makes fish do. Load changes nothing.
"""
import json
import os
import re
import subprocess

HERE = os.path.dirname(os.path.abspath(__file__))
BUILD = ["cargo", "bench", "--locked", "--profile", "release", "--bench", "mechanisms", "--no-run", "--message-format=json"]
COUNT = ["valgrind", "--tool=callgrind", "--callgrind-out-file=/dev/null", "--toggle-collect=*session*run_session*"]
MILLION = 1e6


def program():
    """Path of the built bench."""
    written = subprocess.run(BUILD, cwd=f"{HERE}/..", check=True, stdout=subprocess.PIPE, text=True).stdout
    messages = (json.loads(line) for line in written.splitlines())
    return next(m["executable"] for m in messages if m.get("executable") and m["target"]["name"] == "mechanisms")


def count(bench, number):
    """Name of a case, its events and its instructions."""
    done = subprocess.run([*COUNT, bench, str(number)], check=True, capture_output=True, text=True)
    _, words, events = done.stdout.strip().split("\t")
    return words, int(events), int(re.search(r"Collected : (\d+)", done.stderr)[1])


def main():
    bench = program()
    cases = len(subprocess.run([bench], check=True, capture_output=True, text=True).stdout.splitlines())
    print("| without | events | million instructions | of all |")
    print("|---|---|---|---|")
    _, _, of_all = count(bench, 0)
    for number in range(cases):
        words, events, instructions = count(bench, number)
        print(f"| {words} | {events:,} | {instructions / MILLION:.0f} | {instructions / of_all:.2f} |", flush=True)


if __name__ == "__main__":
    main()
