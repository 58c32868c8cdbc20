"""The sentence of each broken law, whole, on the cabinet that is worked on paper: 0.92776 m2 in 5 parts on 1 sheet, 5 edges of 3.13 m, 50.336 minutes."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from estimator.costing.checks import best_is_best, edges_are_kept, hold_the_laws, sheets_are_kept
from estimator.model.cutting_plan import CuttingPlan, Pattern, StockSheet
from estimator.model.exact import Fraction
from estimator.model.problems import Fault
from estimator.model.results import Estimate
from tests.samples import estimate_of

F, CENT = Fraction, Fraction(1, 100)
PAPER = estimate_of("one-cabinet")


def at(whole: Estimate, *path: str, number: int | None = None, **new: Any) -> Estimate:
    """The estimate with fields of one of its records (or of one row of a tuple) changed; a function is given what stood there."""
    if path:
        inner = at(getattr(whole, path[0]), *path[1:], number=number, **new)  # type: ignore[arg-type]
        return replace(whole, **{path[0]: inner})
    if number is not None:
        rows: Any = whole
        return (*rows[:number], at(rows[number], **new), *rows[number + 1 :])  # type: ignore[return-value]
    return replace(whole, **{name: value(getattr(whole, name)) if isinstance(value, Callable) else value for name, value in new.items()})  # type: ignore[arg-type]


def more(by: Fraction | int) -> Callable[[Fraction], Fraction]:
    return lambda figure: figure + by


@pytest.mark.parametrize(
    ("path", "number", "new", "sentences"),
    [
        (("boards",), 0, {"area_m2": more(1)}, "parts have 11597/12500 m2 and boards 24097/12500"),
        (("boards",), 0, {"parts": 6}, "there are 5 parts and 6 on boards"),
        (("boards",), 0, {"bound": 2}, "white 18 takes 1 sheets, below its bound of 2"),
        (("edgings",), 0, {"edges": 4}, "white 0.4 mm counts 4 edges, 313/100 m; its parts have 5, 313/100 m"),
        (("edgings",), 0, {"net_m": F(3)}, "white 0.4 mm counts 5 edges, 3 m; its parts have 5, 313/100 m"),
        (("batches",), 0, {"edges": 6}, "the batches of white 0.4 mm hold 6 of 5 edges"),
        (("minutes",), None, {"total": F(50)}, "steps add up to 6292/125 minutes, not 50"),
        (("minutes",), None, {"extras": F(1)}, "steps add up to 6417/125 minutes, not 6292/125"),
        (("minutes",), None, {"by_hand": more(1)}, "steps add up to 6292/125 minutes, not 6292/125"),
        (("minutes",), None, {"send_out": more(1)}, "steps add up to 6292/125 minutes, not 6292/125"),
        *[(("cost",), None, {name: more(CENT)}, "the cost does not add up") for name in ("boards", "edging", "adhesive", "fittings", "contractor", "trips", "extras", "labour", "overhead", "total", "contingency", "base")],
        (("price", "lines"), 0, {"net": more(CENT)}, "lines do not add up to the sum"),
        (("price",), None, {"discount": CENT}, "sum, discount and delivery do not add up to the net"),
        (("price",), None, {"delivery": CENT}, "sum, discount and delivery do not add up to the net"),
        (("price",), None, {"sum_lines": more(CENT)}, "lines do not add up to the sum; sum, discount and delivery do not add up to the net"),
        (("price", "tax"), 0, {"base": more(CENT)}, "the bases of the tax do not add up to the net"),
        (("price", "tax"), 0, {"tax": more(CENT)}, "a tax is not its base times its rate"),
        (("price",), None, {"rounding": CENT}, "net, tax and rounding do not add up to the total"),
        (("price",), None, {"tax_total": more(CENT)}, "net, tax and rounding do not add up to the total"),
        (("price", "instalments"), 1, {"amount": more(CENT)}, "instalments do not add up to the total"),
        (("price",), None, {"tax_total": more(CENT / 2), "rounding": -CENT / 2}, "an amount on the quote is not a whole number of minor units"),
        (("price",), None, {"net": more(CENT / 2), "gross": more(CENT / 2)}, "sum, discount and delivery do not add up to the net; the bases of the tax do not add up to the net; instalments do not add up to the total; an amount on the quote is not a whole number of minor units"),
        (("banding", "best"), None, {"relevant_cost": more(CENT)}, "the best way of banding is not the cheapest"),
        (("banding", "best"), None, {"relevant_cost": None}, "the best way of banding is not the cheapest"),
    ],
)  # fmt: skip
def test_a_broken_law_is_told_in_whole(path: tuple[str, ...], number: int | None, new: dict[str, Any], sentences: str) -> None:
    with pytest.raises(Fault) as told:
        hold_the_laws(at(PAPER, *path, number=number, **new))
    assert str(told.value) == sentences


def test_several_broken_laws_are_told_together() -> None:
    with pytest.raises(Fault) as told:
        hold_the_laws(at(at(PAPER, "minutes", total=F(50)), "boards", number=0, parts=6))
    assert str(told.value) == "there are 5 parts and 6 on boards; steps add up to 6292/125 minutes, not 50"


def test_the_sheets_of_every_board_with_a_plan() -> None:
    """Two sheets of 10 x 8 and one of 6 x 5 are 190; parts 100, kerf 20, trim 30 and offcuts 40. A board without a plan is passed over, not the one after it."""
    stock = (StockSheet(F(10), F(8), F(0), F(1), 0, True), StockSheet(F(6), F(5), F(0), F(1), 0, True))
    plan = CuttingPlan((Pattern(0, 2, (), (), ()), Pattern(1, 1, (), (), ())), 3, 1, F(3), F(1), F(100), F(20), F(30), F(40))
    plain = PAPER.boards[0]
    first = replace(plain, board="first", plan=None)
    second = replace(plain, board="second", plan=plan, plan_stock=stock)
    assert list(sheets_are_kept(replace(PAPER, boards=(first, second)))) == []
    for name in ("parts_mm2", "kerf_mm2", "trim_mm2", "offcut_mm2"):
        bent = replace(second, plan=replace(plan, **{name: getattr(plan, name) + 1}))
        assert list(sheets_are_kept(replace(PAPER, boards=(first, bent)))) == ["the sheets of second are not the sum of parts, kerf, trim and offcuts"]
    assert list(sheets_are_kept(replace(PAPER, boards=(replace(first, sheets=0), replace(second, sheets=1, bound=1))))) == ["first takes 0 sheets, below its bound of 1"]


def test_what_is_sent_has_no_edges_in_batches() -> None:
    sent = replace(PAPER, banding=replace(PAPER.banding, chosen=replace(PAPER.banding.chosen, sent=("white 0.4 mm",))))
    assert list(edges_are_kept(sent)) == ["the batches of white 0.4 mm hold 5 of 5 edges"]
    assert list(edges_are_kept(replace(sent, batches=()))) == []
    assert list(edges_are_kept(replace(PAPER, batches=()))) == ["the batches of white 0.4 mm hold 0 of 5 edges"]


def test_a_way_that_is_not_possible_is_not_the_cheapest() -> None:
    plans = tuple(replace(plan, relevant_cost=None) if plan.sent else plan for plan in PAPER.banding.plans)
    assert list(best_is_best(replace(PAPER, banding=replace(PAPER.banding, plans=plans)))) == []
