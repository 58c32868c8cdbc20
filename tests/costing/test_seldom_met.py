"""Rules that give nothing, names that stand nowhere, boards of two sizes of which none holds all: told at their cell, or left out."""

from dataclasses import replace
from datetime import date
from functools import cache
from typing import Any

import pytest

from estimator.costing.banding.changing import choose
from estimator.costing.banding.question import METRES, question_of
from estimator.costing.checks import hold_the_laws
from estimator.costing.contractor import Break, quantity_above_amount
from estimator.costing.estimate import estimate_job
from estimator.costing.parts import parts_of_job
from estimator.costing.pricing import owners_words
from estimator.costing.risk import _priced
from estimator.costing.routes import why_not_by_hand
from estimator.costing.shown import price_shown
from estimator.costing.times.comparing import compared
from estimator.costing.times.material import JobUse
from estimator.costing.times.observing import _counts_of, seen_in
from estimator.costing.times.step_times import step_times
from estimator.costing.work import rates_of
from estimator.model.exact import Fraction
from estimator.model.problems import Problem
from estimator.model.records import Job
from estimator.model.refusal import Refusal
from estimator.model.results import Estimate
from estimator.model.shop_records import Share, Step
from estimator.model.times import LogRow
from tests.building import AT, extra, shop, terms
from tests.costing.banding.test_decision import priced, ways_of
from tests.costing.banding.worked import board, contract, fitting, four_edgings, loose
from tests.samples import sample

F = Fraction


def with_first_row(**other: Any) -> Job:
    """The cabinet's sides made by another rule."""
    job = sample("one-cabinet")
    return replace(job, construction=(replace(job.construction[0], **other), *job.construction[1:]))


# --- parts ------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("other", "place", "found"),
    [
        pytest.param({"count": "widht"}, "Count", "widht", id="a name that is nowhere in Count"),
        pytest.param({"count": "2.5"}, "Count", "2.5 pieces: side of cabinet", id="two and a half pieces"),
        pytest.param({"length": "widht"}, "Length", "widht", id="a name that is nowhere in Length"),
        pytest.param({"width": "width - 600"}, "Width", "0 mm: side of cabinet", id="a width of nothing"),
        pytest.param({"board": "lid"}, "", "no board for the role lid in the finish", id="a role without a board"),
        pytest.param({"front": "lid"}, "", "no edging for the role lid in the finish", id="a role without an edging"),
    ],
)
def test_a_rule_that_makes_no_part_is_told_once_and_the_others_are_made(other: dict[str, str], place: str, found: str) -> None:
    made = parts_of_job(with_first_row(**other))
    (problem,) = made.problems
    assert found in problem.found
    assert problem.place.cell.startswith(place[:1] and {"Count": "C", "Length": "D", "Width": "E"}[place])
    assert len(made.parts) == len(parts_of_job(sample("one-cabinet")).parts) - 1


@pytest.mark.parametrize(
    "job",
    [
        pytest.param(replace(sample("one-cabinet"), finishes=()), id="a finish that could not be read"),
        pytest.param(four_edgings(boards=()), id="a board that could not be read"),
        pytest.param(four_edgings(edgings=()), id="an edging that could not be read"),
    ],
)
def test_what_hangs_on_a_row_that_could_not_be_read_is_neither_made_nor_told_again(job: Job) -> None:
    made = parts_of_job(job)
    assert (made.parts, made.problems) == ((), ())


def test_every_line_is_called_by_what_its_owner_says() -> None:
    cabinet = replace(sample("one-cabinet").cabinets[0], kind="Open")
    kinds = {"open": "open wall cabinet"}
    assert owners_words(kinds, cabinet) == "open wall cabinet"
    assert owners_words({}, cabinet) == "Open"
    assert owners_words(kinds, loose("filler", 1, 700, 80, "")) == "filler"
    assert owners_words(kinds, extra("10")) == "line 1"


# --- boards, edgings, fittings ----------------------------------------------------------------------------------------


def test_a_board_of_which_no_size_holds_every_part_is_bought_by_its_yield_and_has_no_plan() -> None:
    """2500 x 300 fits the long sheet only, 900 x 900 the square one only. 1.56 m2 at 80 % of 1.12 m2 are two long sheets of 30."""
    sizes = [
        board(sheet_length_mm=F(length), sheet_width_mm=F(width), price=F(price), trim_mm=F(0), grain=True)
        for length, width, price in ((2800, 400, 30), (1000, 1000, 40))
    ]  # fmt: skip
    parts = (loose("long", 1, 2500, 300, ""), loose("square", 1, 900, 900, ""))
    answer = priced(four_edgings(boards=tuple(sizes), loose_parts=parts, fittings=()))
    (use,) = answer.boards
    assert (use.plan, use.plan_entries, use.by_yield) == (None, (), True)
    assert use.area_m2 == F("1.56")
    assert (use.sheets, use.cost) == (2, 60)
    assert hold_the_laws(answer) is answer


def test_a_strip_longer_than_the_bench_keeps_its_edging_from_being_banded_by_hand() -> None:
    reasons = why_not_by_hand(ways_of(four_edgings(shop=shop(bench_length_m=F(3)))))
    assert reasons == {"oak veneer": "a strip of oak veneer is longer than the bench"}


def test_a_rule_of_the_fittings_knows_the_lengths_of_the_shop_and_is_told_where_it_knows_nothing() -> None:
    """Two rails of 100 mm and 20 more: 220 wall plugs for the job at 0.05."""
    lengths = shop(lengths_mm={"rail": F(100)})
    plugs = replace(fitting("plug", "", "job", "", "0.05"), number="2 * rail + 20")
    (use,) = (one for one in priced(four_edgings(shop=lengths, fittings=(plugs,))).fittings if one.number)
    assert (use.number, use.cost) == (220, 11)
    for number, words in (("2 * rial", "rial"), ("rail - 101", "below 0")):
        refused = estimate_job(four_edgings(shop=lengths, fittings=(replace(plugs, number=number),)))
        assert isinstance(refused, Refusal)
        assert words in refused.problems[0].found
        assert refused.problems[0].expected == "Number: a number or a rule that gives one, 0 or more"


# --- what the log says ------------------------------------------------------------------------------------------------


def logged(*names: str, kind: Any = "steps", counts: tuple[int, ...] = (), minutes: int | None = 60) -> LogRow:
    return LogRow(date(2031, 3, 4), "one-cabinet.xlsx", names, kind, tuple(map(F, counts)), None if minutes is None else F(minutes), "", AT)


def step(name: str, stage: str, per: str, minutes: str, route: Any = "") -> Step:
    return Step(name, stage, route, per, "", F(minutes), F(100), F(0), None, None, "", True, AT)


@cache
def ten_parts() -> Estimate:
    """Ten parts of two rows, of which eight have an edge of a metre; the steps that a log may name."""
    work = (
        step("cut", "making", "part", "2"), step("sand", "making", "part", "1"), step("fetch", "making", "sheet", "10"),
        step("hang", "fitting", "door", "5"), step("press", "banding", "metre", "1.5", "by hand"),
    )  # fmt: skip
    parts = (loose("shelf", 8, 1000, 300, "white"), loose("bare", 2, 600, 300, ""))
    return priced(four_edgings(work=work, fittings=(), contract=None, contract_prices=(), loose_parts=parts))


@pytest.mark.parametrize(
    ("row", "counts"),
    [
        pytest.param(logged("cut"), {"cut": 10}, id="no count is all that the job has"),
        pytest.param(logged("cut", counts=(4,)), {"cut": 4}, id="a count is that many"),
        pytest.param(logged("cut", "fetch", counts=(4, 1)), {"cut": 4, "fetch": 1}, id="a count for each"),
        pytest.param(logged("cut", "sand", counts=(4,)), {"cut": 4, "sand": 4}, id="one count for steps that count the same"),
        pytest.param(
            logged("cut", "press", counts=(5,)), {"cut": 5, "press": 4}, id="one count for steps that count otherwise: half the parts, half the metres"
        ),
        pytest.param(logged("making", kind="stage"), {"cut": 10, "sand": 10, "fetch": 1}, id="a stage is all of its steps"),
    ],
)
def test_what_a_row_of_the_log_counts(row: LogRow, counts: dict[str, int]) -> None:
    planned = {one.step.step: one for one in ten_parts().minutes.steps}
    found = _counts_of(row, planned, inch=False)
    assert not isinstance(found, Problem)
    assert {one.step: one.count for one in found} == counts


@pytest.mark.parametrize(
    ("row", "found", "mend"),
    [
        pytest.param(logged("hang"), "nothing: the cell is blank", "type how many were done", id="a step that the job has nothing of"),
        pytest.param(
            logged("hang", "cut", counts=(3,)), "a count for the first of several steps",
            "type how many were done, for each step with + between them", id="one count, and of the first the job has nothing",
        ),
    ],
)  # fmt: skip
def test_a_row_whose_count_cannot_be_known_is_told(row: LogRow, found: str, mend: str) -> None:
    seen = seen_in([row], ten_parts(), then={})
    (problem,) = seen.problems
    assert (problem.found, problem.mend) == (found, mend)
    assert problem.expected == "Count: a number, for the job's estimate has nothing of the step hang"
    assert seen.observed == ()


def test_real_and_allowed_minutes_are_of_the_same_counts() -> None:
    """Two days of cutting without a count are one observation of all ten parts; the estimate of that day, 25, wins over 2 a part."""
    days = [logged("cut", minutes=12), logged("cut", minutes=15), logged("cut", counts=(4,), minutes=9)]
    whole, some = sorted(seen_in(days, ten_parts(), then={}).observed, key=lambda one: -one.rows)
    assert (whole.rows, whole.real_min, whole.estimated_min, whole.stage) == (2, 27, 20, "making")
    assert (some.rows, some.real_min, some.estimated_min) == (1, 9, 8)
    whole, some = sorted(seen_in(days, ten_parts(), then={"cut": F(25)}).observed, key=lambda one: -one.rows)
    assert (whole.estimated_min, some.estimated_min) == (25, 10)


def test_a_workbook_in_inches_counts_runs_in_feet_and_pieces_as_pieces() -> None:
    planned = {one.step.step: one for one in ten_parts().minutes.steps}
    found = _counts_of(logged("press", "cut", counts=(10, 4)), planned, inch=True)
    assert not isinstance(found, Problem)
    assert {one.step: one.count for one in found} == {"press": F("3.048"), "cut": 4}


def test_sheets_and_metres_really_taken_stand_beside_those_that_were_needed() -> None:
    """2.76 m2 of parts from two sheets of 5.98 x 5.98 usable metres, one of which was planned; 9 m of edging for 8 m of strips."""
    rows = [
        logged("white 18", kind="board", counts=(2,), minutes=None), logged("white", kind="edging", counts=(4,), minutes=None),
        logged("white", kind="edging", counts=(5,), minutes=None), logged("oak 18", kind="board", counts=(1,), minutes=None),
    ]  # fmt: skip
    seen = seen_in(rows, ten_parts(), then={})
    assert seen.boards == {"white 18": JobUse("one-cabinet.xlsx", F("2.76"), 2 * F("5.98") ** 2, F(1), F(2))}
    assert seen.edgings == {"white": JobUse("one-cabinet.xlsx", F(8), F(9), F(8), F(9))}
    (problem,) = seen.problems
    assert (problem.found, problem.expected) == ("oak 18, of which this job uses none", "Step: a board that the job uses")


def test_estimated_and_real_are_summed_by_name_in_the_order_asked_for() -> None:
    days = [logged("cut", minutes=12), logged("sand", minutes=15), logged("cut", counts=(4,), minutes=9)]
    sums = compared(seen_in(days, ten_parts(), then={}).observed, lambda one: one.name, order=("sand", "hang"), whole={"sand": F(10)})
    assert [(one.name, one.rows, one.estimated_min, one.real_min, one.whole_min) for one in sums] == [
        ("sand", 1, 10, 15, 10), ("cut", 2, 28, 21, None),
    ]  # fmt: skip


def test_two_rows_are_too_few_for_a_new_time() -> None:
    seen = seen_in([logged("cut", counts=(4,), minutes=9), logged("cut", counts=(5,), minutes=11)], ten_parts(), then={})
    marked, times = step_times(seen.observed, ten_parts().job.work, ten_parts().job.shop)
    cut = next(one for one in times if one.step.step == "cut")
    assert (cut.state, cut.minutes, cut.rows) == ("too few", None, 2)
    assert not any(one.wild for one in marked)


# --- what the client is shown, what a plan is worth -------------------------------------------------------------------


def test_tax_of_lines_delivery_and_discount_on_paper() -> None:
    """Lines 100 and 300 at 20 %, 10 % off, delivery 20 at 20 % too: tax 76, of which delivery carries 4 and the discount takes 8.

    So the lines carry 80, 20 and 60, and with tax everything adds up to the total: 480 - 48 + 24 = 456. A delivery at a rate of its own, 5 %, carries 1.
    """
    two = (extra("100", ref="1"), extra("300", ref="2"))
    less = terms(discount=Share(F(10, 100)), delivery_charge=F(20))
    shown = price_shown(priced(four_edgings(terms=less, extras=two, loose_parts=(), fittings=(), work=())).price, currency="EUR")
    assert [(line.without, line.with_tax) for line in shown.lines] == [(100, 120), (300, 360)]
    assert (shown.sum_lines.with_tax, shown.discount.with_tax, shown.delivery.with_tax, shown.total.with_tax) == (480, 48, 24, 456)
    other = replace(less, delivery_tax_rate_share=F(5, 100))
    apart = price_shown(priced(four_edgings(terms=other, extras=two, loose_parts=(), fittings=(), work=())).price, currency="EUR")
    assert (apart.sum_lines.with_tax, apart.discount.with_tax, apart.delivery.with_tax, apart.total.with_tax) == (480, 48, 21, 453)


def test_a_gift_takes_no_share_of_the_target() -> None:
    """A handle that costs the shop 40 and is given away: its line is 0, and the parts carry the whole target between them as without it."""
    gift = replace(extra("0"), cost_each=F(40))
    alone, with_gift = (priced(four_edgings(extras=extras)).price for extras in ((), (gift,)))
    assert with_gift.lines[-1].net == 0
    assert [line.unit for line in with_gift.lines[:-1]] == [line.unit for line in alone.lines]


def test_the_yield_of_a_plan_is_of_all_its_sheets() -> None:
    """Five parts of 600 x 400 on sheets of 1220 x 420 with a trim of 10, two a sheet: 1.2 m2 from three sheets of 0.48 m2."""
    sheet = board(sheet_length_mm=F(1220), sheet_width_mm=F(420), price=F(30), expected_yield_share=None, grain=True)
    job = four_edgings(boards=(sheet,), loose_parts=(loose("five", 5, 600, 400, ""),), fittings=(), shop=shop(kerf_mm=F(0)))
    (use,) = priced(job).boards
    assert (use.sheets, use.cost, use.area_m2) == (3, 90, F("1.2"))
    assert use.yield_share == use.plan_yield_share == F("1.2") / (3 * F("0.48"))


def test_an_edging_to_be_sent_that_is_not_used_is_remarked_at_its_cell() -> None:
    answer = priced(four_edgings(terms=terms(banding="white, elm")))
    (remark,) = (one for one in answer.remarks if "elm" in one.words)
    assert remark.place == four_edgings().terms.at.place("Banding")
    assert remark.words == "elm is to be sent, but this job does not use it: look at its name, or take it out"


@pytest.mark.parametrize(("metres", "amount"), [(0, "0"), (50, "75"), (100, "150"), (150, "210"), (300, "375"), (301, "375.9")])
def test_each_slice_of_metres_at_its_own_price(metres: int, amount: str) -> None:
    """1.50 up to 100 m, 1.20 up to 250 m, 0.90 above: 300 m are 150 + 180 + 45 = 375."""
    ladder = (Break(F(0), F("1.5")), Break(F(100), F("1.2")), Break(F(250), F("0.9")))
    assert quantity_above_amount(metres=F(metres), breaks=ladder) == F(amount)


def test_spoilt_edges_of_small_parts_are_apart_from_those_that_go() -> None:
    """Six shelves of a metre go; two of 200 mm are smaller than the bander takes and stay."""
    job = four_edgings(
        contract=contract(smallest_length_mm=F(300)), shop=shop(spoilt_by_hand_share=F(1, 100)), work=(step("cut", "making", "part", "2"),), fittings=(),
        loose_parts=(loose("shelf", 6, 1000, 300, "white"), loose("stub", 2, 200, 100, "white")),
    )  # fmt: skip
    goes, stays = priced(job).counted.anew["white"]
    assert (goes.area_m2, goes.strip_m, goes.steps) == ({"white 18": F("1.8")}, (F(6),), (F(6),))
    assert (stays.area_m2, stays.strip_m, stays.steps) == ({"white 18": F("0.04")}, (F("0.4"),), (F(2),))


# --- hours and doubts -------------------------------------------------------------------------------------------------

BUILT_UP = {
    "direct_rate": None, "overhead_rate": None, "wage": F(20), "paid_hours": F(2080), "on_cost_share": F(25, 100), "productive_hours": F(1600),
    "overhead_a_year": F(24_000), "workers": F(2),
}  # fmt: skip
"""20 x 2080 x 1.25 / 1600 = 32.50 an hour; 24,000 / (1600 x 2) = 7.50."""


@pytest.mark.parametrize(
    ("other", "direct", "overhead", "freed"),
    [
        ({}, "32.5", "7.5", "32.5"), ({"workers": None}, "32.5", "15", "32.5"), ({"direct_rate": F(40)}, "40", "7.5", "40"),
        ({"overhead_rate": F(9)}, "32.5", "9", "32.5"), ({"value_of_a_freed_hour": "full rate"}, "32.5", "7.5", "40"),
        ({"value_of_a_freed_hour": "idle"}, "32.5", "7.5", "0"),
    ],
)  # fmt: skip
def test_an_hour_in_money_built_up_or_typed(other: dict[str, Any], direct: str, overhead: str, freed: str) -> None:
    rates = rates_of(shop(**{**BUILT_UP, **other}))
    assert (rates.direct, rates.overhead, rates.freed) == (F(direct), F(overhead), F(freed))


@pytest.mark.parametrize(
    ("low", "high", "points"),
    [(40, 60, [("oak", 160, 200, 240)]), (None, 60, [("oak", 200, 200, 240)]), (40, None, [("oak", 160, 200, 200)]), (None, None, [])],
)
def test_a_doubtful_price_moves_its_cost_in_proportion(low: int | None, high: int | None, points: list[Any]) -> None:
    """A cost of 200 at a price of 50."""
    ends = [None if one is None else F(one) for one in (low, high)]
    assert list(_priced("oak", F(200), ends[0], F(50), ends[1])) == points


def test_a_job_without_a_possible_way_names_every_reason_of_both_ways() -> None:
    plain = four_edgings()
    barred = replace(plain, edgings=(replace(plain.edgings[0], by_hand=False), *plain.edgings[1:-1], replace(plain.edgings[-1], send_out=False, by_hand=False)))
    refused = estimate_job(barred)
    assert isinstance(refused, Refusal)
    (problem,) = refused.problems
    assert problem.found == "no way of banding is possible: white says By hand no; birch says By hand no; birch says Send out no"
    assert problem.place == plain.terms.at.place("Banding")


@pytest.mark.parametrize(("times", "cost"), [("1", "404.10"), ("2", "691.10")])
def test_twice_the_metres_on_paper(times: str, cost: str) -> None:
    """White, blue and birch sent at twice the metres: 459.40 + set-ups 30 + trip 42 + 130 parts at 0.35, and oak here 109.20 + 5."""
    chosen = choose(question_of(ways_of(four_edgings())), {METRES: F(times)})
    assert chosen is not None
    assert chosen.cost == F(cost)
