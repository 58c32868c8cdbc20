"""One or two books in, each sheet of the form from the book that wins out: a job's own sheet before the shop's."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import field
from typing import TypedDict

from estimator.model.dataclass import dataclass
from estimator.model.form import CABINETS, JOB, SHEETS, Sheet, expected
from estimator.model.problems import Place
from estimator.reading.cells import read_cell
from estimator.reading.columns import ReadRow, Table
from estimator.reading.findings import Findings
from estimator.reading.item_sheets import ItemSheet, further_value_columns, read_items
from estimator.reading.names import close_to, fold, fold_header
from estimator.reading.package import Unfit
from estimator.reading.raw_cells import RawSheet
from estimator.reading.spreadsheet import Book
from estimator.reading.tables import read_table
from estimator.reading.typed_numbers import Units, Wrong, shortened

MOST_MACHINES = 20
"""A chart holds 255 lines and nobody reads so many."""
IN_EITHER_BOOK = ("Finishes", "Kinds")
_READ_HERE = tuple(sheet for sheet in SHEETS if sheet.name != "Time log")  # that is read when it is asked for
_UNITS = next(column for column in JOB.columns if column.field == "units")


@dataclass(slots=True)
class Sheets:
    """Every sheet that was found, read row by row; what refers to what is looked at later."""

    workbook: str
    shop_workbook: str
    findings: Findings
    tables: dict[str, Table] = field(default_factory=dict)
    items: dict[str, ItemSheet] = field(default_factory=dict)
    meant: set[str] = field(default_factory=set)
    """Sheets that a misspelt tab seems to mean: their absence is already told."""
    told_missing: set[str] = field(default_factory=set)
    more_machines: list[tuple[str, ItemSheet]] = field(default_factory=list)
    """Further columns of values of the Machine sheet, by their headers."""

    def rows(self, name: str) -> list[ReadRow]:
        table = self.tables.get(name)
        return table.rows if table else []

    def units(self, name: str) -> Units:
        """The unit of the book in which a sheet of rows stands."""
        return self.tables[name].units if name in self.tables else "mm"

    def has(self, name: str) -> bool:
        return name in self.tables or name in self.items

    def home(self, name: str) -> Place:
        """Where a sheet stands, or should stand."""
        there = self.tables.get(name) or self.items.get(name)
        if there:
            return Place(there.book, there.name)
        shop_sheet = next(sheet for sheet in SHEETS if sheet.name == name).home == "shop"
        return Place(self.shop_workbook if shop_sheet and self.shop_workbook else self.workbook, name)

    def need(self, name: str, why: str) -> bool:
        """Whether a sheet is there; when it is not, that is one problem however often it is needed."""
        if self.has(name):
            return True
        if name not in self.meant and name not in self.told_missing:
            self.told_missing.add(name)
            books = f"{self.workbook} or {self.shop_workbook}" if self.shop_workbook and name not in ("Job", "Cabinets") else self.workbook
            self.findings.problem(
                Place(self.workbook, name),
                found=f"no sheet named {name} in {books}",
                expected=f"a sheet {name}: {why}",
                mend=self._how_to_get(name),
            )
        return False

    def _how_to_get(self, name: str) -> str:
        """A job on its own most often lacks its price book; else the sheet itself is gone."""
        copied = f"add the sheet {name}, or copy it from the blank form (estimator blank writes it)"
        of_the_shop = next(sheet for sheet in SHEETS if sheet.name == name).home == "shop"
        if not of_the_shop or self.shop_workbook:
            return copied
        return f"put your price book shop.xlsx into the same folder, or name it with --shop; or {copied}"


def read_sheets(job: Book, shop: Book | None, findings: Findings) -> Sheets:
    """Read every sheet of the form from the book in which it counts."""
    sheets = Sheets(job.name, shop.name if shop else "", findings)
    in_job = _sheets_by_name(job, SHEETS, findings)
    from_shop = tuple(sheet for sheet in SHEETS if sheet.home == "shop" or sheet.name in IN_EITHER_BOOK)
    in_shop = _sheets_by_name(shop, from_shop, findings) if shop else {}
    _tell_misspelt_tabs(job, in_job, in_shop, SHEETS, sheets)
    if shop:
        _tell_misspelt_tabs(shop, in_shop, in_job, from_shop, sheets)
    raw_job = job.read(in_job["Job"]) if "Job" in in_job else None
    raw_shop_job = job.read(in_job["Shop"]) if "Shop" in in_job else None
    raw_shop_own = shop.read(in_shop["Shop"]) if shop and "Shop" in in_shop else None
    shop_units = _units_of(raw_shop_own, shop, findings) or "mm"
    default = _units_of(raw_shop_job, job, findings) if raw_shop_job else shop_units
    job_units = _units_of(raw_job, job, findings) or default or "mm"
    for sheet in _READ_HERE:
        if sheet.name in in_job:
            _read_one(job, in_job[sheet.name], sheet, job_units, sheets)
        elif shop and sheet.name in in_shop:
            _read_one(shop, in_shop[sheet.name], sheet, shop_units, sheets)
    if not sheets.has("Cabinets") and "Cabinets" not in sheets.meant:
        _remark_cabinets_elsewhere(job, in_job, sheets)
    return sheets


def _remark_cabinets_elsewhere(book: Book, here: dict[str, str], sheets: Sheets) -> None:
    """A sheet with the headers of Cabinets but a name far from it: its loose parts alone would be priced, and nobody would say so."""
    needed = {fold(column.header) for column in CABINETS.columns if column.needed}
    for tab in book.sheets:
        if tab in here.values():
            continue
        try:
            rows = book.read(tab).rows
        except Unfit:
            continue  # the user's own, however large or damaged
        if rows and needed <= {fold_header(cell.text) for cell in rows[min(rows)].values()}:
            sheets.findings.remark(
                Place(book.name, shortened(tab)),
                "this sheet has the headers of Cabinets, but is not read under this name: rename it Cabinets if its rows are to be priced",
            )


def _read_one(book: Book, tab: str, sheet: Sheet, units: Units, sheets: Sheets) -> None:
    raw = book.read(tab)
    _remark_hidden(raw, book.name, sheets.findings)
    how: _How = {"book": book.name, "units": units, "starts_1904": book.starts_1904, "findings": sheets.findings}
    if sheet.shape == "rows":
        sheets.tables[sheet.name] = read_table(raw, sheet, **how)
        return
    sheets.items[sheet.name] = read_items(raw, **how)
    if sheet.name == "Machine":
        further = further_value_columns(raw, "price")
        if len(further) > MOST_MACHINES:
            sheets.findings.problem(
                Place(book.name, raw.name),
                found=f"{len(further)} columns of further machines",
                expected=f"at most {MOST_MACHINES} machines beside the first",
                mend="keep those between which you choose",
            )
            return
        for name, column in further.items():
            sheets.more_machines.append((name, read_items(raw, **how, value_column=column)))


class _How(TypedDict):
    book: str
    units: Units
    starts_1904: bool
    findings: Findings


def _sheets_by_name(book: Book, known: Iterable[Sheet], findings: Findings) -> dict[str, str]:
    by_key = {fold(sheet.name): sheet.name for sheet in known}
    found: dict[str, str] = {}
    for tab in book.sheets:
        name = by_key.get(fold(tab))
        if name is None:
            continue
        if name in found:
            findings.problem(
                Place(book.name, tab),
                found=f"a second sheet named {name}",
                expected="one sheet of each name",
                mend="rename one of the two, or take it out",
            )
        else:
            found[name] = tab
    return found


def _tell_misspelt_tabs(book: Book, here: dict[str, str], there: dict[str, str], known: Iterable[Sheet], sheets: Sheets) -> None:
    absent = [sheet.name for sheet in known if sheet.name not in here]
    ours = {fold(sheet.name) for sheet in SHEETS}
    for tab in book.sheets:
        guess = close_to(tab, absent) if fold(tab) not in ours else None
        if guess is None:
            continue
        place = Place(book.name, shortened(tab))
        if guess in there:
            sheets.findings.remark(
                place, f"this sheet is not read; if {guess} is meant, rename it: now {guess} of the other workbook counts"
            )
            continue
        sheets.meant.add(guess)
        sheets.findings.problem(
            place,
            found=f"a sheet named {shortened(tab)}",
            expected=f"a sheet named {guess}, or a name unlike any of ours",
            mend=f"did you mean {guess}?",
        )


def _units_of(raw: RawSheet | None, book: Book | None, findings: Findings) -> Units | None:
    """The Units of a Job or Shop sheet; None when it does not say."""
    if raw is None or book is None:
        return None
    quiet = Findings()
    item = read_items(raw, book=book.name, units="mm", starts_1904=book.starts_1904, findings=quiet).item("Units")
    if item is None or item.value is None:
        return None
    units = read_cell(item.value, _UNITS, units="mm")
    if isinstance(units, Wrong):
        findings.wrong(item.place, units, expected=expected(_UNITS, units="mm"))
        return "mm"
    return "inch" if units == "inch" else "mm"


def _remark_hidden(raw: RawSheet, book: str, findings: Findings) -> None:
    if raw.hidden:
        findings.remark(Place(book, raw.name), "this sheet is hidden; it is read all the same")
    hidden = [number for number in raw.hidden_rows if raw.rows.get(number)]
    if hidden:
        rows = "row" if len(hidden) == 1 else "rows"
        findings.remark(
            Place(book, raw.name), f"{rows} {_runs(hidden)} {'is' if len(hidden) == 1 else 'are'} hidden, and read all the same"
        )


def _runs(numbers: list[int]) -> str:
    """Row numbers in words: 3, 5 to 7."""
    runs: list[list[int]] = []
    for number in sorted(numbers):
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    words = [str(run[0]) if len(run) == 1 else f"{run[0]} to {run[-1]}" for run in runs]
    return ", ".join(words[:20]) + (" and further ones" if len(words) > 20 else "")
