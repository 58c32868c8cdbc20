"""The sheets of the shop's own book that a job used in, the same sheets for the job's filled-in workbook out.

A formula cannot point into another book, and a filled-in workbook should hold all that its price rests on. So the shop's sheets
come along under their names, with what was typed in them. From then on they are the user's, kept as they are when the filled-in
workbook is priced again.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from estimator.model.dataclass import dataclass
from estimator.model.form import SHEETS
from estimator.model.records import Job
from estimator.papers.priced.other_unit import in_unit_of
from estimator.papers.priced.typed import Cells, TypedBook

if TYPE_CHECKING:
    from xlsxwriter.workbook import Workbook


@dataclass(frozen=True, slots=True)
class ShopSheet:
    """One sheet of the second book: the book's name, the sheet's, the name wanted here, and its cells."""

    book: str
    source: str
    name: str
    cells: Cells


def shop_sheets(job: Job, user: TypedBook, shop: TypedBook | None) -> tuple[ShopSheet, ...]:
    """The sheets that the job's own book lacks, and those that an earlier pricing brought along and that would be replaced."""
    forms = {_folded(sheet.name): sheet for sheet in SHEETS if sheet.home == "shop"}
    brought = [name for name in user.ours() if _folded(name) in forms]
    again = tuple(ShopSheet(job.workbook, name, name, user.sheet(name)) for name in brought)
    if shop is None:
        return again
    own = {_folded(name) for name in user.names()}
    second = next((book for book in sorted(_books(job)) if book != job.workbook), "shop.xlsx")
    return again + tuple(
        ShopSheet(second, name, forms[_folded(name)].name, in_unit_of(job, forms[_folded(name)], shop.sheet(name)))
        for name in shop.names()
        if _folded(name) in forms and _folded(name) not in own
    )


def _books(job: Job) -> set[str]:
    """The files that the job was read from."""
    books = {place.workbook for holder in (job.terms, job.shop, job.contract) if holder for place in holder.at.cells.values()}
    rows = (job.boards, job.edgings, job.adhesives, job.fittings, job.work, job.construction, job.finishes)
    return books | {job.shop.at.workbook, *(row.at.workbook for table in rows for row in table)}


def _folded(name: str) -> str:
    return " ".join(name.split()).casefold()


def write_shop_sheets(workbook: Workbook, sheets: tuple[ShopSheet, ...], names: Mapping[str, str], *, paper: int) -> None:
    """Every typed cell where it stood."""
    if not sheets:
        return
    from estimator.papers.priced.quick_sheet import QuickSheet

    percent = workbook.add_format({"num_format": "0.##%"})
    dated = workbook.add_format({"num_format": "yyyy-mm-dd"})
    plain = workbook.add_format({})
    head = workbook.add_format({"bold": True, "text_wrap": True, "valign": "top", "bottom": 1})
    for sheet in sheets:
        page = workbook.add_worksheet(names[sheet.name], QuickSheet)
        widths: dict[int, int] = {}
        for (row, column), cell in sheet.cells.items():
            look = head if row == 0 else {"percent": percent, "date": dated}.get(cell.shows, plain)
            if isinstance(cell.value, bool):
                page.write_boolean(row, column, cell.value, look)
            elif isinstance(cell.value, float):
                page.write_number(row, column, cell.value, look)
            else:
                page.write_string(row, column, cell.value, look)
            long = max(map(len, str(cell.value).split())) if row == 0 and str(cell.value).strip() else len(str(cell.value))
            widths[column] = max(widths.get(column, 8), min(long + 2, 40))
        for column, width in widths.items():
            page.set_column(column, column, width)
        page.freeze_panes(1, 0)
        page.set_landscape()
        page.set_paper(paper)
        page.fit_to_pages(1, 0)
        page.repeat_rows(0)
