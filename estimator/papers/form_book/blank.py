"""The blank workbook of a new shop: every sheet of the form, the starter rows, and sample cabinets that price at once."""

from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Literal

from estimator.model.form import SHEETS
from estimator.papers.form_book.draw import draw_book
from estimator.papers.form_book.tables import Rows, tables

_STARTER = Path(__file__).parent.parent / "starter"


@cache
def starter_rows(units: Literal["mm", "inch"] = "mm") -> dict[str, tuple[dict[str, str], ...]]:
    """The rows that a new shop starts from, by sheet, each with a note of where its numbers come from.

    A shop that reckons in inches has its own boards, edgings, kinds and lengths; rules and minutes are the same.
    """
    rows = tables(_STARTER)
    return rows | tables(_STARTER / "inch") if units == "inch" else rows


def blank_book(units: Literal["mm", "inch"] = "mm") -> bytes:
    """The empty form as the bytes of a workbook; money and paper are those of its sample job."""
    rows = starter_rows(units)
    job = {row["Item"]: row["Value"] for row in rows["Job"]}
    sheets = {sheet.name: rows.get(sheet.name, ()) for sheet in SHEETS}
    return draw_book(sheets, units=units, currency=job["Currency"], paper=job.get("Paper", "A4"))


def names_of(sheets: Mapping[str, Rows]) -> dict[str, tuple[str, ...]]:
    """What the first column of each sheet of a shop's book names, for a job's drop-downs and notes."""
    firsts = {name: next(iter(rows[0])) for name, rows in sheets.items() if rows}
    return {name: tuple(dict.fromkeys(row[first] for row in sheets[name])) for name, first in firsts.items()}
