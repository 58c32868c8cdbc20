"""What has changed since the job was priced: the cells that decide sizes and counts, as they were and as they are.

Prices and rates may be changed freely, the formulas follow them. A width, a kind, a kerf or a drying time moves parts, sheets or
batches, which only a fresh run can count. So every such cell was copied when the job was priced, and a formula compares the
user's cells with the copies, column by column.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from estimator.model.dataclass import dataclass
from estimator.model.form import SHEETS, Sheet
from estimator.model.quantities import plain_number
from estimator.model.records import Job, Terms
from estimator.model.shop_records import Contract, Shop
from estimator.papers.book.names import quoted
from estimator.papers.priced.free_columns import free_columns
from estimator.papers.priced.other_unit import folded
from estimator.papers.priced.page import FIRST_TABLE_ROW, Page, cell_name, cell_of
from estimator.papers.priced.sources import Source, Sources

AGAIN = "run it again"
SIZES = f"sizes have changed since this was priced: {AGAIN}"
STILL = "Sizes are as they were when this was priced; money follows your prices, rates and minutes."
VERDICT_ROW, VERDICT_COLUMN = 2, 0
HEADS = ("Sheet", "Column or item", "From", "Cells that differ")
UNUSED = ("Time log", "Merchant", "Roll ends")
"""Sheets from which the result sheets take nothing."""
WITH_DRYING = frozenset({"Bench temperature", "Bench humidity"})
"""Items that decide drying times where a sheet of them by temperature stands."""
SPOILT = frozenset({"Spoilt by hand", "Spoilt"})
"""Shares that the formulas follow from the first on: the parts behind them are counted only where there is one."""
MORE_ROWS = 500
"""How far below the last row an added one is noticed."""


@dataclass(frozen=True, slots=True)
class _Watched:
    """Cells in one column, one below the other, that must stay as they were."""

    sheet: str
    words: str
    row: int
    column: int
    height: int


class Changed:
    """The sheet of what has changed, and the hidden one with the copies, while they are written."""

    def __init__(self, page: Page, copies: Page, sources: Sources) -> None:
        self.page, self.copies, self.sources = page, copies, sources
        self.row, self.column = FIRST_TABLE_ROW + 1, 0
        self.soft: list[tuple[str, str]] = []

    @property
    def verdict(self) -> str:
        return self.page.ref(VERDICT_ROW, VERDICT_COLUMN)

    def write(self, job: Job, *, lost: str) -> None:
        """Every watched cell of the job; `lost` counts the figures typed as text that no formula can follow."""
        page = self.page
        page.text(0, 0, "What has changed", "title", fit=False)
        page.text(
            1,
            0,
            "The cells that decide sizes, sheets and glue batches, compared with what stood there when this was priced.",
            "note",
            fit=False,
        )
        page.heads(FIRST_TABLE_ROW, HEADS, left=3)
        first = self.row
        for watched in _watched(job, self.sources):
            self._compare(watched)
        page.text(self.row, 0, "Cells that differ", "total label")
        page.text(self.row, 1, "", "total label")
        page.text(self.row, 2, "", "total label")
        count = f"SUM({page.ref(first, 3)}:{cell_name(max(self.row - 1, first), 3)})"
        page.raw(self.row, 3, count, 0, "total whole")
        total = page.ref(self.row, 3)
        soft = '""'
        for asks, words in reversed(self.soft):
            soft = f'IF({asks},"{words}",{soft})'
        lost_words = f"a figure was typed as text that a formula cannot follow: {AGAIN}"
        words = f'IF({total}>0,"{SIZES}",IF({lost}>0,"{lost_words}",IF({soft}="","{STILL}",{soft})))'
        page.words(VERDICT_ROW, VERDICT_COLUMN, words, STILL, "state", fit=False)

    def _compare(self, watched: _Watched) -> None:
        """A row for one column: how many of its cells differ from their copies."""
        page, copies = self.page, self.copies
        copies.text(0, self.column, f"{watched.sheet}: {watched.words}"[:200], "note", fit=False)
        cells = self.sources.cells[watched.sheet]
        for i in range(watched.height):
            typed = cells.get((watched.row + i, watched.column))
            if typed is None:
                continue
            if isinstance(typed.value, bool):
                copies.sheet.write_boolean(1 + i, self.column, typed.value)
            elif isinstance(typed.value, float):
                copies.sheet.write_formula(1 + i, self.column, repr(typed.value), None, typed.value)
            else:
                copies.sheet.write_string(1 + i, self.column, typed.value)
        theirs = _range(watched.sheet, watched.row, watched.column, watched.height)
        ours = _range(copies.name, 1, self.column, watched.height)
        first = Source(watched.sheet, watched.row, watched.column, None)
        page.link(self.row, 0, watched.sheet, first.link)
        page.text(self.row, 1, watched.words)
        page.text(self.row, 2, first.short)
        page.raw(self.row, 3, f"IFERROR(SUMPRODUCT(({theirs}<>{ours})*1),1)", 0, "whole")
        self.row, self.column = self.row + 1, self.column + 1

    def finish(self) -> None:
        self.page.finish(freeze_row=FIRST_TABLE_ROW + 1, landscape=False)
        self.copies.sheet.hide()


def _range(sheet: str, row: int, column: int, height: int) -> str:
    return f"{quoted(sheet)}!{cell_name(row, column)}:{cell_name(row + height - 1, column)}"


def _watched(job: Job, sources: Sources) -> Iterable[_Watched]:
    """Every cell that decides a size or a count, as columns: item by item, and column by column with some room for new rows."""
    for form in SHEETS:
        records = _records(job, form.name)
        if form.shape == "items":
            yield from _items(job, form, sources)
        elif records:
            yield from _columns(form, records, sources)
        elif form.name not in UNUSED:
            yield from _first_rows(form, sources)


def _spoilt(job: Job) -> bool:
    return bool(job.shop.spoilt_by_hand_share or (job.contract and job.contract.spoilt_share))


def _records(job: Job, sheet: str) -> Sequence[Any]:
    return {
        "Cabinets": job.cabinets,
        "Loose parts": job.loose_parts,
        "Finishes": job.finishes,
        "Kinds": job.kinds,
        "Extras": job.extras,
        "Options": job.options,
        "Boards": job.boards,
        "Edgings": job.edgings,
        "Adhesives": job.adhesives,
        "Fittings": job.fittings,
        "Work": job.work,
        "Contract prices": job.contract_prices,
        "Construction": job.construction,
        "Offcuts": job.offcuts,
        "Drying": job.drying,
    }.get(sheet, ())


def _columns(form: Sheet, records: Sequence[Any], sources: Sources) -> Iterable[_Watched]:
    at = records[0].at
    sheet = sources.sheet(at.place(""))
    if sheet is None:
        return
    rows = [record.at.number for record in records]
    first, height = min(rows) - 1, max(rows) - min(rows) + 1
    free = free_columns(form.name)
    follows = form.name == "Fittings"
    known = {folded(column.header) for column in form.columns}
    for header in at.letters:
        where = cell_of(at.place(header))
        users_own = folded(header) not in known and not form.own_columns
        if where is None or header in free or users_own:
            continue
        if follows and header == "Number":
            ruled = [record for record in records if plain_number(record.number) is None]
            for record in ruled:
                yield _Watched(sheet, f"Number: {record.item}", record.at.number - 1, where[1], 1)
            continue
        yield _Watched(sheet, header, first, where[1], height)
    for column in form.columns:
        where = cell_of(at.place(column.header))
        if column.needed and where is not None:
            yield _Watched(sheet, f"{column.header}: rows added below", first + height, where[1], MORE_ROWS)
            break


def _first_rows(form: Sheet, sources: Sources) -> Iterable[_Watched]:
    """The room below the headers of a sheet that has no rows yet."""
    sheet = next((name for name in sources.cells if folded(name) == folded(form.name)), None)
    heads = {folded(column.header) for column in form.columns if column.needed}
    for (row, column), cell in sorted(sources.cells[sheet].items()) if sheet else ():
        if isinstance(cell.value, str) and folded(cell.value) in heads:
            yield _Watched(sheet or "", f"{cell.value.strip()}: rows added below", row + 1, column, MORE_ROWS)
            return


def _items(job: Job, form: Sheet, sources: Sources) -> Iterable[_Watched]:
    holders: dict[str, Terms | Shop | Contract | None] = {"Job": job.terms, "Shop": job.shop, "Contract": job.contract}
    holder = holders.get(form.name)
    if holder is None:
        return
    free = free_columns(form.name) - (WITH_DRYING if job.drying else frozenset()) | (SPOILT if _spoilt(job) else frozenset())
    seen = [(item, place) for item, place in holder.at.cells.items() if cell_of(place) is not None]
    here = [(item, place) for item, place in seen if sources.sheet(place) is not None]
    if not here:
        return
    sheet = sources.sheet(next((place for _, place in here if place.sheet == form.name), here[0][1]))
    assert sheet is not None
    last = max(row for row, _ in sources.cells[sheet]) if sources.cells[sheet] else 0
    typed = {cell_of(place) for _, place in here if sources.sheet(place) == sheet}
    known = {folded(column.header): column.header for column in form.columns if column.header not in free}
    for item, source in sources.items(sheet).items():
        if item in known and (source.row, source.column) not in typed:
            yield _Watched(sheet, f"{known[item]}: blank", source.row, source.column, 1)
    for item, place in here:
        where, name = cell_of(place), sources.sheet(place)
        if item not in free and where is not None and name is not None:
            yield _Watched(name, item, *where, 1)
    names = next((at[1] for at, cell in sorted(sources.cells[sheet].items()) if folded(cell.value) == "item"), None)
    if names is not None:
        yield _Watched(sheet, "Rows added below", last + 1, names, MORE_ROWS)
