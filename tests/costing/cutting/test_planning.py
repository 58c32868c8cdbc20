"""The cutting plan of one board: what fits, what is reported, and that the order of rows changes nothing."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimator.costing.cutting import check_plan, name_patterns, plan_board
from estimator.model.cutting_plan import CuttingPlan, StockSheet, Unplaceable, WantedPart
from estimator.model.exact import Fraction


def part(length: str, width: str, count: int = 1, way: str = "along") -> WantedPart:
    return WantedPart(Fraction(length), Fraction(width), count, way)  # type: ignore[arg-type]


def sheet(length: str, width: str, *, trim: int = 0, price: str = "60", on_hand: int = 0, buyable: bool = True) -> StockSheet:
    return StockSheet(Fraction(length), Fraction(width), Fraction(trim), Fraction(price), on_hand, buyable)


def planned(wanted: list[WantedPart], stock: list[StockSheet], kerf: str = "4") -> CuttingPlan:
    plan = plan_board(wanted=wanted, stock=stock, kerf_mm=Fraction(kerf))
    assert isinstance(plan, CuttingPlan)
    assert check_plan(plan=plan, wanted=wanted, stock=stock, kerf_mm=Fraction(kerf)) == []
    return plan


@pytest.mark.parametrize(
    ("wanted", "sheets"),
    [
        pytest.param([part("607", "500", 4)], 1, id="4 x 607 + 3 kerfs of 4 is 2440 to the millimetre"),
        pytest.param([part("608", "500", 4)], 2, id="608 is a millimetre too long for four"),
        pytest.param([part("607.001", "500", 4)], 2, id="a thousandth too long is too long"),
        pytest.param([part("2440", "500", 1)], 1, id="a part as large as the sheet needs no cut"),
        pytest.param([part("2437", "500", 1)], 1, id="a rest thinner than the kerf is lost to the saw"),
    ],
)
def test_kerf_decides_to_the_millimetre(wanted: list[WantedPart], sheets: int) -> None:
    assert planned(wanted, [sheet("2440", "500")]).sheets == sheets


def test_thirds_of_a_millimetre_are_exact() -> None:
    third = (Fraction(2440) - 2 * Fraction(4)) / 3
    wanted = [WantedPart(third, Fraction(500), 3, "along")]
    assert planned(wanted, [sheet("2440", "500")]).sheets == 1


def test_one_cabinet_on_paper_takes_one_sheet() -> None:
    wanted = [part("720", "300", 2, "either"), part("564", "300", 2, "either"), part("562", "280", 1, "either")]
    plan = planned(wanted, [sheet("2800", "2070", trim=10, price="61.50")])
    assert (plan.sheets, plan.bound, plan.money) == (1, 1, Fraction("61.50"))
    assert plan.parts_mm2 == 927_760


def test_grain_keeps_parts_from_turning() -> None:
    assert planned([part("700", "300", 1, "across")], [sheet("800", "700")]).patterns[0].placements[0].turned
    refused = plan_board(wanted=[part("700", "300")], stock=[sheet("600", "700")], kerf_mm=Fraction(4))
    assert refused == Unplaceable(too_large=(0,), left_over=())


def test_parts_larger_than_every_sheet_are_told_together() -> None:
    wanted = [part("3000", "300"), part("500", "300"), part("500", "2100")]
    refused = plan_board(wanted=wanted, stock=[sheet("2800", "2070", trim=10)], kerf_mm=Fraction(4))
    assert refused == Unplaceable(too_large=(0, 2), left_over=())


def test_stock_that_runs_out_is_told() -> None:
    refused = plan_board(
        wanted=[part("500", "300", 9)], stock=[sheet("1000", "600", on_hand=2, buyable=False)], kerf_mm=Fraction(0)
    )
    assert refused == Unplaceable(too_large=(), left_over=(0,))


def test_sheets_on_hand_are_shared_out_with_care_before_parts_are_called_left_over() -> None:
    """A long part needs the long offcut, although the short ones would fill it better."""
    stock = [sheet("1000", "100", on_hand=1, buyable=False), sheet("700", "100", on_hand=1, buyable=False)]
    wanted = [part("650", "100"), part("350", "100"), part("640", "100")]
    assert planned(wanted, stock, kerf="0").sheets == 2


def test_nothing_wanted_takes_no_sheet() -> None:
    plan = planned([part("500", "300", 0)], [sheet("1000", "600")])
    assert (plan.sheets, plan.bound, plan.patterns) == (0, 0, ())


def test_an_offcut_on_hand_is_used_when_it_saves_money() -> None:
    stock = [sheet("2800", "2070", trim=10), sheet("800", "400", on_hand=1, price="8", buyable=False)]
    plan = planned([part("700", "300")], stock)
    assert (plan.money, [pattern.sheet for pattern in plan.patterns]) == (0, [1])


def test_the_cheaper_size_is_bought() -> None:
    stock = [sheet("2800", "2070", price="60"), sheet("1400", "2070", price="25")]
    assert planned([part("1300", "2000", 2)], stock).money == 50


def test_the_order_of_rows_changes_neither_sheets_nor_offcuts() -> None:
    wanted = [part("720", "560", 6, "either"), part("564", "560", 7, "either"), part("300", "720", 9), part("1200", "90", 5)]
    stock = [sheet("2800", "2070", trim=10)]
    plans = [planned(rows, stock) for rows in (wanted, wanted[::-1], [*wanted[2:], *wanted[:2]])]
    assert len({(plan.sheets, plan.offcut_mm2, plan.kerf_mm2) for plan in plans}) == 1


def test_every_label_is_on_exactly_one_piece() -> None:
    wanted = [part("720", "560", 6), part("720", "560", 5), part("300", "200", 8)]
    names = [
        [("Kitchen 1", "side")] * 4 + [("Kitchen 2", "side")] * 2,
        [("Kitchen 3", "side")] * 5,
        [("Kitchen 1", "rail")] * 8,
    ]
    plan = planned(wanted, [sheet("1500", "1200", trim=10)])
    found: dict[tuple[int, str, str], int] = {}
    for entry in name_patterns(plan, names):
        for piece in entry.pieces:
            key = piece.placement.part, piece.ref, piece.part
            found[key] = found.get(key, 0) + entry.count
    assert found == {
        (0, "Kitchen 1", "side"): 4,
        (0, "Kitchen 2", "side"): 2,
        (1, "Kitchen 3", "side"): 5,
        (2, "Kitchen 1", "rail"): 8,
    }


@st.composite
def boards(draw: st.DrawFn) -> tuple[list[WantedPart], list[StockSheet], Fraction]:
    size = st.fractions(min_value=20, max_value=900, max_denominator=8)
    way = st.sampled_from(["along", "across", "either"])
    wanted = draw(st.lists(st.builds(WantedPart, size, size, st.integers(1, 5), way), min_size=1, max_size=8))
    stock = [StockSheet(Fraction(1000), Fraction(950), Fraction(5), Fraction(30), draw(st.integers(0, 2)), True)]
    if draw(st.booleans()):
        stock.append(StockSheet(Fraction(600), Fraction(500), Fraction(0), Fraction(9), 2, draw(st.booleans())))
    return wanted, stock, draw(st.sampled_from([Fraction(0), Fraction(16, 5), Fraction(4)]))


@settings(max_examples=40, deadline=None)
@given(boards())
def test_any_board_is_planned_and_passes_the_checker(board: tuple[list[WantedPart], list[StockSheet], Fraction]) -> None:
    wanted, stock, kerf_mm = board
    plan = plan_board(wanted=wanted, stock=stock, kerf_mm=kerf_mm)
    assert isinstance(plan, CuttingPlan)
    assert plan.bound <= plan.sheets
    assert plan.bound_money <= plan.money
    again = plan_board(wanted=wanted[::-1], stock=stock, kerf_mm=kerf_mm)
    assert isinstance(again, CuttingPlan)
    assert (again.sheets, again.money, again.offcut_mm2) == (plan.sheets, plan.money, plan.offcut_mm2)
