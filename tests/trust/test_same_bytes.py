"""The same workbook gives the same papers, byte for byte: in another folder, time zone, language and order of hashes."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

HOUSE = Path(__file__).parents[2]
PLACES = (
    {"TZ": "UTC", "LC_ALL": "C", "PYTHONHASHSEED": "0"},
    {"TZ": "Pacific/Kiritimati", "LC_ALL": "de_DE.UTF-8", "LANG": "de_DE.UTF-8", "PYTHONHASHSEED": "4711"},
)


def papers(folder: Path, place: dict[str, str], job: str, python: str = sys.executable) -> dict[str, bytes]:
    """Every file that pricing a copy of a sample leaves, by name."""
    folder.mkdir()
    for name in (job, "shop.xlsx"):
        shutil.copy(HOUSE / "workbooks" / name, folder / name)
    subprocess.run(
        [python, "-m", "estimator", "price", str(folder / job), "--out", str(folder / "reports")],
        cwd=folder, check=True, capture_output=True, env={**os.environ, **place, "PYTHONPATH": str(HOUSE)},
    )  # fmt: skip
    return {path.name: path.read_bytes() for path in sorted((folder / "reports").rglob("*")) if path.is_file()}


@pytest.mark.parametrize("job", ["kitchen.xlsx", "wardrobe.xlsx"])
def test_another_place_gives_the_same_bytes(tmp_path: Path, job: str) -> None:
    one, other = (papers(tmp_path / f"folder {number} ü", place, job) for number, place in enumerate(PLACES))
    assert {"quote.pdf", "shop.pdf", "owner.pdf", "priced.xlsx", "estimate.json"} <= set(one)
    assert [name for name in one if one[name] != other.get(name)] == []
    assert one.keys() == other.keys()


@pytest.mark.skipif("OTHER_PYTHON" not in os.environ, reason="OTHER_PYTHON names no second Python: newer ones were NOT compared")
@pytest.mark.parametrize("job", ["kitchen.xlsx", "inch-job.xlsx"])
def test_another_python_gives_the_same_bytes(tmp_path: Path, job: str) -> None:
    """OTHER_PYTHON is the path of another interpreter, with the program's packages installed for it."""
    assert papers(tmp_path / "this", PLACES[0], job) == papers(tmp_path / "other", PLACES[1], job, os.environ["OTHER_PYTHON"])


def test_a_planted_difference_is_seen(tmp_path: Path) -> None:
    """The comparison is of bytes: another revision date in the workbook must show."""
    from openpyxl import load_workbook

    one = papers(tmp_path / "one", PLACES[0], "wardrobe.xlsx")
    book = load_workbook(HOUSE / "workbooks" / "wardrobe.xlsx")
    for row in book["Job"].iter_rows():
        if row[0].value == "Client":
            row[1].value = f"{row[1].value} and son"
    changed = tmp_path / "changed"
    changed.mkdir()
    book.save(changed / "wardrobe.xlsx")
    shutil.copy(HOUSE / "workbooks" / "shop.xlsx", changed / "shop.xlsx")
    subprocess.run(
        [sys.executable, "-m", "estimator", "price", str(changed / "wardrobe.xlsx"), "--out", str(changed / "reports")],
        cwd=changed, check=True, capture_output=True, env={**os.environ, "PYTHONPATH": str(HOUSE)},
    )  # fmt: skip
    other = {path.name: path.read_bytes() for path in (changed / "reports").rglob("*") if path.is_file()}
    assert one["quote.pdf"] != other["quote.pdf"]
