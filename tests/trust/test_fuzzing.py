"""A small part of the long run of `tests/trust/fuzzing.py`, and the defects that it must catch."""

from __future__ import annotations

import os
import sys
import time
from pathlib import Path

import pytest

from tests.trust import fuzzing

MANY = int(os.environ.get("FUZZ_CASES", "8"))

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="the fuzz run rings a bell that Windows does not know")


@pytest.mark.parametrize("kind", fuzzing.SPOILERS)
def test_spoilt_workbooks_are_priced_or_refused(kind: str) -> None:
    tally = fuzzing.tried(kind, many=MANY, seed=90_000)
    assert tally.runs == MANY
    assert tally.priced + tally.refused == MANY, tally.faults
    assert not tally.faults


def test_a_planted_fault_and_a_planted_delay_are_caught(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    tally = fuzzing.Tally("content")
    monkeypatch.setattr("estimator.batch.read_job", lambda *_, **__: 1 / 0)
    fuzzing.try_case("content", 1, tmp_path, tally)
    assert "ZeroDivisionError" in tally.faults[0]
    monkeypatch.setattr(fuzzing, "MOST_S", 0.2)
    monkeypatch.setattr(fuzzing, "HANGS_TIMES", 2)
    monkeypatch.setattr("estimator.batch.read_job", lambda *_, **__: time.sleep(5))
    fuzzing.try_case("content", 2, tmp_path, tally)
    assert "over 0.2 s" in tally.faults[1]


def test_the_same_seed_spoils_the_same_bytes() -> None:
    for kind in ("bytes", "xml"):
        assert fuzzing.spoilt(kind, 7) == fuzzing.spoilt(kind, 7)
        assert fuzzing.spoilt(kind, 7) != fuzzing.spoilt(kind, 8)
