"""Every law that an answer keeps, broken once on purpose: each breach is a Fault that names the law, and no paper is written."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from estimator.costing.checks import LAWS, hold_the_laws
from estimator.costing.estimate import estimate_job
from estimator.model.exact import Fraction
from estimator.model.problems import Fault
from estimator.model.records import Job
from estimator.model.results import Estimate
from estimator.reading.workbook import read_job

ONE = Fraction(1)
CENT = Fraction(1, 100)
KITCHEN = Path(__file__).parents[2] / "workbooks" / "kitchen.xlsx"


@cache
def kitchen() -> Estimate:
    job = read_job(KITCHEN)
    assert isinstance(job, Job)
    answer = estimate_job(job)
    assert isinstance(answer, Estimate)
    return answer


def first(rows: tuple, **other: object) -> tuple:
    """The rows with the first one changed."""
    return (replace(rows[0], **other), *rows[1:])


def price(**other: object) -> Callable[[Estimate], Estimate]:
    return lambda whole: replace(whole, price=replace(whole.price, **other))


def one_more_part(whole: Estimate) -> Estimate:
    return replace(whole, parts=(*whole.parts, whole.parts[0]))


def a_board(**other: Callable[[object], object]) -> Callable[[Estimate], Estimate]:
    def broken(whole: Estimate) -> Estimate:
        changed = {name: change(getattr(whole.boards[0], name)) for name, change in other.items()}
        return replace(whole, boards=first(whole.boards, **changed))

    return broken


def kerf_gone(whole: Estimate) -> Estimate:
    use = next(use for use in whole.boards if use.plan)
    bent = replace(use, plan=replace(use.plan, kerf_mm2=use.plan.kerf_mm2 + 1))
    return replace(whole, boards=tuple(bent if one is use else one for one in whole.boards))


def an_edge_gone(whole: Estimate) -> Estimate:
    return replace(whole, edgings=first(whole.edgings, edges=whole.edgings[0].edges - 1))


def a_metre_more(whole: Estimate) -> Estimate:
    return replace(whole, edgings=first(whole.edgings, net_m=whole.edgings[0].net_m + 1))


def an_edge_in_no_batch(whole: Estimate) -> Estimate:
    return replace(whole, batches=first(whole.batches, edges=whole.batches[0].edges - 1))


def a_minute_more(whole: Estimate) -> Estimate:
    return replace(whole, minutes=replace(whole.minutes, total=whole.minutes.total + 1))


def cost(name: str) -> Callable[[Estimate], Estimate]:
    return lambda whole: replace(whole, cost=replace(whole.cost, **{name: getattr(whole.cost, name) + CENT}))


def a_line_dearer(whole: Estimate) -> Estimate:
    return price(lines=first(whole.price.lines, net=whole.price.lines[0].net + CENT))(whole)


def another_base(whole: Estimate) -> Estimate:
    return price(tax=first(whole.price.tax, base=whole.price.tax[0].base + CENT))(whole)


def another_tax(whole: Estimate) -> Estimate:
    return price(tax=first(whole.price.tax, tax=whole.price.tax[0].tax + CENT))(whole)


def another_instalment(whole: Estimate) -> Estimate:
    return price(instalments=first(whole.price.instalments, amount=whole.price.instalments[0].amount + CENT))(whole)


def half_a_cent(whole: Estimate) -> Estimate:
    return price(net=whole.price.net + CENT / 2)(whole)


def not_the_best(whole: Estimate) -> Estimate:
    dearest = max((plan for plan in whole.banding.plans if plan.relevant_cost is not None), key=lambda plan: plan.relevant_cost)
    return replace(whole, banding=replace(whole.banding, best=dearest))


def no_best(whole: Estimate) -> Estimate:
    return replace(whole, banding=replace(whole.banding, best=replace(whole.banding.best, relevant_cost=None)))


BREACHES: dict[str, tuple[Callable[[Estimate], Estimate], str]] = {
    "a part on no board": (one_more_part, "m2 and boards"),
    "a piece on no board": (one_more_part, "on boards"),
    "more area on a board": (a_board(area_m2=lambda area: area + ONE), "m2 and boards"),
    "fewer sheets than proven": (a_board(sheets=lambda _: 0), "below its bound"),
    "kerf that nobody sawed": (kerf_gone, "not the sum of parts, kerf, trim and offcuts"),
    "an edge too few": (an_edge_gone, "its parts have"),
    "a metre too many": (a_metre_more, "its parts have"),
    "an edge in no batch": (an_edge_in_no_batch, "the batches of"),
    "a minute from nowhere": (a_minute_more, "steps add up to"),
    "a cost that is no sum": (cost("labour"), "the cost does not add up"),
    "a base that is no sum": (cost("base"), "the cost does not add up"),
    "a line that is dearer than said": (a_line_dearer, "lines do not add up to the sum"),
    "a discount from nowhere": (lambda whole: price(discount=whole.price.discount + CENT)(whole), "do not add up to the net"),
    "another base of the tax": (another_base, "the bases of the tax"),
    "another tax": (another_tax, "a tax is not its base times its rate"),
    "another total": (lambda whole: price(gross=whole.price.gross + CENT)(whole), "do not add up to the total"),
    "another instalment": (another_instalment, "instalments do not add up"),
    "half a cent": (half_a_cent, "whole number of minor units"),
    "a dearer way called the best": (not_the_best, "not the cheapest"),
    "no best way": (no_best, "not the cheapest"),
}


@pytest.mark.parametrize("name", BREACHES)
def test_a_breach_is_a_fault_that_names_the_law(name: str) -> None:
    breach, words = BREACHES[name]
    with pytest.raises(Fault, match=words):
        hold_the_laws(breach(kitchen()))


def test_a_sound_answer_comes_back_as_it_was() -> None:
    assert hold_the_laws(kitchen()) is kitchen()
    assert len(LAWS) == 6
