"""Which searches a cutting plan is given to, in their order, with which bounds and how much effort; the searches themselves are stood in for. All figures typed."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from estimator.costing.cutting import planning
from estimator.costing.cutting.assembling import FilledSheet
from estimator.costing.cutting.effort import Effort
from estimator.costing.cutting.kerf import Grid
from estimator.costing.cutting.several_proofs import Proof
from estimator.model.cutting_plan import StockSheet, WantedPart
from estimator.model.exact import Fraction
from estimator.model.problems import Fault
from tests.costing.cutting.test_planning_steps import grid, on, sheet

F = Fraction


def searched(
    monkeypatch: pytest.MonkeyPatch, filled: list[FilledSheet], stock: list[StockSheet], sizes: tuple[tuple[int, int], ...], *, bound: int, money: str, proven: str = "0", pieces: int = 6, left: int = 5
) -> tuple[list[str], int, Fraction]:  # fmt: skip
    """Which searches are made, in their order and with what; each gives back the plan that it was given."""
    made: list[str] = []

    def fewer(_: Grid, __: object, plan: list[FilledSheet], bound: int, money: Fraction) -> tuple[list[FilledSheet], int, Fraction]:
        made.append("fewer")
        return plan, bound + 100, money

    def careful(_: Grid, __: object, plan: list[FilledSheet], bound: int, money: Fraction, effort: Effort) -> list[FilledSheet]:
        made.append(f"careful {bound} {money} {effort.left}")
        effort.left = left
        return plan

    def exchanged(_: Grid, __: object, plan: list[FilledSheet], proofs: Sequence[Proof], effort: Effort) -> list[FilledSheet]:
        made.append(f"exchanged {len(proofs)} {effort.left}")
        return plan

    def worth(_: Grid, *, many_a_sheet: bool, close: bool) -> Effort:
        return Effort(1000 + 100 * many_a_sheet + 10 * close)

    for name, stand_in in (("_fewer", fewer), ("_careful", careful), ("_exchanged", exchanged), ("effort_for_several_sizes", worth)):
        monkeypatch.setattr(planning, name, stand_in)
    monkeypatch.setattr(planning, "proofs_of", lambda **_: [Proof(0, (0, 0))])
    monkeypatch.setattr(planning, "least_money", lambda **_: F(proven))
    plan, bound, least = planning._searched(grid(pieces, *sizes), stock, filled, bound, F(money))
    assert plan is filled
    return made, bound, least


ONE, TWO = ((10, 10),), ((10, 10), (9, 9))


def test_of_one_size_fewer_sheets_are_looked_for_where_there_are_more_than_the_bound(monkeypatch: pytest.MonkeyPatch) -> None:
    stock = [sheet(10, 10), sheet(10, 10, price=8)]
    assert searched(monkeypatch, [on(0, 1, 2)], stock[:1], ONE, bound=1, money="9") == (["fewer"], 101, 9)
    assert searched(monkeypatch, [on(0), on(1)], stock, ONE * 2, bound=1, money="9") == (["fewer"], 101, 9)
    assert searched(monkeypatch, [on(0, 1, 2)], stock[:1], ONE, bound=2, money="9") == ([], 2, 9)


def test_of_several_sizes_care_is_taken_and_sheets_are_exchanged_where_less_money_is_possible(monkeypatch: pytest.MonkeyPatch) -> None:
    stock = [sheet(10, 10, price=100), sheet(9, 9, price=50)]
    assert searched(monkeypatch, [on(0)], stock, TWO, bound=1, money="100") == ([], 1, 100)
    assert searched(monkeypatch, [on(0)], stock, TWO, bound=1, money="99") == (["careful 1 99 1010", "exchanged 1 5"], 1, 99)
    assert searched(monkeypatch, [on(0)], stock, TWO, bound=1, money="99", left=0) == (["careful 1 99 1010"], 1, 99)
    # close is within 2 hundredths of what is proven: 102 of 100
    assert searched(monkeypatch, [on(0)], stock, TWO, bound=1, money="50", proven="98") == (["careful 1 98 1000", "exchanged 1 5"], 1, 98)
    dearer = [sheet(10, 10, price=102), stock[1]]
    assert searched(monkeypatch, [on(0)], dearer, TWO, bound=1, money="50", proven="100")[0] == ["careful 1 100 1010", "exchanged 1 5"]
    assert searched(monkeypatch, [on(0)], dearer, TWO, bound=1, money="60", proven="50")[0] == ["careful 1 60 1000", "exchanged 1 5"]
    assert searched(monkeypatch, [on(0)], stock, TWO, bound=1, money="99", pieces=7)[0] == ["careful 1 99 1110", "exchanged 1 5"]


def test_sheets_on_hand_are_no_money_when_asked_how_close_a_plan_is(monkeypatch: pytest.MonkeyPatch) -> None:
    """Two of 100, one on hand: 100 to buy, and 99 is proven; worth 200 they would be far from it."""
    stock = [sheet(10, 10, price=100, on_hand=1), sheet(9, 9, price=50)]
    assert searched(monkeypatch, [on(0, 1, 2)], stock, TWO, bound=1, money="99")[0] == ["careful 1 99 1010", "exchanged 1 5"]
    assert searched(monkeypatch, [on(0)], stock, TWO, bound=1, money="0")[0] == ["exchanged 0 0"]


def test_everything_that_the_checker_finds_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(planning, "check_plan", lambda **_: ["One.", "Two."])
    with pytest.raises(Fault) as told:
        planning.plan_board(wanted=[WantedPart(F(5), F(3), 1, "along")], stock=[sheet(10, 10)], kerf_mm=F(0))
    assert str(told.value) == "The cutting plan breaks its own laws. One. Two."


def test_of_several_sizes_a_plan_that_takes_pieces_on_hand_is_looked_at_though_it_costs_no_more_than_it_must(monkeypatch: pytest.MonkeyPatch) -> None:
    stock = [sheet(10, 10, price=100), sheet(9, 9, price=50, on_hand=1)]
    assert searched(monkeypatch, [on(0)], stock, TWO, bound=1, money="100")[0] == []
    assert searched(monkeypatch, [on(0), on(1)], stock, TWO, bound=1, money="100")[0] == ["exchanged 0 0"]


@pytest.mark.parametrize(
    ("pieces", "proven", "bound", "is_likely", "asked"),
    [
        (14, 1, 1, True, "many True"), (14, 1, 1, False, "many False"), (13, 1, 1, True, "few"), (13, 2, 2, True, "few"), (14, 0, 1, True, "many True"),
    ],
)  # fmt: skip
def test_one_size_with_a_better_proof_and_its_effort(monkeypatch: pytest.MonkeyPatch, pieces: int, proven: int, bound: int, is_likely: bool, asked: str) -> None:
    """Two sheets with seven pieces each are many; whether one sheet fewer is likely is asked of one sheet."""
    made = []

    def many(_: Grid, *, likely: bool) -> Effort:
        made.append(f"many {likely}")
        return Effort(7)

    def few(_: Grid) -> Effort:
        made.append("few")
        return Effort(7)

    def probable(_: Grid, sheets: list[tuple[int, int]]) -> bool:
        assert sheets == [(10, 10)]
        return is_likely

    for name, stand_in in (("effort_for_many_a_sheet", many), ("effort_for_few_a_sheet", few), ("likely", probable), ("proven_sheets", lambda **_: proven)):
        monkeypatch.setattr(planning, name, stand_in)
    monkeypatch.setattr(planning, "_careful", lambda *given: made.append(given[3:]) or ["careful"])
    monkeypatch.setattr(planning, "_improved", lambda *given: made.append(given[2:]) or ["improved"])
    answer = planning._fewer(grid(pieces), [sheet(10, 10, price=8)], [on(0, 1, 2)], 1, F(0))
    assert answer == (["improved"], bound, 8 * bound)
    assert made == [asked, (bound, 8 * bound, Effort(7)), (["careful"], bound, Effort(7))]
