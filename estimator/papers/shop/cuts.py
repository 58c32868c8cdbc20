"""The cuts of a sheet in words: cuts in the order of the saw go in; a numbered list beside which one can work comes out."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from estimator.model.cutting_plan import Cut
from estimator.model.exact import Fraction
from estimator.papers.page.fonts import TEXT, open_fonts
from estimator.papers.page.look import HAIR_PT, LINE_PT, SMALL_PT, black, grey, hair
from estimator.papers.shop.paper import ShopPaper

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable

_ROW_PT = 9.4
_HEAD_PT = 12.0


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


def cuts_beside(paper: ShopPaper, cuts: Sequence[Cut], *, width_pt: float, height_pt: float) -> list[Flowable]:
    """The list in columns as wide as said, each no higher than said: the first stands beside the drawing."""
    rows = cut_rows(paper, cuts)
    most = max(int((height_pt - _HEAD_PT) / _ROW_PT), 1)
    return [_column(rows[at : at + most], width_pt=width_pt) for at in range(0, len(rows), most)]


def _column(rows: Sequence[tuple[str, str, str, str]], *, width_pt: float) -> Flowable:
    """A plain table in the small letters of drawings; its cells are figures and fixed words only."""
    from reportlab.platypus import Table

    open_fonts()
    widths = [0.08 * width_pt, 0.2 * width_pt, 0.24 * width_pt, 0.48 * width_pt]
    style = [
        ("FONT", (0, 0), (-1, -1), TEXT, SMALL_PT, _ROW_PT),
        ("TEXTCOLOR", (0, 0), (-1, -1), black()),
        ("TEXTCOLOR", (0, 0), (-1, 0), grey()),
        ("ALIGN", (0, 0), (0, -1), "RIGHT"),
        ("ALIGN", (2, 0), (-1, -1), "RIGHT"),
        *((f"{side}PADDING", (0, 0), (-1, -1), 0) for side in ("LEFT", "RIGHT", "TOP", "BOTTOM")),
        ("LEFTPADDING", (1, 0), (1, -1), 5),
        ("LINEBELOW", (0, 0), (-1, 0), LINE_PT, black()),
        ("LINEBELOW", (0, 1), (-1, -1), HAIR_PT, hair()),
    ]
    cells = [("Cut", "How", "Set to", "Piece in hand"), *rows]
    return Table(cells, colWidths=widths, rowHeights=[_HEAD_PT, *([_ROW_PT] * len(rows))], style=style, hAlign="LEFT")
