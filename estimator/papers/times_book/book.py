"""What a folder of finished jobs taught, in; the bytes of times.xlsx out: new times, real beside estimated, the whole log, a Work sheet.

The Work sheet stands in the form's own columns, so that it can be read, printed or copied into the shop's book.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from io import BytesIO
from typing import Any

from estimator.model.exact import Fraction
from estimator.model.form import WORK
from estimator.model.shop_records import Step
from estimator.model.times import Compared, Learned
from estimator.model.units import M_PER_FOOT, decimal_text, minor_decimals
from estimator.papers.form_book.pen import DARK, QUIET, Pen
from estimator.papers.form_book.row_sheet import draw_rows
from estimator.papers.times_book.said import material_words, time_words

_CREATED = datetime(2031, 1, 1)
_MINUTES, _SHARE, _COUNT, _CELL = "#,##0.00", "0.0%", "General", "0.0000"
_TWO_LINES_PT = 32.0
"""High enough for a heading that takes two lines."""
_HEAD = {"bottom": 2, "bottom_color": DARK, "font_color": DARK, "text_wrap": True, "valign": "bottom"}
Value = str | Fraction | int | datetime | None
_Page = tuple[str, str, Sequence[tuple[str, float, str]], list[list[Value]]]
"""Name; what it is; columns with width and number format; rows."""


def times_book(learned: Learned, work: Sequence[Step], *, units: str) -> bytes:
    """The workbook; the same answer gives the same bytes. `work` is the sheet Work as it would stand with the new times."""
    import xlsxwriter

    stream = BytesIO()
    book = xlsxwriter.Workbook(stream, {"in_memory": True})
    book.set_properties({"created": _CREATED})
    pen = Pen(book, units, "", frozenset({"Work"}), {})
    for page in (_times(learned), _by_step(learned), _by_job(learned)):
        _draw(pen, page)
    for page in (_log(learned, units=units), _material(learned, units=units), _quotes(learned)):
        _draw(pen, page)
    sheet = book.add_worksheet("Work")
    sheet.fit_to_pages(1, 0)
    draw_rows(pen, sheet, WORK, [_work_row(step) for step in work])
    book.close()
    return stream.getvalue()


def _draw(pen: Pen, page: _Page) -> None:
    name, what, columns, rows = page
    sheet = pen.book.add_worksheet(name)
    sheet.set_landscape()
    sheet.fit_to_pages(1, 0)
    sheet.freeze_panes(3, 1)
    sheet.write_string(0, 0, name, pen.ink(bold=True, font_size=14, font_color=DARK))
    sheet.write_string(1, 0, what, pen.ink(font_color=QUIET))
    sheet.set_row(2, _TWO_LINES_PT)
    for x, (head, width, shown) in enumerate(columns):
        sheet.set_column(x, x, width)
        side = {"align": "right"} if shown else {"indent": int(x > 0)}
        sheet.write_string(2, x, head, pen.ink(bold=True, **_HEAD, **side))
    for y, row in enumerate(rows, start=3):
        for x, (value, (_, _, shown)) in enumerate(zip(row, columns, strict=True)):
            _cell(pen, sheet, y, x, value, shown)


def _cell(pen: Pen, sheet: Any, y: int, x: int, value: Value, shown: str) -> None:
    match value:
        case None | "":
            return
        case str():
            sheet.write_string(y, x, value, pen.ink(indent=int(x > 0)))
        case datetime():
            sheet.write_datetime(y, x, value, pen.ink(num_format="yyyy-mm-dd", align="left"))
        case _:
            sheet.write_number(y, x, float(decimal_text(value)), pen.ink(num_format=shown, align="right"))


def _times(learned: Learned) -> _Page:
    columns = [
        ("Step", 30.0, ""), ("Stage", 12.0, ""), ("Per", 10.0, ""), ("Of", 16.0, ""), ("Rows", 7.0, "0"), ("Left aside", 8.0, "0"),
        ("Standard now", 11.0, _MINUTES), ("As logged", 11.0, _MINUTES), ("From", 9.0, _MINUTES), ("To", 9.0, _MINUTES),
        ("Within", 9.0, _SHARE), ("Minutes now", 10.0, _CELL), ("New Minutes", 10.0, _CELL), ("New Low", 10.0, _CELL),
        ("New High", 10.0, _CELL), ("In words", 70.0, ""),
    ]  # fmt: skip
    rows: list[list[Value]] = [
        [
            time.step.step, time.step.stage, time.step.per, time.step.of, time.rows, time.wild, time.now_min, time.standard_min,
            time.from_min, time.to_min, time.within_share, time.step.minutes, time.minutes, time.low_min, time.high_min,
            time_words(time),
        ]
        for time in learned.times
    ]  # fmt: skip
    what = (
        "Standard minutes of one, and the 90 % interval From - To. New Minutes are without rating and allowance, as Work has them: "
        "standard / (rating / 100 x (1 + allowance)). Low and High lie three deviations of a logged row away."
    )
    return "New times", what, columns, rows


def _compared_rows(all_of: Sequence[Compared]) -> list[list[Value]]:
    return [
        [one.name, one.rows, one.estimated_min, one.real_min, one.real_min / one.estimated_min if one.estimated_min else None]
        for one in all_of
    ]


_COMPARED = (
    ("Rows", 8.0, "0"), ("Estimated minutes", 12.0, _MINUTES), ("Real minutes", 12.0, _MINUTES), ("Real / estimated", 12.0, _SHARE),
)  # fmt: skip


def _by_step(learned: Learned) -> _Page:
    rows = _compared_rows(learned.by_stage)
    rows.append([None] * 5)
    rows += _compared_rows(learned.by_step)
    what = "For the same counts; first by stage, then by step as it was logged."
    return "Real and estimated", what, (("What", 60.0, ""), *_COMPARED), rows


def _by_job(learned: Learned) -> _Page:
    rows = [[*row, one.whole_min] for row, one in zip(_compared_rows(learned.by_job), learned.by_job, strict=True)]
    what = "Of what was logged; the whole estimate beside it shows how much of the job was logged at all."
    return "By job", what, (("Job", 32.0, ""), *_COMPARED, ("Whole estimate", 12.0, _MINUTES)), rows


def _log(learned: Learned, *, units: str) -> _Page:
    rows: list[list[Value]] = [
        [
            datetime.combine(one.date, datetime.min.time()), one.job, one.name,
            " + ".join(decimal_text(count.count, places=3) for count in one.steps), one.real_min, one.estimated_min,
            one.real_min / one.estimated_min if one.estimated_min else None, "left aside: too far from the others" if one.wild else "",
            str(one.at.place("Step")), one.note,
        ]
        for one in learned.observed
    ]  # fmt: skip
    columns = (
        ("Date", 11.0, ""), ("Job", 26.0, ""), ("Step", 44.0, ""), ("Count", 18.0, ""), ("Real minutes", 10.0, _MINUTES),
        ("Estimated minutes", 10.0, _MINUTES), ("Real / estimated", 10.0, _SHARE), ("In the fit", 30.0, ""), ("Cell", 34.0, ""),
        ("Note", 40.0, ""),
    )  # fmt: skip
    metric = " What Work counts by the metre or the m2 is counted so here too: a metre is 3.28 feet." if units == "inch" else ""
    return "The whole log", f"Every row that was read; none is dropped in silence.{metric}", columns, rows


def _material(learned: Learned, *, units: str) -> _Page:
    size, name = (M_PER_FOOT, "feet") if units == "inch" else (Fraction(1), "metres")
    of_one = {"board": Fraction(1), "edging": size}
    rows: list[list[Value]] = [
        [
            one.name, "Expected yield" if one.kind == "board" else "Spare", one.jobs, one.planned / of_one[one.kind],
            one.used / of_one[one.kind], one.now_share, one.share, one.from_share, one.to_share, material_words(one),
        ]
        for one in learned.material
    ]  # fmt: skip
    columns = (
        ("What", 26.0, ""), ("Column", 15.0, ""), ("Jobs", 7.0, "0"), ("Planned", 10.0, _COUNT), ("Used", 10.0, _COUNT),
        ("Now", 9.0, _SHARE), ("As used", 9.0, _SHARE), ("From", 9.0, _SHARE), ("To", 9.0, _SHARE), ("In words", 80.0, ""),
    )  # fmt: skip
    return "Material", f"Sheets, and {name} of strip, planned and really used. Nothing of this is written by itself.", columns, rows


def _quotes(learned: Learned) -> _Page:
    currency = next((one.currency for one in learned.quotes), "")
    money = f"#,##0.{'0' * minor_decimals(currency)}".rstrip(".")
    rows: list[list[Value]] = [
        [one.job, one.currency, one.minutes / 60, one.new_minutes / 60, one.cost, one.new_cost, one.net, one.new_net, one.new_net - one.net]
        for one in learned.quotes
    ]
    columns = (
        ("Job", 32.0, ""), ("Currency", 11.0, ""), ("Hours", 10.0, "0.0"), ("With new times", 10.0, "0.0"), ("Cost", 12.0, money),
        ("With new times", 12.0, money), ("Net price", 12.0, money), ("With new times", 12.0, money), ("Difference", 12.0, money),
    )  # fmt: skip
    return "Quotes again", "Each job with today's prices, once with the times of today and once with the new ones.", columns, rows


def _work_row(step: Step) -> dict[str, str]:
    """A row of Work as a person would type it."""

    def number(value: Fraction | None) -> str:
        return "" if value is None else decimal_text(value, places=6)

    return {
        "Step": step.step,
        "Stage": step.stage,
        "Route": step.route,
        "Per": step.per,
        "Of": step.of,
        "Minutes": number(step.minutes),
        "Rating": "" if step.rating == 100 else number(step.rating),
        "Allowance": "" if step.allowance_share is None else f"{decimal_text(step.allowance_share * 100, places=6)} %",
        "Low": number(step.low_min),
        "High": number(step.high_min),
        "During": step.during,
        "Timed": "yes" if step.timed else "no",
    }

