"""The cuts of a sheet in words: cuts in the order of the saw go in; a numbered list beside which one can work comes out."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from reportlab.platypus.flowables import Flowable

from estimator.model.cutting_plan import Cut
from estimator.model.exact import Fraction
from estimator.papers.page.fonts import draw_text
from estimator.papers.page.look import HAIR_PT, LINE_PT, SMALL_PT, black, grey, hair
from estimator.papers.shop.paper import ShopPaper

if TYPE_CHECKING:
    from reportlab.lib.colors import Color
    from reportlab.pdfgen.canvas import Canvas

_ROW_PT, _TIGHT_ROW_PT = 9.4, 8.2
"""A row's height, and what it may shrink to where the list then needs no second column."""
_HEAD_PT = 12.0
_HEADINGS = ("cut number", "how it is cut", "set to", "piece in hand")
_ENDS = (0.08, 0.28, 0.52, 1.0)
"""Where the columns end, as shares of the width."""
_AFTER_NUMBER_PT = 5.0


def set_to_mm(cut: Cut) -> Fraction:
    """How wide a strip, or how long a piece, the cut takes: from the near edge of the piece in hand to the saw."""
    return cut.at_mm - (cut.y_mm if cut.direction == "rip" else cut.x_mm)


def cut_rows(paper: ShopPaper, cuts: Sequence[Cut]) -> list[tuple[str, str, str, str]]:
    """Number, what is done, what the fence is set to, and the piece in hand."""
    return [
        (
            str(number),
            paper.say("rip" if cut.direction == "rip" else "cross cut"),
            paper.language.length(set_to_mm(cut)),
            paper.language.sizes(cut.length_mm, cut.width_mm),
        )
        for number, cut in enumerate(cuts, start=1)
    ]


def list_height_pt(rows: int) -> float:
    """How high a list of so many cuts stands."""
    return _HEAD_PT + rows * _ROW_PT


def cuts_in_columns(paper: ShopPaper, cuts: Sequence[Cut], *, width_pt: float, height_pt: float) -> list[Flowable]:
    """The list in columns as wide as said, each no higher than said."""
    rows, heads = cut_rows(paper, cuts), tuple(paper.say(name) for name in _HEADINGS)
    fitting_pt = (height_pt - _HEAD_PT) / max(len(rows), 1)
    row_pt = fitting_pt if _TIGHT_ROW_PT <= fitting_pt < _ROW_PT else _ROW_PT
    most = len(rows) if row_pt < _ROW_PT else max(int((height_pt - _HEAD_PT) / _ROW_PT + 0.01), 1)
    return [CutsList(rows[at : at + most], heads=heads, width_pt=width_pt, row_pt=row_pt) for at in range(0, len(rows), most)]


class CutsList(Flowable):  # type: ignore[misc]  # reportlab has no types
    """The list in the small letters of drawings, its head grey."""

    def __init__(self, rows: Sequence[tuple[str, str, str, str]], *, heads: Sequence[str], width_pt: float, row_pt: float) -> None:
        super().__init__()
        self.rows, self.heads, self.row_pt = rows, heads, row_pt
        self.width, self.height = width_pt, _HEAD_PT + len(rows) * row_pt

    def drawOn(self, canvas: Canvas, x: float, y: float, _sW: float = 0) -> None:
        ends = [x + share * self.width for share in _ENDS]
        base = y + self.height - _HEAD_PT
        canvas.setFillColor(grey())
        self._row(canvas, self.heads, x, ends, base + 3)
        self._rule(canvas, x, base, colour=black(), width_pt=LINE_PT)
        canvas.setFillColor(black())
        for row in self.rows:
            self._row(canvas, row, x, ends, base - min(SMALL_PT, self.row_pt - 1.6))
            base -= self.row_pt
            self._rule(canvas, x, base, colour=hair(), width_pt=HAIR_PT)

    def _row(self, canvas: Canvas, row: Sequence[str], x: float, ends: Sequence[float], base: float) -> None:
        """Figures end, and words start, where their column does."""
        for at, words in enumerate(row):
            if at == 1:
                draw_text(canvas, words, x_pt=ends[0] + _AFTER_NUMBER_PT, y_pt=base, size_pt=SMALL_PT)
            else:
                draw_text(canvas, words, x_pt=ends[at], y_pt=base, size_pt=SMALL_PT, align="right")

    def _rule(self, canvas: Canvas, x: float, y: float, *, colour: Color, width_pt: float) -> None:
        canvas.setStrokeColor(colour)
        canvas.setLineWidth(width_pt)
        canvas.line(x, y, x + self.width, y)
