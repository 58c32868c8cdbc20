"""A seed goes in; what the program and the second opinion say differently about its job comes out.

`python -m tests.oracle.judging 0 10000` judges many seeds and prints each sort of difference once, with how often it was
met and the seed at which it was met first.
"""

import re
import sys
import tempfile
from collections import Counter
from pathlib import Path

from tests.oracle.answer import answer
from tests.oracle.book import write
from tests.oracle.cells import blank
from tests.oracle.compare import differences
from tests.oracle.program import program_answer
from tests.oracle.random_jobs import drawn


def differences_of(seed, folder):
    """Every difference over the job of one seed; a refusal is a difference too, for every job can be made."""
    job, expected = drawn(seed)
    found = program_answer(write(job, folder))
    if "refused" in found:
        return [f"refused: {found['refused']}"]
    if any(blank(row.get("Expected yield")) for row in job["Boards"]):  # sheets by a plan are the program's to find
        expected = answer(job, given={board: one["sheets"] for board, one in found["boards"].items()})
    return differences(expected, found)


def main(first, many):
    """Judge many seeds; gives how many jobs differ."""
    sorts, first_met, differing = Counter(), {}, 0
    for seed in range(first, first + many):
        with tempfile.TemporaryDirectory() as folder:
            try:
                said = differences_of(seed, Path(folder))
            except Exception as fault:  # a fault of either side is told like a difference, and the run goes on
                said = [f"{type(fault).__name__}: {fault}"]
        differing += bool(said)
        for sort in {re.sub(r"\[\d+\]", "[]", one.partition(": ")[0]) for one in said}:
            sorts[sort] += 1
            whole = next(one for one in said if re.sub(r"\[\d+\]", "[]", one).startswith(sort))
            first_met.setdefault(sort, f"seed {seed}: {whole[:300]}")
    for sort, met in sorts.most_common():
        print(f"{met:6} x {sort}\n         {first_met[sort]}")
    print(f"{differing} of {many} jobs differ")
    return differing


if __name__ == "__main__":
    sys.exit(1 if main(*(int(word) for word in sys.argv[1:3])) else 0)
