"""A priced workbook in, the same with one live figure changed out; and the result sheets of two workbooks compared."""

from __future__ import annotations

import io
from dataclasses import dataclass
from pathlib import Path
from random import Random

from openpyxl import load_workbook

from estimator.batch import price_book
from estimator.model.results import Estimate
from estimator.papers.priced_workbook import PricedBook, priced_book

WHOLE = ("Trips", "Lead time", "Working days available")
OF_THE_PRICING = {"Figures in use": "DFH", "What has changed": "ABCD", "As priced": "*"}
"""Columns that tell of the pricing itself: what was typed, what it was, whether it has changed."""


@dataclass(frozen=True)
class Change:
    sheet: str
    cell: str
    figure: str
    before: float
    after: float

    def __str__(self) -> str:
        return f"{self.figure} at {self.sheet} {self.cell}: {self.before} to {self.after}"


def priced(path: Path, shop: Path | None = None) -> tuple[Estimate, bytes]:
    """A workbook of a job, priced and filled in."""
    estimate = price_book(path, shop=shop)
    assert isinstance(estimate, Estimate), estimate
    second = shop or path.with_name("shop.xlsx")
    book = priced_book(
        estimate,
        user_book=path.read_bytes(),
        shop_book=second.read_bytes() if second.exists() else None,
    )
    assert isinstance(book, PricedBook), book
    return estimate, book.book


def live_figures(book: bytes) -> list[tuple[str, str, str, float]]:
    """Sheet, cell, figure and number of every figure that was typed as a number."""
    sheet = load_workbook(io.BytesIO(book), read_only=False)["Figures in use"]
    found = []
    for row in sheet.iter_rows(min_row=6):
        place, figure, typed = row[0].value, row[2].value, row[3].value
        if place and figure and isinstance(typed, int | float) and not isinstance(typed, bool):
            name, _, cell = str(place).rpartition(" ")
            found.append((name, cell, str(figure), float(typed)))
    return found


def drawn_change(book: bytes, rng: Random) -> Change:
    """One of the live figures, made larger or smaller."""
    figures = live_figures(book)
    kinds = sorted({figure for _, _, figure, _ in figures})
    wanted = rng.choice(kinds)
    sheet, cell, figure, before = rng.choice([one for one in figures if one[2] == wanted])
    if figure in WHOLE:
        after = before + rng.choice((1, 2))
    elif figure in ("Tax rate", "Delivery tax rate", "Margin", "Discount") and before in (0, 1):
        after = before
    else:
        after = round(before * rng.choice((0.6, 0.8, 0.9, 1.1, 1.25, 1.5)), 4)
        if before > 1 and after < 1:
            after = before + 1
    return Change(sheet, cell, figure, before, after)


def changed(book: bytes, change: Change) -> bytes:
    """The workbook with the figure changed, as an owner would change it."""
    opened = load_workbook(io.BytesIO(book))
    opened[change.sheet][change.cell].value = change.after
    memory = io.BytesIO()
    opened.save(memory)
    return memory.getvalue()


def result_sheets(book: bytes) -> dict[str, dict[str, object]]:
    """The values of our sheets, by sheet and cell."""
    opened = load_workbook(io.BytesIO(book), data_only=True)
    ours = [sheet for sheet in opened if "estimator_result_sheet" in sheet.defined_names]
    return {
        sheet.title: {cell.coordinate: cell.value for row in sheet.iter_rows() for cell in row if cell.value is not None}
        for sheet in ours
    }


def differences(
    wanted: dict[str, dict[str, object]], found: dict[str, dict[str, object]], *, told_at_pricing: bool = False
) -> list[str]:
    """Every cell of the result sheets that differs: numbers by more than a millionth, words at all.

    `told_at_pricing` leaves out what tells of the pricing itself: remarks, and what stood in the user's cells then.
    """
    said = []
    for sheet, cells in wanted.items():
        left_out = OF_THE_PRICING.get(sheet, "") if told_at_pricing else ""
        remarks = first_row_of_remarks(cells) if told_at_pricing and sheet == "Answer" else None
        for cell in sorted({*cells, *found.get(sheet, {})}):
            letters = cell.rstrip("0123456789")
            row = int(cell[len(letters) :])
            if left_out == "*" or letters in left_out or (told_at_pricing and cell == "A3") or (remarks and row >= remarks):
                continue
            one, other = cells.get(cell, ""), found.get(sheet, {}).get(cell, "")
            if not alike(one, other):
                said.append(f"{sheet} {cell}: {one!r} wanted, {other!r} found")
    return said


def first_row_of_remarks(answer: dict[str, object]) -> int:
    return next(int(cell[1:]) for cell, value in answer.items() if value == "Worth a look")


def alike(one: object, other: object) -> bool:
    """Numbers to a millionth; a blank and a 0 that shows nothing are one."""
    if isinstance(one, int | float) and isinstance(other, int | float):
        return abs(one - other) <= 1e-6 * max(1.0, abs(one) / 1e6)
    return one == other or (one in (0, "", None) and other in (0, "", None))
