"""The cuts of a sheet in words: cuts in the order of the saw go in; a numbered list beside which one can work comes out."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import TYPE_CHECKING

from estimator.model.cutting_plan import Cut
from estimator.papers.page.look import PT_PER_MM, SMALL_PT
from estimator.papers.page.tables import Column, table
from estimator.papers.shop.paper import ShopPaper

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable

_BETWEEN_PT = 14.0
_SHORT = 6
"""So few cuts stand in one column."""


def set_to_mm(cut: Cut) -> Fraction:
    """How wide a strip, or how long a piece, the cut takes: from the near edge of the piece in hand to the saw."""
    return cut.at_mm - (cut.y_mm if cut.direction == "rip" else cut.x_mm)


def cut_rows(paper: ShopPaper, cuts: Sequence[Cut]) -> list[tuple[str, str, str, str]]:
    """Number, what is done, what the fence is set to, and the piece in hand."""
    return [
        (
            str(number),
            "rip" if cut.direction == "rip" else "cross cut",
            paper.language.length(set_to_mm(cut)),
            paper.language.sizes(cut.length_mm, cut.width_mm),
        )
        for number, cut in enumerate(cuts, start=1)
    ]


def cuts_table(paper: ShopPaper, cuts: Sequence[Cut]) -> list[Flowable]:
    """The list, in two columns side by side where it is longer."""
    from reportlab.platypus import Table

    rows = cut_rows(paper, cuts)
    if not rows:
        return []
    width_pt = (paper.look.width_pt - _BETWEEN_PT) / 2
    half = len(rows) if len(rows) <= _SHORT else -(-len(rows) // 2)
    halves = [_one(paper, part, width_pt=width_pt) for part in (rows[:half], rows[half:]) if part]
    widths = [width_pt + _BETWEEN_PT, width_pt]
    plain = [("VALIGN", (0, 0), (-1, -1), "TOP"), *((f"{side}PADDING", (0, 0), (-1, -1), 0) for side in ("LEFT", "RIGHT", "TOP", "BOTTOM"))]
    return [Table([[*halves, *([""] * (2 - len(halves)))]], colWidths=widths, style=plain, hAlign="LEFT", splitInRow=1)]


def _one(paper: ShopPaper, rows: Sequence[tuple[str, str, str, str]], *, width_pt: float) -> Flowable:
    from reportlab.platypus import TableStyle

    columns = [
        Column("Cut", width_mm=8, align="right"),
        Column("How", width_mm=18),
        Column("Set to", width_mm=18, align="right"),
        Column("Piece in hand", align="right"),
    ]
    made = table(columns, rows, look=paper.look, width_pt=width_pt)
    small = [("FONTSIZE", (0, 0), (-1, -1), SMALL_PT), ("LEADING", (0, 0), (-1, -1), 9), ("TOPPADDING", (0, 0), (-1, -1), 0.4)]
    made.setStyle(TableStyle([*small, ("BOTTOMPADDING", (0, 0), (-1, -1), 0.3 * PT_PER_MM)]))
    return made
