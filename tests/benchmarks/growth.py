"""How time and memory grow with the cabinets of one job: `python -m tests.benchmarks.growth [CABINETS ...]`, 10, 100 and 1,000 if nothing is said.

Each size is a process of its own: a kitchen's cabinets repeated, every one its own row, priced with every paper. The cutting plan is timed apart.
"""

import resource
import subprocess
import sys
import tempfile
import time
from dataclasses import replace
from pathlib import Path

HOUSE = Path(__file__).parents[2]


def measure(many: int) -> None:
    """One job of so many cabinets, in this process; prints seconds, seconds for the cutting plan, and megabytes."""
    from estimator.batch import papers_of
    from estimator.costing import sheets
    from estimator.costing.estimate import estimate_job
    from estimator.model.results import Estimate
    from estimator.reading.workbook import read_job

    cutting = 0.0
    plan_board = sheets.plan_board

    def timed(**words: object) -> object:
        nonlocal cutting
        start = time.process_time()
        try:
            return plan_board(**words)
        finally:
            cutting += time.process_time() - start

    sheets.plan_board = timed
    path = HOUSE / "workbooks" / "kitchen.xlsx"
    start = time.process_time()
    job = read_job(path)
    some = [job.cabinets[n % len(job.cabinets)] for n in range(many)]
    rows = tuple(replace(row, ref=f"Kitchen {n}", at=replace(row.at, number=n)) for n, row in enumerate(some, start=2))
    estimate = estimate_job(replace(job, cabinets=rows, options=()))
    assert isinstance(estimate, Estimate)
    priced = time.process_time() - start
    with tempfile.TemporaryDirectory():
        papers_of(estimate, path=path, shop=None, words=None)
    whole = time.process_time() - start
    most_mb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1000
    print(f"{many:9}{priced - cutting:14.2f}{cutting:14.2f}{whole - priced:12.2f}{most_mb:12.0f}", flush=True)


def main(sizes: list[int]) -> None:
    print(f"{'cabinets':>9}{'estimate s':>14}{'cutting s':>14}{'papers s':>12}{'memory MB':>12}   processor time")
    sys.stdout.flush()
    for many in sizes:
        subprocess.run([sys.executable, "-m", "tests.benchmarks.growth", "--one", str(many)], check=True, cwd=HOUSE)


if __name__ == "__main__":
    if sys.argv[1:2] == ["--one"]:
        measure(int(sys.argv[2]))
    else:
        main([int(word) for word in sys.argv[1:]] or [10, 100, 1000])
