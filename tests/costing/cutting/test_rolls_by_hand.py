"""Strips from rolls and their remainders, on paper: which strips fill a remainder, on how fine a grid, and which plans are asked for."""

from __future__ import annotations

import pytest

from estimator.costing.cutting import strips as module
from estimator.costing.cutting.strips import _fullest, strips_from_rolls
from estimator.model.cutting_plan import CutRoll, CuttingPlan, Pattern, Placement, RollPlan, StockSheet, Unplaceable, WantedPart
from estimator.model.exact import Fraction

F = Fraction


@pytest.mark.parametrize(
    ("end", "left", "chosen"),
    [
        ("1000", {"600": 1, "500": 2, "300": 1}, ["500", "500"]), ("999", {"600": 1, "500": 2, "300": 1}, ["600", "300"]), ("1000", {"501": 1, "500": 1}, ["501"]), ("1001", {"501": 1, "500": 1}, ["501", "500"]),
        ("1000", {"600": 1, "400": 2, "200": 1}, ["600", "400"]), ("1000", {"1000": 1, "400": 2}, ["1000"]), ("1000", {"1001": 3, "400": 1}, ["400"]), ("1000", {"1001": 3}, []), ("1000", {"300": 0}, []),
        ("1000", {"300": 9}, ["300"] * 3), ("1000", {"300": 2}, ["300"] * 2), ("1000", {"700": 1, "300": 1, "250": 4}, ["700", "300"]), ("100", {}, []),
        # halves and quarters on a grid of them
        ("10.5", {"3.5": 5}, ["3.5"] * 3), ("0.5", {"0.25": 3}, ["0.25"] * 2), ("10.4", {"3.5": 5}, ["3.5"] * 2), ("10.5", {"6": 1, "5": 1}, ["6"]), ("10.5", {"6": 1, "4.5": 1}, ["6", "4.5"]), ("10", {"10/3": 5}, ["10/3"] * 3),
        # at most 200,000 steps: a third of 150,001 rounded up is too long three times, the remainder rounded down holds two
        ("150001", {"150001/3": 5}, ["150001/3"] * 2), ("99999", {"33333": 5}, ["33333"] * 3), ("200002.5", {"66667.5": 3}, ["66667.5"] * 2), ("99999.5", {"33333.5": 3}, ["33333.5"] * 2), ("99999.5", {"49999.75": 2}, ["49999.75"]),
        ("100000", {"50000": 1, "49999.5": 1, "0.5": 1}, ["50000", "49999.5", "0.5"]), ("1", {"66666/199999": 4}, ["66666/199999"] * 3), ("0.5", {"50000/199999": 3}, ["50000/199999"]), ("0.5", {"49999/199999": 3}, ["49999/199999"] * 2),
    ],
)  # fmt: skip
def test_the_strips_that_leave_least_of_a_remainder(end: str, left: dict[str, int], chosen: list[str]) -> None:
    """The longest first where several ways leave as little: what stands last is left out where what stands before it is enough."""
    assert _fullest(F(end), {F(length): count for length, count in left.items()}) == tuple(F(length) for length in chosen)


def plan(strips: list[tuple[int, int]], on_hand: list[int], new: int | None) -> RollPlan | Unplaceable:
    return strips_from_rolls(strips=[(F(length), count) for length, count in strips], on_hand_mm=[F(end) for end in on_hand], new_roll_mm=None if new is None else F(new))


def roll(length: int, new: bool, count: int, *strips: int) -> CutRoll:
    return CutRoll(F(length), new, count, tuple(F(strip) for strip in strips))


@pytest.mark.parametrize(
    ("strips", "on_hand", "new", "answer"),
    [
        ([], [1300], 5000, RollPlan((), 0, 0)), ([(600, 0)], [], None, RollPlan((), 0, 0)),
        ([(600, 0), (500, 2)], [], 1000, RollPlan((roll(1000, True, 1, 500, 500),), 1, 1)),
        ([(500, 3)], [], 1000, RollPlan((roll(1000, True, 1, 500, 500), roll(1000, True, 1, 500)), 2, 2)),
        ([(1000, 2)], [1000], 5000, RollPlan((roll(1000, False, 1, 1000), roll(5000, True, 1, 1000)), 1, 1)),
        ([(600, 2)], [1300, 700], 5000, RollPlan((roll(700, False, 1, 600), roll(1300, False, 1, 600)), 0, 0)),
        ([(600, 3)], [1300, 700], None, RollPlan((roll(700, False, 1, 600), roll(1300, False, 1, 600, 600)), 0, 0)),
        ([(600, 3)], [500, 700, 700, 700], 5000, RollPlan((roll(700, False, 1, 600),) * 3, 0, 0)),
        ([(600, 4)], [1300, 700], None, Unplaceable(too_large=(), left_over=(0,))),
        ([(1400, 1), (600, 1)], [1300, 700], None, Unplaceable(too_large=(0,), left_over=())),
        ([(1400, 1), (600, 1)], [1300, 700], 1400, RollPlan((roll(700, False, 1, 600), roll(1400, True, 1, 1400)), 1, 1)),
    ],
)  # fmt: skip
def test_which_strips_come_from_which_roll(strips: list[tuple[int, int]], on_hand: list[int], new: int | None, answer: RollPlan | Unplaceable) -> None:
    """Remainders are used up first, the shortest before the others; a remainder that takes nothing is not named."""
    assert plan(strips, on_hand, new) == answer


def test_where_the_shortest_first_would_take_a_new_roll_the_remainders_are_shared_out_anew() -> None:
    """700 filled first takes 500 + 200, and 600 is left over. Together: 600 of 700, 600 + 200 + 200 of 1000, 600 + 500 of 1100."""
    found = plan([(200, 2), (600, 3), (500, 1)], [1000, 700, 1100], 1000)
    assert isinstance(found, RollPlan)
    assert (found.new_rolls, found.bound) == (0, 0)
    assert sorted((one.length_mm, one.new, one.count, sorted(one.strips_mm)) for one in found.rolls) == [
        (700, False, 1, [600]), (1000, False, 1, [200, 200, 600]), (1100, False, 1, [500, 600]),
    ]  # fmt: skip


# which plans are asked for ------------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("money", "bound", "asked"), [(1, 1, [False]), (2, 1, [False, True]), (None, 1, [False, True])])
def test_a_quick_plan_first_and_one_with_care_where_it_is_not_proven_best(monkeypatch: pytest.MonkeyPatch, money: int | None, bound: int, asked: list[bool]) -> None:
    """Sheets of width 1 and price 1 without trim, strips of width 1 lying along, no kerf; the remainders cannot be bought."""
    seen = []
    stock = [StockSheet(F(700), F(1), F(0), F(1), 2, False), StockSheet(F(900), F(1), F(0), F(1), 1, False), StockSheet(F(1000), F(1), F(0), F(1), 0, True)]
    wanted = [WantedPart(F(600), F(1), 2, "along"), WantedPart(F(300), F(1), 1, "along")]

    def answer(rolls: int) -> CuttingPlan:
        pattern = Pattern(2, rolls, (Placement(1, F(0), F(0), False), Placement(0, F(300), F(0), False)), (), ())
        return CuttingPlan((pattern,), rolls, bound, F(rolls), F(bound), F(0), F(0), F(0), F(0))

    def plan_board(*, wanted: object, stock: object, kerf_mm: Fraction, with_care: bool = True) -> CuttingPlan | Unplaceable:
        seen.append((wanted, stock, kerf_mm, with_care))
        return answer(1) if with_care else Unplaceable((), (0,)) if money is None else answer(money)

    monkeypatch.setattr(module, "plan_board", plan_board)
    found = module._planned([(F(600), 2), (F(300), 1)], [F(900), F(700), F(700)], F(1000))
    assert found == RollPlan((roll(1000, True, 1, 300, 600),), 1, 1)
    assert seen == [(wanted, stock, 0, care) for care in asked]
