"""Single-cell faults planted one at a time in a correct workbook: each is told at its own cell, in one run."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from estimator.model.refusal import Refusal
from tests.reading.base_books import ONE_BOOK
from tests.reading.held import job_of, read

TABLE = Path(__file__).with_name("planted_faults.txt")
"""Sheet, cell, and what is typed there instead; a blank means that the cell is cleared."""


def faults() -> list[tuple[str, str, str | None]]:
    split = [tuple(part.strip() for part in line.split("|", 2)) for line in TABLE.read_text(encoding="utf-8").splitlines() if not line.startswith("#")]
    return [(sheet, cell, content or None) for sheet, cell, content in split]


def test_there_are_enough_of_them() -> None:
    assert len(set(faults())) == len(faults()) >= 200


RECORDS = {
    "Cabinets": "cabinets", "Loose parts": "loose_parts", "Finishes": "finishes", "Kinds": "kinds", "Extras": "extras", "Options": "options", "Boards": "boards",
    "Edgings": "edgings", "Adhesives": "adhesives", "Fittings": "fittings", "Work": "work", "Contract prices": "contract_prices", "Construction": "construction",
    "Offcuts": "offcuts", "Roll ends": "roll_ends", "Drying": "drying", "Merchant": "merchant",
}  # fmt: skip


NO_SIZE = {"Boards": "EGHJKLM", "Edgings": "BEFGHIKLMNO", "Cabinets": "DMN", "Loose parts": "DNO", "Finishes": "G"}
"""Columns on which no size rests: the engine looks at the sizes of such a row all the same."""


@cache
def whole(record: str) -> list[int]:
    """The rows of the correct workbook that are handed on."""
    return [row.at.number for row in getattr(job_of(), record)]


@pytest.mark.parametrize(("sheet", "cell", "content"), faults(), ids=lambda value: str(value))
def test_a_fault_is_told_once_at_its_cell_and_its_sizes_set_its_row_aside(sheet: str, cell: str, content: str | None) -> None:
    answer = read(ONE_BOOK, {(sheet, cell): content})
    assert isinstance(answer, Refusal), "the fault went unseen"
    places = [str(problem.place) for problem in answer.problems]
    twice = ["job.xlsx > Loose parts"] if (sheet, cell) == ("Loose parts", "H1") else []  # an x without a column of edgings, and values without a name
    assert places == [*twice, f"job.xlsx > {sheet} > {cell}"], "\n".join(map(str, answer.problems))
    number = int(cell.lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ"))
    if sheet in RECORDS and number > 1:
        kept = [row.at.number for row in getattr(answer.readable, RECORDS[sheet])]
        told_only = cell[0] in NO_SIZE.get(sheet, "")
        rest = [one for one in whole(RECORDS[sheet]) if told_only or one != number]
        assert kept == rest, "a row with a fault in what sizes rest on is not handed on, every other of its sheet is"


MANY = {
    "Cabinets": 3, "Loose parts": 2, "Finishes": 2, "Kinds": 2, "Extras": 2, "Options": 1, "Boards": 4, "Edgings": 3, "Adhesives": 1, "Fittings": 3, "Work": 7, "Contract prices": 2,
    "Construction": 8, "Offcuts": 2, "Roll ends": 2, "Drying": 2, "Merchant": 2,
}  # fmt: skip
"""Rows of the base book, counted by eye."""


def test_without_a_fault_the_workbook_is_read_with_all_its_rows() -> None:
    answer = read(ONE_BOOK)
    assert not isinstance(answer, Refusal), "\n".join(map(str, answer.problems))
    for sheet, many in MANY.items():
        assert [(row.at.sheet, row.at.number) for row in getattr(answer, RECORDS[sheet])] == [(sheet, number) for number in range(2, many + 2)]
