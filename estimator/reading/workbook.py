"""A workbook file in, the Job that it asks for out: or a Refusal that tells every problem in one run."""

from __future__ import annotations

import contextlib
from dataclasses import fields
from pathlib import Path
from typing import Any

from estimator.model.form import SHEETS
from estimator.model.problems import Place
from estimator.model.records import Cabinet, Extra, Finish, Job, Kind, LoosePart, OptionRow
from estimator.model.refusal import Refusal
from estimator.model.shop_records import (
    Adhesive,
    Board,
    BoardOffcut,
    ConstructionRow,
    ContractPrice,
    DryingRow,
    Edging,
    Fitting,
    MerchantRow,
    RollEnd,
    Step,
)
from estimator.reading.books import Sheets, read_sheets
from estimator.reading.cross_checks import check
from estimator.reading.file_kinds import what_kind_of_file
from estimator.reading.findings import Findings
from estimator.reading.names import close_to, fold
from estimator.reading.package import Unfit
from estimator.reading.spreadsheet import Book, open_book

SHOP_BOOK = "shop.xlsx"
A_WORKBOOK = "a workbook (.xlsx) with the sheets of the form"


def read_job(path: Path, *, shop: Path | None = None) -> Job | Refusal:
    """Read a job workbook, with the shop book beside it or the one that is named."""
    findings = Findings()
    book = open_or_tell(path, findings)
    if book is None:
        return Refusal(path.name, findings.problems_in_order(path.name))
    with contextlib.closing(book):
        if _is_price_book(book):
            findings.problem(
                Place(path.name),
                found="a price book: it has the sheet Shop, but neither Job nor Cabinets",
                expected="a job workbook, with the sheets Job and Cabinets",
                mend="name the job that is to be priced: the price book is read beside it",
            )
            return Refusal(path.name, findings.problems_in_order(path.name))
        shop_path = shop_book_beside(path, shop)
        shop_book = open_or_tell(shop_path, findings) if shop_path else None
        with contextlib.closing(shop_book) if shop_book else contextlib.nullcontext():
            return _read(book, shop_book, findings, shop_unread=bool(shop_path and not shop_book))


def _is_price_book(book: Book) -> bool:
    names = {fold(tab) for tab in book.sheets}
    return "shop" in names and not names & {"job", "cabinets", "loose parts"} and not any(
        close_to(tab, ("Cabinets", "Loose parts")) for tab in book.sheets
    )


def is_job_workbook(path: Path) -> bool:
    """Whether a run over a folder should price this file: a shop book alone and the files of open programs are left alone.

    A file that calls itself a workbook and cannot be opened counts as one, so that the run says what is wrong with it.
    """
    if path.name.startswith("~$"):
        return False
    if what_kind_of_file(path).kind != "workbook":
        return True
    try:
        book = open_book(path)
    except Exception:
        return True
    with contextlib.closing(book):
        return any(fold(tab) in ("job", "cabinets", "loose parts") or close_to(tab, ("Cabinets", "Loose parts")) for tab in book.sheets)


def shop_book_beside(path: Path, shop: Path | None) -> Path | None:
    if shop is not None:
        return None if _same(path, shop) else shop
    beside = path.parent / SHOP_BOOK
    return beside if beside.is_file() and path.name.casefold() != SHOP_BOOK else None


def _same(one: Path, other: Path) -> bool:
    try:
        return one.samefile(other)
    except OSError:
        return False


def open_or_tell(path: Path, findings: Findings) -> Book | None:
    """Open a workbook, or tell what the file is instead."""
    kind = what_kind_of_file(path)
    if kind.kind != "workbook":
        findings.problem(Place(path.name), found=kind.found, expected=A_WORKBOOK, mend=kind.mend)
        return None
    try:
        return open_book(path)
    except Exception as error:
        _tell_unfit(path.name, error, findings)
        return None


def _tell_unfit(name: str, error: Exception, findings: Findings) -> None:
    """A file that breaks while it is unpacked is theirs; anything else is our own fault and goes on up."""
    if isinstance(error, Unfit):
        findings.problem(Place(name), found=error.found, expected=A_WORKBOOK, mend=error.mend)
    elif type(error).__module__.split(".")[0] in ("zipfile", "zlib", "lzma", "_lzma", "bz2", "struct") or isinstance(
        error, OSError | EOFError | NotImplementedError | RuntimeError
    ):
        findings.problem(
            Place(name),
            found="a damaged workbook: it cannot be unpacked",
            expected=A_WORKBOOK,
            mend="take your last copy that opens, or ask for the file again",
        )
    else:
        raise error


def _read(book: Book, shop_book: Book | None, findings: Findings, *, shop_unread: bool) -> Job | Refusal:
    try:
        sheets = read_sheets(book, shop_book, findings)
    except Exception as error:
        _tell_unfit(book.name, error, findings)
        return Refusal(book.name, findings.problems_in_order(book.name), findings.remarks_in_order(book.name))
    if shop_unread:  # told already: what would have stood there is not missed one by one
        sheets.meant |= {sheet.name for sheet in SHEETS if sheet.home == "shop"}
    job = _job(sheets)
    problems = findings.problems_in_order(book.name)
    if not problems:
        return job
    readable = job if sheets.has("Job") or sheets.rows("Cabinets") or sheets.rows("Loose parts") else None
    return Refusal(book.name, problems, job.remarks, readable)


def _job(sheets: Sheets) -> Job:
    """The job from every row whose sizes could be read; in a correct workbook these are all rows."""
    checked = check(sheets)
    return Job(
        workbook=sheets.workbook,
        terms=checked.terms,
        cabinets=_records(Cabinet, sheets, "Cabinets", own_lengths=checked.own_lengths),
        loose_parts=_records(LoosePart, sheets, "Loose parts"),
        finishes=_records(Finish, sheets, "Finishes"),
        kinds=_records(Kind, sheets, "Kinds"),
        extras=_records(Extra, sheets, "Extras"),
        options=_records(OptionRow, sheets, "Options"),
        shop=checked.shop,
        boards=_records(Board, sheets, "Boards"),
        edgings=_records(Edging, sheets, "Edgings"),
        adhesives=_records(Adhesive, sheets, "Adhesives"),
        fittings=_records(Fitting, sheets, "Fittings", units=sheets.units("Fittings")),
        work=_records(Step, sheets, "Work"),
        contract=checked.contract,
        contract_prices=_records(ContractPrice, sheets, "Contract prices"),
        machine=next(iter(checked.machines), None),
        more_machines=checked.machines[1:],
        construction=_records(ConstructionRow, sheets, "Construction", units=sheets.units("Construction")),
        offcuts=_records(BoardOffcut, sheets, "Offcuts"),
        roll_ends=_records(RollEnd, sheets, "Roll ends"),
        drying=_records(DryingRow, sheets, "Drying"),
        merchant=_records(MerchantRow, sheets, "Merchant"),
        remarks=sheets.findings.remarks_in_order(sheets.workbook),
    )


def _records(record: Any, sheets: Sheets, name: str, **more: Any) -> tuple[Any, ...]:
    """One record for each row that has its sizes: the fields of the form are the fields of the record.

    What could not be read has told its problem and stands as 1, so that the engine can look at the sizes.
    """
    names = {field.name for field in fields(record)} - more.keys() - {"at"}
    rows = [row for row in sheets.rows(name) if row.has_sizes(name)]
    return tuple(record(**{one: 1 if one in row.bad else row.values[one] for one in names}, **more, at=row.at) for row in rows)
