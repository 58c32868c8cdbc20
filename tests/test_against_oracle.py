"""Random jobs go through the whole program and through the second opinion, which was written from the rules alone.

Everyday sample: 30 jobs. `ORACLE_JOBS=10000` prices more, `ORACLE_FIRST=500` begins at another seed. A failing job names
its seed: `ORACLE_FIRST=<seed> ORACLE_JOBS=1` prices it again.
"""

import os

import pytest

from tests.oracle.judging import differences_of

FIRST = int(os.environ.get("ORACLE_FIRST", "0"))
JOBS = int(os.environ.get("ORACLE_JOBS", "30"))


@pytest.mark.parametrize("seed", range(FIRST, FIRST + JOBS))
def test_program_agrees_with_the_second_opinion(seed, tmp_path):
    said = differences_of(seed, tmp_path)
    assert not said, f"seed {seed}:\n" + "\n".join(said[:40])
