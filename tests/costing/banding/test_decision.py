"""The worked case of four edgings by whole plan, by size, by swing of each input; and random jobs priced two ways."""

import random
from dataclasses import replace

import pytest

from estimator.costing.banding.best_plan import best_group
from estimator.costing.banding.changing import choose, stakes_at
from estimator.costing.banding.decide import banding_sentence
from estimator.costing.banding.every_plan import _all_at_once, _one_by_one, plans_of
from estimator.costing.banding.question import METRES, question_of
from estimator.costing.banding.sensitivity import break_even_m, flips, size_steps, tornado
from estimator.costing.banding.stakes import cost_of
from estimator.costing.estimate import _takings, estimate_job
from estimator.costing.routes import Ways, groups_in_order
from estimator.model.exact import Fraction
from estimator.model.records import Job
from estimator.model.results import Estimate
from estimator.model.shop_records import Adhesive, ContractPrice, Step
from tests.building import AT, shop, terms
from tests.costing.banding.worked import PLANS, board, contract, edging, fitting, four_edgings, loose

F = Fraction


def ways_of(job: Job) -> Ways:
    takings = _takings(job)
    assert not isinstance(takings, tuple)
    return takings.ways


def priced(job: Job) -> Estimate:
    answer = estimate_job(job)
    assert isinstance(answer, Estimate)
    return answer


WORKED = priced(four_edgings())
QUESTION = question_of(ways_of(four_edgings()))
WHITE_AND_BLUE, AND_BIRCH = ("white", "blue 2 mm"), ("white", "blue 2 mm", "birch")


def test_all_sixteen_plans_cost_what_paper_says() -> None:
    assert [(plan.sent, plan.relevant_cost) for plan in WORKED.banding.plans] == [(sent, F(cost)) for sent, cost in PLANS]


def test_best_is_white_and_blue_and_each_alone_would_choose_nothing() -> None:
    assert WORKED.banding.best.sent == WHITE_AND_BLUE
    cost = {plan.sent: plan.relevant_cost for plan in WORKED.banding.plans}
    by_kind = [name for name in QUESTION.names if cost[(name,)] < cost[()]]  # type: ignore[operator]
    assert by_kind == []


def test_by_size_of_job() -> None:
    steps = size_steps(QUESTION, by=METRES)
    assert [(step.size_share, step.sent) for step in steps] == [
        (F(1, 100), ()), (F(91, 100), WHITE_AND_BLUE), (F(151, 100), AND_BIRCH),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("what", "low", "low_sent", "high", "high_sent"),
    [
        ("metres of edge", "334.64", (), "462.04", WHITE_AND_BLUE),
        ("edging prices", "334.64", (), "417.72", AND_BIRCH),
        ("the contractor's prices", "360.86", AND_BIRCH, "413.55", ()),
        ("cost of the trips", "395.70", WHITE_AND_BLUE, "412.50", WHITE_AND_BLUE),
        ("sundries of sending out", "399.14", WHITE_AND_BLUE, "409.06", WHITE_AND_BLUE),
        ("charge per part", "400.38", WHITE_AND_BLUE, "407.82", WHITE_AND_BLUE),
        ("minimum charge", "404.10", WHITE_AND_BLUE, "404.10", WHITE_AND_BLUE),
    ],
)
def test_tornado(what: str, low: str, low_sent: tuple[str, ...], high: str, high_sent: tuple[str, ...]) -> None:
    swing = next(one for one in tornado(QUESTION) if one.what == what)
    assert (swing.low_cost, swing.low_sent, swing.high_cost, swing.high_sent) == (F(low), low_sent, F(high), high_sent)


def test_flips_are_where_the_best_plan_changes() -> None:
    by_name = {flip.what: flip for flip in flips(QUESTION, 0b0101)}
    metres, price = by_name["metres of edge"], by_name["the contractor's prices"]
    assert (metres.down_to_share, metres.down_sent, metres.up_to_share, metres.up_sent) == (
        F(91, 100),
        (),
        F(150, 100),
        AND_BIRCH,
    )
    assert (price.up_to_share, price.up_sent) == (F(104, 100), ())  # 413.55 - 404.10 is 9.45 of 206.30: 4.58 %


@pytest.mark.parametrize(
    ("name", "metres"),
    [
        ("white", F(84_50, 45)),  # 0.90 m + 8 + 42 + 110 x 0.35 = 1.35 m + 4, above the minimum
        ("blue 2 mm", F(158_80, 260)),  # below the minimum: 120 + 42 + 14 x 0.20 = 2.60 m + 6
        ("oak veneer", None),  # dearer away at every length
    ],
)
def test_break_even_of_one_edging_alone(name: str, metres: Fraction | None) -> None:
    found = break_even_m(QUESTION, QUESTION.names.index(name))
    assert found == (None if metres is None else metres)


def test_sentence_for_the_terminal() -> None:
    assert banding_sentence(WORKED) == (
        "Send white and blue 2 mm out, band oak veneer and birch here: 404.10, saves 9.45 against all by hand and "
        "27.40 against all sent; frees 0 h; back in 4 working days"
    )


def test_lines_side_by_side_add_up_to_each_total() -> None:
    assert WORKED.decision is not None
    *lines, total = WORKED.decision.lines
    for column in ("by_hand", "sent_out", "best", "chosen"):
        assert sum(getattr(line, column) for line in lines) == getattr(total, column)


def test_the_lines_in_their_order_in_a_job_that_has_them_all() -> None:
    job = random_job(14, kinds=4)
    assert job.contract is not None
    answer = priced(replace(job, contract=replace(job.contract, minimum_charge=F(10**6))))
    assert answer.decision is not None
    assert [line.words for line in answer.decision.lines] == [
        "edging", "adhesive", "sundries by hand", "work at the bench", "contractor by the metre", "contractor's set-ups", "contractor's charge for parts",
        "up to the minimum charge", "trips", "sundries of sending out", "packing and sorting", "edges spoilt here", "parts spoilt away", "relevant cost",
    ]  # fmt: skip


def test_the_plan_that_is_asked_for_stands_beside_the_best() -> None:
    answer = priced(four_edgings(terms=terms(banding="white, oak veneer")))
    assert answer.decision is not None
    *lines, total = answer.decision.lines
    assert (total.best, total.chosen) == (F("404.10"), F("450.60"))
    assert sum(line.chosen or 0 for line in lines) == F("450.60")


def test_spoilt_here_and_spoilt_away_are_lines_of_their_own() -> None:
    """White and blue are sent: 4 % of the edges of oak and birch are spoilt here, 2 % of the sent ones away."""
    job = four_edgings(contract=contract(spoilt_share=F(2, 100)))
    answer = priced(replace(job, shop=replace(job.shop, spoilt_by_hand_share=F(4, 100))))
    assert answer.decision is not None
    by_words = {line.words: line for line in answer.decision.lines}
    here, away = by_words["edges spoilt here"], by_words["parts spoilt away"]
    assert (here.sent_out, away.by_hand) == (0, 0)
    assert here.by_hand == answer.banding.plans[0].spoilt
    assert away.sent_out == answer.banding.plans[-1].spoilt
    assert (here.best or 0) + (away.best or 0) == answer.banding.best.spoilt


# --- random jobs: rolls, packs, breaks, minutes, shared parts ---------------------------------------------------------


def random_job(seed: int, *, kinds: int) -> Job:
    """A job of loose parts with every sort of cost that a plan can have."""
    chance = random.Random(seed)

    def money(most: int) -> str:
        return f"{chance.randrange(most * 100)}/100"

    names = [f"edging {i}" for i in range(kinds)]
    edgings = tuple(
        edging(
            name, money(3), overhang_mm=F(chance.randrange(30)), spare_share=F(chance.randrange(20), 100),
            adhesive=chance.choice(("", "glue", "tin")), by_hand=chance.random() > 0.1, send_out=chance.random() > 0.1,
            **({"roll_length_m": F(25), "charge": "whole rolls"} if chance.random() < 0.3 else {}),
        )
        for name in names
    )  # fmt: skip
    glues = tuple(
        Adhesive(name, F(5), 2, 1, F(10, 100), F(1, 4), F(money(20)), charge, F(30), F(240), F(0), None, AT)  # type: ignore[arg-type]
        for name, charge in (("glue", "litres"), ("tin", "whole packs"))
    )
    steps = (
        ("coat", "by hand", "metre", "coating"), ("set up", "by hand", "batch", ""), ("ease", "by hand", "edge", ""),
        ("label", "by hand", "part", ""), ("clear", "by hand", "job", ""), ("pack", "send out", "part", ""),
        ("drive", "send out", "trip", ""), ("write", "send out", "order", ""), ("sort", "send out", "metre", ""),
    )  # fmt: skip
    work = tuple(
        Step(name, "banding", route, per, "", F(money(3)), F(100), None, None, None, during, True, AT)  # type: ignore[arg-type]
        for name, route, per, during in steps
    )
    counts, above = chance.choice((("per edging", "whole quantity"), ("per edging", "quantity above"), ("whole order", "whole quantity")))
    prices = tuple(
        ContractPrice(name, F(start), F(money(4)), F(money(20)) if not start else None, AT)
        for name in names
        for start in (0, 20, 60)
        if chance.random() > 0.05
    )
    parts = tuple(
        loose(f"{k}", chance.randrange(1, 12), chance.randrange(200, 2400), chance.randrange(60, 900),
              chance.choice(names), chance.choice(["", *names]), right=chance.choice(["", *names]))
        for k in range(4 * kinds)
    )  # fmt: skip
    return four_edgings(
        shop=shop(edges_in_a_batch=chance.choice((None, 7)), spoilt_by_hand_share=F(chance.choice((0, 3)), 100)), boards=(board(),), edgings=edgings, adhesives=glues, work=work,
        fittings=(fitting("rags", "by hand", "metre", "", money(1)), fitting("blanket", "send out", "part", "", money(1))),
        contract=contract(
            minimum_charge=F(money(150)), charge_per_part=F(money(1)), distance_per_trip=F(money(50)),
            added_length_mm=F(chance.randrange(60)), supplies_edging=chance.random() < 0.5, breaks_count=counts,
            spoilt_share=F(chance.choice((0, 2)), 100), breaks_apply_to=above, buy_up=chance.random() < 0.5,
            smallest_length_mm=F(chance.choice((0, 0, 700))), smallest_width_mm=F(chance.choice((0, 0, 250))),
        ),
        contract_prices=prices, loose_parts=parts,
    )  # fmt: skip


@pytest.mark.parametrize("seed", range(300))
def test_stakes_price_every_plan_as_the_rules_do_and_the_search_finds_the_best(seed: int) -> None:
    ways = ways_of(random_job(seed, kinds=2 + seed % 5))
    one_by_one = _one_by_one(ways, groups_in_order(len(ways.edgings)))
    assert _all_at_once(ways) == one_by_one == plans_of(ways)
    stakes = stakes_at(question_of(ways), {})
    for plan in one_by_one:
        group = ways.group(plan.sent)
        assert stakes.possible(group) == plan.possible
        if plan.possible:
            assert F(cost_of(stakes, group), stakes.scale) == plan.relevant_cost
    possible = [plan for plan in one_by_one if plan.relevant_cost is not None]
    best = best_group(stakes)
    cheapest = min(possible, key=lambda plan: plan.relevant_cost or 0, default=None)
    assert (best is None) == (cheapest is None)
    if best is not None and cheapest is not None:
        assert ways.names(best) == cheapest.sent


@pytest.mark.parametrize("seed", range(20))
def test_a_longer_job_is_priced_like_the_same_job_typed_longer(seed: int) -> None:
    job = random_job(seed, kinds=3)
    assert job.contract is not None
    unspoilt = replace(job.shop, spoilt_by_hand_share=F(0))  # a larger part would cost more anew, so spoilt edges stay out
    job = replace(job, work=(), shop=unspoilt, contract=replace(job.contract, spoilt_share=F(0)))
    longer = replace(
        job,
        loose_parts=tuple(replace(one, length_mm=one.length_mm * F(5, 4), width_mm=one.width_mm * F(5, 4)) for one in job.loose_parts),
        contract=replace(  # the same parts stay at the bench
            job.contract,
            smallest_length_mm=job.contract.smallest_length_mm * F(5, 4),
            smallest_width_mm=job.contract.smallest_width_mm * F(5, 4),
        ),
    )
    ways, ours = ways_of(longer), stakes_at(question_of(ways_of(job)), {METRES: F(5, 4)})
    for plan in plans_of(ways):
        if plan.possible:
            assert F(cost_of(ours, ways.group(plan.sent)), ours.scale) == plan.relevant_cost


def test_more_than_twelve_edgings_show_the_best_and_its_rivals() -> None:
    answer = priced(random_job(9, kinds=15))
    assert len(answer.banding.plans) < 20
    costs = [plan.relevant_cost for plan in answer.banding.plans if plan.relevant_cost is not None]
    assert answer.banding.best.relevant_cost == min(costs)


def test_spoilt_edges_cost_their_part_anew_and_count_in_the_choice_only() -> None:
    """Two loose parts 1000 x 500 of a board at 60 / (35.8804 x 80 %) a square metre, one edge each at 2 a metre: 4 %."""
    parts = (loose("a", 2, 1000, 500, "white"),)
    plain = four_edgings(edgings=(edging("white", "2"),), loose_parts=parts, contract_prices=(), fittings=())
    spoilt = replace(plain, shop=replace(plain.shop, spoilt_by_hand_share=F(4, 100)))
    before, after = priced(plain), priced(spoilt)
    each = F("0.5") * 60 / (F("5.98") ** 2 * F("0.8")) + 2
    assert after.banding.best.spoilt == F(4, 100) * 2 * each
    assert after.banding.best.relevant_cost == (before.banding.best.relevant_cost or 0) + F(4, 100) * 2 * each
    assert after.cost == before.cost


def test_many_spoilt_away_keep_an_edging_at_the_bench() -> None:
    job = four_edgings(contract=contract(spoilt_share=F(50, 100)))
    assert priced(job).banding.best.sent == ()


@pytest.mark.parametrize("seed", range(8))
def test_a_flip_is_the_first_change_on_the_way(seed: int) -> None:
    """Between the job as it is and a flip the best plan holds at every value looked at, and just beyond it another is best."""
    ways = ways_of(random_job(seed, kinds=4))
    question = question_of(ways)
    now = choose(question, {})
    if now is None:
        return
    for flip in flips(question, now.group):
        last = flip.down_to_share or F(1, 10)
        for percent in range(100, int(last * 100) - 1, -9):
            assert choose(question, {flip.what: F(percent, 100)}).group == now.group  # type: ignore[union-attr]
        if flip.down_to_share:
            beyond = choose(question, {flip.what: flip.down_to_share - F(1, 100)})
            assert beyond is not None
            assert beyond.group != now.group
