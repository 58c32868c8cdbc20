"""Plots for the owner: figures and words in; lines over an axis, and inputs lower and higher about today's cost, out.

Every line and bar carries its words beside it, so that nothing depends on colour. Lengths are mm on the paper.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import TYPE_CHECKING

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.papers.drawings.pencil import Pencil, drawing
from estimator.papers.owner.charts import ACCENT, BAR_MM, LIFE_SIZE, ROW_MM, clear, filled, width_mm_of, within
from estimator.papers.page.fonts import text_width_pt
from estimator.papers.page.look import HAIR_PT, LINE_PT, PT_PER_MM, SMALL_PT, Look, accent_colour, hair

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable

_THICK_PT = 2.4


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
            y_mm = place * ROW_MM
            pencil.words(within(row.words, width_mm=words_mm - 2), x_mm=0, y_mm=y_mm + BAR_MM / 2, align="left")
            ends = ((row.low, 1.0, row.low_text, row.low_changes), (row.high, ACCENT, row.high_text, row.high_changes))
            for cost, fill, text, changes in ends:
                left, right = sorted((x_of(cost), x_of(now)))
                filled(pencil, look, fill, x_mm=left, y_mm=y_mm, width_mm=right - left, height_mm=BAR_MM)
                # Both ends may lie on one side of today's cost: then the nearer one's text is written under the farther bar.
                lower = cost < now or (cost == now and max(row.low, row.high) > now)
                words = f"{text} •" if changes and not lower else f"• {text}" if changes else text
                if not _hidden(row, cost, now=now):
                    place_mm = left - 1 if lower else right + 1
                    pencil.words(words, x_mm=place_mm, y_mm=y_mm + BAR_MM / 2, align="right" if lower else "left")
        pencil.pen(width_pt=LINE_PT)
        pencil.line(from_mm=(x_of(now), -1), to_mm=(x_of(now), len(rows) * ROW_MM))

    return drawing(draw, width_mm=width_mm, height_mm=len(rows) * ROW_MM + 1, scale=LIFE_SIZE)


def _hidden(row: Swung, cost: Fraction, *, now: Fraction) -> bool:
    """Whether another end lies farther out on the same side, so that its text has the room."""
    other = row.high if cost == row.low else row.low
    return cost != other and (cost - now) * (other - now) > 0 and abs(other - now) > abs(cost - now)


# --- lines ------------------------------------------------------------------------------------------------------------

_PLOT_MM = 46.0
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
        tops = [10 + _PLOT_MM + 2 + level * 4.0 for level in mark_levels([mark.at for mark in marks])]
        heads = [(at(mark.at, Fraction(0))[0], top_mm) for mark, top_mm in zip(marks, tops, strict=True)]
        pencil.pen(width_pt=HAIR_PT, dashed=True)
        for x_mm, top_mm in heads:
            pencil.line(from_mm=(x_mm, 10), to_mm=(x_mm, top_mm))
        for mark, (x_mm, top_mm) in zip(marks, heads, strict=True):
            _draw_mark_words(pencil, mark.words, x_mm=x_mm, y_mm=top_mm + 1.2, width_mm=width_mm)
        for curve in sorted(curves, key=lambda one: not one.thick):
            _draw_curve(pencil, look, curve, [at(x, y) for x, y in curve.points])
        _draw_names(pencil, [(at(*curve.points[-1])[1], curve) for curve in curves], x_mm=_LEFT_MM + plot_mm + 2)

    return drawing(draw, width_mm=width_mm, height_mm=10 + _PLOT_MM + head_mm, scale=LIFE_SIZE)


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


def mark_levels(places: Sequence[Fraction]) -> list[int]:
    """How high the head of each mark stands: the farther left the higher, so that no line runs through words beside it.

    >>> mark_levels([Fraction(9000), Fraction(2726), Fraction(6703)])
    [0, 2, 1]
    """
    order = sorted(range(len(places)), key=lambda at: places[at], reverse=True)
    return [order.index(at) for at in range(len(places))]


def _draw_mark_words(pencil: Pencil, words: str, *, x_mm: float, y_mm: float, width_mm: float) -> None:
    """Beside the mark's head, on the side that has the room; lines of other marks pass behind the words."""
    wide_mm = text_width_pt(words, size_pt=SMALL_PT) / PT_PER_MM
    at_right = x_mm + 1 + wide_mm <= width_mm
    words = words if at_right else within(words, width_mm=x_mm - 1)
    wide_mm = text_width_pt(words, size_pt=SMALL_PT) / PT_PER_MM
    clear(pencil, x_mm=x_mm + 0.6 if at_right else x_mm - 1.4 - wide_mm, y_mm=y_mm - 2.3, width_mm=wide_mm + 0.8, height_mm=3)
    pencil.words(words, x_mm=x_mm + 1 if at_right else x_mm - 1, y_mm=y_mm - 0.8, align="left" if at_right else "right")


def _draw_curve(pencil: Pencil, look: Look, curve: Curve, points: Sequence[tuple[float, float]]) -> None:
    pencil.pen(width_pt=_THICK_PT if curve.thick else LINE_PT, dashed=curve.dashed)
    if curve.thick:
        pencil.canvas.setStrokeColor(accent_colour(look, as_text=True))
    for one, other in pairwise(points):
        pencil.line(from_mm=one, to_mm=other)
    pencil.pen()


def _draw_names(pencil: Pencil, ends: Sequence[tuple[float, Curve]], *, x_mm: float) -> None:
    """The names of the lines at their right ends, moved apart where they would cover one another."""
    below = -_LABEL_APART_MM
    for y_mm, curve in sorted(ends, key=lambda end: end[0]):
        below = max(y_mm, below + _LABEL_APART_MM)
        pencil.words(within(curve.words, width_mm=_RIGHT_MM - 3), x_mm=x_mm, y_mm=below, align="left", strong=curve.thick)


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
