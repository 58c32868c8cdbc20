"""Charts for the owner: figures and words in, drawings out that read in black and white.

Every bar and line carries its words beside it; grey, white and the accent only help the eye. Lengths are mm on the paper.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.papers.drawings.pencil import Pencil, drawing
from estimator.papers.page.fonts import shortened, text_width_pt
from estimator.papers.page.look import HAIR_PT, LINE_PT, PT_PER_MM, SMALL_PT, Look, accent_colour, black, contrast_on_white, hair

if TYPE_CHECKING:
    from reportlab.lib.colors import Color
    from reportlab.platypus.flowables import Flowable

LIFE_SIZE = Fraction(1)
ROW_MM = 5.6
BAR_MM = 3.8
_SHARE_MM = 13.0
_READABLE_CONTRAST = 4.5
ACCENT = "accent"
Fill = float | str
"""A grey from 0 (black) to 1 (white), or the accent."""


@dataclass(frozen=True, slots=True)
class BarRow:
    """One bar: its words, how long, its amount and its share as text."""

    words: str
    value: Fraction
    text: str
    share_text: str
    fill: Fill = 0.75


@dataclass(frozen=True, slots=True)
class Segment:
    """A piece of a stacked bar, or of a bar in time."""

    words: str
    start: Fraction
    end: Fraction
    fill: Fill
    text: str = ""


@dataclass(frozen=True, slots=True)
class SegmentRow:
    """A row of pieces, or why there are none."""

    words: str
    segments: tuple[Segment, ...]
    text: str
    strong: bool = False


def width_mm_of(look: Look) -> float:
    return look.width_pt / PT_PER_MM


def _colour(fill: Fill, look: Look) -> Color:
    from reportlab.lib.colors import Color

    return accent_colour(look) if isinstance(fill, str) else Color(fill, fill, fill)


def _is_dark(fill: Fill, look: Look) -> bool:
    return contrast_on_white(look.accent) > _READABLE_CONTRAST if isinstance(fill, str) else fill < 0.45


def filled(pencil: Pencil, look: Look, fill: Fill, *, x_mm: float, y_mm: float, width_mm: float, height_mm: float) -> None:
    """A filled box with a thin outline; nothing where it has no width."""
    if width_mm <= 0:
        return
    pencil.pen(width_pt=HAIR_PT)
    pencil.canvas.setFillColor(_colour(fill, look))
    x, y = pencil.at(x_mm, y_mm)
    pencil.canvas.rect(x, y, pencil.pt(width_mm), pencil.pt(height_mm), stroke=1, fill=1)
    pencil.canvas.setFillColor(black())


def clear(pencil: Pencil, *, x_mm: float, y_mm: float, width_mm: float, height_mm: float) -> None:
    """A white patch behind words that lines would run through."""
    x, y = pencil.at(x_mm, y_mm)
    pencil.canvas.setFillColorRGB(1, 1, 1)
    pencil.canvas.rect(x, y, pencil.pt(width_mm), pencil.pt(height_mm), stroke=0, fill=1)
    pencil.canvas.setFillColor(black())


def within(words: str, *, width_mm: float, strong: bool = False) -> str:
    return shortened(words, width_pt=width_mm * PT_PER_MM, size_pt=SMALL_PT, strong=strong)


def _inside(pencil: Pencil, look: Look, one: Segment, *, x_mm: float, y_mm: float, width_mm: float) -> None:
    """The text of a piece in its middle, white where the piece is dark; left out where it does not fit."""
    from estimator.papers.page.fonts import draw_text

    if not one.text or not pencil.fits(one.text, width_mm=width_mm):
        return
    x, y = pencil.at(x_mm + width_mm / 2, y_mm + BAR_MM / 2)
    pencil.canvas.setFillColor(_colour(1.0, look) if _is_dark(one.fill, look) else black())
    draw_text(pencil.canvas, one.text, x_pt=x, y_pt=y - 0.36 * SMALL_PT, size_pt=SMALL_PT, align="centre")
    pencil.canvas.setFillColor(black())


# --- bars -------------------------------------------------------------------------------------------------------------


def bars(rows: Sequence[BarRow], *, look: Look, words_mm: float = 46, text_mm: float = 42) -> Flowable:
    """Bars under each other from one line, longest possible; a value below 0 has no bar, its text says so."""
    width_mm = width_mm_of(look)
    room_mm = width_mm - words_mm - text_mm
    longest = max((row.value for row in rows), default=Fraction(0))

    def draw(pencil: Pencil) -> None:
        for place, row in enumerate(reversed(rows)):
            y_mm = place * ROW_MM
            long_mm = float(row.value / longest) * room_mm if longest > 0 and row.value > 0 else 0.0
            pencil.words(within(row.words, width_mm=words_mm - 3), x_mm=0, y_mm=y_mm + BAR_MM / 2, align="left")
            filled(pencil, look, row.fill, x_mm=words_mm, y_mm=y_mm, width_mm=long_mm, height_mm=BAR_MM)
            pencil.words(row.text, x_mm=width_mm - _SHARE_MM, y_mm=y_mm + BAR_MM / 2, align="right")
            pencil.words(row.share_text, x_mm=width_mm, y_mm=y_mm + BAR_MM / 2, align="right")
        pencil.pen(width_pt=LINE_PT)
        pencil.line(from_mm=(words_mm, -1), to_mm=(words_mm, len(rows) * ROW_MM - ROW_MM + BAR_MM + 1))

    return drawing(draw, width_mm=width_mm, height_mm=len(rows) * ROW_MM, scale=LIFE_SIZE)


def stacked_bars(rows: Sequence[SegmentRow], *, look: Look, words_mm: float = 40, text_mm: float = 24) -> Flowable:
    """Bars of pieces, each total behind its bar; the key stands above in the order of the pieces."""
    width_mm = width_mm_of(look)
    room_mm = width_mm - words_mm - text_mm
    longest = max((one.end for row in rows for one in row.segments), default=Fraction(0))
    key = _key_lines([one for row in rows for one in row.segments], width_mm=width_mm)
    bars_mm = len(rows) * 2 * ROW_MM

    def draw(pencil: Pencil) -> None:
        _draw_key(pencil, look, key, top_mm=bars_mm + len(key) * ROW_MM)
        for place, row in enumerate(reversed(rows)):
            y_mm = place * 2 * ROW_MM + 1
            _draw_row(pencil, look, row, y_mm=y_mm, words_mm=words_mm, mm_each=room_mm / float(longest) if longest else 0.0)
            if row.segments:
                pencil.words(row.text, x_mm=width_mm, y_mm=y_mm + BAR_MM / 2 + 1, align="right", strong=row.strong)
            else:
                why = within(row.text, width_mm=room_mm + text_mm - 3)
                pencil.words(why, x_mm=words_mm + 2, y_mm=y_mm + BAR_MM / 2 + 1, align="left")
        pencil.pen(width_pt=LINE_PT)
        pencil.line(from_mm=(words_mm, 0), to_mm=(words_mm, bars_mm - 2))

    return drawing(draw, width_mm=width_mm, height_mm=bars_mm + len(key) * ROW_MM, scale=LIFE_SIZE)


def _draw_row(pencil: Pencil, look: Look, row: SegmentRow, *, y_mm: float, words_mm: float, mm_each: float) -> None:
    words = within(row.words, width_mm=words_mm - 3, strong=row.strong)
    pencil.words(words, x_mm=0, y_mm=y_mm + BAR_MM / 2 + 1, align="left", strong=row.strong)
    for at, one in enumerate(row.segments):
        x_mm, wide_mm = words_mm + float(one.start) * mm_each, float(one.end - one.start) * mm_each
        filled(pencil, look, one.fill, x_mm=x_mm, y_mm=y_mm, width_mm=wide_mm, height_mm=BAR_MM + 2)
        start, end = seen_stretch(one, row.segments[at + 1 :])
        _inside(pencil, look, one, x_mm=words_mm + float(start) * mm_each, y_mm=y_mm + 1, width_mm=float(end - start) * mm_each)


def seen_stretch(one: Segment, above: Sequence[Segment]) -> tuple[Fraction, Fraction]:
    """The longest stretch of a piece that no piece drawn after it covers: its words stand there.

    Two people may be at one batch at the same time.
    """
    start, best = one.start, (one.start, one.start)
    for other in sorted((other for other in above if other.end > one.start and other.start < one.end), key=lambda other: other.start):
        best = max(best, (start, other.start), key=lambda stretch: stretch[1] - stretch[0])
        start = max(start, other.end)
    return max(best, (start, max(one.end, start)), key=lambda stretch: stretch[1] - stretch[0])


KeyLine = list[tuple[float, Segment]]


def _key_lines(segments: Sequence[Segment], *, width_mm: float) -> list[KeyLine]:
    """Every kind of piece once, with its place on the lines of the key."""
    kinds = {one.words: one for one in segments}
    lines: list[KeyLine] = [[]]
    x_mm = 0.0
    for words, one in kinds.items():
        wide_mm = 5 + text_width_pt(words, size_pt=SMALL_PT) / PT_PER_MM + 5
        if lines[-1] and x_mm + wide_mm > width_mm:
            lines.append([])
            x_mm = 0.0
        lines[-1].append((x_mm, one))
        x_mm += wide_mm
    return [line for line in lines if line]


def _draw_key(pencil: Pencil, look: Look, lines: Sequence[KeyLine], *, top_mm: float) -> None:
    for number, line in enumerate(lines, start=1):
        y_mm = top_mm - number * ROW_MM + 1.4
        for x_mm, one in line:
            filled(pencil, look, one.fill, x_mm=x_mm, y_mm=y_mm, width_mm=3, height_mm=3)
            pencil.words(one.words, x_mm=x_mm + 4.5, y_mm=y_mm + 1.5, align="left")


# --- in time ----------------------------------------------------------------------------------------------------------


def time_bars(
    rows: Sequence[SegmentRow], *, look: Look, end: Fraction, ticks: Sequence[tuple[Fraction, str]], words_mm: float = 44
) -> Flowable:
    """Pieces on a common time axis, with fine upright lines at the ticks and their words below."""
    width_mm = width_mm_of(look)
    room_mm = width_mm - words_mm - 6
    mm_each = room_mm / float(end) if end else 0.0
    key = _key_lines([one for row in rows for one in row.segments], width_mm=width_mm)
    bars_mm = 6 + len(rows) * 1.5 * ROW_MM

    def draw(pencil: Pencil) -> None:
        _draw_key(pencil, look, key, top_mm=bars_mm + len(key) * ROW_MM)
        for at, words in ticks:
            x_mm = words_mm + float(at) * mm_each
            pencil.pen(width_pt=HAIR_PT)
            pencil.canvas.setStrokeColor(hair())
            pencil.line(from_mm=(x_mm, 4.5), to_mm=(x_mm, bars_mm))
            pencil.words(words, x_mm=x_mm, y_mm=2)
        for place, row in enumerate(reversed(rows)):
            _draw_row(pencil, look, row, y_mm=6 + place * 1.5 * ROW_MM, words_mm=words_mm, mm_each=mm_each)

    return drawing(draw, width_mm=width_mm, height_mm=bars_mm + len(key) * ROW_MM, scale=LIFE_SIZE)
