"""The front view of each room's run, at one round scale for the whole quote."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.papers.drawings.front import FrontView, front_view, parts_by_row
from estimator.papers.drawings.pencil import ROUND_SCALES
from estimator.papers.drawings.pictures import run_picture, run_size_pt
from estimator.papers.drawings.run import RunLine, hangs_on_the_wall, run_lines
from estimator.papers.page.pieces import Beside, paragraph
from estimator.papers.quote.paper import QuotePaper

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable

_GUTTER_PT = 14.0
_BLOCK_HEAD_PT = 20.0
"""A room's name above its drawing, and the space below it."""


@dataclass(frozen=True, slots=True)
class RoomRun:
    """A room and the lines of its run."""

    room: str
    lines: tuple[RunLine, ...]


def views_by_row(paper: QuotePaper) -> Mapping[int, tuple[FrontView, bool]]:
    """The front of each row of Cabinets and whether it hangs, by the row's number."""
    job = paper.estimate.job
    parts = parts_by_row(paper.estimate.parts)
    views: dict[int, tuple[FrontView, bool]] = {}
    for cabinet in job.cabinets:
        hangs = hangs_on_the_wall(cabinet, job.kinds)
        own = parts.get((cabinet.at.sheet, cabinet.at.number), ())
        views[cabinet.at.number] = (front_view(cabinet, own, lengths_mm=job.shop.lengths_mm, hangs=hangs), hangs)
    return views


def room_runs(paper: QuotePaper, views: Mapping[int, tuple[FrontView, bool]]) -> tuple[RoomRun, ...]:
    """The run of each room, its cabinets in workbook order, each as often as it is wanted."""
    rooms: dict[str, list[tuple[FrontView, bool]]] = {}
    for cabinet in paper.estimate.job.cabinets:
        rooms.setdefault(cabinet.room, []).extend([views[cabinet.at.number]] * cabinet.qty)
    return tuple(RoomRun(room, run_lines(fronts)) for room, fronts in rooms.items())


def fitting_scale(runs: Sequence[RoomRun], paper: QuotePaper, *, height_pt: float) -> Fraction | None:
    """The largest round scale at which all runs, packed into rows, fit the page's width and a height; None where none does."""
    for scale in ROUND_SCALES:
        rows = _packed(runs, paper, scale=Fraction(1, scale))
        if rows and sum(max(block.height_pt for block in row) for row in rows) <= height_pt:
            return Fraction(1, scale)
    return None


def rooms_story(runs: Sequence[RoomRun], paper: QuotePaper, *, scale: Fraction) -> list[Flowable]:
    """All runs at one scale; small ones stand beside each other where the page is wide enough. Then what the scale is."""
    rows = _packed(runs, paper, scale=scale)
    if not rows:
        return []
    drawn = [stood for run in runs for line in run.lines for stood in line.cabinets]
    caption = [paper.words.label("scale", scale=scale.denominator, unit=paper.unit_words)]
    if any(front.what == "drawer" for stood in drawn for front in stood.view.fronts):
        caption.append(paper.words.label("front heights"))
    if any(stood.hangs for stood in drawn):
        caption.append(paper.words.label("heights agreed"))
    return [*(_row(row, paper, scale=scale) for row in rows), paragraph(" ".join(caption), paper.look, name="small")]


@dataclass(frozen=True, slots=True)
class _Block:
    """One line of a run with the name above it, and how large both are on the paper."""

    head: str
    names: tuple[str, ...]
    line: RunLine
    width_pt: float
    height_pt: float


def _packed(runs: Sequence[RoomRun], paper: QuotePaper, *, scale: Fraction) -> list[list[_Block]]:
    """The lines of all runs in rows across the page, in their order; nothing where one is wider than the page."""
    rows: list[list[_Block]] = []
    used_pt = 0.0
    for run in runs:
        short = short_refs([stood.view.ref for line in run.lines for stood in line.cabinets], room=run.room)
        for line in run.lines:
            width_pt, height_pt = run_size_pt(line, scale=scale)
            if width_pt > paper.look.width_pt:
                return []
            name = run.room or (paper.words.label("no room") if len(runs) > 1 else "")
            names = tuple(short[stood.view.ref] for stood in line.cabinets)
            head = name if line is run.lines[0] else paper.words.label("goes on", room=name).strip(" ,")
            block = _Block(head, names, line, width_pt, height_pt + _BLOCK_HEAD_PT)
            if not rows or used_pt + width_pt > paper.look.width_pt:
                rows.append([])
                used_pt = 0.0
            rows[-1].append(block)
            used_pt += width_pt + _GUTTER_PT
    return rows


def _row(blocks: Sequence[_Block], paper: QuotePaper, *, scale: Fraction) -> Flowable:
    """The names and the runs below them; a page's end never comes between the two."""
    from reportlab.platypus import Spacer

    columns: list[list[Flowable]] = []
    for block in blocks:
        picture = run_picture(block.line, names=block.names, language=paper.language, scale=scale)
        columns.append([paragraph(block.head, paper.look, name="strong"), picture, Spacer(1, _GUTTER_PT / 2)])
    return Beside(columns, widths_pt=[block.width_pt + _GUTTER_PT for block in blocks])


def short_refs(refs: Sequence[str], *, room: str) -> Mapping[str, str]:
    """Refs without the words that all refs of a room share, above all the room's own name.

    >>> short_refs(["Kitchen 1", "Kitchen 2"], room="Kitchen")
    {'Kitchen 1': '1', 'Kitchen 2': '2'}
    >>> short_refs(["Wardrobe left", "Wardrobe right"], room="Hall")
    {'Wardrobe left': 'left', 'Wardrobe right': 'right'}
    >>> short_refs(["Island"], room="Kitchen")
    {'Island': 'Island'}
    """
    known = {ref: ref.casefold().split() for ref in refs}
    heads = {tuple(words[:-1]) for words in known.values()}
    shared = next(iter(heads)) if len(heads) == 1 and len(known) > 1 else ()
    return {ref: _without(ref, shared or room.casefold().split()) for ref in refs}


def _without(ref: str, head: Sequence[str]) -> str:
    """A ref without the words at its head, where it has them and more."""
    words = ref.split()
    begins = [word.casefold() for word in words[: len(head)]] == list(head)
    return " ".join(words[len(head) :]) if begins and len(words) > len(head) else ref
