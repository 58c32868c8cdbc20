"""A page of the cutting diagrams: a way of cutting goes in; the sheet as large as the page allows, its cuts beside or below it, out.

A sheet twice as long as wide leaves room below it, one nearly square beside it: both ways are laid out, and the larger drawing is taken.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from estimator.model.cutting_plan import NamedPattern, StockSheet
from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.taken import BoardUse
from estimator.papers.page.look import PT_PER_MM
from estimator.papers.page.pieces import Beside, gap, paragraph, stacked_pt
from estimator.papers.shop.cuts import cuts_in_columns, list_height_pt
from estimator.papers.shop.paper import ShopPaper
from estimator.papers.shop.sheet_drawing import DrawnSheet, drawn_sheet

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable

_CUTS_PT = {"mm": 55 * PT_PER_MM, "inch": 66 * PT_PER_MM}
"""Room of the list of cuts: inches with their fractions are longer words."""
_BETWEEN_PT = 10.0
_MOST_COLUMNS, _TRIES = 2, 4
"""Columns of cuts beside a drawing, and how often it is drawn anew until all has its room."""
_MOST_NOTES_PT = 58.0
"""What the words below a drawing may take of its page: four lines. With more the drawing shrank until nothing could be written in:
the rest of them goes on over the page."""


@dataclass(frozen=True, slots=True)
class LaidOut:
    """A drawing with its cuts and notes, in the order in which they stand on the page."""

    scale: Fraction
    story: tuple[Flowable, ...]


def laid_out(paper: ShopPaper, use: BoardUse, entry: NamedPattern, stock: StockSheet, *, height_pt: float) -> LaidOut:
    """The larger of the two ways in a height that the page still has; beside the drawing where they are alike."""
    beside = _cuts_beside(paper, use, entry, stock, height_pt=height_pt)
    below = _cuts_below(paper, use, entry, stock, height_pt=height_pt)
    return below if below is not None and below.scale > beside.scale else beside


def _cuts_beside(paper: ShopPaper, use: BoardUse, entry: NamedPattern, stock: StockSheet, *, height_pt: float) -> LaidOut:
    look, column_pt = paper.look, _CUTS_PT[paper.terms.units]
    columns_beside, notes_pt = 1, 0.0
    for _ in range(_TRIES):
        left_pt = look.across_width_pt - columns_beside * (column_pt + _BETWEEN_PT)
        drawn = drawn_sheet(paper, use, entry, stock, width_pt=left_pt, height_pt=height_pt - notes_pt)
        notes, wanted_pt = _notes(paper, drawn)
        columns = cuts_in_columns(paper, entry.pattern.cuts, width_pt=column_pt, height_pt=height_pt - wanted_pt)
        wanted_columns = min(len(columns), _MOST_COLUMNS)
        if wanted_pt <= notes_pt and wanted_columns == columns_beside:
            break
        columns_beside, notes_pt = wanted_columns, max(notes_pt, wanted_pt)
    beside = Beside(
        [[drawn.picture], *([one] for one in columns[:columns_beside])],
        widths_pt=[left_pt, *[column_pt] * columns_beside],
        between_pt=_BETWEEN_PT,
    )
    return LaidOut(drawn.scale, (beside, *notes, *columns[columns_beside:]))


def _cuts_below(paper: ShopPaper, use: BoardUse, entry: NamedPattern, stock: StockSheet, *, height_pt: float) -> LaidOut | None:
    """The list in as many columns as the page is wide, below the drawing; None where it would take most of the page."""
    look, cuts, column_pt = paper.look, entry.pattern.cuts, _CUTS_PT[paper.terms.units]
    abreast = int((look.across_width_pt + _BETWEEN_PT) // (column_pt + _BETWEEN_PT))
    list_pt = list_height_pt(-(-len(cuts) // abreast))
    if not cuts or list_pt > height_pt / 2:
        return None
    columns = cuts_in_columns(paper, cuts, width_pt=column_pt, height_pt=list_pt)
    lists = Beside([[one] for one in columns], widths_pt=[column_pt] * len(columns), between_pt=_BETWEEN_PT)
    notes_pt = 0.0
    for _ in range(_TRIES):
        free_pt = height_pt - list_pt - _BETWEEN_PT - notes_pt
        drawn = drawn_sheet(paper, use, entry, stock, width_pt=look.across_width_pt, height_pt=free_pt)
        notes, wanted_pt = _notes(paper, drawn)
        if wanted_pt <= notes_pt:
            break
        notes_pt = wanted_pt
    return LaidOut(drawn.scale, (Beside([[drawn.picture]], widths_pt=[look.across_width_pt], below_pt=_BETWEEN_PT), lists, *notes))


def _notes(paper: ShopPaper, drawn: DrawnSheet) -> tuple[list[Flowable], float]:
    """What was too small to write in, in words below all else, and the height that is kept for them."""
    if not drawn.unwritten:
        return [], 0.0
    notes = [gap(0.4), paragraph(paper.say("too small to write in", words="; ".join(drawn.unwritten)), paper.look)]
    return notes, min(stacked_pt(notes, paper.look.across_width_pt), _MOST_NOTES_PT)
