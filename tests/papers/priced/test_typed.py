"""Cells of a user's book as formulas see them: sheets that nobody asks for are not read, odd numbers and names stop nothing."""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from estimator.papers.priced.typed import Cells, TypedBook, TypedCell, cells_of


def read(cell: str, row: str = "1") -> Cells:
    xml = f'<worksheet><sheetData><row r="{row}">{cell}</row></sheetData></worksheet>'
    return cells_of(xml.encode(), texts=["white"], shows=("", "percent"))


@pytest.mark.parametrize("number", ["\u00b2", "\u0663", "-1", "9" * 5000])
def test_a_row_or_a_style_that_is_no_number(number: str) -> None:
    assert read(f'<c r="A1" s="{number}"><v>7</v></c>') == {(0, 0): TypedCell(7.0)}
    assert list(read("<c><v>7</v></c>", row=number).values()) == [TypedCell(7.0)]


def test_a_column_of_a_million_letters_is_beyond_every_sheet() -> None:
    assert min(column for _, column in read(f'<c r="{"D" * 1_000_000}"><v>7</v></c>')) > 16_384


class _Asked(TypedBook):
    """A book that notes which of its sheets were asked for."""

    def __init__(self) -> None:
        self.asked: list[str] = []

    def names(self) -> tuple[str, ...]:
        return "Job", "Notes"

    def sheet(self, name: str) -> Cells:
        self.asked.append(name)
        return {(0, 0): TypedCell(name)}


def test_a_sheet_is_read_when_it_is_asked_for() -> None:
    book, shop = _Asked(), {(0, 0): TypedCell("from the price book")}
    sheets: Mapping[str, Cells] = book.sheets({"Shop": shop})
    assert (list(sheets), len(sheets), "Notes" in sheets, "Work" in sheets, sheets.get("Work")) == (["Job", "Notes", "Shop"], 3, True, False, None)
    assert book.asked == []
    assert (sheets["Job"], sheets["Shop"]) == ({(0, 0): TypedCell("Job")}, shop)
    assert book.asked == ["Job"]
