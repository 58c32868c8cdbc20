"""The assembly sheets: an estimate in; each cabinet with its front and its parts laid flat, named, edges in words, out."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from estimator.model.exact import Fraction
from estimator.model.records import Cabinet
from estimator.model.taken import Part
from estimator.papers.drawings.front import front_view, parts_by_row
from estimator.papers.drawings.pencil import round_scale
from estimator.papers.drawings.pictures import front_picture
from estimator.papers.drawings.run import hangs_on_the_wall
from estimator.papers.page.look import PT_PER_MM, Look
from estimator.papers.page.pieces import Beside, gap, heading, paragraph, title
from estimator.papers.shop.paper import ShopPaper
from estimator.papers.shop.part_drawing import part_to_scale

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable

_LONGEST_PT, _WIDEST_PT = 62 * PT_PER_MM, 42 * PT_PER_MM
_LEAST_PT = 46 * PT_PER_MM
"""No part has less room across than its words need."""
_CLOSER_PT, _CLOSER_FROM = 36.5 * PT_PER_MM, 0.7
"""Where the drawings shrink below this share, the words make do with less, so that four parts stand in a line."""
_SMALLER = (1.0, 0.8, 0.65, 0.5)
"""What the drawings may shrink to so that a cabinet stands on one page."""
_BETWEEN_PT = 5 * PT_PER_MM
_MOST_OF_A_NOTE = 600
_ABOVE_PT, _BELOW_PT = 6.0, 8.0
_FRONT_WIDTH_PT, _FRONT_HEIGHT_PT = 45 * PT_PER_MM, 52 * PT_PER_MM


def assembly_story(paper: ShopPaper) -> list[Flowable]:
    look, say, rows = paper.look, paper.say, parts_by_row(paper.estimate.parts)
    story: list[Flowable] = [
        title(say("assembly sheets"), look),
        paragraph(say("assembly sheets lead", unit=paper.unit), look),
    ]
    above_pt = _height_pt(story, look)
    for cabinet in paper.estimate.job.cabinets:
        parts = rows.get((cabinet.at.sheet, cabinet.at.number), ())
        if parts:
            story += _cabinet(paper, cabinet, parts, room_pt=look.height_pt - above_pt)
            above_pt = 0.0
    loose = [part for part in paper.estimate.parts if not isinstance(part.owner, Cabinet)]
    if loose:
        story += _on_a_page(paper, heading(say("parts of no cabinet"), look), loose, room_pt=look.height_pt, with_ref=True)
    return story


def _height_pt(story: Sequence[Flowable], look: Look) -> float:
    return float(sum(one.wrap(look.width_pt, look.height_pt)[1] + one.getSpaceBefore() + one.getSpaceAfter() for one in story))


def _on_a_page(
    paper: ShopPaper, head: Sequence[Flowable], parts: Sequence[Part], *, room_pt: float, with_ref: bool = False
) -> list[Flowable]:
    """What stands above and the parts below it on one page: drawn smaller where that keeps them together."""
    from reportlab.platypus import KeepTogether

    look = paper.look
    for share in _SMALLER:
        whole = [*head, *_laid_flat(paper, parts, share=share, with_ref=with_ref)]
        if _height_pt(whole, look) <= room_pt:
            return [KeepTogether(whole)]
    first, *others = _laid_flat(paper, parts, with_ref=with_ref)
    return [KeepTogether([*head, first]), *others]


def _cabinet(paper: ShopPaper, cabinet: Cabinet, parts: Sequence[Part], *, room_pt: float) -> list[Flowable]:
    look, job = paper.look, paper.estimate.job
    hangs = hangs_on_the_wall(cabinet, job.kinds)
    view = front_view(cabinet, parts, lengths_mm=job.shop.lengths_mm, hangs=hangs)
    picture = front_picture(view, language=paper.language, width_pt=_FRONT_WIDTH_PT, height_pt=_FRONT_HEIGHT_PT)
    words = [paragraph(line, look) for line in _words(paper, cabinet, parts)]
    widths = [_FRONT_WIDTH_PT + _BETWEEN_PT, look.width_pt - _FRONT_WIDTH_PT - _BETWEEN_PT]
    top = Beside([[picture], words], widths_pt=widths)
    made = paper.say("alike", n=cabinet.qty) if cabinet.qty > 1 else ""
    head = heading(", ".join(one for one in (f"{cabinet.ref}: {cabinet.kind}", made) if one), look, needs_pt=0)
    return _on_a_page(paper, [*head, top, gap(0.5)], parts, room_pt=room_pt)


def _words(paper: ShopPaper, cabinet: Cabinet, parts: Sequence[Part]) -> list[str]:
    """What the row of the workbook says, in lines."""
    say, pieces = paper.say, sum(part.count_each for part in parts)
    has = [
        say.counted(name, number) if number else ""
        for name, number in (("doors", cabinet.doors), ("drawers", cabinet.drawers), ("shelves", cabinet.shelves))
    ]
    size = paper.language.sizes(cabinet.width_mm, cabinet.height_mm, cabinet.depth_mm)
    lines = [
        say("its room", room=cabinet.room) if cabinet.room else "",
        say("its size", size=size),
        say("its finish", finish=cabinet.finish) if cabinet.finish else "",
        ", ".join(words for words in has if words),
        "" if cabinet.finished_ends == "none" else say(f"finished end {cabinet.finished_ends}"),
        say("in one cabinet", pieces=say.counted("pieces", pieces)),
        say("its note", note=_shown(cabinet.note)) if cabinet.note else "",
    ]
    return [line for line in lines if line]


def _shown(note: str) -> str:
    """A note as far as it finds room beside the drawings; the workbook has all of it."""
    line = " ".join(note.split())
    return line if len(line) <= _MOST_OF_A_NOTE else f"{line[:_MOST_OF_A_NOTE].rstrip()} …"


def _laid_flat(paper: ShopPaper, parts: Sequence[Part], *, share: float = 1, with_ref: bool = False) -> list[Flowable]:
    """The parts in lines, side by side, at one scale."""
    scale = round_scale(
        width_mm=max(part.length_mm for part in parts),
        height_mm=max(part.width_mm for part in parts),
        room_width_pt=_LONGEST_PT * share,
        room_height_pt=_WIDEST_PT * share,
    )
    lines: list[list[Part]] = []
    used = 0.0
    for part in sorted(parts, key=lambda part: -part.width_mm):
        room = _room_pt(part, scale, share) + _BETWEEN_PT
        if not lines or used + room > paper.look.width_pt + _BETWEEN_PT:
            lines.append([])
            used = 0.0
        lines[-1].append(part)
        used += room
    return [_line(paper, line, scale=scale, share=share, with_ref=with_ref) for line in lines]


def _room_pt(part: Part, scale: Fraction, share: float) -> float:
    return max(float(part.length_mm * scale) * PT_PER_MM, _LEAST_PT if share > _CLOSER_FROM else _CLOSER_PT)


def _line(paper: ShopPaper, parts: Sequence[Part], *, scale: Fraction, share: float, with_ref: bool) -> Flowable:
    """Parts side by side, their feet on one line, the words of each below it."""
    from reportlab.platypus import Spacer

    drawn = [part_to_scale(part, scale=scale, grain=paper.grain_of(part.board)) for part in parts]
    highest = max(one.height for one in drawn) + _ABOVE_PT
    columns = [
        [Spacer(1, highest - one.height), one, Spacer(1, _ABOVE_PT), *_caption(paper, part, with_ref=with_ref)]
        for part, one in zip(parts, drawn, strict=True)
    ]
    return Beside(columns, widths_pt=[_room_pt(part, scale, share) for part in parts], between_pt=_BETWEEN_PT, below_pt=_BELOW_PT)


def _caption(paper: ShopPaper, part: Part, *, with_ref: bool) -> list[Flowable]:
    """Its name and how many, its size and board, its edges."""
    count = part.count if with_ref else part.count_each
    name = f"{part.ref} {part.part}" if with_ref else part.part
    lines = [
        (f"{name}, {paper.say.counted('pieces', count)}" if count > 1 else name, True),
        (f"{paper.language.sizes(part.length_mm, part.width_mm)}, {part.board}", False),
        (paper.edges(part.bands) or paper.say("no edge banded"), False),
    ]
    return [paragraph(text, paper.look, name="strong" if strong else "text") for text, strong in lines]
