"""One line followed back to its cells: the figures are the estimate's own and add up to it, on every sample job and by hand."""

from __future__ import annotations

from pathlib import Path

import pytest

from estimator.batch import price_book
from estimator.costing.following import Followed, follow
from estimator.model.exact import Fraction
from estimator.model.records import Extra
from estimator.model.results import Estimate
from estimator.model.units import decimal_text as text
from estimator.model.units import to_money

WORKBOOKS = Path(__file__).parents[2] / "workbooks"
JOBS = ("kitchen", "wardrobe", "inch-job", "one-cabinet")
OF_A_LINE = ("part", "cabinet", "door", "drawer", "shelf", "m2", "edge", "metre")


@pytest.fixture(scope="module", params=JOBS)
def estimate(request: pytest.FixtureRequest) -> Estimate:
    answer = price_book(WORKBOOKS / f"{request.param}.xlsx")
    assert isinstance(answer, Estimate)
    return answer


@pytest.fixture(scope="module")
def followed(estimate: Estimate) -> list[Followed]:
    return [follow(estimate, line) for line in estimate.price.lines]


def test_the_takings_of_each_line_are_its_prime_cost(followed: list[Followed]) -> None:
    assert [one.prime for one in followed] == [one.line.prime for one in followed]


def test_each_unit_price_is_its_share_of_the_target(estimate: Estimate, followed: list[Followed]) -> None:
    currency = estimate.job.terms.currency
    shared = [one for one in followed if one.share]
    assert all(to_money(one.target, currency=currency) == one.line.unit for one in shared)
    assert sum(one.line.qty * one.share for one in followed) == 1
    others = [one.line.owner for one in followed if not one.share]
    assert all(isinstance(owner, Extra) and owner.price_each is not None for owner in others)


def test_the_shares_of_all_lines_are_the_costs_of_the_job(estimate: Estimate, followed: list[Followed]) -> None:
    whole = {cost.what: cost.whole for cost in followed[0].costs}
    for i, what in enumerate(whole):
        assert sum(one.line.qty * one.costs[i].share for one in followed) == whole[what]
    assert sum(whole.values()) == estimate.price.target


def test_own_minutes_of_all_lines_are_the_steps_minutes(estimate: Estimate, followed: list[Followed]) -> None:
    for row in estimate.minutes.steps:
        if row.step.per in OF_A_LINE:
            theirs = sum(one.line.qty * own.minutes for one in followed for own in one.minutes if own.step == row.step.step)
            assert theirs == row.minutes, row.step.step


def test_parts_and_boards_are_the_jobs(estimate: Estimate, followed: list[Followed]) -> None:
    assert [part for one in followed for part in one.parts] == list(estimate.parts)
    for use in estimate.boards:
        assert sum(one.line.qty * row.number for one in followed for row in one.boards if row.what == use.board) == use.area_m2


def test_one_cabinet_as_it_was_worked_on_paper() -> None:
    """Area 0.92776 m2 at 61.50/(5.699 x 0.8) a m2, strips 3.33 m at 0.18, fittings 4.50, minutes (11 + 22)/60 at 30."""
    answer = price_book(WORKBOOKS / "one-cabinet.xlsx")
    assert isinstance(answer, Estimate)
    one = follow(answer, answer.price.lines[0])
    assert [text(row.number) for row in (*one.boards, *one.edgings)] == ["0.92776", "3.33"]
    assert one.boards[0].each == Fraction("61.50") / (Fraction("5.699") * Fraction("0.8"))
    assert [text(row.minutes) for row in one.minutes] == ["11", "22", "2.2", "2.75", "6.886"]
    assert text(one.target, places=6) == "149.713888"
    assert str(one.edgings[0].place).startswith("one-cabinet.xlsx > Edgings > ")
