"""Ways of banding that are not possible, and parts that cannot be made: every sentence whole, every limit at its value and one above."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from estimator.costing.cabinet_parts import front_heights_mm, rule_names, unit_mm
from estimator.costing.parts import parts_of_job
from estimator.costing.routes import best_plan, chosen_plan, plan_of, spoilt_on, why_not_by_hand, why_not_sent, words_of
from estimator.costing.stock import stock_of
from estimator.model.exact import Fraction
from estimator.model.problems import Problem
from estimator.model.records import Job
from estimator.model.results import BandingPlan
from tests.building import shop, terms
from tests.costing.banding.test_decision import ways_of
from tests.costing.banding.worked import contract, four_edgings
from tests.samples import sample

F = Fraction
FOUR = ("white", "oak veneer", "blue 2 mm", "birch")


# ways of banding ----------------------------------------------------------------------------------------------------------------------------


def with_edging(number: int, **other: Any) -> Job:
    job = four_edgings()
    return replace(job, edgings=(*job.edgings[:number], replace(job.edgings[number], **other), *job.edgings[number + 1 :]))


@pytest.mark.parametrize(
    ("job", "reasons"),
    [
        (four_edgings(), {}),
        (four_edgings(contract=None, contract_prices=()), dict.fromkeys(FOUR, "there is no offer of a contract bander")),
        (four_edgings(terms=terms(working_days_available=4)), {}),
        (four_edgings(terms=terms(working_days_available=3)), dict.fromkeys(FOUR, "the contract bander takes 4 working days and the job has 3")),
        (with_edging(1, send_out=False), {"oak veneer": "oak veneer says Send out no"}),
        (four_edgings(contract_prices=four_edgings().contract_prices[:3]), {"birch": "birch has no contract price"}),
        (four_edgings(contract=contract(smallest_length_mm=F(2500))), {"white": "every part with white is smaller than the contract bander takes"}),
    ],
)
def test_why_an_edging_cannot_be_sent(job: Job, reasons: dict[str, str]) -> None:
    found = why_not_sent(ways_of(job))
    assert {name: why for name, why in found.items() if name in reasons or not reasons} == reasons


def test_why_an_edging_cannot_be_banded_by_hand() -> None:
    assert why_not_by_hand(ways_of(with_edging(2, by_hand=False))) == {"blue 2 mm": "blue 2 mm says By hand no"}
    assert why_not_by_hand(ways_of(four_edgings(shop=shop(bench_length_m=F(3), value_of_a_freed_hour="idle")))) == {"oak veneer": "a strip of oak veneer is longer than the bench"}


def test_a_plan_that_is_not_possible_tells_every_reason_once() -> None:
    ways = ways_of(four_edgings())
    plan = plan_of(ways, 0b0101, {"white": "too late", "blue 2 mm": "too late", "birch": "never asked"}, {"oak veneer": "too long", "white": "never asked"})
    assert plan == BandingPlan(("white", "blue 2 mm"), False, "too late; too long", None, None, None, None, None, None, None, None)


def test_the_figures_of_a_plan() -> None:
    """White and blue sent: 165 x 0.90 + 8, 34 x 1.70 + 12, 124 parts at 0.15; a trip of 42; packing 124 x 0.20; oak and birch by hand 26 x 2.10 + 5, 18 x 1.60 + 4."""
    plan = plan_of(ways_of(four_edgings()), 0b0101, {}, {})
    assert (plan.sent, plan.possible, plan.why, plan.relevant_cost) == (("white", "blue 2 mm"), True, "", F("404.10"))
    assert (plan.edging, plan.adhesive, plan.contractor, plan.trips, plan.fittings) == (F("83.4"), 0, F("244.9"), 42, F("33.8"))
    assert (plan.by_hand_min, plan.send_out_min, plan.spoilt) == (0, 0, 0)
    kept = plan_of(ways_of(four_edgings(contract=contract(supplies_edging=False))), 0b0101, {}, {})
    assert kept.edging == F("83.4") + 165 * F("1.35") + 34 * F("2.60")
    assert spoilt_on(ways_of(four_edgings()), 0b0101) == (0, 0)


NOBODY = four_edgings(edgings=tuple(replace(row, by_hand=row.edging != "oak veneer", send_out=row.edging != "oak veneer") for row in four_edgings().edgings))


@pytest.mark.parametrize(
    ("job", "banding", "found", "expected", "mend"),
    [
        (
            NOBODY, "best", "no way of banding is possible: oak veneer says By hand no; oak veneer says Send out no",
            "Banding: a job whose every edging can go by hand or be sent out", "change Edgings > By hand or Send out, get an offer, or allow more working days",
        ),
        (
            with_edging(1, send_out=False), " Send out ", "Send out, which is not possible: oak veneer says Send out no",
            "Banding: best, or a way that is possible for every edging of the job", "write best (now: send out white, blue 2 mm), or remove what stands in the way",
        ),
        (
            with_edging(0, by_hand=False), "by hand", "by hand, which is not possible: white says By hand no",
            "Banding: best, or a way that is possible for every edging of the job", "write best (now: send out white, blue 2 mm), or remove what stands in the way",
        ),
        (
            with_edging(2, by_hand=False), "birch, White", "birch, White, which is not possible: blue 2 mm says By hand no",
            "Banding: best, or a way that is possible for every edging of the job", "write best (now: send out white, blue 2 mm), or remove what stands in the way",
        ),
    ],
)  # fmt: skip
def test_a_way_that_was_asked_for_and_is_not_possible(job: Job, banding: str, found: str, expected: str, mend: str) -> None:
    ways = ways_of(replace(job, terms=terms(banding=banding)))
    plans = [plan_of(ways, sent, why_not_sent(ways), why_not_by_hand(ways)) for sent in range(16)]
    problem = chosen_plan(ways, plans)
    assert problem == Problem(job.terms.at.place("Banding"), found, expected, mend)


@pytest.mark.parametrize(
    ("banding", "sent"),
    [("", ("white", "blue 2 mm")), ("Best", ("white", "blue 2 mm")), ("BY HAND", ()), ("send out", FOUR), ("birch , WHITE", ("white", "birch")), ("pear, oak veneer", ("oak veneer",)), ("pear", ())],
)
def test_the_way_that_was_asked_for(banding: str, sent: tuple[str, ...]) -> None:
    ways = ways_of(four_edgings(terms=terms(banding=banding)))
    plans = [plan_of(ways, group, {}, {}) for group in range(16)]
    chosen = chosen_plan(ways, plans)
    assert isinstance(chosen, BandingPlan)
    assert chosen.sent == sent


def test_a_way_in_words() -> None:
    plain = BandingPlan((), True, "", F(1), None, None, None, None, None, None, None)
    assert (words_of(plain), words_of(replace(plain, sent=("white", "birch")))) == ("by hand", "send out white, birch")
    dearer, none, other = replace(plain, relevant_cost=F(2)), replace(plain, relevant_cost=None), replace(plain, sent=("white",))
    assert best_plan([none, dearer, plain, other]) is plain
    assert best_plan([other, plain]) is other
    assert best_plan([none]) is None


# fronts, names, rules -----------------------------------------------------------------------------------------------------------------------

GAPS = {"gap_top": F(2), "gap_bottom": F(1), "gap_mid": F(3), "drawer_front": F(140)}


@pytest.mark.parametrize(
    ("drawers", "doors", "typed", "lengths", "heights"),
    [
        (0, 0, (), GAPS, ()), (3, 0, (), GAPS, (F(711, 3),) * 3), (1, 0, (), GAPS, (F(717),)), (2, 0, (), {}, (F(360),) * 2), (2, 1, (), GAPS, (F(140),) * 2),
        (2, 1, (), {"gap_mid": F(4)}, (F(358),) * 2), (2, 0, (F(100), F(200)), GAPS, (F(100), F(200))), (2, 1, (F(100), F(200)), GAPS, (F(100), F(200))), (2, 0, (), {"gap_top": F(10)}, (F(355),) * 2), (2, 0, (), {"gap_bottom": F(10)}, (F(355),) * 2),
    ],
)  # fmt: skip
def test_heights_of_drawer_fronts(drawers: int, doors: int, typed: tuple[Fraction, ...], lengths: dict[str, Fraction], heights: tuple[Fraction, ...]) -> None:
    """A cabinet 720 high: three alike are (720 - 2 - 1 - 2 x 3)/3."""
    cabinet = replace(sample("one-cabinet").cabinets[0], drawers=drawers, doors=doors, front_heights_mm=typed)
    assert front_heights_mm(cabinet=cabinet, lengths_mm=lengths) == heights


@pytest.mark.parametrize(("drawers", "typed"), [(3, 2), (0, 1), (2, 3)])
def test_front_heights_that_are_too_few_or_too_many_stop_the_cabinet(drawers: int, typed: int) -> None:
    job = sample("one-cabinet")
    cabinet = replace(job.cabinets[0], drawers=drawers, front_heights_mm=(F(100),) * typed)
    problem = Problem(
        cabinet.at.place("Front heights"), f"{typed} front heights for {drawers} drawers", "Front heights: one number for each drawer, from top to bottom",
        "type as many heights as there are drawers, or leave the cell blank for equal fronts",
    )  # fmt: skip
    made = parts_of_job(replace(job, cabinets=(cabinet,)))
    assert (made.parts, made.problems) == ((), (problem,))


def test_the_names_of_a_cabinets_rules_in_the_unit_of_the_book() -> None:
    """254 mm are 10 inches; counts and plain numbers stay as they are, lengths of its own do not."""
    job = sample("one-cabinet")
    cabinet = replace(
        job.cabinets[0], width_mm=F(254), height_mm=F(508), depth_mm=F(762), shelves=3, doors=2, drawers=1, finished_ends="left", own_numbers={"legs": F(4), "plinth": F(127)}, own_lengths=frozenset({"plinth"})
    )  # fmt: skip
    own = replace(job, shop=replace(job.shop, lengths_mm={"gap_mid": F("25.4")}))
    assert (unit_mm("inch"), unit_mm("mm")) == (F("25.4"), 1)
    names = rule_names(cabinet, job.finishes[0], own, stock_of(own), (F(100), F("27")), unit_mm=F("25.4"))
    assert names == {
        "gap_mid": 1, "width": 10, "height": 20, "depth": 30, "front_heights": 5, "carcass_thickness": F(18) / F("25.4"), "legs": 4, "plinth": 5, "shelves": 3, "doors": 2, "drawers": 1, "ends": 1,
    }  # fmt: skip
    ends = [rule_names(replace(cabinet, finished_ends=side), job.finishes[0], own, stock_of(own), (), unit_mm=F(1))["ends"] for side in ("none", "left", "right", "both")]
    assert ends == [0, 1, 1, 2]


def first_row(**other: Any) -> Job:
    job = sample("one-cabinet")
    return replace(job, construction=(replace(job.construction[0], **other), *job.construction[1:]))


@pytest.mark.parametrize(
    ("drawers", "count", "length", "sizes"),
    [
        (0, "2", "height", [(2, 720)]), (0, "0", "height", []), (0, "shelves", "height", [(1, 720)]), (3, "drawers", "front_height", [(2, 140), (1, 200)]), (3, "2 * drawers", "front_height + 1", [(4, 141), (2, 201)]), (3, "2", "height", [(2, 720)]),
        (3, "drawers * (front_height > 150)", "front_height", [(1, 200)]), (3, "0 * front_height", "height", []), (3, "drawers", "height - front_height", [(2, 580), (1, 520)]), (3, "drawers", "front_heights", [(3, 480)]),
    ],
)  # fmt: skip
def test_pieces_for_each_drawer_front(drawers: int, count: str, length: str, sizes: list[tuple[int, int]]) -> None:
    """Fronts of 140, 140 and 200: those alike are one part."""
    job = first_row(count=count, length=length, front="")
    cabinet = replace(job.cabinets[0], drawers=drawers, front_heights_mm=(F(140), F(140), F(200))[:drawers])
    made = parts_of_job(replace(job, cabinets=(cabinet,)))
    assert made.problems == ()
    name = job.construction[0].part
    assert [(part.count_each, part.length_mm) for part in made.parts if part.part == name] == sizes


@pytest.mark.parametrize(
    ("drawers", "other", "place", "found", "expected", "mend"),
    [
        (0, {"count": "1 / 3"}, "Count", "0.333 pieces: side of cabinet Kitchen 1", "Count: a rule that comes out whole, 0 or more", "use round_up or round_down where a division may leave a rest"),
        (0, {"count": "-1"}, "Count", "-1 pieces: side of cabinet Kitchen 1", "Count: a rule that comes out whole, 0 or more", "use round_up or round_down where a division may leave a rest"),
        (2, {"count": "1", "length": "front_height"}, "Count", "0.5 pieces for each drawer: side of cabinet Kitchen 1", "Count: a rule that comes out whole, 0 or more", "use round_up or round_down where a division may leave a rest"),
        (0, {"length": "depth - 300 - 1 / 3"}, "Length", "-0.333 mm: side of cabinet Kitchen 1", "Length: a rule that comes out above 0", "look at the cabinet's sizes first (Cabinets, row 2), then at the rule"),
        (0, {"width": "1 / 0"}, "Width", "a division by 0: side of cabinet Kitchen 1", "Width: a rule that gives a number", "make sure that what stands under the / cannot be 0"),
        (0, {"count": "(1"}, "Count", "a ) is missing: side of cabinet Kitchen 1", "Count: a rule that gives a number", "write numbers, names, + - * / ( ), comparisons, min, max, round_up, round_down or if(a, b, c)"),
        (0, {"board": ""}, None, "no board for the role (blank) in the finish white: side of cabinet Kitchen 1 needs it", " board: the name of one, in the row of white", "fill in the cell, add a column  board, or correct the role in Construction"),
    ],
)  # fmt: skip
def test_a_rule_that_makes_no_part_is_told_whole(drawers: int, other: dict[str, str], place: str | None, found: str, expected: str, mend: str) -> None:
    job = first_row(**other)
    cabinet = replace(job.cabinets[0], drawers=drawers)
    (problem, *_) = parts_of_job(replace(job, cabinets=(cabinet,))).problems
    assert (problem.found, problem.expected, problem.mend) == (found, expected, mend)
    if place:
        assert problem.place == job.construction[0].at.place(place)
