"""Charts for the owner: figures and words in, drawings out that read in black and white.

Every bar and line carries its words beside it; grey, white and the accent only help the eye. Lengths are mm on the paper.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import TYPE_CHECKING

from estimator.papers.drawings.pencil import Pencil, drawing
from estimator.papers.page.fonts import shortened, text_width_pt
from estimator.papers.page.look import HAIR_PT, LINE_PT, PT_PER_MM, SMALL_PT, Look, accent_colour, black, contrast_on_white, hair

if TYPE_CHECKING:
    from reportlab.lib.colors import Color
    from reportlab.platypus.flowables import Flowable

_LIFE_SIZE = Fraction(1)
_ROW_MM = 5.6
_BAR_MM = 3.8
_SHARE_MM = 13.0
_READABLE_CONTRAST = 4.5
_THICK_PT = 2.4
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


@dataclass(frozen=True, slots=True)
class Curve:
    """One line of a chart by its points; a dashed or a thick one is told from the others without colour."""

    words: str
    points: tuple[tuple[Fraction, Fraction], ...]
    thick: bool = False
    dashed: bool = False


@dataclass(frozen=True, slots=True)
class Mark:
    """An upright line at a place on the axis, with words at its head."""

    at: Fraction
    words: str


@dataclass(frozen=True, slots=True)
class Swung:
    """One input lower and higher: what comes out, in money and in words, and whether another way is best there."""

    words: str
    low: Fraction
    high: Fraction
    low_text: str
    high_text: str
    low_changes: bool
    high_changes: bool


def width_mm_of(look: Look) -> float:
    return look.width_pt / PT_PER_MM


def _colour(fill: Fill, look: Look) -> Color:
    from reportlab.lib.colors import Color

    return accent_colour(look) if isinstance(fill, str) else Color(fill, fill, fill)


def _is_dark(fill: Fill, look: Look) -> bool:
    return contrast_on_white(look.accent) > _READABLE_CONTRAST if isinstance(fill, str) else fill < 0.45


def _filled(pencil: Pencil, look: Look, fill: Fill, *, x_mm: float, y_mm: float, width_mm: float, height_mm: float) -> None:
    """A filled box with a thin outline; nothing where it has no width."""
    if width_mm <= 0:
        return
    pencil.pen(width_pt=HAIR_PT)
    pencil.canvas.setFillColor(_colour(fill, look))
    x, y = pencil.at(x_mm, y_mm)
    pencil.canvas.rect(x, y, pencil.pt(width_mm), pencil.pt(height_mm), stroke=1, fill=1)
    pencil.canvas.setFillColor(black())


def _within(words: str, *, width_mm: float, strong: bool = False) -> str:
    return shortened(words, width_pt=width_mm * PT_PER_MM, size_pt=SMALL_PT, strong=strong)


def _inside(pencil: Pencil, look: Look, one: Segment, *, x_mm: float, y_mm: float, width_mm: float) -> None:
    """The text of a piece in its middle, white where the piece is dark; left out where it does not fit."""
    from estimator.papers.page.fonts import draw_text

    if not one.text or not pencil.fits(one.text, width_mm=width_mm):
        return
    x, y = pencil.at(x_mm + width_mm / 2, y_mm + _BAR_MM / 2)
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
            y_mm = place * _ROW_MM
            long_mm = float(row.value / longest) * room_mm if longest > 0 and row.value > 0 else 0.0
            pencil.words(_within(row.words, width_mm=words_mm - 3), x_mm=0, y_mm=y_mm + _BAR_MM / 2, align="left")
            _filled(pencil, look, row.fill, x_mm=words_mm, y_mm=y_mm, width_mm=long_mm, height_mm=_BAR_MM)
            pencil.words(row.text, x_mm=width_mm - _SHARE_MM, y_mm=y_mm + _BAR_MM / 2, align="right")
            pencil.words(row.share_text, x_mm=width_mm, y_mm=y_mm + _BAR_MM / 2, align="right")
        pencil.pen(width_pt=LINE_PT)
        pencil.line(from_mm=(words_mm, -1), to_mm=(words_mm, len(rows) * _ROW_MM - _ROW_MM + _BAR_MM + 1))

    return drawing(draw, width_mm=width_mm, height_mm=len(rows) * _ROW_MM, scale=_LIFE_SIZE)


def stacked_bars(rows: Sequence[SegmentRow], *, look: Look, words_mm: float = 40, text_mm: float = 24) -> Flowable:
    """Bars of pieces, each total behind its bar; the key stands above in the order of the pieces."""
    width_mm = width_mm_of(look)
    room_mm = width_mm - words_mm - text_mm
    longest = max((one.end for row in rows for one in row.segments), default=Fraction(0))
    key = _key_lines([one for row in rows for one in row.segments], width_mm=width_mm)
    bars_mm = len(rows) * 2 * _ROW_MM

    def draw(pencil: Pencil) -> None:
        _draw_key(pencil, look, key, top_mm=bars_mm + len(key) * _ROW_MM)
        for place, row in enumerate(reversed(rows)):
            y_mm = place * 2 * _ROW_MM + 1
            _draw_row(pencil, look, row, y_mm=y_mm, words_mm=words_mm, mm_each=room_mm / float(longest) if longest else 0.0)
            if row.segments:
                pencil.words(row.text, x_mm=width_mm, y_mm=y_mm + _BAR_MM / 2 + 1, align="right", strong=row.strong)
            else:
                why = _within(row.text, width_mm=room_mm + text_mm - 3)
                pencil.words(why, x_mm=words_mm + 2, y_mm=y_mm + _BAR_MM / 2 + 1, align="left")
        pencil.pen(width_pt=LINE_PT)
        pencil.line(from_mm=(words_mm, 0), to_mm=(words_mm, bars_mm - 2))

    return drawing(draw, width_mm=width_mm, height_mm=bars_mm + len(key) * _ROW_MM, scale=_LIFE_SIZE)


def _draw_row(pencil: Pencil, look: Look, row: SegmentRow, *, y_mm: float, words_mm: float, mm_each: float) -> None:
    words = _within(row.words, width_mm=words_mm - 3, strong=row.strong)
    pencil.words(words, x_mm=0, y_mm=y_mm + _BAR_MM / 2 + 1, align="left", strong=row.strong)
    for one in row.segments:
        x_mm, wide_mm = words_mm + float(one.start) * mm_each, float(one.end - one.start) * mm_each
        _filled(pencil, look, one.fill, x_mm=x_mm, y_mm=y_mm, width_mm=wide_mm, height_mm=_BAR_MM + 2)
        _inside(pencil, look, one, x_mm=x_mm, y_mm=y_mm + 1, width_mm=wide_mm)


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
        y_mm = top_mm - number * _ROW_MM + 1.4
        for x_mm, one in line:
            _filled(pencil, look, one.fill, x_mm=x_mm, y_mm=y_mm, width_mm=3, height_mm=3)
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
    bars_mm = 6 + len(rows) * 1.5 * _ROW_MM

    def draw(pencil: Pencil) -> None:
        _draw_key(pencil, look, key, top_mm=bars_mm + len(key) * _ROW_MM)
        for at, words in ticks:
            x_mm = words_mm + float(at) * mm_each
            pencil.pen(width_pt=HAIR_PT)
            pencil.canvas.setStrokeColor(hair())
            pencil.line(from_mm=(x_mm, 4.5), to_mm=(x_mm, bars_mm))
            pencil.words(words, x_mm=x_mm, y_mm=2)
        for place, row in enumerate(reversed(rows)):
            _draw_row(pencil, look, row, y_mm=6 + place * 1.5 * _ROW_MM, words_mm=words_mm, mm_each=mm_each)

    return drawing(draw, width_mm=width_mm, height_mm=bars_mm + len(key) * _ROW_MM, scale=_LIFE_SIZE)


# --- lower and higher -------------------------------------------------------------------------------------------------


def tornado(rows: Sequence[Swung], *, now: Fraction, look: Look, words_mm: float = 46, text_mm: float = 17) -> Flowable:
    """Every input's two ends about the cost as it is now: white for less of the input, the accent for more."""
    width_mm = width_mm_of(look)
    room_mm = width_mm - words_mm - 2 * text_mm
    ends = [now, *(end for row in rows for end in (row.low, row.high))]
    least, span = min(ends), max(ends) - min(ends)

    def x_of(cost: Fraction) -> float:
        return words_mm + text_mm + (float((cost - least) / span) * room_mm if span else room_mm / 2)

    def draw(pencil: Pencil) -> None:
        for place, row in enumerate(reversed(rows)):
            y_mm = place * _ROW_MM
            pencil.words(_within(row.words, width_mm=words_mm - 2), x_mm=0, y_mm=y_mm + _BAR_MM / 2, align="left")
            ends = ((row.low, 1.0, row.low_text, row.low_changes), (row.high, ACCENT, row.high_text, row.high_changes))
            for cost, fill, text, changes in ends:
                left, right = sorted((x_of(cost), x_of(now)))
                _filled(pencil, look, fill, x_mm=left, y_mm=y_mm, width_mm=right - left, height_mm=_BAR_MM)
                # Both ends may lie on one side of today's cost: then the nearer one's text is written under the farther bar.
                lower = cost < now or (cost == now and max(row.low, row.high) > now)
                words = f"{text} •" if changes and not lower else f"• {text}" if changes else text
                if not _hidden(row, cost, now=now):
                    place_mm = left - 1 if lower else right + 1
                    pencil.words(words, x_mm=place_mm, y_mm=y_mm + _BAR_MM / 2, align="right" if lower else "left")
        pencil.pen(width_pt=LINE_PT)
        pencil.line(from_mm=(x_of(now), -1), to_mm=(x_of(now), len(rows) * _ROW_MM))

    return drawing(draw, width_mm=width_mm, height_mm=len(rows) * _ROW_MM + 1, scale=_LIFE_SIZE)


def _hidden(row: Swung, cost: Fraction, *, now: Fraction) -> bool:
    """Whether another end lies farther out on the same side, so that its text has the room."""
    other = row.high if cost == row.low else row.low
    return cost != other and (cost - now) * (other - now) > 0 and abs(other - now) > abs(cost - now)


# --- lines ------------------------------------------------------------------------------------------------------------

_PLOT_MM = 54.0
_LEFT_MM = 16.0
_RIGHT_MM = 30.0
_LABEL_APART_MM = 3.6


def lines(
    curves: Sequence[Curve],
    *,
    look: Look,
    marks: Sequence[Mark] = (),
    x_ticks: Sequence[tuple[Fraction, str]],
    y_ticks: Sequence[tuple[Fraction, str]],
    x_words: str,
) -> Flowable:
    """Lines over an axis from 0; each line's name stands at its right end, each mark's words above the plot."""
    width_mm = width_mm_of(look)
    plot_mm = width_mm - _LEFT_MM - _RIGHT_MM
    far = max(max(x for curve in curves for x, _ in curve.points), max(x for x, _ in x_ticks))
    high = max(max(y for curve in curves for _, y in curve.points), max(y for y, _ in y_ticks)) or Fraction(1)
    head_mm = 2 + len(marks) * 4.0

    def at(x: Fraction, y: Fraction) -> tuple[float, float]:
        return _LEFT_MM + float(x / far) * plot_mm, 10 + float(y / high) * _PLOT_MM

    def draw(pencil: Pencil) -> None:
        _draw_axes(pencil, x_ticks=[(at(x, Fraction(0))[0], words) for x, words in x_ticks],
                   y_ticks=[(at(Fraction(0), y)[1], words) for y, words in y_ticks], right_mm=_LEFT_MM + plot_mm)  # fmt: skip
        pencil.words(x_words, x_mm=_LEFT_MM + plot_mm / 2, y_mm=1.5)
        for number, mark in enumerate(marks):
            x_mm, top_mm = at(mark.at, Fraction(0))[0], 10 + _PLOT_MM + 2 + number * 4.0
            pencil.pen(width_pt=HAIR_PT, dashed=True)
            pencil.line(from_mm=(x_mm, 10), to_mm=(x_mm, top_mm))
            _draw_mark_words(pencil, mark.words, x_mm=x_mm, y_mm=top_mm + 1.2, width_mm=width_mm)
        for curve in sorted(curves, key=lambda one: not one.thick):
            _draw_curve(pencil, look, curve, [at(x, y) for x, y in curve.points])
        _draw_names(pencil, [(at(*curve.points[-1])[1], curve) for curve in curves], x_mm=_LEFT_MM + plot_mm + 2)

    return drawing(draw, width_mm=width_mm, height_mm=10 + _PLOT_MM + head_mm, scale=_LIFE_SIZE)


def _draw_axes(
    pencil: Pencil, *, x_ticks: Sequence[tuple[float, str]], y_ticks: Sequence[tuple[float, str]], right_mm: float
) -> None:
    for y_mm, words in y_ticks:
        pencil.pen(width_pt=HAIR_PT)
        pencil.canvas.setStrokeColor(hair())
        pencil.line(from_mm=(_LEFT_MM, y_mm), to_mm=(right_mm, y_mm))
        pencil.words(words, x_mm=_LEFT_MM - 1.5, y_mm=y_mm, align="right")
    pencil.pen(width_pt=LINE_PT)
    pencil.line(from_mm=(_LEFT_MM, 10), to_mm=(right_mm, 10))
    for x_mm, words in x_ticks:
        pencil.pen(width_pt=HAIR_PT)
        pencil.line(from_mm=(x_mm, 10), to_mm=(x_mm, 9))
        pencil.words(words, x_mm=x_mm, y_mm=6.5)


def _draw_mark_words(pencil: Pencil, words: str, *, x_mm: float, y_mm: float, width_mm: float) -> None:
    """Beside the mark's head, on the side that has the room."""
    wide_mm = text_width_pt(words, size_pt=SMALL_PT) / PT_PER_MM
    if x_mm + 1 + wide_mm <= width_mm:
        pencil.words(words, x_mm=x_mm + 1, y_mm=y_mm - 0.8, align="left")
    else:
        pencil.words(_within(words, width_mm=x_mm - 1), x_mm=x_mm - 1, y_mm=y_mm - 0.8, align="right")


def _draw_curve(pencil: Pencil, look: Look, curve: Curve, points: Sequence[tuple[float, float]]) -> None:
    pencil.pen(width_pt=_THICK_PT if curve.thick else LINE_PT, dashed=curve.dashed)
    if curve.thick:
        pencil.canvas.setStrokeColor(accent_colour(look))
    for one, other in pairwise(points):
        pencil.line(from_mm=one, to_mm=other)
    pencil.pen()


def _draw_names(pencil: Pencil, ends: Sequence[tuple[float, Curve]], *, x_mm: float) -> None:
    """The names of the lines at their right ends, moved apart where they would cover one another."""
    below = -_LABEL_APART_MM
    for y_mm, curve in sorted(ends, key=lambda end: end[0]):
        below = max(y_mm, below + _LABEL_APART_MM)
        pencil.words(_within(curve.words, width_mm=_RIGHT_MM - 3), x_mm=x_mm, y_mm=below, align="left", strong=curve.thick)


def round_ticks(most: Fraction, *, about: int = 5) -> tuple[Fraction, ...]:
    """Round figures from 0 up to at least `most`: steps of 1, 2 or 5 times a power of ten.

    >>> [int(tick) for tick in round_ticks(Fraction(1742))]
    [0, 500, 1000, 1500, 2000]
    """
    if most <= 0:
        return (Fraction(0), Fraction(1))
    step = Fraction(1)
    while step * about > most:
        step /= 10
    while step * 10 * about <= most:
        step *= 10
    step = next(step * times for times in (1, 2, 5, 10) if step * times * about >= most)
    count = -(-most // step)
    return tuple(step * number for number in range(int(count) + 1))
