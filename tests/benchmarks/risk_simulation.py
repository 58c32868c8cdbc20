"""The risk's analytic figures beside a seeded simulation of 200,000 draws: run by hand, prints both and the difference.

Each step is drawn from the beta distribution that the three-point formula stands for: with a mean of (a + 4m + b)/6 and a
deviation of (b - a)/6, its two shapes are fixed. Prints P50, P80 and P90 and ends with 1 when one is off by more than 1 %.
"""

import random
import sys
from pathlib import Path

from estimator.model.exact import Fraction

sys.path.insert(0, str(Path(__file__).parents[2]))

from estimator.costing.risk import P80_DEVIATIONS, P90_DEVIATIONS, three_point_mean, three_point_variance

DRAWS = 200_000
STEPS = ((3, 6, 15), (4, 13, 28), (5, 11, 17), (1, 4, 7), (20, 30, 60), (10, 25, 45), (8, 9, 20), (30, 50, 110))


def shapes(low: int, likely: int, high: int) -> tuple[float, float]:
    mean = float((three_point_mean(low=Fraction(low), likely=Fraction(likely), high=Fraction(high)) - low) / (high - low))
    both = mean * (1 - mean) * 36 - 1
    return mean * both, (1 - mean) * both


def main() -> int:
    chance = random.Random(2031)
    betas = [(low, high, *shapes(low, likely, high)) for low, likely, high in STEPS]
    sums = sorted(sum(low + (high - low) * chance.betavariate(a, b) for low, high, a, b in betas) for _ in range(DRAWS))
    mean = sum(float(three_point_mean(low=Fraction(a), likely=Fraction(m), high=Fraction(b))) for a, m, b in STEPS)
    sd = sum(float(three_point_variance(low=Fraction(a), high=Fraction(b))) for a, _, b in STEPS) ** 0.5
    off = 0
    for name, share, deviations in (("P50", 0.5, Fraction(0)), ("P80", 0.8, P80_DEVIATIONS), ("P90", 0.9, P90_DEVIATIONS)):
        ours, drawn = mean + float(deviations) * sd, sums[int(share * DRAWS)]
        print(f"{name}: {ours:8.3f} by formula, {drawn:8.3f} drawn, {100 * (ours / drawn - 1):+.3f} %")
        off += abs(ours / drawn - 1) > 0.01
    return int(off > 0)


if __name__ == "__main__":
    sys.exit(main())
