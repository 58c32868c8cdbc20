"""What the engine says, word for word: a problem or a sentence that is only looked for in part may go wrong in the rest."""

from dataclasses import replace
from datetime import timedelta
from typing import Any

import pytest

from estimator.costing.banding.clock import Day, day_of
from estimator.costing.banding.decide import sentence_of
from estimator.costing.bridge import bridge_of
from estimator.costing.cutting import check_plan
from estimator.costing.estimate import estimate_job
from estimator.costing.following import costs_of_the_job
from estimator.costing.parts import parts_of_job
from estimator.model.cutting_plan import Cut, CuttingPlan, Offcut, Pattern, Placement, StockSheet, WantedPart
from estimator.model.exact import Fraction
from estimator.model.problems import Place, Problem
from estimator.model.refusal import Refusal
from estimator.model.results import Estimate
from tests.building import extra, shop, terms
from tests.costing.banding.test_decision import WORKED, priced
from tests.costing.banding.test_glue_day import glue
from tests.costing.banding.worked import board, contract, fitting, four_edgings, loose
from tests.costing.test_bridge_seldom_met import bridged
from tests.costing.test_seldom_met import step, with_first_row
from tests.samples import sample

F = Fraction


# --- the bench's day --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("typed", "day"),
    [
        ({"breaks": ""}, Day(480, 990, ())),
        ({"breaks": "8:00-8:15; 8:15 to 8:30, 16:00-16:30"}, Day(480, 990, ((480, 495), (495, 510), (960, 990)))),
        ({"start_of_day": "8:00", "end_of_day": "8:01", "breaks": ""}, Day(480, 481, ())),
    ],
)
def test_a_day_as_it_was_typed(typed: dict[str, str], day: Day) -> None:
    assert day_of(shop(**typed)) == day


def test_time_between_breaks_that_touch_is_no_time_to_work() -> None:
    day = Day(480, 990, ((480, 495), (495, 510), (960, 990)))
    assert (day.stretches, day.work_min) == (((510, 960),), 450)


DAY_WORDS = {
    "Start of day": "Start of day: a time such as 7:30", "End of day": "End of day: a time after the start of day, such as 16:30",
    "Breaks": "Breaks: times within the day, in order, such as 9:30-9:45, 12:00-12:30",
}  # fmt: skip


@pytest.mark.parametrize(
    ("typed", "item", "found"),
    [
        ({"start_of_day": "early"}, "Start of day", "early"), ({"end_of_day": "noon"}, "End of day", "noon"),
        ({"end_of_day": "8:00"}, "End of day", "8:00"), ({"end_of_day": "7:59"}, "End of day", "7:59"), ({"breaks": "9:00"}, "Breaks", "9:00"),
        ({"breaks": "9:00-9:00"}, "Breaks", "9:00-9:00"), ({"breaks": "9:00-9:10-9:20"}, "Breaks", "9:00-9:10-9:20"),
        ({"breaks": "9:00-soon"}, "Breaks", "9:00-soon"), ({"breaks": "7:59-8:10"}, "Breaks", "7:59-8:10"), ({"breaks": "16:00-16:31"}, "Breaks", "16:00-16:31"),
        ({"breaks": "9:00-9:30, 9:29-9:40"}, "Breaks", "9:29-9:40"),
    ],
)  # fmt: skip
def test_a_day_that_is_none_is_told_at_its_cell(typed: dict[str, str], item: str, found: str) -> None:
    place = shop().at.place(item)
    assert day_of(shop(**typed)) == Problem(place, f"the text {found}", DAY_WORDS[item], "type hours and minutes with a colon")


def test_breaks_that_take_the_whole_day_are_told() -> None:
    problem = day_of(shop(breaks="8:00-12:00, 12:00-16:30"))
    assert isinstance(problem, Problem)
    assert problem.expected == "Breaks: breaks that leave time to work"


# --- the choice of banding --------------------------------------------------------------------------------------------


def plan(index: int, **other: Any) -> Any:
    return replace(WORKED.banding.plans[index], **other)


WHITE_AND_BLUE = plan(6)
"""404.10, as paper says; by hand is 413.55, all sent 431.50."""


@pytest.mark.parametrize(
    ("chosen", "by_hand", "sent_out", "small", "words"),
    [
        (
            WHITE_AND_BLUE, plan(0, by_hand_min=F(90)), plan(-1), 0,
            "Send white and blue 2 mm out, band oak veneer and birch here: 404.10, saves 9.45 against all by hand and 27.40 against all sent; "
            "frees 1.5 h; back in 4 working days",
        ),
        (
            plan(6, by_hand_min=F(60), send_out_min=F(48)), plan(0, by_hand_min=F(90)), plan(-1), 1,
            "Send white and blue 2 mm out, band oak veneer and birch here, with 1 edge of parts too small to go: 404.10, "
            "saves 9.45 against all by hand and 27.40 against all sent; takes 0.3 h; back in 4 working days",
        ),
        (
            plan(0), plan(0), plan(-1), 0,
            "Band white, oak veneer, blue 2 mm and birch here: 413.55, saves 17.95 against all sent",
        ),
        (
            plan(-1), plan(0, by_hand_min=F(0)), plan(-1), 2,
            "Send white, oak veneer, blue 2 mm and birch out, with 2 edges of parts too small to go: 431.50, costs 17.95 more than all by hand; "
            "frees 0 h; back in 4 working days",
        ),
        (
            plan(1), plan(0, by_hand_min=F(0)), plan(-1), 0,
            "Send white out, band oak veneer, blue 2 mm and birch here: 423.80, costs 10.25 more than all by hand and saves 7.70 against all sent; "
            "frees 0 h; back in 4 working days",
        ),
        (
            plan(0), plan(0), plan(-1, relevant_cost=None), 0, "Band white, oak veneer, blue 2 mm and birch here: 413.55",
        ),
    ],
)  # fmt: skip
def test_the_sentence_on_banding(chosen: Any, by_hand: Any, sent_out: Any, small: int, words: str) -> None:
    names = ("white", "oak veneer", "blue 2 mm", "birch")
    assert sentence_of(four_edgings(), chosen=chosen, by_hand=by_hand, sent_out=sent_out, names=names, small_edges=small) == words


# --- the cutting plan's checker ---------------------------------------------------------------------------------------

STOCK = [StockSheet(F(1000), F(600), F(10), F(20), 0, True)]
PART = [WantedPart(F("500.5"), F(300), 1, "along")]
RIP = Cut("rip", F(310), F(10), F(10), F(980), F(580))
CROSS = Cut("cross", F("510.5"), F(10), F(10), F(980), F(300))
"""The trimmed sheet is 980 x 580 from 10, 10: cut along at 310, then the strip across at 510.5, with a kerf of 4."""
KERF_MM2 = 4 * 980 + 4 * 300
OFFCUTS = (Offcut(F(10), F(314), F(980), F(276)), Offcut(F("514.5"), F(10), F("475.5"), F(300)))


def one_part(**other: Any) -> CuttingPlan:
    placed = (Placement(0, F(10), F(10), False),)
    pattern = Pattern(0, 1, other.pop("placements", placed), other.pop("cuts", (RIP, CROSS)), other.pop("offcuts", OFFCUTS))
    sound: dict[str, Any] = {
        "patterns": (pattern,), "sheets": 1, "bound": 1, "money": F(20), "bound_money": F(20), "parts_mm2": F("500.5") * 300,
        "kerf_mm2": F(KERF_MM2), "trim_mm2": F(600_000 - 980 * 580), "offcut_mm2": F(980 * 276) + F("475.5") * 300,
    }  # fmt: skip
    return CuttingPlan(**{**sound, **other})


def said_of(plan: CuttingPlan, wanted: list[WantedPart] = PART, stock: list[StockSheet] = STOCK) -> list[str]:
    return check_plan(plan=plan, wanted=wanted, stock=stock, kerf_mm=F(4))


def test_a_plan_made_by_hand_is_sound() -> None:
    assert said_of(one_part()) == []


@pytest.mark.parametrize(
    ("plan", "said"),
    [
        (one_part(bound=2), ["The plan is better than what is said to be the best possible."]),
        (one_part(bound_money=F(21)), ["The plan is better than what is said to be the best possible."]),
        (one_part(money=F(19), bound_money=F(0)), ["The sheets to buy cost 20 and the plan says 19."]),
        (one_part(sheets=2), ["The patterns take 1 sheets and the plan says 2."]),
        (one_part(cuts=(RIP, RIP, CROSS)), ["Pattern 1: cut 2 is of a piece that is not in hand."]),
    ],
)
def test_what_is_wrong_with_a_plan(plan: CuttingPlan, said: list[str]) -> None:
    assert said_of(plan) == said


def test_parts_are_told_by_their_place_in_millimetres() -> None:
    wanted = [WantedPart(F("500.5"), F(300), 2, "along")]
    placed = (Placement(0, F(10), F(10), False), Placement(0, F("510.25"), F("309.5"), False))
    said = said_of(one_part(placements=placed), wanted)
    assert "Pattern 1: the part at 2041/4, 619/2 is not inside the trimmed sheet." in said
    assert "Pattern 1: the parts at 10, 10 and 2041/4, 619/2 overlap." in said
    assert "Pattern 1: part 0 lies against its grain." in said_of(one_part(placements=(Placement(0, F(10), F(10), True),)))
    assert "Part 0 is cut 1 times and wanted 2 times." in said_of(one_part(), wanted)


@pytest.mark.parametrize(("apart_mm", "told"), [(3, True), (4, False)])
def test_two_parts_nearer_than_the_kerf_cannot_be_sawn(apart_mm: int, told: bool) -> None:
    wanted = [WantedPart(F(400), F(300), 2, "along")]
    placed = (Placement(0, F(10), F(10), False), Placement(0, F(410 + apart_mm), F(10), False))
    words = "Pattern 1: its parts cannot be sawn free edge to edge with a kerf between neighbours."
    assert (words in said_of(one_part(placements=placed), wanted)) is told


# --- the rest ---------------------------------------------------------------------------------------------------------


def test_two_currencies() -> None:
    old = sample("one-cabinet")
    answer = bridge_of(old, replace(old, terms=replace(old.terms, currency="USD")))
    assert isinstance(answer, Refusal)
    (problem,) = answer.problems
    assert (problem.found, problem.expected, problem.mend) == (
        "USD, where the other job is in EUR", "two jobs of one currency: amounts of two currencies have no difference", "compare with a job in USD",
    )  # fmt: skip


def test_a_sheet_that_is_taken_out_and_its_rows_are_changes_with_their_place() -> None:
    old = sample("one-cabinet")
    there = bridged(old, replace(old, contract=None, contract_prices=()))
    assert [(step.words, step.changes[0].place, step.gross) for step in there.steps] == [
        ("Contract: the whole sheet taken out", Place("one-cabinet.xlsx", "Contract"), 0),
        ("Contract prices: white 0.4 mm taken out", Place("one-cabinet.xlsx", "Contract prices", "row 2"), 0),
    ]
    sent = replace(old, terms=replace(old.terms, banding="send out"))
    gone = replace(sent, contract=None, contract_prices=(), terms=old.terms)
    back = bridged(gone, sent)
    assert back.new.gross > back.old.gross
    assert {change.sheet for one in back.steps for change in one.changes} == {"Contract", "Contract prices", "Job"}


@pytest.mark.parametrize(
    ("other", "found", "expected", "mend"),
    [
        (
            {"board": "lid"}, "no board for the role lid in the finish white: side of cabinet Kitchen 1 needs it",
            "lid board: the name of one, in the row of white", "fill in the cell, add a column lid board, or correct the role in Construction",
        ),
        (
            {"front": "lid"}, "no edging for the role lid in the finish white: side of cabinet Kitchen 1 needs it",
            "lid edging: the name of one, in the row of white", "fill in the cell, add a column lid edging, or correct the role in Construction",
        ),
        (
            {"count": "2.5"}, "2.5 pieces: side of cabinet Kitchen 1", "Count: a rule that comes out whole, 0 or more",
            "use round_up or round_down where a division may leave a rest",
        ),
        (
            {"width": "width - 600"}, "0 mm: side of cabinet Kitchen 1", "Width: a rule that comes out above 0",
            "look at the cabinet's sizes first (Cabinets, row 2), then at the rule",
        ),
    ],
)  # fmt: skip
def test_a_rule_that_makes_no_part(other: dict[str, str], found: str, expected: str, mend: str) -> None:
    (problem,) = parts_of_job(with_first_row(**other)).problems
    assert (problem.found, problem.expected, problem.mend) == (found, expected, mend)


def test_a_rule_of_the_fittings_may_come_out_at_nothing() -> None:
    plugs = replace(fitting("plug", "", "job", "", "0.05"), number="rail - 100")
    answer = priced(four_edgings(shop=shop(lengths_mm={"rail": F(100)}), fittings=(plugs,)))
    assert [(one.number, one.cost) for one in answer.fittings] == [(0, 0)]
    below = estimate_job(four_edgings(shop=shop(lengths_mm={"rail": F(100)}), fittings=(replace(plugs, number="rail - 100.5"),)))
    assert isinstance(below, Refusal)
    assert below.problems[0].found == "a rule that comes out below 0"


def test_a_trip_is_counted_once_in_the_facts_of_a_way_and_other_counts_in_full() -> None:
    """Two parts rows of 3 and 4 pieces go; two trips, each of 30 minutes, which the sheet multiplies itself."""
    work = (step("drive", "away", "trip", "30", "send out"), step("pack", "away", "part", "2", "send out"), step("fetch", "home", "sheet", "9"))
    parts = (loose("a", 3, 1000, 300, "white"), loose("b", 4, 900, 300, "white"))
    answer = priced(four_edgings(contract=contract(trips=2), work=work, fittings=(), loose_parts=parts))
    here, away = answer.counted.ways
    assert (here.sent, here.steps, here.parts_sent) == ((), (0, 0), 0)
    assert (away.sent, away.steps, away.parts_sent) == (("white",), (1, 7), 7)
    assert (here.batches, away.batches) == (1, 0)
    assert answer.counted.steps == (1,)


def test_costs_of_the_job_are_told_where_there_are_any() -> None:
    answer = priced(four_edgings())
    assert isinstance(answer, Estimate)
    names = [name for name, _ in costs_of_the_job(answer)]
    assert names == ["boards", "edging", "fittings", "contract bander", "trips to the bander", "margin"]


def test_every_cost_that_there_is_has_its_name() -> None:
    """White by hand with glue and work, one extra by its cost, a tenth for contingency, a markup."""
    glued = replace(four_edgings().edgings[0], adhesive="quick")
    job = four_edgings(
        terms=terms(contingency_share=F(1, 10), margin_share=None, markup_share=F(1, 5)), edgings=(glued,), adhesives=(glue("quick"),),
        work=(step("cut", "making", "part", "3"),), contract=None, contract_prices=(), loose_parts=(loose("shelf", 2, 1000, 300, "white"),),
        extras=(replace(extra("1"), price_each=None, cost_each=F(40)),), fittings=(fitting("leg", "", "part", "", "2"),),
    )  # fmt: skip
    costs = dict(costs_of_the_job(priced(job)))
    assert list(costs) == ["boards", "edging", "adhesive", "fittings", "extras", "work", "overhead", "contingency", "markup"]
    assert (costs["extras"], costs["fittings"], costs["work"], costs["overhead"]) == (40, 4, 3, F("2.4"))
    base = sum(costs.values()) - costs["markup"]
    assert costs["contingency"] * 11 == base
    assert costs["markup"] * 5 == base


@pytest.mark.parametrize(("days", "told"), [(365, False), (366, True)])
def test_a_price_is_old_on_the_day_after_the_last(days: int, told: bool) -> None:
    priced_on = terms().quote_date - timedelta(days=days)
    job = four_edgings(boards=(board(priced_on=priced_on),))
    said = [remark.words for remark in priced(job).remarks if "days old" in remark.words]
    words = "the price of white 18 was 366 days old on the quote date: ask for it anew, and type the day under Priced on"
    assert said == ([words] if told else [])
