"""A table held in memory is what the reader finds when the same table was drawn into a file."""

from pathlib import Path

from estimator.reading.raw_cells import Cell
from estimator.reading.spreadsheet import open_book
from tests.reading.base_books import ONE_BOOK
from tests.reading.drawing import draw
from tests.reading.held import Held, sheet_of
from tests.reading.test_planted_faults import faults


def test_every_sheet_and_every_planted_fault_is_held_as_it_is_read_from_a_file(tmp_path: Path) -> None:
    table = "\n".join(f"row {number} | {content or ''} | end" for number, content in enumerate(sorted({content or "" for _, _, content in faults()})))
    book = open_book(draw(tmp_path / "job.xlsx", {**ONE_BOOK, "Contents": table}))
    for tab in book.sheets:
        read, held = book.read(tab), sheet_of(tab, {**ONE_BOOK, "Contents": table}[tab])
        assert read.rows.keys() == held.rows.keys()
        for number, cells in held.rows.items():
            assert {column: _worth(cell) for column, cell in read.rows[number].items()} == {column: _worth(cell) for column, cell in cells.items()}
    book.close()


def test_a_changed_cell_is_changed_in_that_book_only() -> None:
    before = sheet_of("Job", ONE_BOOK["Job"])
    changed = Held("job.xlsx", ONE_BOOK, {("Job", "B2"): "Elm Row", ("Job", "A2"): None, ("Job", "C99"): "percent:0.5"}).read("Job")
    assert changed.rows[2] == {2: Cell("Elm Row")}
    assert changed.rows[99] == {3: Cell("0.5", "number", "percent")}
    assert before.rows[2] == {1: Cell("Job name"), 2: Cell("Mill Lane kitchen")}


def _worth(cell: Cell) -> tuple[object, ...]:
    """A number by its worth: 61.50 is kept as 61.5."""
    return (float(cell.text) if cell.holds == "number" else cell.text, *cell[1:])
