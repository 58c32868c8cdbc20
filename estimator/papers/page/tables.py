"""Tables: columns and rows of plain text go in; a table that may run over pages comes out.

The heading is repeated on every page and never stands alone, numbers stand under each other at their decimal point, a row is
split only when it is taller than a page, and the rows of a total stay with the row above them. Plain words are broken and drawn
straight; only markup becomes a paragraph of reportlab's: that keeps long lists fast.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Literal

from reportlab.platypus import Paragraph

from estimator.model.dataclass import dataclass
from estimator.papers.page.fonts import Align, markup, text_width_pt
from estimator.papers.page.look import (
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
from estimator.papers.page.rows import PAD_PT, Cell, Line, Rows, inner_widths_pt
from estimator.papers.page.words import broken_lines

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable


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
    least_row_pt: float = 0,
) -> Rows:
    """A table. The last `totals` rows are its total: a line above, the very last one strong, all on the page of the row above.

    Cells are plain text (made harmless here), a `markupsafe.Markup`, or any flowable. `strong_rows` counts from 0.
    Rows are at least `least_row_pt` high: what is written in by hand needs room.
    """
    widths_pt = _widths_pt(columns, width_pt=look.width_pt if width_pt is None else width_pt)
    rooms_pt = inner_widths_pt(widths_pt)
    strong = {row % len(rows) for row in strong_rows} | ({len(rows) - 1} if totals else set())
    pads = [
        _decimal_pads(rows, at, strong=strong, mark=decimal_mark) if column.align == "decimal" else {}
        for at, column in enumerate(columns)
    ]
    body = []
    for number, row in enumerate(rows):
        cells = [
            _cell(cell, column=column, room_pt=room, look=look, strong=number in strong, pad_pt=pad.get(number, 0))
            for cell, column, room, pad in zip(row, columns, rooms_pt, pads, strict=True)
        ]
        below = hair() if ruled and number < len(rows) - totals else None
        if totals and number == len(rows) - 1:
            body.append(Line(cells, above=accent_colour(look), below=below, ink=accent_colour(look, as_text=True)))
        else:
            body.append(Line(cells, below=below, ink=black()))
    return Rows(
        head=_head(columns, rooms_pt, look) if heading else None,
        lines=body,
        kept=totals + 1 if totals else 0,
        columns_pt=widths_pt,
        least_row_pt=least_row_pt,
        page_height_pt=min(look.height_pt, look.page_width_pt - look.top_pt - look.foot_pt),
    )


def fitting_mm(cells: Iterable[str], *, least_mm: float) -> float:
    """How wide a column is in which the longest of the cells stands in one line; the rest of the table has what is left."""
    widest_pt = max((text_width_pt(cell, size_pt=TEXT_PT) for cell in cells), default=0.0)
    return max(least_mm, (widest_pt + 2 * PAD_PT + 0.5) / PT_PER_MM)


def _widths_pt(columns: Sequence[Column], *, width_pt: float) -> list[float]:
    given = sum(column.width_mm or 0 for column in columns) * PT_PER_MM
    shares = sum(column.share for column in columns if column.width_mm is None)
    return [
        column.width_mm * PT_PER_MM if column.width_mm is not None else (width_pt - given) * column.share / shares
        for column in columns
    ]


def _cell(
    cell: str | Flowable | Sequence[Flowable], *, column: Column, room_pt: float, look: Look, strong: bool, pad_pt: float
) -> Cell:
    align: Align = "right" if column.align == "decimal" else column.align
    if not isinstance(cell, str):
        return Cell((), flowables=tuple(cell) if isinstance(cell, Sequence) else (cell,), align=align)
    if hasattr(cell, "__html__"):
        name: StyleName = "strong" if strong else "right" if align == "right" else "text"
        return Cell((), flowables=(Paragraph(markup(cell), style(name, look)),))
    lines = broken_lines(cell, width_pt=room_pt - pad_pt, size_pt=TEXT_PT, strong=strong) if cell else ()
    return Cell(lines, align=align, strong=strong, pad_pt=pad_pt)


def _head(columns: Sequence[Column], rooms_pt: Sequence[float], look: Look) -> Line:
    cells = [
        Cell(
            broken_lines(column.heading, width_pt=room, size_pt=SMALL_PT),
            align="right" if column.align == "decimal" else column.align, size_pt=SMALL_PT, leading_pt=10,
        )
        for column, room in zip(columns, rooms_pt, strict=True)
    ]  # fmt: skip
    return Line(cells, below=accent_colour(look), below_pt=LINE_PT, ink=grey(), at_foot=True)


def _decimal_pads(
    rows: Sequence[Sequence[str | Flowable]], at: int, *, strong: set[int], mark: str
) -> dict[int, float]:
    """Padding that brings the decimal points of a column under each other, by row."""
    tails = {
        number: text_width_pt(tail, size_pt=TEXT_PT, strong=number in strong)
        for number, row in enumerate(rows)
        if isinstance(cell := row[at], str) and (tail := _tail(cell, mark=mark)) is not None
    }
    widest = max(tails.values(), default=0.0)
    return {number: widest - tail_pt for number, tail_pt in tails.items()}


def _tail(cell: str, *, mark: str) -> str | None:
    """What stands from the decimal point on; None where the cell is no number."""
    if not any(letter.isdigit() for letter in cell):
        return None
    _, point, tail = cell.rpartition(mark)
    return point + tail if point else ""
