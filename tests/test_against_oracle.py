"""Random jobs go through the whole program and through the second opinion, which was written from the rules alone.

Everyday sample: 100 jobs. `ORACLE_JOBS=10000` prices more, `ORACLE_FIRST=500` begins at another seed. A failing job names
its seed: `ORACLE_FIRST=<seed> ORACLE_JOBS=1` prices it again.
"""

import os

import pytest

from tests.oracle.answer import answer
from tests.oracle.book import write
from tests.oracle.compare import differences
from tests.oracle.program import program_answer
from tests.oracle.random_jobs import random_job

FIRST = int(os.environ.get("ORACLE_FIRST", "0"))
JOBS = int(os.environ.get("ORACLE_JOBS", "100"))


@pytest.mark.parametrize("seed", range(FIRST, FIRST + JOBS))
def test_program_agrees_with_the_second_opinion(seed, tmp_path):
    job = random_job(seed)
    found = program_answer(write(job, tmp_path))
    assert "refused" not in found, f"seed {seed}: {found['refused']}"
    sheets = {board: one["sheets"] for board, one in found["boards"].items()}
    said = differences(answer(job, given=sheets), found)
    assert not said, f"seed {seed}:\n" + "\n".join(said[:40])
