"""The verdict of a comparison again, from its files, with pandas.

python3 output/examples/verdict_pandas.py output/first-try-compare
"""

import json
import sys
from itertools import combinations
from math import sqrt
from statistics import NormalDist

import pandas


def t_quantile(level, freedom):
    """Two-sided quantile of Student's t, by its series; or scipy.stats.t.ppf(0.5 + level / 2, freedom)."""
    z = NormalDist().inv_cdf(0.5 + level / 2)
    return (z + (z**3 + z) / (4 * freedom) + (5 * z**5 + 16 * z**3 + 3 * z) / (96 * freedom**2)
            + (3 * z**7 + 19 * z**5 + 17 * z**3 - 15 * z) / (384 * freedom**3))


folder = sys.argv[1]
with open(f"{folder}/summary.json") as file:
    level = json.load(file)["rule"]["level_of_each"]
sessions = pandas.read_csv(f"{folder}/sessions.csv")
# A row a day and a column a plan: plans are fished on the same days, so that rows are pairs.
grams = sessions.pivot(index="day", columns="plan", values="weight_g")[sessions["plan"].unique()]
days = len(grams)

for a, b in combinations(grams.columns, 2):
    # Sums of whole grams are exact, so that the mean is rounded only once.
    difference = grams[a] - grams[b]
    middle = difference.mean() / 1000
    half = t_quantile(level, days - 1) * difference.std() / 1000 / sqrt(days)
    # Every pair of two different days; equal weights count half.
    pairs = grams[a].to_numpy()[:, None] - grams[b].to_numpy()[None, :]
    wins = ((pairs > 0) + 0.5 * (pairs == 0)).sum() - ((difference > 0) + 0.5 * (difference == 0)).sum()
    print(f"{a} - {b}: {middle:.3f} kg, surely from {middle - half:.3f} to {middle + half:.3f}; "
          f"ahead on {100 * (difference > 0).mean():.1f} % of days, "
          f"on another day {100 * wins / (days * (days - 1)):.1f} %")
