"""Tables: columns and rows of plain text go in; a table that may run over pages comes out.

The heading is repeated on every page and never stands alone, numbers stand under each other at their decimal point, a row is
split only when it is taller than a page, and the rows of a total stay with the row above them. Short plain words are drawn
straight; only what wraps, or needs letters that the text font lacks, becomes a paragraph: that keeps long lists fast.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Literal

from estimator.model.dataclass import dataclass
from estimator.papers.page.fonts import STRONG, TEXT, is_plain, markup, text_width_pt
from estimator.papers.page.look import (
    HAIR_PT,
    LEADING_PT,
    LINE_PT,
    PT_PER_MM,
    SMALL_PT,
    TEXT_PT,
    Look,
    StyleName,
    accent_colour,
    black,
    grey,
    hair,
    style,
)

if TYPE_CHECKING:
    from reportlab.platypus import Table
    from reportlab.platypus.flowables import Flowable

_PAD_PT = 4.0
_ROW_PAD_PT = 3.0
_LONG_CELL = 1000


@dataclass(frozen=True, slots=True)
class Column:
    """One column: its heading, its width in mm (None: a share of what is left), and where its cells stand.

    `decimal` puts numbers under each other at their decimal point, whatever decimals each has.
    """

    heading: str
    width_mm: float | None = None
    align: Literal["left", "right", "centre", "decimal"] = "left"
    share: float = 1


def table(
    columns: Sequence[Column],
    rows: Sequence[Sequence[str | Flowable]],
    *,
    look: Look,
    width_pt: float | None = None,
    totals: int = 0,
    strong_rows: Sequence[int] = (),
    decimal_mark: str = ".",
    ruled: bool = True,
    heading: bool = True,
) -> Table:
    """A table. The last `totals` rows are its total: a line above, the very last one strong, all on the page of the row above.

    Cells are plain text (made harmless here), a `markupsafe.Markup`, or any flowable. `strong_rows` counts from 0.
    """
    from reportlab.platypus import Table

    widths_pt = _widths_pt(columns, width_pt=look.width_pt if width_pt is None else width_pt)
    first = 1 if heading else 0
    strong = {row % len(rows) for row in strong_rows} | ({len(rows) - 1} if totals else set())
    body = [
        [
            _cell(cell, column=column, width_pt=width, look=look, strong=number in strong)
            for cell, column, width in zip(row, columns, widths_pt, strict=True)
        ]
        for number, row in enumerate(rows)
    ]
    top = [[_head(column, width_pt=width, look=look) for column, width in zip(columns, widths_pt, strict=True)]]
    commands = [
        *_everywhere(columns, look),
        *(_head_rules(look) if heading else ()),
        *_row_rules(first=first, rows=len(rows), totals=totals, strong=strong, look=look, ruled=ruled),
        *_decimals(columns, rows, first=first, strong=strong, mark=decimal_mark),
        *_kept_together(rows, first=first, totals=totals),
    ]
    return Table(
        (top if heading else []) + body, colWidths=widths_pt, style=commands, repeatRows=first, splitInRow=1, hAlign="LEFT"
    )


def _widths_pt(columns: Sequence[Column], *, width_pt: float) -> list[float]:
    given = sum(column.width_mm or 0 for column in columns) * PT_PER_MM
    shares = sum(column.share for column in columns if column.width_mm is None)
    return [
        column.width_mm * PT_PER_MM if column.width_mm is not None else (width_pt - given) * column.share / shares
        for column in columns
    ]


def _cell(cell: str | Flowable, *, column: Column, width_pt: float, look: Look, strong: bool) -> str | Flowable:
    if not isinstance(cell, str):
        return cell
    room_pt = width_pt - 2 * _PAD_PT
    is_markup = hasattr(cell, "__html__")
    if not is_markup and is_plain(cell) and text_width_pt(cell, size_pt=TEXT_PT, strong=strong) <= room_pt:
        return str(cell)
    name: StyleName = "strong" if strong else "right" if column.align in ("right", "decimal") else "text"
    return _paragraph(cell, name=name, look=look)


def _head(column: Column, *, width_pt: float, look: Look) -> str | Flowable:
    fits = text_width_pt(column.heading, size_pt=SMALL_PT) <= width_pt - 2 * _PAD_PT
    if fits and is_plain(column.heading):
        return column.heading
    return _paragraph(column.heading, name="small right" if column.align in ("right", "decimal") else "small", look=look)


def _paragraph(text: str, *, name: StyleName, look: Look) -> Flowable:
    from reportlab.platypus import Paragraph

    return Paragraph(markup(text), style(name, look))


Command = tuple[object, ...]


def _everywhere(columns: Sequence[Column], look: Look) -> list[Command]:
    words = {"left": "LEFT", "right": "RIGHT", "centre": "CENTRE", "decimal": "RIGHT"}
    style("text", look)  # opens the fonts
    return [
        ("FONT", (0, 0), (-1, -1), TEXT, TEXT_PT, LEADING_PT),
        ("TEXTCOLOR", (0, 0), (-1, -1), black()),
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("LEFTPADDING", (0, 0), (-1, -1), _PAD_PT),
        ("RIGHTPADDING", (0, 0), (-1, -1), _PAD_PT),
        ("LEFTPADDING", (0, 0), (0, -1), 0),
        ("RIGHTPADDING", (-1, 0), (-1, -1), 0),
        ("TOPPADDING", (0, 0), (-1, -1), _ROW_PAD_PT),
        ("BOTTOMPADDING", (0, 0), (-1, -1), _ROW_PAD_PT),
        *(("ALIGN", (at, 0), (at, -1), words[column.align]) for at, column in enumerate(columns)),
    ]


def _head_rules(look: Look) -> list[Command]:
    return [
        ("FONT", (0, 0), (-1, 0), TEXT, SMALL_PT, 10),
        ("TEXTCOLOR", (0, 0), (-1, 0), grey()),
        ("VALIGN", (0, 0), (-1, 0), "BOTTOM"),
        ("LINEBELOW", (0, 0), (-1, 0), LINE_PT, accent_colour(look)),
    ]


def _row_rules(*, first: int, rows: int, totals: int, strong: set[int], look: Look, ruled: bool) -> list[Command]:
    """Hair lines between rows, none among the rows of a total but the line above its last."""
    commands: list[Command] = [("FONT", (0, first + row), (-1, first + row), STRONG, TEXT_PT, LEADING_PT) for row in strong]
    plain = rows - totals
    if ruled and plain > 0:
        commands.append(("LINEBELOW", (0, first), (-1, first + plain - 1), HAIR_PT, hair()))
    if totals:
        last = first + rows - 1
        commands.append(("LINEABOVE", (0, last), (-1, last), LINE_PT, accent_colour(look)))
        commands.append(("TEXTCOLOR", (0, last), (-1, last), accent_colour(look, as_text=True)))
    return commands


def _kept_together(rows: Sequence[Sequence[str | Flowable]], *, first: int, totals: int) -> list[Command]:
    """A total with the row above it, unless that row may be taller than a page. (A heading is never split from its first row.)"""
    if not totals:
        return []
    start = max(len(rows) - totals - 1, 0)
    if any(isinstance(cell, str) and len(cell) > _LONG_CELL for cell in rows[start]):
        start += 1
    return [("NOSPLIT", (0, first + start), (-1, first + len(rows) - 1))]


def _decimals(
    columns: Sequence[Column], rows: Sequence[Sequence[str | Flowable]], *, first: int, strong: set[int], mark: str
) -> list[Command]:
    """Padding that brings the decimal points of a column under each other."""
    commands: list[Command] = []
    for at, column in enumerate(columns):
        if column.align != "decimal":
            continue
        own = 0.0 if at == len(columns) - 1 else _PAD_PT
        tails = {
            number: text_width_pt(tail, size_pt=TEXT_PT, strong=number in strong)
            for number, row in enumerate(rows)
            if isinstance(cell := row[at], str) and (tail := _tail(cell, mark=mark)) is not None
        }
        widest = max(tails.values(), default=0.0)
        commands += [
            ("RIGHTPADDING", (at, first + number), (at, first + number), own + widest - tail_pt)
            for number, tail_pt in tails.items()
            if tail_pt < widest
        ]
    return commands


def _tail(cell: str, *, mark: str) -> str | None:
    """What stands from the decimal point on; None where the cell is no number."""
    if not any(letter.isdigit() for letter in cell):
        return None
    _, point, tail = cell.rpartition(mark)
    return point + tail if point else ""
