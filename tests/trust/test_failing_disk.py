"""A few failing calls of the long run of `tests/trust/failing_disk.py`, and the harm that it must see."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tests.trust.failing_disk import Failed, judged, wrong_with


@pytest.mark.skipif(shutil.which("strace") is None, reason="strace is not here: a failing disk was NOT tried")
def test_a_failing_disk_leaves_the_earlier_papers_as_they_were(tmp_path: Path) -> None:
    wrong, met = judged(tmp_path, every=9)
    assert not wrong
    assert met


def test_a_mixture_a_stray_and_a_traceback_are_seen(tmp_path: Path) -> None:
    (tmp_path / "a.json").write_text("{}")
    (tmp_path / "b.json.earlier.here-1.unfinished").write_text("{}")
    wrong = wrong_with(Failed("rename", 3, "Traceback"), {"a.json": b"[]"}, tmp_path)
    assert len(wrong) == 4
