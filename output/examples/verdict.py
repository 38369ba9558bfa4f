"""The verdict of a comparison again, from its files, with nothing but Python.

python3 output/examples/verdict.py output/first-try-compare
"""

import csv
import json
import sys
from itertools import combinations
from math import sqrt
from statistics import NormalDist, mean, stdev


def t_quantile(level, freedom):
    """Two-sided quantile of Student's t, by its series; six digits from 50 days on."""
    z = NormalDist().inv_cdf(0.5 + level / 2)
    return (z + (z**3 + z) / (4 * freedom) + (5 * z**5 + 16 * z**3 + 3 * z) / (96 * freedom**2)
            + (3 * z**7 + 19 * z**5 + 17 * z**3 - 15 * z) / (384 * freedom**3))


def other_days(a, b):
    """Chance that a on one day is heavier than b on another; equal weights count half."""
    wins = sum((x > y) + 0.5 * (x == y) for i, x in enumerate(a) for j, y in enumerate(b) if i != j)
    return wins / (len(a) * (len(a) - 1))


folder = sys.argv[1]
with open(f"{folder}/summary.json") as file:
    level = json.load(file)["rule"]["level_of_each"]
weights = {}
with open(f"{folder}/sessions.csv", newline="") as file:
    for row in csv.DictReader(file):
        weights.setdefault(row["plan"], []).append(int(row["weight_g"]) / 1000)

for (a, a_kg), (b, b_kg) in combinations(weights.items(), 2):
    differences = [x - y for x, y in zip(a_kg, b_kg)]
    half = t_quantile(level, len(differences) - 1) * stdev(differences) / sqrt(len(differences))
    middle = mean(differences)
    same_day = mean(difference > 0 for difference in differences)
    print(f"{a} - {b}: {middle:.3f} kg, surely from {middle - half:.3f} to {middle + half:.3f}; "
          f"ahead on {100 * same_day:.1f} % of days, on another day {100 * other_days(a_kg, b_kg):.1f} %")
