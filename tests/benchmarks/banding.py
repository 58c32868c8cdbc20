"""How long the choice of banding takes: processor time of the kitchen's, and of the best plan of many harsh edgings.

    python -m tests.benchmarks.banding [--seeds 20]

Before it is timed, each search over 12 edgings is held against every plan.
"""

from __future__ import annotations

import argparse
import random
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path

from estimator.costing.banding.best_plan import best_group, with_tie_grains
from estimator.costing.banding.clock import Day, day_of
from estimator.costing.banding.decide import decision_of, machines_of
from estimator.costing.banding.every_plan import plans_of
from estimator.costing.banding.glue_day import glue_day_of
from estimator.costing.banding.searching import search
from estimator.costing.banding.stakes import Stakes, cost_of, costs_by_group
from estimator.costing.estimate import _estimate_one, _takings
from estimator.costing.takings import Takings, takings_of
from estimator.model.results import Estimate
from estimator.reading.workbook import read_job
from tests.costing.banding.test_best_plan import balanced_stakes, random_stakes

KITCHEN = Path(__file__).parents[2] / "workbooks" / "kitchen.xlsx"


def seconds(work: Callable[[], object]) -> float:
    start = time.process_time()
    work()
    return time.process_time() - start


def kitchen() -> None:
    job = read_job(KITCHEN)
    takings = _takings(job)
    answer = _estimate_one(job)
    assert isinstance(takings, Takings)
    assert isinstance(answer, Estimate)
    day, ways, choice = day_of(job.shop), takings.ways, answer.banding
    assert isinstance(day, Day)
    parts = {
        "counts, batches, ways": lambda: takings_of(job, takings.parts, takings.boards),
        "every plan": lambda: plans_of(ways),
        "why, by size, tornado, flips": lambda: decision_of(ways, choice, answer.rates, day),
        "machines by volume": lambda: machines_of(ways, choice),
        "glue day": lambda: glue_day_of(job, takings.parts, takings.known, choice.chosen.sent, day),
    }
    times = {words: seconds(work) for words, work in parts.items()}
    for words, taken in times.items():
        print(f"kitchen: {words:32}{taken:8.4f} s")
    print(f"kitchen: {'together':32}{sum(times.values()):8.4f} s")


def search_is_right(stakes: Stakes) -> bool:
    grained = with_tie_grains(stakes)
    best = search(grained)
    costs = [cost for cost in costs_by_group(grained) if cost is not None]
    return cost_of(grained, best) == min(costs) if best is not None else not costs


def many_edgings(seeds: int) -> None:
    kinds: dict[str, Callable[[random.Random, int, bool], Stakes]] = {
        "both ways alike": lambda chance, n, ladder: balanced_stakes(chance, edgings=n, ladder=ladder),
        "any costs": lambda chance, n, ladder: random_stakes(chance, edgings=n, ladder=ladder),
    }
    for words, made in kinds.items():
        for ladder in (False, True):
            right = sum(search_is_right(made(random.Random(seed), 12, ladder)) for seed in range(seeds))
            print(f"{words}{', price breaks over the order' if ladder else ''}: {right} of {seeds} best of all 4096 plans of 12 edgings")
            for n in (24, 32):
                cases = [made(random.Random(seed), n, ladder) for seed in range(seeds)]
                times = [seconds(partial(best_group, case)) for case in cases]
                print(f"    {n} edgings: mean {sum(times) / seeds:.3f} s, longest {max(times):.3f} s of {seeds}")


if __name__ == "__main__":
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--seeds", type=int, default=20)
    kitchen()
    many_edgings(asked.parse_args().seeds)
