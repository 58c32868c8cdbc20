"""The blank workbook of a new shop: every sheet of the form, the starter rows, and two sample cabinets that price at once."""

from functools import cache
from pathlib import Path

from estimator.model.form import SHEETS
from estimator.papers.form_book.draw import draw_book
from estimator.papers.form_book.tables import tables

_STARTER = Path(__file__).parent.parent / "starter"


@cache
def starter_rows() -> dict[str, tuple[dict[str, str], ...]]:
    """The rows that a new shop starts from, by sheet, each with a note of where its numbers come from."""
    return tables(_STARTER)


def blank_book() -> bytes:
    """The empty form as the bytes of a workbook."""
    rows = starter_rows()
    return draw_book({sheet.name: rows.get(sheet.name, ()) for sheet in SHEETS})
