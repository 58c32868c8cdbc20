"""What is written in a piece of a cutting diagram: its room and its words go in; words that fit, level or turned, come out."""

from __future__ import annotations

from collections.abc import Sequence

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.papers.drawings.pencil import Mm, Pencil
from estimator.papers.page.fonts import text_width_pt
from estimator.papers.page.look import PT_PER_MM
from estimator.papers.page.words import broken_lines

LETTERS_PT = 7.0
_LINE_PT = 7.4
_EDGE_PT = 3.6
"""Left free at each side of a piece, for its thick edges."""
_CLEAR_PT = 5.0
"""Left free above and below the lines together, for the same."""


@dataclass(frozen=True, slots=True)
class Room:
    """A rectangle of the drawing to write in."""

    x_mm: Mm
    y_mm: Mm
    width_mm: Mm
    height_mm: Mm


def write_in(pencil: Pencil, room: Room, ways: Sequence[Sequence[str]]) -> None:
    """Writes the first way of breaking the words into lines that fits; nothing when none does."""
    found = lines_that_fit(room, ways, scale=pencil.scale)
    if found:
        lines, turned = found
        _write(pencil, room, lines, turned=turned)


def lines_that_fit(room: Room, ways: Sequence[Sequence[str]], *, scale: Fraction) -> tuple[Sequence[str], bool] | None:
    """The first way that fits, level before turned, and whether it is turned; at last the first way with its lines broken."""
    to_pt = float(scale) * PT_PER_MM
    wide, high = float(room.width_mm) * to_pt, float(room.height_mm) * to_pt
    for lines in ways:
        for turned in (False, True):
            along, across = (high, wide) if turned else (wide, high)
            if _fit(lines, along_pt=along - 2 * _EDGE_PT, across_pt=across - 1):
                return lines, turned
    for turned in (False, True):
        along, across = (high, wide) if turned else (wide, high)
        room_pt = along - 2 * _EDGE_PT
        broken = [part for line in ways[0] for part in broken_lines(line, width_pt=room_pt, size_pt=LETTERS_PT, whole_words=True)]
        if _fit(broken, along_pt=along - 2 * _EDGE_PT, across_pt=across - 1):
            return broken, turned
    return None


def _fit(lines: Sequence[str], *, along_pt: float, across_pt: float) -> bool:
    if len(lines) * _LINE_PT + _CLEAR_PT > across_pt:
        return False
    return all(text_width_pt(line, size_pt=LETTERS_PT) <= along_pt for line in lines)


def _write(pencil: Pencil, room: Room, lines: Sequence[str], *, turned: bool) -> None:
    x, y = float(room.x_mm) + float(room.width_mm) / 2, float(room.y_mm) + float(room.height_mm) / 2
    for number, line in enumerate(lines):
        off = ((len(lines) - 1) / 2 - number) * _LINE_PT
        pencil.words(
            line, x_mm=x, y_mm=y, size_pt=LETTERS_PT, turned=turned, right_pt=-off if turned else 0, up_pt=0 if turned else off
        )
