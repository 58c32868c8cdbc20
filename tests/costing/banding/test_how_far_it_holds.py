"""How far each input may move before another way is best: the worked case of four edgings, every answer worked on paper.

All by hand costs 394.55 of edging and 19 of sundries. The best, white and blue sent, costs 404.10: on the invoice 206.30 by the metre, 20 of set-ups and
124 parts at 0.15; the trip 42; packing 124 parts at 0.20; at the bench 83.40 of edging and 9 of sundries. With birch sent too it is 406.80: birch's 28.80
of edging and 4 of sundries are spared for 18 m at 1.30, a set-up of 10 and six parts more.
"""

from dataclasses import replace
from typing import Any

import pytest

from estimator.costing.banding import sensitivity
from estimator.costing.banding.changing import Chosen, stakes_at
from estimator.costing.banding.question import METRES, PIECES, question_of
from estimator.costing.banding.sensitivity import flips, size_curve, size_steps, tornado
from estimator.costing.banding.stakes import cost_of
from estimator.model.exact import Fraction
from estimator.model.records import Job
from tests.building import shop
from tests.costing.banding.test_decision import QUESTION, ways_of
from tests.costing.banding.test_glue_day import step
from tests.costing.banding.worked import contract, edging, four_edgings, loose

F = Fraction
WHITE_AND_BLUE, AND_BIRCH = ("white", "blue 2 mm"), ("white", "blue 2 mm", "birch")

FLIPS = {
    "metres of edge": ("0.91", (), "1.50", AND_BIRCH),
    "edging prices": ("0.97", (), "1.09", AND_BIRCH),  # 394.55 k + 19 = 320.70 + 83.40 k at 0.9696; 28.80 k = 31.50 at 1.09375
    "sundries by hand": (None, (), "1.67", AND_BIRCH),  # 4 (k - 1) = 2.70 at 1.675; all by hand only at 0.055, below a tenth
    "the contractor's prices": ("0.89", AND_BIRCH, "1.04", ()),  # 23.40 (1 - k) = 2.70 at 0.8846; 206.30 (k - 1) = 9.45 at 1.0458
    "set-ups": ("0.73", AND_BIRCH, "1.47", ()),  # 10 (1 - k) = 2.70 at 0.73 exactly, where the fewer are sent; 20 (k - 1) = 9.45 at 1.4725
    "charge per part": (None, (), "1.50", ()),  # 18.60 (k - 1) = 9.45 at 1.508
    "minimum charge": (None, (), "2.06", AND_BIRCH),  # the invoice of 244.90 becomes 120 k: 247.60 at 2.0633
    "cost of the trips": (None, (), "1.22", ()),  # 42 (k - 1) = 9.45 at 1.225
    "sundries of sending out": (None, (), "1.38", ()),  # 24.80 (k - 1) = 9.45 at 1.381
}


@pytest.mark.parametrize("what", list(FLIPS))
def test_how_far_an_input_may_move(what: str) -> None:
    flip = next(one for one in flips(QUESTION, 0b0101) if one.what == what)
    down, down_sent, up, up_sent = FLIPS[what]
    assert (flip.down_to_share, flip.down_sent) == (None if down is None else F(down), down_sent)
    assert (flip.up_to_share, flip.up_sent) == (F(up), up_sent)


def test_each_input_of_the_job_is_asked_about_once_in_the_order_of_the_page() -> None:
    assert [flip.what for flip in flips(QUESTION, 0b0101)] == list(FLIPS)


def test_the_widest_swing_comes_first() -> None:
    """At 20 % up and down: the 42 of the trip move 16.80, the 24.80 of packing 9.92, the 20 of set-ups 8, 18.60 for parts 7.44, 9 of sundries 3.60."""
    swings = tornado(QUESTION)
    assert [swing.what for swing in swings] == [
        "metres of edge", "edging prices", "the contractor's prices", "cost of the trips", "sundries of sending out", "set-ups", "charge per part",
        "sundries by hand", "minimum charge",
    ]  # fmt: skip
    assert [swing.width for swing in swings[3:]] == [F("16.80"), F("9.92"), F("8"), F("7.44"), F("3.60"), 0]


def test_so_many_times_the_job() -> None:
    """333.10 s + 71 meets 394.55 s + 19 at 0.8462 and 329.80 s + 77 at 1.8182: whole percents above."""
    steps = size_steps(QUESTION, by=PIECES)
    assert [(step.size_share, step.sent) for step in steps] == [(F(1, 100), ()), (F(85, 100), WHITE_AND_BLUE), (F(182, 100), AND_BIRCH)]
    assert [step.cost for step in steps] == [F("3.9455") + 19, F("333.10") * F(85, 100) + 71, F("329.80") * F(182, 100) + 77]


def test_the_curve_has_a_point_for_each_size() -> None:
    """Longer edges: 394.55 s + 19 by hand; all sent 206.30 + 57.20 + 23.40 by the metre and 144.60 whatever they measure."""
    curve = size_curve(QUESTION)
    assert [point.size_share * 100 for point in curve] == [10, 25, 50, 75, 100, 125, 150, 175, 200, 250, 300]
    assert [point.by_hand for point in curve] == [F("394.55") * point.size_share + 19 for point in curve]
    assert [point.sent_out for point in curve[1:]] == [F("286.90") * point.size_share + F("144.60") for point in curve[1:]]
    assert curve[0].sent_out == F("189.20")  # 120 of minimum charge, 42 and 136 x 0.20
    assert all(point.best <= min(point.by_hand or point.best, point.sent_out or point.best) for point in curve)


# --- what a job does not have is not asked about ----------------------------------------------------------------------


def asked_about(job: Job) -> set[str]:
    return {swing.what for swing in tornado(question_of(ways_of(job)))}


@pytest.mark.parametrize(
    ("job", "missing"),
    [
        (four_edgings(fittings=()), {"sundries by hand", "sundries of sending out"}), (four_edgings(contract=contract(charge_per_part=F(0))), {"charge per part"}),
        (four_edgings(contract=contract(minimum_charge=F(0))), {"minimum charge"}), (four_edgings(contract=contract(cost_per_distance=F(0))), {"cost of the trips"}),
        (replace(four_edgings(), contract_prices=tuple(replace(row, setup=F(0)) for row in four_edgings().contract_prices)), {"set-ups"}),
    ],
)  # fmt: skip
def test_what_costs_nothing_is_not_asked_about(job: Job, missing: set[str]) -> None:
    assert asked_about(job) == set(FLIPS) - missing


def by_the_roll(**other: Any) -> Job:
    """One edging, bought by whole rolls of 25 m at 2 a metre: nothing else costs anything."""
    rolls = edging("white", "2", roll_length_m=F(25), charge="whole rolls")
    return four_edgings(
        **{
            "edgings": (rolls,),
            "fittings": (),
            "contract": None,
            "contract_prices": (),
            "loose_parts": (loose("a", 30, 1000, 500, "white"),),
            **other,
        }
    )


def test_whole_rolls_are_edging_and_grow_with_the_job() -> None:
    assert asked_about(by_the_roll()) == {"metres of edge", "edging prices"}
    by_what = {swing.what: (swing.low_cost, swing.high_cost) for swing in tornado(question_of(ways_of(by_the_roll())))}
    assert by_what == {
        "metres of edge": (50, 100),
        "edging prices": (80, 120),
    }  # 24 m are a roll, 36 m two; two rolls of 50 at 20 % less and more


def test_metres_that_are_only_sent_are_asked_about() -> None:
    """Edging that the bander supplies and that costs nothing at the bench: the contractor's price alone grows with the metres."""
    free = replace(
        four_edgings(), edgings=tuple(replace(row, price_per_m=F(0), by_hand=False) for row in four_edgings().edgings), fittings=()
    )
    assert {"metres of edge", "the contractor's prices"} <= asked_about(free)
    assert "edging prices" not in asked_about(free)


# --- what is looked at ------------------------------------------------------------------------------------------------


def test_which_sizes_are_looked_at_where_costs_bend(monkeypatch: pytest.MonkeyPatch) -> None:
    """A plan that stays the best at every one of them is asked no more; where costs run straight only the ends are asked."""
    asked: dict[str, list[Fraction]] = {}

    def stays(question: object, changes: dict[str, Fraction], **_: object) -> Chosen:
        ((what, factor),) = changes.items()
        asked.setdefault(what, []).append(factor * 100)
        return Chosen(0b0101, F(1))

    monkeypatch.setattr(sensitivity, "choose", stays)
    assert all(flip.down_to_share is None and flip.up_to_share is None for flip in flips(QUESTION, 0b0101))
    assert asked["metres of edge"] == [90, 80, 65, 50, 35, 20, 10, 110, 125, 150, 200, 300, 500, 1000]
    assert asked["edging prices"] == [10, 1000]


@pytest.mark.parametrize("what", ["the contractor's prices", "set-ups", "charge per part", "minimum charge"])
def test_what_the_contractor_asks_bends_at_the_minimum_charge(what: str) -> None:
    without = replace(QUESTION, minimum=F(0))
    assert (sensitivity._runs_straight(QUESTION, what), sensitivity._runs_straight(without, what)) == (False, True)
    assert [sensitivity._runs_straight(without, size) for size in ("metres of edge", "parts and edges", "edging prices")] == [
        False,
        False,
        True,
    ]


@pytest.mark.parametrize(("per", "grows"), [("metre", True), ("batch", True), ("edge", False), ("part", False), ("job", False)])
def test_longer_edges_take_longer_by_the_metre_and_the_batch(per: str, grows: bool) -> None:
    """An hour's work at 30 an hour for each of them, and nothing else that costs anything."""
    work = (step("work", per, "60"),)
    free = four_edgings(
        edgings=(edging("white", "0"),),
        work=work,
        fittings=(),
        contract=None,
        contract_prices=(),
        loose_parts=(loose("a", 2, 1000, 500, "white"),),
        shop=shop(value_of_a_freed_hour="wage"),
    )
    question = question_of(ways_of(free))
    once, twice = (stakes_at(question, {METRES: F(size)}) for size in (1, 2))
    assert F(cost_of(once, 0), once.scale) == (30 if per == "job" else 60 if per != "batch" else 30)
    assert F(cost_of(twice, 0), twice.scale) == F(cost_of(once, 0), once.scale) * (2 if grows else 1)
