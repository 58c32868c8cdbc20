"""register.xlsx: the rows in, the bytes of a workbook out: every job, sums by currency and by month as live formulas, what was refused.

pandas lays the rows out as a table, some hundred at a time; XlsxWriter writes each row as it comes. Text from
outside is written as text, never as a formula or a link.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import datetime
from decimal import Decimal
from io import BytesIO
from typing import TYPE_CHECKING, Any

from estimator.model.exact import Fraction
from estimator.model.units import decimal_text, minor_decimals
from estimator.papers.register.figures import METRES, LongUnit, long_unit
from estimator.papers.register.money import Sums, months, totals
from estimator.papers.register.rows import RefusedRow, RegisterRow

if TYPE_CHECKING:
    import pandas
    from xlsxwriter.workbook import Workbook
    from xlsxwriter.worksheet import Worksheet

_LONGEST_CELL = 32_000
_ROW_PT = 15
_AT_ONCE = 200
"""Rows that are held as a table at once."""
_MADE = datetime(2000, 1, 1)
"""A fixed date, so that the same jobs give the same bytes."""

_WORDS = ("text", "date", "name")
"""What stands at the left of its cell; a name takes as many lines as it needs."""
_COLUMNS: tuple[tuple[str, str, int], ...] = (
    ("Client", "name", 26), ("Job", "name", 26), ("Quote number", "name", 12), ("Revision", "text", 9), ("Date", "date", 11),
    ("Month", "text", 9), ("Status", "text", 8), ("Currency", "text", 9), ("Total with tax", "money", 13),
    ("Before tax", "money", 13), ("Cost", "money", 13), ("Left", "money", 13), ("Margin", "share", 9), ("Hours", "number", 9),
    ("Sheets", "count", 8), ("Metres of edges", "number", 10), ("Metres by hand", "number", 10),
    ("Metres sent out", "number", 10), ("Best banding", "name", 30), ("Saves", "money", 13),
    ("Remarks", "count", 9), ("First remark", "text", 60), ("Folder of papers", "text", 26),
)  # fmt: skip


def register_book(rows: Sequence[RegisterRow], refused: Sequence[RefusedRow]) -> bytes:
    """The workbook; the same rows give the same bytes."""
    import pandas

    out = BytesIO()
    plain = {"strings_to_formulas": False, "strings_to_urls": False, "strings_to_numbers": False, "constant_memory": True}
    with pandas.ExcelWriter(out, engine="xlsxwriter", engine_kwargs={"options": plain}) as writer:
        book: Workbook = writer.book
        book.set_properties({"created": _MADE, "title": "Register of jobs"})
        look = _looks(book)
        _jobs_sheet(writer, rows, look)
        unit = long_unit(row.shown_in for row in rows)
        _sums_sheet(book.add_worksheet("Totals"), totals(rows), look, jobs=len(rows), unit=unit)
        _sums_sheet(book.add_worksheet("Months"), months(rows), look, jobs=len(rows), unit=unit)
        _refused_sheet(book.add_worksheet("Refused"), refused, look)
    return out.getvalue()


def jobs_frame(rows: Sequence[RegisterRow], *, unit: LongUnit) -> pandas.DataFrame:
    """One row a job; numbers stay exact decimals until they are written."""
    import pandas

    return pandas.DataFrame([_cells(row, unit) for row in rows], columns=[name for name, _, _ in _COLUMNS], dtype=object)


def _cells(row: RegisterRow, unit: LongUnit) -> list[Any]:
    return [
        row.client, row.job_name or row.name, row.quote_number, row.revision, row.quote_date, row.month, row.status, row.currency,
        _number(row.gross), _number(row.net), _number(row.cost), _number(row.left), _number(row.margin_share),
        _number(row.hours), row.sheets, *(_number(unit.of(run)) for run in (row.metres, row.by_hand_m, row.sent_out_m)),
        row.banding, _number(row.saving), len(row.remarks), row.remarks[0] if row.remarks else "",
        f"{row.name}/{row.revision_folder}",
    ]  # fmt: skip


def _number(value: Fraction | None) -> Decimal | None:
    return None if value is None else Decimal(decimal_text(value))


def _looks(book: Workbook) -> Callable[..., Any]:
    """A cell format by what stands in the cell; each is made once."""
    made: dict[tuple[str, bool, str], Any] = {}
    patterns = {"date": "yyyy-mm-dd", "share": "0.0%", "number": "#,##0.0", "count": "#,##0"}

    def look(what: str, *, currency: str = "EUR", strong: bool = False) -> Any:
        key = (what, strong, currency if what == "money" else "")
        if key not in made:
            decimals = minor_decimals(currency)
            money = "#,##0" + ("." + "0" * decimals if decimals else "")
            pattern = money if what == "money" else patterns.get(what)
            given = _style(what) | ({"num_format": pattern} if pattern else {}) | ({"bold": True} if strong else {})
            made[key] = book.add_format(given)
        return made[key]

    return look


def _style(what: str) -> dict[str, Any]:
    if not what.startswith("head"):
        wrapped = {"text_wrap": True} if what == "name" else {}
        return {"valign": "vcenter"} | wrapped | ({"indent": 1, "align": "left"} if what in _WORDS else {})
    at = {"align": "left", "indent": 1} if what == "head" else {"align": "right"}
    return {"text_wrap": True, "bottom": 1, "valign": "bottom", "bold": True} | at


def _jobs_sheet(writer: pandas.ExcelWriter, rows: Sequence[RegisterRow], look: Callable[..., Any]) -> None:
    unit = long_unit(row.shown_in for row in rows)
    jobs_frame((), unit=unit).to_excel(writer, sheet_name="Jobs", index=False)
    sheet: Worksheet = writer.sheets["Jobs"]
    for at, (name, what, width) in enumerate(_COLUMNS):
        sheet.set_column(at, at, width)
        sheet.write_string(0, at, _in_unit(name, unit), look("head" if what in _WORDS else "head of numbers"))
    for first in range(0, len(rows), _AT_ONCE):
        some = rows[first : first + _AT_ONCE]
        told = jobs_frame(some, unit=unit).itertuples(index=False, name=None)
        for number, (row, cells) in enumerate(zip(some, told, strict=True), start=first + 1):
            sheet.set_row(number, _ROW_PT * _lines(cells))
            for at, ((_, what, _), value) in enumerate(zip(_COLUMNS, cells, strict=True)):
                _write(sheet, number, at, value, look(what, currency=row.currency))
    sheet.freeze_panes(1, 2)
    sheet.autofilter(0, 0, max(len(rows), 1), len(_COLUMNS) - 1)
    sheet.print_area(0, 0, max(len(rows), 1), len(_COLUMNS) - 3)  # the last two are for the screen
    _page(sheet)


def _in_unit(head: str, unit: LongUnit) -> str:
    """A heading in the unit of the register."""
    return head.replace(METRES.name, unit.name)


def _lines(cells: Sequence[Any]) -> int:
    """How many lines the longest name of a row takes; rows of one line stay as low as ever."""
    names = [(str(value), width) for (_, what, width), value in zip(_COLUMNS, cells, strict=True) if what == "name"]
    return max(1, *(-(-len(name) // (width - 2)) for name, width in names))


def _page(sheet: Worksheet) -> None:
    sheet.set_landscape()
    sheet.fit_to_pages(1, 0)
    sheet.repeat_rows(0)


def _write(sheet: Worksheet, row: int, column: int, value: Any, look: Any) -> None:
    if value is None:
        return
    if isinstance(value, str):
        sheet.write_string(row, column, value[:_LONGEST_CELL], look)
    elif isinstance(value, (Decimal, int)):
        sheet.write_number(row, column, value, look)
    else:
        sheet.write_datetime(row, column, value, look)


_SUMS: tuple[tuple[str, str, str, Callable[[Sums], Fraction | int | None]], ...] = (
    ("Jobs", "count", "", lambda sums: sums.jobs),
    ("Won", "count", "", lambda sums: sums.won),
    ("Total with tax", "money", "Total with tax", lambda sums: sums.gross),
    ("Won, with tax", "money", "", lambda sums: sums.won_gross),
    ("Before tax", "money", "Before tax", lambda sums: sums.net),
    ("Cost", "money", "Cost", lambda sums: sums.cost),
    ("Left", "money", "Left", lambda sums: sums.left),
    ("Margin", "share", "", lambda sums: sums.margin_share),
    ("Hours", "number", "Hours", lambda sums: sums.hours),
    ("Sheets", "count", "Sheets", lambda sums: sums.sheets),
    ("Metres of edges", "number", "Metres of edges", lambda sums: sums.metres),
    ("Metres by hand", "number", "Metres by hand", lambda sums: sums.by_hand_m),
    ("Metres sent out", "number", "Metres sent out", lambda sums: sums.sent_out_m),
)


def _sums_sheet(sheet: Worksheet, sums: Sequence[Sums], look: Callable[..., Any], *, jobs: int, unit: LongUnit) -> None:
    """Sums that follow the sheet Jobs: change a status or a figure there, and they change."""
    by_month = sheet.get_name() == "Months"
    keys = ["Currency", "Month"] if by_month else ["Currency"]
    for at, name in enumerate([*keys, *(head for head, _, _, _ in _SUMS)]):
        sheet.set_column(at, at, 13)
        sheet.write_string(0, at, _in_unit(name, unit), look("head" if at < len(keys) else "head of numbers"))
    for number, one in enumerate(sums, start=1):
        for at, key in enumerate((one.currency, one.month)[: len(keys)]):
            sheet.write_string(number, at, key, look("text"))
        tests = [("Currency", f"$A{number + 1}"), *([("Month", f"$B{number + 1}")] if by_month else [])]
        place = {head: f"${chr(65 + len(keys) + at)}{number + 1}" for at, (head, _, _, _) in enumerate(_SUMS)}
        for at, (head, what, column, figure) in enumerate(_SUMS, start=len(keys)):
            value = figure(one)
            if value is not None and head.startswith(METRES.name):
                value = unit.of(Fraction(value))
            if value is not None:
                formula = _formula(head, column, tests, place=place, jobs=jobs)
                sheet.write_formula(number, at, formula, look(what, currency=one.currency), Decimal(decimal_text(value)))
    sheet.freeze_panes(1, len(keys))
    _page(sheet)


def _formula(head: str, column: str, tests: Sequence[tuple[str, str]], *, place: Mapping[str, str], jobs: int) -> str:
    won = [*tests, ("Status", '"won"')]
    if head == "Margin":
        return f"=IF({place['Before tax']}=0,0,{place['Left']}/{place['Before tax']})"
    if head in ("Jobs", "Won"):
        return f"=COUNTIFS({_matching(won if head == 'Won' else tests, jobs)})"
    if head == "Won, with tax":
        return f"=SUMIFS({_span('Total with tax', jobs)},{_matching(won, jobs)})"
    return f"=SUMIFS({_span(column, jobs)},{_matching(tests, jobs)})"


def _matching(tests: Sequence[tuple[str, str]], jobs: int) -> str:
    return ",".join(f"{_span(name, jobs)},{test}" for name, test in tests)


def _span(name: str, jobs: int) -> str:
    letter = chr(65 + [head for head, _, _ in _COLUMNS].index(name))
    return f"Jobs!${letter}$2:${letter}${max(jobs, 1) + 1}"


def _refused_sheet(sheet: Worksheet, refused: Sequence[RefusedRow], look: Callable[..., Any]) -> None:
    heads = (("Workbook", 40), ("Problems", 10), ("The first of them", 90), ("Earlier papers in", 30))
    for at, (name, width) in enumerate(heads):
        sheet.set_column(at, at, width)
        sheet.write_string(0, at, name, look("head"))
    for number, one in enumerate(refused, start=1):
        for at, value in enumerate((one.workbook, one.problems, one.why, one.earlier)):
            _write(sheet, number, at, value, look("text" if isinstance(value, str) else "count"))
    sheet.freeze_panes(1, 1)
    _page(sheet)
