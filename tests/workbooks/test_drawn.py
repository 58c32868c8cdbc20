"""The committed workbooks against what the code draws now, cell by cell: nobody has edited one by hand."""

from io import BytesIO
from pathlib import Path

import openpyxl
import pytest

from workbooks.draw import HERE, workbooks

DRAWN = workbooks()
Cells = dict[str, dict[str, tuple[object, str]]]


def cells_of(book: Path | BytesIO) -> Cells:
    """Every filled cell of a workbook by sheet and place, with its number format."""
    opened = openpyxl.load_workbook(book)
    return {
        page.title: {
            cell.coordinate: (cell.value, cell.number_format)
            for row in page.iter_rows()
            for cell in row
            if cell.value is not None
        }
        for page in opened
    }


@pytest.mark.parametrize("name", sorted(DRAWN))
def test_a_committed_workbook_is_what_the_code_draws(name: str) -> None:
    """After a change of the form or of the rows: `python -m workbooks.draw`."""
    assert cells_of(HERE / name) == cells_of(BytesIO(DRAWN[name]))


def test_no_workbook_stands_there_that_the_code_does_not_draw() -> None:
    assert {path.name for path in HERE.glob("*.xlsx")} == set(DRAWN)


def test_the_same_rows_give_the_same_bytes() -> None:
    assert workbooks() == DRAWN
