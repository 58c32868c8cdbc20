"""The labels: an estimate in; one label a piece out, on a sheet of labels of the shop's own grid."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from estimator.model.dataclass import dataclass
from estimator.model.taken import Part
from estimator.papers.page.fonts import draw_text, shortened, text_width_pt
from estimator.papers.page.look import PT_PER_MM, SMALL_PT, TEXT_PT, black
from estimator.papers.page.words import broken_lines
from estimator.papers.shop.paper import ShopPaper
from estimator.papers.shop.part_drawing import draw_part, fitted_pt
from estimator.papers.shop.qr_code import draw_qr

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas
    from reportlab.platypus.flowables import Flowable

_WITHIN_PT = 5 * PT_PER_MM
"""Left free inside a label: printers do not reach the edge of the paper."""
_QR_PT = 15 * PT_PER_MM
_LINE_PT = 10.4
_DRAWING_HEIGHT_PT, _DRAWING_LEAST_PT = 24.0, 14.0
_LEAST_WIDE_PT, _LEAST_HIGH_PT = 6.0, 6.0
_MOST_LINES = 6


@dataclass(frozen=True, slots=True)
class Label:
    """One piece: the part, and which of its pieces."""

    part: Part
    number: int

    @property
    def code(self) -> str:
        """What the QR code says, in plain text."""
        return f"{self.part.ref} {self.part.part}"


def labels_of(paper: ShopPaper) -> tuple[Label, ...]:
    """One label a piece, in the order in which the parts are listed."""
    return tuple(Label(part, number) for part in paper.estimate.parts for number in range(1, part.count + 1))


def labels_story(paper: ShopPaper) -> list[Flowable]:
    """Full sheets of labels, for bare pages, on the grid that the Shop sheet gives."""
    from reportlab.platypus import PageBreak

    labels, shop = labels_of(paper), paper.estimate.job.shop
    on_a_sheet = shop.label_columns * shop.label_rows
    story: list[Flowable] = []
    for start in range(0, len(labels), on_a_sheet):
        story += [PageBreak()] if start else []
        story.append(_sheet(paper, labels[start : start + on_a_sheet], first=start == 0))
    return story


def _sheet(paper: ShopPaper, labels: Sequence[Label], *, first: bool) -> Flowable:
    from reportlab.platypus.flowables import Flowable

    look, shop = paper.look, paper.estimate.job.shop
    side, top = float(shop.label_side_mm) * PT_PER_MM, float(shop.label_top_mm) * PT_PER_MM
    wide, high = (look.page_width_pt - 2 * side) / shop.label_columns, (look.page_height_pt - 2 * top) / shop.label_rows

    class LabelSheet(Flowable):  # type: ignore[misc]  # reportlab has no types
        """Takes a whole page: its labels stand where the sheet has them, whatever the margins of the other papers are."""

        def __init__(self) -> None:
            super().__init__()
            self.width, self.height = look.page_width_pt, look.page_height_pt

        def drawOn(self, canvas: Canvas, x: float, y: float, _sW: float = 0) -> None:
            if first:
                canvas.bookmarkPage("labels")
                canvas.addOutlineEntry(paper.say("labels"), "labels", 0, closed=False)
            for place, label in enumerate(labels):
                row, column = divmod(place, shop.label_columns)
                x_pt, y_pt = side + column * wide, look.page_height_pt - top - (row + 1) * high
                _draw_label(canvas, paper, label, x_pt=x_pt, y_pt=y_pt, width_pt=wide, height_pt=high)

    return LabelSheet()


def _draw_label(
    canvas: Canvas, paper: ShopPaper, label: Label, *, x_pt: float, y_pt: float, width_pt: float, height_pt: float
) -> None:
    part = label.part
    left, top = x_pt + _WITHIN_PT, y_pt + height_pt - _WITHIN_PT
    right, foot = x_pt + width_pt - _WITHIN_PT, y_pt + _WITHIN_PT - 4
    room = right - left - _QR_PT - 6
    canvas.saveState()
    canvas.setFillColor(black())
    y = top - TEXT_PT
    lines = _lines(paper, label, width_pt=room)
    for text, strong in lines:
        short = shortened(text, width_pt=room, size_pt=TEXT_PT, strong=strong)
        draw_text(canvas, short, x_pt=left, y_pt=y, size_pt=TEXT_PT, strong=strong)
        y -= _LINE_PT
    draw_qr(canvas, label.code, x_pt=right - _QR_PT, y_pt=top - _QR_PT, size_pt=_QR_PT)
    words = _edge_lines(paper, part, width_pt=right - left)
    for number, line in enumerate(reversed(words)):
        draw_text(canvas, line, x_pt=left, y_pt=foot + number * (SMALL_PT + 1), size_pt=SMALL_PT)
    above = foot + len(words) * (SMALL_PT + 1) + 2
    places = _places(lines, left=left, right=right, top=top, below_words=y + _LINE_PT, above=above)
    if place := _drawing_place(part, places):
        x, wide, high = place
        draw_part(canvas, part, x_pt=x, y_pt=above, width_pt=wide, height_pt=high, grain=paper.grain_of(part.board))
    canvas.restoreState()


def _places(
    lines: Sequence[tuple[str, bool]], *, left: float, right: float, top: float, below_words: float, above: float
) -> list[tuple[float, float, float]]:
    """Where the drawing may stand, each by its left, its width and its height: below the words, beside the last of them, below the code."""
    room, last = right - left - _QR_PT - 6, lines[-2:]
    beside = max(text_width_pt(text, size_pt=TEXT_PT, strong=strong) for text, strong in last) + 6
    free_pt = below_words - 4 - above
    return [
        (left, room, free_pt),
        (left + beside, room - beside, free_pt + len(last) * _LINE_PT),
        (right - _QR_PT, _QR_PT, top - _QR_PT - 4 - above),
    ]


def _drawing_place(part: Part, places: Sequence[tuple[float, float, float]]) -> tuple[float, float, float] | None:
    """Left, width and height of the drawing: below the words where it can be seen there, else where it is largest; never over the code."""
    drawn = []
    for x, wide_pt, free_pt in places:
        if wide_pt > _LEAST_WIDE_PT and free_pt > _LEAST_HIGH_PT:
            wide, high = fitted_pt(part, width_pt=wide_pt, height_pt=min(free_pt, _DRAWING_HEIGHT_PT))
            drawn.append((x, wide, high))
            if free_pt >= _DRAWING_LEAST_PT:
                break
    return max(drawn, key=lambda one: one[1] * one[2], default=None)


def _lines(paper: ShopPaper, label: Label, *, width_pt: float) -> list[tuple[str, bool]]:
    """The lines and whether each is strong: a long ref takes three, a long name two, and then the room steps back."""
    part = label.part
    of = f", {paper.say('one of several', n=label.number, of=part.count)}" if part.count > 1 else ""
    names: list[tuple[str, bool]] = []
    for text, most in ((part.ref, 3), (part.part + of, 2)):
        lines = broken_lines(text, width_pt=width_pt, size_pt=TEXT_PT, strong=True, whole_words=True)
        names += [(line, True) for line in (*lines[: most - 1], " ".join(lines[most - 1 :])) if line]
    lines_left = [(paper.language.sizes(part.length_mm, part.width_mm), False), (part.room, False)]
    return [*names, *lines_left][:_MOST_LINES]


def _edge_lines(paper: ShopPaper, part: Part, *, width_pt: float) -> list[str]:
    """The board and the banded edges in words, in two lines at most."""
    words = paper.edges(part.bands) or paper.say("no edge banded")
    lines = [part.board, words]
    if text_width_pt(f"{part.board}; {words}", size_pt=SMALL_PT) <= width_pt:
        lines = [f"{part.board}; {words}"]
    return [shortened(line, width_pt=width_pt, size_pt=SMALL_PT) for line in lines]
