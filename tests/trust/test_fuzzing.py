"""A small part of the long run of `tests/trust/fuzzing.py`, and the defects that it must catch."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import time
from pathlib import Path

import pytest

from tests.trust import fuzzing

MANY = int(os.environ.get("FUZZ_CASES", "8"))

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="the fuzz run rings a bell that Windows does not know")


def test_spoilt_workbooks_are_priced_or_refused() -> None:
    """In a process of its own: the memory that counts is the program's, not that of all the tests before."""
    cases = [f"--{kind}={MANY}" for kind in fuzzing.SPOILERS]
    run = [sys.executable, "-m", "tests.trust.fuzzing", *cases, "--seed=90000"]
    ended = subprocess.run(run, cwd=fuzzing.HOUSE, capture_output=True, text=True, check=False)
    found = re.findall(r"^(\w+) +(\d+) cases: (\d+) priced, (\d+) refused, 0 faults;", ended.stdout, re.MULTILINE)
    assert [kind for kind, *_ in found] == list(fuzzing.SPOILERS), ended.stdout + ended.stderr
    assert all(int(runs) == MANY == int(priced) + int(refused) for _, runs, priced, refused in found)
    assert ended.returncode == 0


def test_a_planted_fault_delay_and_growth_are_caught(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    tally = fuzzing.Tally("content")
    monkeypatch.setattr(fuzzing, "most_mb", lambda: 100.0)
    monkeypatch.setattr("estimator.batch.read_job", lambda *_, **__: 1 / 0)
    fuzzing.try_case("content", 1, tmp_path, tally)
    assert "ZeroDivisionError" in tally.faults[0]
    monkeypatch.setattr(fuzzing, "MOST_S", 0.2)
    monkeypatch.setattr(fuzzing, "HANGS_TIMES", 2)
    monkeypatch.setattr("estimator.batch.read_job", lambda *_, **__: time.sleep(5))
    fuzzing.try_case("content", 2, tmp_path, tally)
    assert "over 0.2 s" in tally.faults[1]
    monkeypatch.undo()
    monkeypatch.setattr(fuzzing, "most_mb", lambda: 513.0)
    fuzzing.try_case("bytes", 3, tmp_path, tally)
    assert "grown to 513 MB" in tally.faults[2]


def test_the_same_seed_spoils_the_same_bytes() -> None:
    for kind in ("bytes", "xml"):
        assert fuzzing.spoilt(kind, 7) == fuzzing.spoilt(kind, 7)
        assert fuzzing.spoilt(kind, 7) != fuzzing.spoilt(kind, 8)
