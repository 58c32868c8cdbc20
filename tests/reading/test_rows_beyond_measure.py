"""More rows, sizes and machines than a workshop has: told in one sentence, before anybody waits for what they would come to."""

from __future__ import annotations

import pytest

from estimator.reading import agreement, books, tables
from tests.reading.base_books import ONE_BOOK
from tests.reading.held import told


def with_rows(sheet: str, many: int) -> dict[str, str]:
    """The correct book with the last row of a sheet standing there so many times more."""
    lines = ONE_BOOK[sheet].strip("\n").splitlines()
    return {**ONE_BOOK, sheet: "\n".join([*lines, *lines[-1:] * many])}


@pytest.mark.parametrize(("sheet", "mend"), [("Cabinets", "split the job into several workbooks"), ("Work", "take out the rows that no job uses")])
def test_a_sheet_of_more_rows_than_are_read(sheet: str, mend: str, monkeypatch: pytest.MonkeyPatch) -> None:
    rows = len(ONE_BOOK[sheet].strip("\n").splitlines()) - 1
    monkeypatch.setattr(tables, "MOST_ROWS", rows)
    monkeypatch.setattr(tables, "MOST_ROWS_OF", {})
    words = f"job.xlsx > {sheet} > row {rows + 2}\n    found     more than {rows:,} rows\n    expected  {sheet}: at most {rows:,} rows\n    to mend   {mend}"
    assert words not in told(with_rows(sheet, 0))
    assert told(with_rows(sheet, 2)).count(words) == 1


def test_how_many_rows_of_each_sheet_are_read() -> None:
    assert (tables.MOST_ROWS, tables.MOST_ROWS_OF) == (5_000, {"Cabinets": 2_000, "Loose parts": 2_000, "Options": 200, "Time log": 100_000})


def test_a_board_in_more_sizes_than_are_tried(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(agreement, "MOST_SIZES", 2)
    board = ONE_BOOK["Boards"].strip("\n").splitlines()[-1].partition("|")[0].strip()
    words = f"found     more than 2 sizes of {board}\n    expected  Board: at most 2 sheet sizes of one board\n    to mend   take out the sizes that are not bought any more"
    assert words not in told(with_rows("Boards", 1))
    assert told(with_rows("Boards", 4)).count(words) == 1


def test_more_machines_than_are_compared(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(books, "MOST_MACHINES", 2)
    lines = ["Item | Value | A | B | C", "Price | 9000 | 1 | 2 | 3"]
    words = "job.xlsx > Machine\n    found     3 columns of further machines\n    expected  at most 2 machines beside the first\n    to mend   keep those between which you choose"
    assert words in told({**ONE_BOOK, "Machine": "\n".join(lines)})
    assert words not in told({**ONE_BOOK, "Machine": "\n".join(line.rpartition("|")[0] for line in lines)})
