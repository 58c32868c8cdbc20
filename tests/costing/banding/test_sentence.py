"""The sentence that says how to band, word for word, for plans that cost more, less or the same as the two plain ways."""

from dataclasses import replace
from typing import Any

import pytest

from estimator.costing.banding.decide import cost_per_m_today, machines_of, sentence_of
from estimator.model.exact import Fraction
from estimator.model.results import BandingPlan
from tests.costing.banding.test_decision import WORKED, priced, ways_of
from tests.costing.banding.worked import four_edgings

F = Fraction
JOB = four_edgings()
NAMES = ("white", "oak", "birch")


def plan(cost: str | None, *sent: str, hand: str = "0", away: str = "0") -> BandingPlan:
    """A plan of which only what the sentence tells is its own."""
    told: dict[str, Any] = {"sent": sent, "relevant_cost": None if cost is None else F(cost), "possible": cost is not None}
    return replace(WORKED.banding.best, **told, by_hand_min=F(hand), send_out_min=F(away))


BY_HAND, ALL_SENT = plan("400", hand="300"), plan("500", *NAMES, away="60")


def sentence(
    chosen: BandingPlan, *, by_hand: BandingPlan = BY_HAND, sent_out: BandingPlan = ALL_SENT, small_edges: int = 0, **job: Any
) -> str:
    return sentence_of(replace(JOB, **job), chosen=chosen, by_hand=by_hand, sent_out=sent_out, names=NAMES, small_edges=small_edges)


@pytest.mark.parametrize(
    ("chosen", "words"),
    [
        pytest.param(plan("390", "oak", hand="120", away="30"), "Send oak out, band white and birch here: 390.00, saves 10.00 against all by hand and 110.00 against all sent; frees 2.5 h; back in 4 working days", id="cheaper than both"),
        pytest.param(plan("400", "oak", hand="120", away="30"), "Send oak out, band white and birch here: 400.00, saves 0.00 against all by hand and 100.00 against all sent; frees 2.5 h; back in 4 working days", id="as much as by hand"),
        pytest.param(plan("400.01", "oak", hand="120", away="30"), "Send oak out, band white and birch here: 400.01, costs 0.01 more than all by hand and saves 99.99 against all sent; frees 2.5 h; back in 4 working days", id="a cent more than by hand"),
        pytest.param(plan("510", "white", "oak", hand="320", away="10"), "Send white and oak out, band birch here: 510.00, costs 110.00 more than all by hand and costs 10.00 more than all sent; takes 0.5 h; back in 4 working days", id="dearer than both, and slower"),
        pytest.param(plan("390", "oak", hand="200", away="100"), "Send oak out, band white and birch here: 390.00, saves 10.00 against all by hand and 110.00 against all sent; frees 0 h; back in 4 working days", id="no time won, none lost"),
        pytest.param(BY_HAND, "Band white, oak and birch here: 400.00, saves 100.00 against all sent", id="all by hand"),
        pytest.param(ALL_SENT, "Send white, oak and birch out: 500.00, costs 100.00 more than all by hand; frees 4 h; back in 4 working days", id="all sent"),
        pytest.param(plan(None, "oak"), "", id="not possible"),
    ],
)  # fmt: skip
def test_word_for_word(chosen: BandingPlan, words: str) -> None:
    assert sentence(chosen) == words


def test_a_way_that_is_not_possible_is_not_compared_with() -> None:
    oak = plan("390", "oak", hand="120", away="30")
    assert (
        sentence(oak, sent_out=plan(None, *NAMES)).split(";")[0]
        == "Send oak out, band white and birch here: 390.00, saves 10.00 against all by hand"
    )
    assert (
        sentence(oak, by_hand=plan(None)).split(";")[0] == "Send oak out, band white and birch here: 390.00, saves 110.00 against all sent"
    )
    nothing = replace(plan(None), by_hand_min=None)
    assert (
        sentence(oak, by_hand=nothing)
        == "Send oak out, band white and birch here: 390.00, saves 110.00 against all sent; back in 4 working days"
    )


@pytest.mark.parametrize(
    ("small", "words"),
    [
        (1, "Send oak out, band white and birch here, with 1 edge of parts too small to go: "),
        (2, "Send oak out, band white and birch here, with 2 edges of parts too small to go: "),
    ],
)
def test_small_parts_are_told(small: int, words: str) -> None:
    assert sentence(plan("390", "oak"), small_edges=small).startswith(words)


def test_nobody_is_waited_for_where_there_is_no_contract() -> None:
    assert sentence(plan("390", "oak", hand="120", away="30"), contract=None).endswith(
        "saves 10.00 against all by hand and 110.00 against all sent; frees 2.5 h"
    )


# --- a metre today ----------------------------------------------------------------------------------------------------


def test_a_metre_today_is_the_best_plan_without_its_edging() -> None:
    """The best plan of the worked case costs 404.10 for 165 + 26 + 34 + 18 m; its edging is 1.35 x 165 + 2.10 x 26 + 2.60 x 34 + 1.60 x 18."""
    ways, choice = ways_of(JOB), WORKED.banding
    assert cost_per_m_today(ways, choice) == (F("404.10") - (F("222.75") + F("54.60") + F("88.40") + F("28.80"))) / 243
    assert cost_per_m_today(ways, replace(choice, best=replace(choice.best, relevant_cost=None))) is None


def test_without_edges_there_is_no_metre_and_without_a_machine_no_answer() -> None:
    bare = four_edgings(loose_parts=(), fittings=())
    answer = priced(bare)
    assert cost_per_m_today(ways_of(bare), answer.banding) is None
    assert machines_of(ways_of(JOB), WORKED.banding) == ()
    assert answer.decision is None
    assert WORKED.decision is not None


def test_the_decision_answers_for_every_edging() -> None:
    assert WORKED.decision is not None
    assert [name for name, _ in WORKED.decision.break_even_m] == ["white", "oak veneer", "blue 2 mm", "birch"]
    assert WORKED.decision.by_metres[0].size_share == F(1, 100)
    assert WORKED.decision.curve[0].size_share == F(1, 10)
