"""Which changes make one step of the bridge, what a step that cannot be priced takes along, and what a change order leaves out, on the smallest of jobs."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from estimator.costing import bridge
from estimator.costing.bridge import bridge_of, cannot_be_split, groups_of, price_between, steps_of
from estimator.costing.bridge_changes import Change
from estimator.costing.bridge_order import change_order_of
from estimator.costing.estimate import price_alone
from estimator.model.comparison import BridgeStep, ChangeOrder, OrderedTax, RowChange
from estimator.model.exact import Fraction
from estimator.model.problems import Place, Problem
from estimator.model.refusal import Refusal
from estimator.model.results import Price
from tests.building import extra, shop, terms
from tests.costing.banding.worked import board, edging, four_edgings

F = Fraction
HERE = Place("book.xlsx", "Sheet", "row 2")


def change(phase: int, field: str, number: int) -> Change:
    return Change((phase, 0, number), field, number, RowChange("Sheet", f"{field} {number}", "changed", HERE))


@pytest.mark.parametrize(
    ("sizes", "groups"),
    [
        ([("a", 2, 3)], [1, 1, 1]), ([("a", 2, 120)], [1] * 120), ([("a", 2, 121)], [121]), ([("a", 2, 121), ("b", 2, 2)], [121, 1, 1]), ([("a", 2, 100), ("a", 3, 100)], [1] * 200), ([("a", 2, 1), ("b", 2, 121), ("c", 3, 1)], [1, 121, 1]), ([], []),
    ],
)  # fmt: skip
def test_more_than_120_changes_of_a_sheet_are_one_step(sizes: list[tuple[str, int, int]], groups: list[int]) -> None:
    changes = [change(phase, field, number) for field, phase, many in sizes for number in range(many)]
    found = list(groups_of(changes))
    assert [len(group) for group in found] == groups
    assert [one for group in found for one in group] == changes


class Mixed:
    """In place of two jobs: how many changes are made is the job."""

    def job_with(self, made: list[Change]) -> int:
        return len(made)


@pytest.mark.parametrize(
    ("priced", "made", "steps"),
    [({1, 2, 3}, 0, [(1, 10, 1), (1, 1, 2), (1, 2, 3)]), ({2, 3}, 0, [(2, 10, 2), (1, 2, 3)]), ({1, 3}, 0, [(1, 10, 1), (2, 1, 3)]), ({1, 2}, 0, [(1, 10, 1), (1, 1, 2)]), (set(), 0, []), ({3, 5}, 2, [(1, 10, 3), (2, 3, 5)])],
)
def test_a_step_that_cannot_be_priced_takes_the_next_along(monkeypatch: pytest.MonkeyPatch, priced: set[int], made: int, steps: list[tuple[int, int, int]]) -> None:
    """How many changes are in each step, and from which price to which."""
    monkeypatch.setattr(bridge, "price_between", lambda job: job if job in priced else None)
    before = tuple(change(1, "a", number) for number in range(made))
    groups = iter([(change(2, "a", number),) for number in range(3)])
    found = list(steps_of(Mixed(), groups, first=10, made=before))  # type: ignore[arg-type]
    assert [(len(step.changes), step.before, step.after) for step in found] == steps


def test_a_job_on_the_way_that_stumbles_has_no_price() -> None:
    assert price_between(four_edgings()) == price_alone(four_edgings())
    assert price_between(four_edgings(shop=shop(direct_rate=None))) is None
    assert price_between(four_edgings(contract=None, edgings=tuple(replace(row, by_hand=False) for row in four_edgings().edgings))) is None
    assert price_between(four_edgings(options=("no option",))) == price_alone(four_edgings())


def test_what_is_said_of_changes_that_cannot_be_split() -> None:
    price = price_alone(four_edgings())
    assert isinstance(price, Price)
    step = BridgeStep((RowChange("Loose parts", "white alone", "taken out", HERE),), price, price)
    assert cannot_be_split(four_edgings(), step) == Problem(
        Place("book.xlsx"), "changes that can only be priced together: white alone taken out", "a change of the work that can be priced by itself",
        "keep the old rows of the price book in place beside the new ones, and compare again",
    )  # fmt: skip
    answer = bridge_of(four_edgings(), four_edgings(terms=terms(currency="USD")))
    problem = Problem(terms().at.place("Currency"), "USD, where the other job is in EUR", "two jobs of one currency: amounts of two currencies have no difference", "compare with a job in USD")
    assert answer == Refusal("book.xlsx", (problem,))


def ordered(old: Any, new: Any, accepted: str = "100") -> ChangeOrder:
    answer = change_order_of(old, new, accepted_money=F(accepted))
    assert isinstance(answer, ChangeOrder)
    return answer


def test_a_change_order_of_two_rates_with_what_is_left_out() -> None:
    """Two extras at 50 and 30, the second at 10 %, and 7 off delivery; the board at 70 moves the price and is left out, an edging that is not used moves nothing."""
    spare = edging("never used", "1")
    old = four_edgings(terms=terms(delivery_charge=F(20)), edgings=(*four_edgings().edgings, spare))
    new = replace(
        old, boards=(board(price=F(70)),), edgings=(*old.edgings[:-1], replace(spare, price_per_m=F(9))), terms=terms(delivery_charge=F(13)), extras=(extra("50", ref="1"), extra("30", ref="2", rate="10"))
    )  # fmt: skip
    order = ordered(old, new)
    assert [[(line.before_words, line.after_words, line.net, line.term) for line in lines] for lines in order.lines] == [[("", "line 1", 50, "")], [("", "line 2", 30, "")], [("20", "13", -7, "delivery")]]
    assert (order.currency, order.accepted, order.least_added, order.net) == ("EUR", 100, 0, 73)
    assert order.tax == (OrderedTax(F("0.1"), F(30), F(3)), OrderedTax(F("0.2"), F(43), F("8.6")))
    assert (order.tax_total, order.gross) == (F("11.6"), F("84.6"))
    assert [[said.sheet for said in step.changes] for step in order.left_out] == [["Boards"]]


def test_what_is_taken_off_is_credited_and_the_least_fee_added() -> None:
    """20 off and 15 added with a least fee of 60: 45 more, so 40 at 20 %."""
    old = four_edgings(extras=(extra("20", ref="1"),), shop=shop(least_change_fee=F(60), value_of_a_freed_hour="idle"))
    order = ordered(old, replace(old, extras=(extra("15", ref="9"),)))
    assert [[line.net for line in lines] for lines in order.lines] in ([[15], [-20]], [[-20], [15]])
    assert (order.least_added, order.net, order.tax, order.gross) == (45, 40, (OrderedTax(F("0.2"), F(40), F(8)),), 48)


def test_a_change_of_nothing_in_money_has_no_tax() -> None:
    order = ordered(four_edgings(extras=(extra("20", ref="1"),)), four_edgings(extras=(replace(extra("20", ref="1"), words="another"),)))
    assert (order.net, order.tax, order.tax_total, order.gross, order.left_out) == (0, (), 0, 0, ())


def test_a_job_that_could_not_be_priced_before_is_refused_with_its_own_problems() -> None:
    nobody = four_edgings(edgings=tuple(replace(row, by_hand=False, send_out=False) for row in four_edgings().edgings))
    answer = change_order_of(nobody, replace(nobody, extras=(extra("5"),)), accepted_money=F(1))
    assert isinstance(answer, Refusal)
    assert answer.problems[0].found.startswith("no way of banding is possible: ")
