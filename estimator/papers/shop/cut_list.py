"""The cut list: an estimate in; every part out, board by board, the widest strips first as a saw works."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.taken import BoardUse, Part
from estimator.papers.page.pieces import heading, paragraph, tick_box, title
from estimator.papers.page.tables import Column, fitting_mm, table
from estimator.papers.shop.paper import ShopPaper
from estimator.papers.shop.part_drawing import small_part

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable

_DRAWING_WIDTH_PT, _DRAWING_HEIGHT_PT = 48.0, 20.0
_SIZE_MM = 22
"""Of a column of sizes at least; inches with their fractions take more."""


@dataclass(frozen=True, slots=True)
class CutRow:
    """One line of the cut list."""

    board: str
    part: Part

    @property
    def pieces(self) -> int:
        return self.part.count


def cut_rows(paper: ShopPaper) -> tuple[CutRow, ...]:
    """Every part once, by board, then by the width of its strip and its length along it."""
    rows: list[CutRow] = []
    for use in paper.estimate.boards:
        parts = [part for part in paper.estimate.parts if part.board == use.board]
        rows += [CutRow(use.board, part) for part in sorted(parts, key=_saw_order)]
    return tuple(rows)


def _saw_order(part: Part) -> tuple[Fraction, Fraction]:
    across, along = part.cut_width_mm, part.cut_length_mm
    if part.grain == "width":
        across, along = along, across
    return -across, -along


def cut_list_story(paper: ShopPaper) -> list[Flowable]:
    rows = cut_rows(paper)
    story = [
        title(paper.say("cut list"), paper.look),
        paragraph(paper.say("cut list lead", unit=paper.unit), paper.look),
    ]
    for use in paper.estimate.boards:
        story += heading(_board_words(paper, use), paper.look)
        story.append(_table(paper, [row for row in rows if row.board == use.board]))
    return story


def _board_words(paper: ShopPaper, use: BoardUse) -> str:
    say = paper.say
    words = [say.counted("pieces", use.parts), say.counted("sheets", use.sheets), *([] if paper.grain_of(use.board) else [say("no grain")])]
    return f"{use.board}: {', '.join(words)}"


def _table(paper: ShopPaper, rows: list[CutRow]) -> Flowable:
    say, grained = paper.say, paper.grain_of(rows[0].board)
    cells = [list(_cells(paper, row)) for row in rows]
    cut_mm, finished_mm = (fitting_mm((str(row[at]) for row in cells), least_mm=_SIZE_MM) for at in (3, 4))
    columns = [
        Column(say("tick cut"), width_mm=7),
        Column(say("part"), share=1.15),
        Column(say("pieces head"), width_mm=12, align="right"),
        Column(say("cut size"), width_mm=cut_mm, align="right"),
        Column(say("finished size"), width_mm=finished_mm, align="right"),
        Column("", width_mm=21),
        Column(say("banded edges"), share=1),
        *([Column(say("grain along"), width_mm=18)] if grained else []),
    ]
    return table(columns, cells, look=paper.look)


def _cells(paper: ShopPaper, row: CutRow) -> Iterator[str | Flowable]:
    part, sizes = row.part, paper.language.sizes
    yield tick_box()
    yield f"{part.ref} {part.part}"
    yield str(row.pieces)
    yield sizes(part.cut_length_mm, part.cut_width_mm)
    yield sizes(part.length_mm, part.width_mm)
    yield small_part(part, width_pt=_DRAWING_WIDTH_PT, height_pt=_DRAWING_HEIGHT_PT, grain=paper.grain_of(part.board))
    yield paper.edges(part.bands) or paper.say("no edge")
    if paper.grain_of(part.board):
        yield paper.say(f"grain {part.grain}")
