"""A small part of the long run of `tests/trust/killing.py`, and the harm that it must see."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from tests.trust.killing import cut_short, differences, judged


@pytest.mark.skipif(sys.platform == "win32", reason="kills by process group")
def test_kills_and_runs_at_once_leave_the_same_papers(tmp_path: Path) -> None:
    wrong, done = judged(jobs=3, kills=3, at_once=2, seed=7, place=tmp_path)
    assert not wrong, done


def test_cut_and_changed_papers_are_seen(tmp_path: Path) -> None:
    for name, content in (("a.pdf", b"%PDF-1.4 half"), ("b.json", b"{"), ("c.xlsx", b"PK half"), ("d.html", b"<html>")):
        (tmp_path / name).write_bytes(content)
    (tmp_path / "e.pdf").write_bytes(b"%PDF-1.4 whole %%EOF\n")
    assert cut_short(tmp_path) == sorted(cut_short(tmp_path), key=cut_short(tmp_path).index)
    assert sorted(cut_short(tmp_path)) == ["a.pdf", "b.json", "c.xlsx", "d.html"]
    assert differences({"a": b"1", "b": b"2"}, {"a": b"1", "b": b"3", "c": b"4"}) == ["b differs", "c differs"]
