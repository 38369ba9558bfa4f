#!/usr/bin/env python3
"""Runs the model on each engine in turn, checks that they agree, and prints a table: `benches/peers/run.py [ROUNDS]`.

Everything that is built or fetched is kept in `target/peers`.
"""

import math
import os
import statistics
import subprocess
import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent
MADE = HERE.parent.parent / "target" / "peers"
PYTHON = MADE / "python" / "bin" / "python"
PROGRAM = MADE / "release" / "peers"

# Name, command, sessions a round: the slower ones run fewer.
ENGINES = [
    ("sim::engine", [PROGRAM, "engine"], 10),
    ("plain loop", [PROGRAM, "plain-loop"], 10),
    ("arithmetic alone", [PROGRAM, "no-queue"], 10),
    ("krABMaga", [PROGRAM, "krabmaga"], 4),
    ("NeXosim", [PROGRAM, "nexosim"], 3),
    ("SimPy", [PYTHON, HERE / "with_python.py", "simpy"], 1),
    ("Mesa", [PYTHON, HERE / "with_python.py", "mesa"], 1),
]
# What remains of the first engines' times without this one's is their own; in Python the arithmetic is slower.
ARITHMETIC = 2
# A share of hits may differ by four standard errors; by chance, one check in sixteen thousand fails.
MAX_Z = 4.0


def build():
    """Builds the program and fetches the Python packages."""
    environment = dict(os.environ, CARGO_TARGET_DIR=str(MADE))
    cargo = ["cargo", "build", "--release", "--locked", "--quiet"]
    subprocess.run(cargo, cwd=HERE, env=environment, check=True)
    if not PYTHON.exists():
        subprocess.run([sys.executable, "-m", "venv", MADE / "python"], check=True)
    pip = [PYTHON, "-m", "pip", "install", "--quiet", "--disable-pip-version-check"]
    subprocess.run([*pip, "-r", HERE / "requirements.txt"], check=True)


def run(command, first, sessions):
    """The sessions of one engine in one round: decisions, share of hits, CPU time [s]."""
    command = [str(word) for word in [*command, first, sessions]]
    written = subprocess.run(command, check=True, capture_output=True, text=True).stdout
    rows = [line.split() for line in written.splitlines()]
    return [(int(made), int(hits) / int(made), float(cpu_s)) for made, hits, cpu_s in rows]


def check(shares):
    """How far each share of hits is from the first engine's, in standard errors; ends the program if one is too far."""
    # Sessions differ by the same law on all engines, so their spread is estimated from all.
    squares = sum(sum((x - statistics.fmean(row)) ** 2 for x in row) for row in shares)
    spread = math.sqrt(squares / sum(len(row) - 1 for row in shares))
    first = shares[0]
    z = [
        (statistics.fmean(row) - statistics.fmean(first)) / (spread * math.sqrt(1 / len(row) + 1 / len(first)))
        for row in shares
    ]
    for (name, *_), value in zip(ENGINES, z):
        if abs(value) > MAX_Z:
            sys.exit(f"{name}: its share of hits differs from that of {ENGINES[0][0]} (z = {value:+.1f})")
    return z


def main():
    rounds = int(sys.argv[1]) if len(sys.argv) > 1 else 7
    build()
    sessions = [[] for _ in ENGINES]
    ratios = [[] for _ in ENGINES]
    own_ratios = [[] for _ in ENGINES]
    for number in range(rounds):
        medians = []
        for place, (_, command, count) in enumerate(ENGINES):
            # Each engine has seeds of its own, so that their shares are independent.
            rows = run(command, 1 + number * count + 1_000_000 * place, count)
            sessions[place] += rows
            medians.append(statistics.median(cpu_s for *_, cpu_s in rows))
        for row, own_row, median_s in zip(ratios, own_ratios, medians):
            row.append(median_s / medians[0])
            own_row.append((median_s - medians[ARITHMETIC]) / (medians[0] - medians[ARITHMETIC]))
    z = check([[share for _, share, _ in rows] for rows in sessions])
    print("| engine | sessions | decisions a session | hits | z | CPU time a session | ns a decision | times sim::engine | without the arithmetic |")
    print("|---|---|---|---|---|---|---|---|---|")
    for (name, command, _), rows, row, own_row, value in zip(ENGINES, sessions, ratios, own_ratios, z):
        made = statistics.fmean(decisions for decisions, *_ in rows)
        share = statistics.fmean(share for _, share, _ in rows)
        cpu_s = statistics.median(cpu_s for *_, cpu_s in rows)
        ratio = f"{statistics.median(row):.2f} ({min(row):.2f} to {max(row):.2f})"
        own_ratio = f"{statistics.median(own_row):.1f}" if command[0] == PROGRAM else ""
        print(
            f"| {name} | {len(rows)} | {made:,.0f} | {100 * share:.2f} % | {value:+.1f} "
            f"| {cpu_s:.4f} s | {cpu_s / made * 1e9:,.0f} | {ratio} | {own_ratio} |"
        )


if __name__ == "__main__":
    main()
