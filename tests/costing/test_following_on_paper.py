"""A line followed on paper: boards, strips, fittings, bought things and minutes of one, in its prime cost and beside it, and its share of every cost."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from estimator.costing.estimate import estimate_job
from estimator.costing.following import CostShare, OwnMinutes, Taken, costs_of_the_job, follow
from estimator.model.exact import Fraction
from estimator.model.problems import Place
from estimator.model.results import Estimate
from tests.building import CELLS, extra, shop, terms
from tests.costing.banding.test_glue_day import glue
from tests.costing.banding.worked import board, contract, edging, fitting, four_edgings, loose
from tests.costing.test_seldom_met import step

F = Fraction
WORK = (
    step("cut", "making", "part", "3"), step("sand", "making", "m2", "10"), step("plan", "making", "job", "90"), step("hang", "fitting", "door", "12"), replace(step("coat", "banding", "edge", "1", "by hand"), during="coating"),
    step("press", "banding", "metre", "2", "by hand"), step("set up", "banding", "batch", "5", "by hand"), step("pack", "away", "part", "4", "send out"), step("drive", "away", "trip", "30", "send out"),
)  # fmt: skip


def priced(**other: Any) -> Estimate:
    """Three doors of 1000 x 500, white (glued) in front and birch at the left, and two shelves of 800 x 400 with birch in front; birch is sent."""
    white = edging("white", "2", overhang_mm=F(20), spare_share=F("0.1"), adhesive="quick")
    parts = (loose("door", 3, 1000, 500, "white", "birch", counts_as="door"), loose("shelf", 2, 800, 400, "birch"))
    fittings = (fitting("hinge", "", "door", "", "2.5"), replace(fitting("stud", "", "part", "", "0.1"), number="4"), fitting("glue", "", "job", "", "9"), fitting("wrap", "send out", "part", "", "1"), replace(fitting("rod", "", "part", "", "3"), number="length / 1000"))
    plain: dict[str, Any] = {
        "terms": terms(banding="birch"), "shop": shop(), "boards": (board(),), "edgings": (white, edging("birch", "3")), "adhesives": (glue("quick"),), "loose_parts": parts, "fittings": fittings, "work": WORK, "contract": contract(minimum_charge=F(0)),
        "extras": (extra("100", ref="own"), replace(extra("1", qty="2", ref="bought"), price_each=None, cost_each=F(40), minutes_each=F(15)), replace(extra("1", ref="work"), price_each=None, minutes_each=F(20))),
    }  # fmt: skip
    for name in ("boards", "edgings", "loose_parts", "fittings", "work", "extras"):
        plain[name] = tuple(replace(row, at=CELLS) for row in plain[name])
    answer = estimate_job(four_edgings(**{**plain, **other}))
    assert isinstance(answer, Estimate)
    return answer


JOB = priced()


def line(ref: str, answer: Estimate = JOB) -> Any:
    return follow(answer, next(one for one in answer.price.lines if one.ref == ref))


def taken(rows: tuple[Taken, ...]) -> list[tuple[Any, ...]]:
    assert all(row.money == row.number * row.each for row in rows)
    return [(row.what, row.number, row.each, row.place) for row in rows]


def minutes(rows: tuple[OwnMinutes, ...]) -> list[tuple[Any, ...]]:
    """Each at 30 an hour."""
    assert all((row.minutes, row.money) == (row.count * row.each_min, row.count * row.each_min / 2) for row in rows)
    return [(row.step, row.count, row.each_min, row.in_prime) for row in rows]


def test_a_door() -> None:
    """0.5 m2 of board at 60 over 80 % of 5.98 m squared; a strip of 1.04 m white at 2 and 0.5 m birch at 3; a hinge, four studs, a rod for each metre."""
    found, source = line("door"), JOB.job
    assert taken(found.boards) == [("white 18", F("0.5"), 60 / (F("35.7604") * F("0.8")), source.boards[0].at.place("Price"))]
    assert taken(found.edgings) == [("white", F("1.04"), 2, source.edgings[0].at.place("Price")), ("birch", F("0.5"), 3, source.edgings[1].at.place("Price"))]
    assert taken(found.fittings) == [("hinge", 1, F("2.5"), source.fittings[0].at.place("Price")), ("stud", 4, F("0.1"), source.fittings[1].at.place("Price")), ("rod", 1, 3, source.fittings[4].at.place("Price"))]
    assert found.bought == ()
    # cut and hang are in the prime cost; sanding 0.5 m2, one glued edge, one metre of white and packing are beside it
    assert minutes(found.minutes) == [("cut", 1, 3, True), ("hang", 1, 12, True), ("sand", F("0.5"), 10, False), ("coat", 1, 1, False), ("press", 1, 2, False), ("pack", 1, 4, False)]
    assert found.prime == F("0.5") * 60 / (F("35.7604") * F("0.8")) + F("2.08") + F("1.5") + F("2.5") + F("0.4") + 3 + F("7.5")
    assert [part.part for part in found.parts] == ["door"]
    assert {row.place for row in found.minutes} == {CELLS.place("Minutes")} == {Place("book.xlsx", "Sheet", "C2")}
    assert {row.place for row in (*found.boards, *found.edgings, *found.fittings)} == {Place("book.xlsx", "Sheet", "B2")}


def test_a_shelf_whose_only_edge_is_sent() -> None:
    found = line("shelf")
    assert taken(found.edgings) == [("birch", F("0.8"), 3, JOB.job.edgings[1].at.place("Price"))]
    assert [row[:2] for row in taken(found.fittings)] == [("stud", 4), ("rod", F("0.8"))]
    assert minutes(found.minutes) == [("cut", 1, 3, True), ("sand", F("0.32"), 10, False), ("pack", 1, 4, False)]


def test_extras() -> None:
    """One at its own price carries nothing; one bought for 40 with 15 minutes has a prime cost of 47.50; one of 20 minutes 10."""
    own, bought, work = line("own"), line("bought"), line("work")
    assert (own.prime, own.share, own.target, own.minutes, own.bought, own.boards, own.fittings) == (0, 0, 0, (), (), (), ())
    assert taken(bought.bought) == [("bought in", 1, 40, bought.line.owner.at.place("Cost each"))]
    assert minutes(bought.minutes) == [("own work", 1, 15, True)]
    assert (bought.prime, bought.minutes[0].place, bought.bought[0].place) == (F("47.5"), Place("book.xlsx", "Sheet", "E2"), Place("book.xlsx", "Sheet", "D2"))
    assert (minutes(work.minutes), work.bought, work.prime) == ([("own work", 1, 20, True)], (), 10)


def test_shares_of_the_job() -> None:
    """All primes: three doors, two shelves, two bought and one of work; the one at its own price is none of them."""
    door, shelf, bought, work = (line(ref) for ref in ("door", "shelf", "bought", "work"))
    whole = 3 * door.prime + 2 * shelf.prime + 2 * F("47.5") + 10
    assert {one.all_primes for one in (door, shelf, bought, work)} == {whole}
    assert (door.share, work.share) == (door.prime / whole, 10 / whole)
    assert door.target == JOB.price.target * door.prime / whole
    assert all(one == CostShare(one.what, one.whole, one.whole * door.share) for one in door.costs)
    cost = JOB.cost
    assert [(one.what, one.whole) for one in door.costs] == [
        ("boards", 60), ("edging", F("6.864")), ("adhesive", cost.adhesive), ("fittings", cost.fittings), ("contract bander", cost.contractor), ("trips to the bander", 42), ("extras", 80), ("work", cost.labour), ("overhead", cost.overhead), ("margin", JOB.price.target - cost.base),
    ]  # fmt: skip
    assert cost.fittings == 3 * F("2.5") + 5 * F("0.4") + 9 + 5 + 3 * 3 + 2 * F("2.4")


@pytest.mark.parametrize(
    ("other", "last"), [({"margin_share": F("0.2")}, "margin"), ({"margin_share": None, "markup_share": F("0.2")}, "markup"), ({"least_price": F(9999)}, "up to the least price")]
)
def test_what_is_put_on_the_costs(other: dict[str, Any], last: str) -> None:
    answer = priced(terms=terms(banding="birch", **other))
    assert costs_of_the_job(answer)[-1] == (last, answer.price.target - answer.cost.base)


def test_all_by_hand_and_all_sent() -> None:
    """At the bench the door has two edges, one of them glued, and 1.5 m; sent it is packed once."""
    here = line("door", priced(terms=terms(banding="by hand")))
    assert minutes(here.minutes)[2:] == [("sand", F("0.5"), 10, False), ("coat", 1, 1, False), ("press", F("1.5"), 2, False)]
    away = line("door", priced(terms=terms(banding="send out")))
    assert minutes(away.minutes)[2:] == [("sand", F("0.5"), 10, False), ("pack", 1, 4, False)]


def test_a_small_part_stays_at_the_bench_though_its_edging_is_sent() -> None:
    """Shelves of 800 are too short for the bander, who takes 900 and more."""
    small = line("shelf", priced(contract=contract(minimum_charge=F(0), smallest_length_mm=F(900))))
    assert minutes(small.minutes) == [("cut", 1, 3, True), ("sand", F("0.32"), 10, False), ("press", F("0.8"), 2, False)]
