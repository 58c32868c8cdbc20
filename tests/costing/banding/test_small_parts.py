"""Parts that the contract bander's machine cannot take: they stay at the bench, and every count, price and batch follows."""

from dataclasses import replace
from typing import Any

import pytest

from estimator.costing.banding.spoilage import _spoilt
from estimator.costing.estimate import estimate_job
from estimator.costing.routes import why_not_sent
from estimator.model.exact import Fraction
from estimator.model.quantities import SpoiltParts
from estimator.model.records import Job
from estimator.model.refusal import Refusal
from estimator.model.results import Estimate
from estimator.model.shop_records import Adhesive, ContractPrice, Step
from tests.building import AT, shop, terms
from tests.costing.banding.test_decision import random_job, ways_of
from tests.costing.banding.worked import contract, edging, fitting, four_edgings, loose

F = Fraction
BY_HAND = (("coat", "edge", "1", "coating"), ("set up", "batch", "10", ""), ("label", "part", "2", ""), ("clear", "job", "15", ""))
SENT = (("pack", "part", "3"), ("drive", "trip", "30"))
GLUE = Adhesive("glue", F(5), 1, 1, F(0), F(1), F(10), "litres", F(30), F(240), F(0), None, AT)


def step(name: str, route: Any, per: str, minutes: str, during: Any = "") -> Step:
    return Step(name, "banding", route, per, "", F(minutes), F(100), F(0), None, None, during, True, AT)


def a_job(**other: Any) -> Job:
    """Ten parts 1000 x 500 and four 200 x 150 with white on the front, two of those with oak on the left as well."""
    plain: dict[str, Any] = {
        "terms": terms(banding="white"),
        "shop": shop(value_of_a_freed_hour="wage", direct_rate=F(30)),
        "edgings": (edging("white", "1", adhesive="glue", overhang_mm=F(10)), edging("oak", "2", send_out=False)),
        "adhesives": (GLUE,),
        "fittings": (fitting("rags", "by hand", "edge", "", "0.10"),),
        "work": (
            *(step(name, "by hand", per, minutes, during) for name, per, minutes, during in BY_HAND),
            *(step(name, "send out", per, minutes) for name, per, minutes in SENT),
        ),
        "contract": contract(smallest_length_mm=F(250), minimum_charge=F(0), charge_per_part=F(1), trips=2, distance_per_trip=F(5)),
        "contract_prices": (ContractPrice("white", F(0), F("0.50"), F(8), AT),),
        "loose_parts": (
            loose("large", 10, 1000, 500, "white"),
            loose("small", 2, 200, 150, "white"),
            loose("corner", 2, 200, 150, "white", "oak"),
        ),
    }
    return four_edgings(**{**plain, **other})


def priced(job: Job) -> Estimate:
    answer = estimate_job(job)
    assert isinstance(answer, Estimate), answer
    return answer


def test_four_small_parts_on_paper() -> None:
    """White is sent: ten edges of 1 m go, four of 0.2 m stay, with 0.22 m strips; oak stays on two ends of 0.15 m.

    Invoice 10 m x 0.50 + 8 + 10 parts = 23; trips 10. Glue (0.8 x 18 + 0.88 x 22) / 1000 / 5 = 0.006752 l at 10.
    Edging: white is supplied, so 0.88 m for the small ones, oak 0.3 m at 2. By hand: 4 coats (oak needs none), two batches,
    4 parts, one job: 4 + 20 + 8 + 15 = 47 minutes; away 10 x 3 + 2 x 30 = 90.
    """
    answer = priced(a_job())
    chosen, invoice = answer.banding.chosen, answer.banding.invoice
    assert chosen.sent == ("white",)
    assert invoice is not None
    assert (invoice.parts, invoice.lines[0].charged_m, invoice.total) == (10, F(10), F(23))
    assert (chosen.by_hand_min, chosen.send_out_min) == (F(47), F(90))
    assert (chosen.trips, chosen.adhesive, chosen.edging, chosen.fittings) == (F(10), F("0.06752"), F("1.48"), F("0.60"))
    assert chosen.relevant_cost == 23 + 10 + F("0.06752") + F("1.48") + F("0.60") + F(137, 2)
    assert [(batch.edging, batch.edges, batch.strip_m) for batch in answer.batches] == [
        ("white", 4, F("0.88")), ("oak", 2, F("0.3")),
    ]  # fmt: skip
    assert answer.counts["by hand edge"] == 6
    assert answer.counts["by hand part"] == 4
    assert answer.counts["send out part"] == 10
    assert answer.counts["by hand metre"] == F("1.1")


def test_they_are_listed() -> None:
    (white, oak) = priced(a_job()).banding.small_parts
    assert [part.ref for part in white.parts] == ["small", "corner"]
    assert (white.stays.edges, white.goes and white.goes.edges, oak.stays.edges, oak.goes) == (4, 10, 2, None)


def test_the_glue_day_holds_what_stays() -> None:
    day = priced(a_job()).glue_day
    assert day is not None
    assert sorted((batch.side, batch.edging, batch.edges) for batch in day.batches) == [
        ("ends", "oak", 2), ("long edges", "white", 4),
    ]  # fmt: skip
    assert day.labour_min == 4 + 2 * 10 + 4 * 2


@pytest.mark.parametrize(
    ("length", "width", "small"),
    [(0, 0, 0), (200, 0, 0), (201, 0, 4), (0, 150, 0), (0, 151, 4), (1000, 500, 4), (1001, 0, 14), (0, 501, 14)],
)
def test_what_is_just_as_large_goes(length: int, width: int, small: int) -> None:
    sizes = contract(smallest_length_mm=F(length), smallest_width_mm=F(width))
    small_parts = priced(a_job(contract=sizes, terms=terms())).banding.small_parts
    assert sum(one.stays.edges for one in small_parts if one.edging == "white") == small


def test_an_edging_on_small_parts_only_cannot_be_sent() -> None:
    answer = estimate_job(a_job(contract=contract(smallest_length_mm=F(2000))))
    assert isinstance(answer, Refusal)
    assert "every part with white is smaller than the contract bander takes" in answer.problems[0].found


def test_an_edging_whose_small_parts_cannot_be_banded_here_goes_no_way() -> None:
    answer = estimate_job(a_job(edgings=(edging("white", "1", by_hand=False), edging("oak", "2"))))
    assert isinstance(answer, Refusal)
    assert "smaller than the contract bander takes cannot be banded here: By hand no" in answer.problems[0].found


def test_rolls_for_what_stays_where_the_bander_supplies_the_rest() -> None:
    """4 strips of 0.22 m take one roll of 25 m at 1 a metre, the shop's own; without the bander's edging it is all of it."""
    white = edging("white", "1", overhang_mm=F(10), roll_length_m=F(25), charge="whole rolls")
    answer = priced(a_job(edgings=(white, edging("oak", "2", send_out=False))))
    assert answer.banding.chosen.edging == 25 + F("0.60")
    assert [(use.edging, use.cost) for use in answer.banding.bought] == [("white", F(25)), ("oak", F("0.60"))]


def test_small_parts_cost_what_an_edging_of_their_own_that_is_never_sent_costs() -> None:
    """Nothing of one edging is shared by its small and large parts but batches, rolls and packs; without these the sums agree."""
    assert sum(split_agrees(seed) for seed in range(30)) > 15


def split_agrees(seed: int) -> bool:
    """Both jobs price every plan alike; False where one of them has no possible plan."""
    job = random_job(seed, kinds=3)
    assert job.contract is not None
    limit = F(700)
    job = replace(
        job, contract=replace(job.contract, smallest_length_mm=limit, smallest_width_mm=F(0)),
        edgings=tuple(replace(row, roll_length_m=None, charge="metres") for row in job.edgings),
        work=tuple(row for row in job.work if row.per != "batch"), adhesives=tuple(replace(row, charge="litres") for row in job.adhesives),
        fittings=tuple(row for row in job.fittings if row.per != "job"),
    )  # fmt: skip

    def renamed(name: str, *, small: bool) -> str:
        return f"{name} small" if small and name else name

    parts = tuple(
        replace(
            row,
            **{side: renamed(getattr(row, side), small=max(row.length_mm, row.width_mm) < limit) for side in ("front", "left", "right")},
        )
        for row in job.loose_parts
    )
    own = tuple(replace(row, edging=f"{row.edging} small", send_out=False, by_hand=True) for row in job.edgings)
    split = replace(
        job, edgings=(*job.edgings, *own), loose_parts=parts, contract=replace(job.contract, smallest_length_mm=F(0)),
    )  # fmt: skip
    ours, theirs = estimate_job(job), estimate_job(split)
    if isinstance(ours, Refusal) or isinstance(theirs, Refusal):
        return False
    cost = {plan.sent: plan.relevant_cost for plan in theirs.banding.plans if plan.possible}
    both = [plan for plan in ours.banding.plans if plan.possible and plan.sent in cost]
    assert all(plan.relevant_cost == cost[plan.sent] for plan in both)
    return bool(both and ours.banding.small_parts)


def test_why_an_edging_with_small_parts_cannot_be_sent_word_for_word() -> None:
    """Its small parts cannot be banded here: By hand no, or a strip of 0.22 m on a bench of 0.20 m."""
    small = "parts with white that are smaller than the contract bander takes cannot be banded here: "
    by_hand = a_job(terms=terms(), edgings=(edging("white", "1", by_hand=False), edging("oak", "2", send_out=False)))
    short = a_job(terms=terms(), shop=shop(bench_length_m=F("0.20")))
    assert why_not_sent(ways_of(by_hand))["white"] == f"{small}By hand no"
    assert why_not_sent(ways_of(short))["white"] == f"{small}a strip of white is longer than the bench"


def test_spoilt_small_parts_are_spoilt_here_whatever_is_sent() -> None:
    """Parts of 10 that go and of 4 that stay; a tenth is spoilt here, a fifth away."""
    spoilt = _spoilt(SpoiltParts(F(10), F(4)), F(1, 10), F(1, 5))
    assert (spoilt.by_hand, spoilt.here_when_sent, spoilt.away_when_sent) == (F("1.4"), F("0.4"), 2)
