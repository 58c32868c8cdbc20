"""Front views worked on paper: from the sizes of a cabinet's parts to where its fronts and shelves lie."""

from dataclasses import replace
from functools import cache
from itertools import pairwise
from pathlib import Path
from typing import Literal

import pytest

from estimator.costing.parts import parts_of_job
from estimator.model.exact import Fraction
from estimator.model.problems import Row
from estimator.model.records import Cabinet, Job, Kind
from estimator.papers.drawings.front import FrontView, front_view, parts_by_row
from estimator.papers.drawings.pencil import round_scale
from estimator.papers.drawings.run import LONGEST_MM, hangs_on_the_wall, run_lines
from estimator.reading.workbook import read_job

GAPS = {"gap_top": Fraction(3), "gap_mid": Fraction(3), "gap_bottom": Fraction(0), "gap_side": Fraction(3, 2)}


@cache
def shop_job() -> Job:
    job = read_job(Path(__file__).parents[2] / "workbooks" / "kitchen.xlsx")
    assert isinstance(job, Job)
    return job


def view_of(kind: str, width: int, **other: object) -> FrontView:
    """The front of a cabinet made by the rules that ship, with gaps of 3, 1.5 at the sides and none at the foot."""
    job = shop_job()
    kinds = {one.kind: one for one in job.kinds}
    plain = Cabinet(
        ref="X 1", room="X", kind=kind, qty=1, width_mm=Fraction(width), height_mm=kinds[kind].height_mm or Fraction(720),
        depth_mm=Fraction(560), shelves=0, doors=0, drawers=0, finish=job.finishes[0].finish, finished_ends="none",
        front_heights_mm=(), tax_rate_share=None, note="", own_numbers={}, own_lengths=frozenset(),
        at=Row("b.xlsx", "Cabinets", 2, {}),
    )  # fmt: skip
    cabinet = replace(plain, **other)  # type: ignore[arg-type]
    shop = replace(job.shop, lengths_mm={**job.shop.lengths_mm, **GAPS, "plinth_height": Fraction(100)})
    made = parts_of_job(replace(job, cabinets=(cabinet,), loose_parts=(), shop=shop))
    assert not made.problems
    parts = parts_by_row(made.parts)[("Cabinets", 2)]
    return front_view(cabinet, parts, lengths_mm=shop.lengths_mm, hangs=hangs_on_the_wall(cabinet, job.kinds))


def fronts(view: FrontView) -> list[tuple[str, Fraction, Fraction, Fraction, Fraction]]:
    return [(front.what, front.x_mm, front.y_mm, front.width_mm, front.height_mm) for front in view.fronts]


HALF = Fraction(3, 2)


def test_two_doors() -> None:
    """800 wide: two doors of (800 - 2 x 1.5 - 3)/2 = 397 by 720 - 3 = 717, 1.5 from the left, on the foot of the box."""
    assert fronts(view_of("base", 800, doors=2)) == [("door", HALF, 0, 397, 717), ("door", HALF + 400, 0, 397, 717)]


def test_a_drawer_over_a_door() -> None:
    """The drawer of 140 from 717 down to 577; 3 below it the door's top at 574."""
    view = view_of("drawer over door", 450, doors=1, drawers=1, shelves=1)
    assert fronts(view) == [("drawer", HALF, 577, 447, 140), ("door", HALF, 0, 447, 574)]
    assert view.inside == ()


def test_drawers_of_typed_heights_from_top_to_bottom() -> None:
    """157 + 253 + 301 and two gaps of 3 are 717: from 717 down to 560, 557 to 304, 301 to 0."""
    view = view_of("drawer base", 900, drawers=3, front_heights_mm=(Fraction(157), Fraction(253), Fraction(301)))
    assert fronts(view) == [("drawer", HALF, 560, 897, 157), ("drawer", HALF, 304, 897, 253), ("drawer", HALF, 0, 897, 301)]


def test_two_doors_below_a_drawer_as_wide_as_the_box_is_high_stay_upright() -> None:
    view = view_of("drawer over door", 762, height_mm=Fraction(762), doors=2, drawers=1)
    assert [(what, up) for what, _, _, _, up in fronts(view)] == [("drawer", 140), ("door", 616), ("door", 616)]


def test_drawers_of_a_tall_cabinet_lie_at_its_foot() -> None:
    view = view_of("tall", 600, doors=1, drawers=2)
    door = next(front for front in view.fronts if front.what == "door")
    drawers = [front for front in view.fronts if front.what == "drawer"]
    assert min(front.y_mm for front in drawers) == 0
    assert max(front.y_mm + front.height_mm for front in drawers) + 3 == door.y_mm
    assert door.y_mm + door.height_mm == view.height_mm - 3


def test_a_corner_shows_its_blind_panel_beside_its_door() -> None:
    view = view_of("corner base", 1000, doors=1)
    assert [front.what for front in view.fronts] == ["panel", "door"]
    panel, door = view.fronts
    assert (panel.x_mm, panel.width_mm) == (0, 550)
    assert door.x_mm + door.width_mm == 1000 - HALF
    assert panel.x_mm + panel.width_mm <= door.x_mm


def test_open_shelves_spread_evenly() -> None:
    """720 high in 18 mm board is 684 clear; two shelves leave three spaces of (684 - 36)/3 = 216."""
    view = view_of("open", 600, shelves=2, depth_mm=Fraction(320))
    assert view.openings == ((18, 702),)
    assert [(shelf.y_mm, shelf.height_mm, shelf.width_mm) for shelf in view.inside] == [(234, 18, 564), (468, 18, 564)]


def test_partitions_make_bays_with_their_own_shelves() -> None:
    """1200 wide with one partition: two bays of (1164 - 18)/2 = 573; two shelves, one in each bay."""
    view = view_of("open", 1200, shelves=2, depth_mm=Fraction(320), own_numbers={"partitions": Fraction(1)})
    assert [shape.x_mm for shape in view.inside if shape.what == "partition"] == [591]
    assert [(shape.x_mm, shape.width_mm) for shape in view.inside if shape.what == "shelf"] == [(18, 573), (609, 573)]


def test_plinth_and_finished_ends_stand_outside_the_box() -> None:
    view = view_of("base", 600, doors=1, finished_ends="both")
    assert (view.plinth_mm, view.outer_height_mm) == (100, 820)
    assert view.outer_width_mm == 600 + view.left_end_mm + view.right_end_mm
    assert view.left_end_mm == view.right_end_mm > 0


@pytest.mark.parametrize(
    ("kind", "words", "depth", "height", "hangs"),
    [
        pytest.param("wall", "", 560, 2000, True, id="the kind's name says wall"),
        pytest.param("H60", "Hängeschrank", 560, 720, True, id="the kind's words say it in German"),
        pytest.param("base", "", 300, 720, False, id="a shallow base stands"),
        pytest.param("box", "", 320, 720, True, id="shallow and low"),
        pytest.param("box", "", 560, 720, False, id="deep"),
        pytest.param("box", "", 320, 2000, False, id="shallow and high"),
    ],
)
def test_what_hangs(kind: str, words: str, depth: int, height: int, hangs: bool) -> None:
    at = Row("b.xlsx", "Kinds", 2, {})
    cabinet = replace(shop_job().cabinets[0], kind=kind, depth_mm=Fraction(depth), height_mm=Fraction(height), own_numbers={})
    assert hangs_on_the_wall(cabinet, [Kind(kind, words, None, None, None, None, None, at)]) is hangs


@pytest.mark.parametrize(("stands", "hangs"), [("floor", False), ("wall", True)])
def test_what_the_kind_says_goes_before_every_guess(stands: Literal["floor", "wall"], hangs: bool) -> None:
    at = Row("b.xlsx", "Kinds", 2, {})
    name = "wall" if stands == "floor" else "base"
    cabinet = replace(shop_job().cabinets[0], kind=name, own_numbers={})
    assert hangs_on_the_wall(cabinet, [Kind(name, "", None, None, None, None, None, at, stands)]) is hangs


def test_wall_cabinets_hang_above_and_pass_over_a_tall_one() -> None:
    tall, base, wall = view_of("tall", 600, doors=1), view_of("base", 900, doors=2), view_of("wall", 800, doors=2)
    (line,) = run_lines([(tall, False), (base, False), (wall, True)])
    stood = {(one.view.width_mm, one.hangs): one for one in line.cabinets}
    assert stood[(Fraction(900), False)].x_mm == 600
    assert stood[(Fraction(800), True)].x_mm == 600
    assert stood[(Fraction(800), True)].y_mm + 720 == tall.outer_height_mm
    assert stood[(Fraction(800), True)].y_mm > base.outer_height_mm


def test_a_long_run_goes_on_in_further_lines_and_loses_no_cabinet() -> None:
    base, wall = view_of("base", 600, doors=1), view_of("wall", 700, doors=1)
    lines = run_lines([(base, False)] * 23 + [(wall, True)] * 17)
    assert sum(len(line.cabinets) for line in lines) == 40
    assert all(line.width_mm <= LONGEST_MM for line in lines)
    for line in lines:
        for hung in (False, True):
            row = sorted((one for one in line.cabinets if one.hangs is hung), key=lambda one: one.x_mm)
            assert all(a.x_mm + a.view.outer_width_mm <= b.x_mm for a, b in pairwise(row))


def test_the_scale_is_the_largest_round_one_that_fits() -> None:
    """4800 mm at 1:40 is 120 mm, which is 340.2 points; at 1:30 it would be 453.5."""
    assert round_scale(width_mm=4800, height_mm=2000, room_width_pt=400, room_height_pt=400) == Fraction(1, 40)
    assert round_scale(width_mm=4800, height_mm=2000, room_width_pt=454, room_height_pt=400) == Fraction(1, 30)
