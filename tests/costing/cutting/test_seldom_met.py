"""What a saw cannot cut, what no plan may say, what is not wanted: the ways out of the cutting plan that few jobs take."""

from __future__ import annotations

from dataclasses import replace

import pytest

from estimator.costing.cutting import check_plan, plan_board, planning
from estimator.costing.cutting.assembling import FilledSheet, sawn_sheets
from estimator.costing.cutting.kerf import grid_of
from estimator.costing.cutting.sawing import sawn
from estimator.costing.cutting.strips import strips_from_rolls
from estimator.costing.cutting.tidying import tidied
from estimator.model.cutting_plan import Cut, CuttingPlan, RollPlan, StockSheet, Unplaceable, WantedPart
from estimator.model.exact import Fraction
from estimator.model.problems import Fault

F = Fraction
PINWHEEL = [(0, 0, 2, 1, 0), (2, 0, 1, 2, 1), (1, 2, 2, 1, 0), (0, 1, 1, 2, 1)]
"""Four pieces of 2 x 1 around a hole of 1 x 1 in a sheet of 3 x 3: every cut from edge to edge runs through one of them."""


def test_a_pinwheel_cannot_be_sawn_alone_or_beside_another_piece() -> None:
    assert sawn(room=(0, 0, 3, 3), pieces=PINWHEEL, kerf=0) is None
    assert sawn(room=(0, 0, 4, 3), pieces=[*PINWHEEL, (3, 0, 1, 3, 2)], kerf=0) is None
    assert sawn(room=(0, 0, 3, 3), pieces=PINWHEEL[:3], kerf=0) is not None


def test_a_sheet_that_no_saw_can_cut_is_a_fault() -> None:
    wanted = [WantedPart(F(2), F(1), 2, "along"), WantedPart(F(1), F(2), 2, "along")]
    grid = grid_of(wanted=wanted, stock=[StockSheet(F(3), F(3), F(0), F(1), 0, True)], kerf_mm=F(0))
    laid = tuple((kind, x, y, along, across) for x, y, along, across, kind in PINWHEEL)
    with pytest.raises(Fault, match="no saw can cut"):
        sawn_sheets([FilledSheet(0, laid)], grid)


def test_a_plan_that_the_checker_finds_wrong_is_a_fault(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(planning, "check_plan", lambda **_: ["Pattern 1: two parts overlap."])
    with pytest.raises(Fault, match=r"breaks its own laws\. Pattern 1: two parts overlap\."):
        plan_board(wanted=[WantedPart(F(500), F(300), 1, "along")], stock=[StockSheet(F(1000), F(600), F(0), F(9), 0, True)], kerf_mm=F(4))


WANTED = [WantedPart(F(500), F(300), 2, "along")]
STOCK = [StockSheet(F(600), F(400), F(0), F(20), 2, False)]


def two_sheets() -> CuttingPlan:
    plan = plan_board(wanted=WANTED, stock=STOCK, kerf_mm=F(4))
    assert isinstance(plan, CuttingPlan)
    return plan


def wrong(plan: CuttingPlan, stock: list[StockSheet] = STOCK) -> str:
    return " ".join(check_plan(plan=plan, wanted=WANTED, stock=stock, kerf_mm=F(4)))


def test_more_sheets_used_than_are_on_hand_is_told() -> None:
    assert wrong(two_sheets()) == ""
    assert "Stock 0 is used 2 times and only 1 are on hand." in wrong(two_sheets(), [replace(STOCK[0], on_hand=1)])


@pytest.mark.parametrize(
    ("at_mm", "words"),
    [
        pytest.param(-1, "cut 1 misses its piece", id="before the piece"),
        pytest.param(700, "cut 1 misses its piece", id="behind the piece"),
        pytest.param(0, "not the parts and the offcuts", id="along its very edge, so that nothing lies before it"),
    ],
)
def test_a_cut_that_misses_is_told(at_mm: int, words: str) -> None:
    plan = two_sheets()
    cuts: tuple[Cut, ...] = plan.patterns[0].cuts
    moved = (replace(cuts[0], at_mm=F(at_mm)), *cuts[1:])
    assert words in wrong(replace(plan, patterns=(replace(plan.patterns[0], cuts=moved), *plan.patterns[1:])))


def test_no_strips_take_no_roll_and_a_strip_that_no_roll_holds_is_named() -> None:
    assert strips_from_rolls(strips=[(F(600), 0)], on_hand_mm=[F(1300)], new_roll_mm=F(50_000)) == RollPlan(rolls=(), new_rolls=0, bound=0)
    assert strips_from_rolls(strips=[(F(600), 1), (F(2000), 1)], on_hand_mm=[], new_roll_mm=F(1000)) == Unplaceable(too_large=(1,), left_over=())


def test_remainders_are_shared_out_anew_where_filling_the_shortest_first_would_take_a_roll_more() -> None:
    """Remainders of 700, 1000 and 1100 hold everything: 600, 600 + 200 + 200, 600 + 500. Filled one by one, 700 takes 500 + 200 and 600 is left."""
    plan = strips_from_rolls(
        strips=[(F(200), 2), (F(600), 3), (F(500), 1)], on_hand_mm=[F(1000), F(700), F(1100)], new_roll_mm=F(1000)
    )  # fmt: skip
    assert isinstance(plan, RollPlan)
    assert plan.new_rolls == 0
    assert sorted((int(roll.length_mm), sorted(map(int, roll.strips_mm))) for roll in plan.rolls) == [
        (700, [600]), (1000, [200, 200, 600]), (1100, [500, 600]),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("parts", "sheet"),
    [
        pytest.param([(100, 100, 2, "either"), (400, 300, 1, "along"), (250, 200, 2, "either"), (150, 150, 2, "either")], (600, 500), id="95 % of the sheet, laid with care"),
        pytest.param(
            [(250, 350, 1, "along"), (350, 150, 2, "either"), (200, 100, 2, "either"), (100, 300, 1, "along"), (150, 100, 2, "along"), (300, 150, 2, "along")],
            (800, 500),
            id="96 % of the sheet, laid by refilling it",
        ),
    ],
)  # fmt: skip
def test_the_last_sheet_on_hand_is_filled_with_care_before_parts_are_called_left_over(
    parts: list[tuple[int, int, int, str]], sheet: tuple[int, int]
) -> None:
    wanted = [WantedPart(F(length), F(width), count, way) for length, width, count, way in parts]
    stock = [StockSheet(F(sheet[0]), F(sheet[1]), F(0), F(10), 1, False)]
    plan = plan_board(wanted=wanted, stock=stock, kerf_mm=F(0))
    assert isinstance(plan, CuttingPlan)
    assert plan.sheets == 1
    assert check_plan(plan=plan, wanted=wanted, stock=stock, kerf_mm=F(0)) == []


def test_the_rest_is_tidied_into_the_largest_offcut_that_there_can_be() -> None:
    """Of three parts 550 x 300 two share a sheet of 1000 x 600; the third alone leaves 1000 x 300 beside it, not 450 x 600."""
    wanted = [WantedPart(F(200), F(150), 2, "along"), WantedPart(F(550), F(300), 3, "along")]
    plan = plan_board(wanted=wanted, stock=[StockSheet(F(1000), F(600), F(0), F(10), 0, True)], kerf_mm=F(0))
    assert isinstance(plan, CuttingPlan)
    assert plan.sheets == 2
    assert max(one.length_mm * one.width_mm for pattern in plan.patterns for one in pattern.offcuts) == 300_000


def test_a_sheet_whose_parts_have_room_beside_others_is_not_begun() -> None:
    """A hand-laid plan that wastes a sheet: 300 x 200 alone on one, 100 x 100 alone on another."""
    wanted = [WantedPart(F(300), F(200), 1, "along"), WantedPart(F(100), F(100), 1, "along")]
    grid = grid_of(wanted=wanted, stock=[StockSheet(F(1000), F(600), F(0), F(10), 0, True)], kerf_mm=F(0))
    wasteful = [FilledSheet(0, ((0, 0, 0, 300, 200),)), FilledSheet(0, ((1, 0, 0, 100, 100),))]
    (sheet,) = tidied(grid=grid, filled=wasteful)
    assert sorted(piece[0] for piece in sheet.laid) == [0, 1]
