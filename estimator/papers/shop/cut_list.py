"""The cut list: an estimate in; every part out, board by board, the widest strips first as a saw works."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.taken import BoardUse, Part
from estimator.papers.page.pieces import heading, paragraph, tick_box, title
from estimator.papers.page.tables import Column, table
from estimator.papers.shop.paper import ShopPaper, counted, edges_in_words
from estimator.papers.shop.part_drawing import small_part

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable

_DRAWING_WIDTH_PT, _DRAWING_HEIGHT_PT = 48.0, 20.0


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
        title("Cut list", paper.look),
        paragraph(
            f"All sizes in {paper.unit}, length first. The saw cuts the cut size; with its edging on, a part has the finished "
            "size. In the drawings the front is at the foot, the back at the top; thick edges are banded.",
            paper.look,
        ),
    ]
    for use in paper.estimate.boards:
        story += heading(_board_words(paper, use), paper.look)
        story.append(_table(paper, [row for row in rows if row.board == use.board]))
    return story


def _board_words(paper: ShopPaper, use: BoardUse) -> str:
    grain = "" if paper.grain_of(use.board) else ", no grain"
    return f"{use.board}: {counted(use.parts, 'piece')}, {counted(use.sheets, 'sheet')}{grain}"


def _table(paper: ShopPaper, rows: list[CutRow]) -> Flowable:
    grained = paper.grain_of(rows[0].board)
    size_mm = 22 if paper.terms.units == "mm" else 31
    columns = [
        Column("Cut", width_mm=7),
        Column("Part", share=1.15),
        Column("Pieces", width_mm=12, align="right"),
        Column("Cut size", width_mm=size_mm, align="right"),
        Column("Finished", width_mm=size_mm, align="right"),
        Column("", width_mm=21),
        Column("Banded edges", share=1),
        *([Column("Grain along", width_mm=18)] if grained else []),
    ]
    return table(columns, [list(_cells(paper, row)) for row in rows], look=paper.look)


def _cells(paper: ShopPaper, row: CutRow) -> Iterator[str | Flowable]:
    part, sizes = row.part, paper.language.sizes
    yield tick_box()
    yield f"{part.ref} {part.part}"
    yield str(row.pieces)
    yield sizes(part.cut_length_mm, part.cut_width_mm)
    yield sizes(part.length_mm, part.width_mm)
    yield small_part(part, width_pt=_DRAWING_WIDTH_PT, height_pt=_DRAWING_HEIGHT_PT, grain=paper.grain_of(part.board))
    yield edges_in_words(part.bands) or "none"
    if paper.grain_of(part.board):
        yield "either" if part.grain == "any" else part.grain
