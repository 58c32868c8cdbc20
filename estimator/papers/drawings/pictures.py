"""Pictures for a paper: fronts and runs go in; flowables with their sizes in place come out."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from estimator.model.exact import Fraction
from estimator.papers.drawings.front import FrontView, Shape
from estimator.papers.drawings.pencil import Around, Pencil, drawing, round_scale
from estimator.papers.drawings.run import RunLine, Standing
from estimator.papers.page.fonts import shortened
from estimator.papers.page.language import Language
from estimator.papers.page.look import HAIR_PT, LINE_PT, PT_PER_MM, SMALL_PT

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable

_SIZE_STEP_PT = 15.0
_NAME_STEP_PT = 9.0
_MOST_HEIGHTS = 3
"""More different heights than this at one side would be a fence of lines; the schedule has them all."""
_ON_FRONT_PT, _FRONT_NEEDS_PT = 7.0, 8.5
_SMALL = Around(2, 2, 2, 2)
_SMALL_SCALES = (50, 55, 60, 65, 70, 75, 80, 85, 90, 95, 100)
_JOINT_PT = 0.9
"""Fronts are drawn so much smaller all round: at these scales the joint between two would vanish."""


def front_picture(view: FrontView, *, language: Language, width_pt: float, height_pt: float) -> Flowable:
    """A front view of one cabinet, with its width below and its height at the left."""
    around = Around(left_pt=_SIZE_STEP_PT, bottom_pt=_SIZE_STEP_PT + 2, right_pt=3, top_pt=3)
    scale = round_scale(
        width_mm=view.outer_width_mm,
        height_mm=view.outer_height_mm,
        room_width_pt=width_pt - around.left_pt - around.right_pt,
        room_height_pt=height_pt - around.bottom_pt - around.top_pt,
        scales=(15, 20, 25, 30, 40, 50, 60, 80, 100),
    )

    def draw(pencil: Pencil) -> None:
        _draw_front(pencil, view, x_mm=Fraction(0), y_mm=Fraction(0), language=language)
        left = view.left_end_mm
        pencil.width_size(
            language.length(view.width_mm), x0_mm=left, x1_mm=left + view.width_mm, y_mm=0, up_pt=-_SIZE_STEP_PT + 2
        )
        pencil.height_size(language.length(view.height_mm), x_mm=0, y0_mm=view.plinth_mm, y1_mm=view.outer_height_mm, right_pt=-6)

    return drawing(draw, width_mm=view.outer_width_mm, height_mm=view.outer_height_mm, scale=scale, around=around)


def shared_scale(views: Iterable[FrontView], *, width_pt: float, height_pt: float) -> Fraction:
    """The one scale at which the widest and the highest of small fronts fit their room: a tall cabinet looks taller than a low one."""
    seen = list(views)
    return round_scale(
        width_mm=max((view.outer_width_mm for view in seen), default=1),
        height_mm=max((view.outer_height_mm for view in seen), default=1),
        room_width_pt=width_pt - _SMALL.left_pt - _SMALL.right_pt,
        room_height_pt=height_pt - _SMALL.bottom_pt - _SMALL.top_pt,
        scales=_SMALL_SCALES,
    )


def small_front(view: FrontView, *, language: Language, scale: Fraction) -> Flowable:
    """A front as a sign in a list that says its sizes in words."""

    def draw(pencil: Pencil) -> None:
        _draw_front(pencil, view, x_mm=Fraction(0), y_mm=Fraction(0), language=language, written=False)

    return drawing(draw, width_mm=view.outer_width_mm, height_mm=view.outer_height_mm, scale=scale, around=_SMALL)


def run_size_pt(line: RunLine, *, scale: Fraction) -> tuple[float, float]:
    """Width and height of a line of a run on the paper, its sizes around it included."""
    around, to_pt = _around(line), float(scale) * PT_PER_MM
    return (
        float(line.width_mm) * to_pt + around.left_pt + around.right_pt,
        float(line.height_mm) * to_pt + around.top_pt + around.bottom_pt,
    )


def run_picture(line: RunLine, *, names: Sequence[str], language: Language, scale: Fraction) -> Flowable:
    """One line of a run: every cabinet with its name and width, the different heights at the left and beside what hangs."""

    def draw(pencil: Pencil) -> None:
        for stood, name in zip(line.cabinets, names, strict=True):
            _draw_front(pencil, stood.view, x_mm=stood.x_mm, y_mm=stood.y_mm, language=language)
            _name_and_width(pencil, stood, name=name, language=language, line=line)
        left, right = _heights_to_show(line)
        for place, stood in enumerate(left):
            _height(pencil, stood, x_mm=Fraction(0), away_pt=-_first_step(place), language=language)
        for place, stood in enumerate(right):
            _height(pencil, stood, x_mm=_right_of_the_wall(line), away_pt=_first_step(place) + 4, language=language)

    return drawing(draw, width_mm=line.width_mm, height_mm=line.height_mm, scale=scale, around=_around(line))


def _first_step(place: int) -> float:
    return (place + 1) * _SIZE_STEP_PT - 7


def _around(line: RunLine) -> Around:
    left, right = _heights_to_show(line)
    beyond = len(right) * _SIZE_STEP_PT + 4 if right and _right_of_the_wall(line) == line.width_mm else 4.0
    foot = _NAME_STEP_PT + _SIZE_STEP_PT + 12
    top = foot - 6 if any(stood.hangs for stood in line.cabinets) and any(not stood.hangs for stood in line.cabinets) else 4.0
    return Around(left_pt=len(left) * _SIZE_STEP_PT + 4, right_pt=beyond, top_pt=top, bottom_pt=foot)


def _heights_to_show(line: RunLine) -> tuple[list[Standing], list[Standing]]:
    """One cabinet of each height: at the left what stands, at the right what hangs (at the left where nothing stands)."""
    floor = _one_of_each_height([stood for stood in line.cabinets if not stood.hangs])
    wall = _one_of_each_height([stood for stood in line.cabinets if stood.hangs])
    return (floor, wall) if floor else (wall, [])


def _one_of_each_height(cabinets: Sequence[Standing]) -> list[Standing]:
    seen: dict[Fraction, Standing] = {}
    for stood in cabinets:
        seen.setdefault(stood.view.height_mm, stood)
    return [stood for _, stood in sorted(seen.items())][:_MOST_HEIGHTS]


def _right_of_the_wall(line: RunLine) -> Fraction:
    """Where the heights of what hangs are written: right of it, or of the whole run when something tall stands there."""
    right = max(stood.x_mm + stood.view.outer_width_mm for stood in line.cabinets if stood.hangs)
    low = min(stood.y_mm for stood in line.cabinets if stood.hangs)
    tall_beyond = any(
        not stood.hangs and stood.view.outer_height_mm > low and stood.x_mm + stood.view.outer_width_mm > right
        for stood in line.cabinets
    )
    return line.width_mm if tall_beyond else right


def _height(pencil: Pencil, stood: Standing, *, x_mm: Fraction, away_pt: float, language: Language) -> None:
    bottom, top = stood.y_mm + stood.view.plinth_mm, stood.y_mm + stood.view.outer_height_mm
    pencil.height_size(language.length(stood.view.height_mm), x_mm=x_mm, y0_mm=bottom, y1_mm=top, right_pt=away_pt)


def _draw_front(
    pencil: Pencil, view: FrontView, *, x_mm: Fraction, y_mm: Fraction, language: Language, written: bool = True
) -> None:
    """Outline, plinth, finished ends, fronts, and what is seen behind open fronts; what is written on fronts where that is wanted."""
    left, bottom = x_mm + view.left_end_mm, y_mm + view.plinth_mm
    pencil.pen(width_pt=HAIR_PT)
    if view.plinth_mm:
        pencil.box(x_mm=left, y_mm=y_mm, width_mm=view.width_mm, height_mm=view.plinth_mm)
    for end_mm, end_x in ((view.left_end_mm, x_mm), (view.right_end_mm, left + view.width_mm)):
        if end_mm:
            pencil.box(x_mm=end_x, y_mm=y_mm, width_mm=end_mm, height_mm=view.outer_height_mm)
    board = view.board_mm
    for low, high in view.openings:
        pencil.box(x_mm=left + board, y_mm=bottom + low, width_mm=view.width_mm - 2 * board, height_mm=high - low)
    for shape in (*view.inside, *view.fronts):
        seen_pt = 0.0 if shape.what in ("shelf", "partition") else _JOINT_PT
        pencil.box(
            x_mm=left + shape.x_mm,
            y_mm=bottom + shape.y_mm,
            width_mm=shape.width_mm,
            height_mm=shape.height_mm,
            within_pt=seen_pt,
        )
    for shape in view.fronts if written else ():
        words = language.length(shape.height_mm) if shape.what == "drawer" else shape.words
        _write_on(pencil, shape, words, x_mm=left, y_mm=bottom)
    pencil.pen(width_pt=LINE_PT)
    pencil.pencilled_box(x_mm=left, y_mm=bottom, width_mm=view.width_mm, height_mm=view.height_mm)


def _write_on(pencil: Pencil, shape: Shape, words: str, *, x_mm: Fraction, y_mm: Fraction) -> None:
    """The height of a drawer front, or a fixed panel's name, where there is room for it."""
    if (
        words
        and pencil.fits(words, width_mm=shape.width_mm, size_pt=_ON_FRONT_PT)
        and pencil.pt(shape.height_mm) >= _FRONT_NEEDS_PT
    ):
        middle_mm = x_mm + shape.x_mm + shape.width_mm / 2
        pencil.words(words, x_mm=middle_mm, y_mm=y_mm + shape.y_mm + shape.height_mm / 2, size_pt=_ON_FRONT_PT)


def _name_and_width(pencil: Pencil, stood: Standing, *, name: str, language: Language, line: RunLine) -> None:
    """The name next to the cabinet and the width beyond it: below what stands, above what hangs."""
    view = stood.view
    up = stood.hangs and any(not other.hangs for other in line.cabinets)
    edge = stood.y_mm + view.outer_height_mm if up else Fraction(0)
    sign = 1 if up else -1
    middle = stood.x_mm + view.outer_width_mm / 2
    short = shortened(name, width_pt=pencil.pt(view.outer_width_mm) - 2, size_pt=SMALL_PT)
    pencil.words(short, x_mm=middle, y_mm=edge, up_pt=sign * 7)
    left = stood.x_mm + view.left_end_mm
    away = _NAME_STEP_PT + (5 if up else _SIZE_STEP_PT - 2)
    pencil.width_size(language.length(view.width_mm), x0_mm=left, x1_mm=left + view.width_mm, y_mm=edge, up_pt=sign * away)
