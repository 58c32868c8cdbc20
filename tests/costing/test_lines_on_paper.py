"""The prime cost of a line on paper: which steps and fittings stand in it, for a cabinet and for loose parts that count as a door, a drawer and a shelf."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from estimator.costing.estimate import estimate_job
from estimator.costing.limits import limit_of, names_known
from estimator.model.exact import Fraction
from estimator.model.results import Estimate
from estimator.model.shop_records import Fitting, Step
from tests.building import extra
from tests.costing.banding.worked import fitting, loose
from tests.costing.test_seldom_met import step
from tests.samples import sample

F = Fraction
PER = ("job", "site trip", "sheet", "part", "m2", "cabinet", "door", "drawer", "shelf")


def priced(*, work: tuple[Step, ...] = (), fittings: tuple[Fitting, ...] = (), **other: Any) -> Estimate:
    """The cabinet that is worked on paper, 2 of it, and a door, two drawers and a shelf as loose parts of 1000 x 500, unbanded."""
    job = sample("one-cabinet")
    parts = tuple(loose(name, qty, 1000, 500, "", counts_as=name) for name, qty in (("door", 1), ("drawer", 2), ("shelf", 1)))
    plain = {"cabinets": (replace(job.cabinets[0], qty=2),), "loose_parts": parts, "work": work, "fittings": fittings}
    answer = estimate_job(replace(job, **{**plain, **other}))
    assert isinstance(answer, Estimate)
    return answer


BARE = {line.ref: line.prime for line in priced().price.lines}
"""Board and edging only."""


def test_material_of_one() -> None:
    """0.92776 m2 at 61.50 on 80 % of 5.699 m2 and 3.33 m at 0.18; a loose part half a square metre."""
    a_m2 = F("61.5") / (F("5.699") * F("0.8"))
    assert {name: prime - F("0.5994") * (name == "Kitchen 1") for name, prime in BARE.items()} == {
        "Kitchen 1": F("0.92776") * a_m2, "door": F("0.5") * a_m2, "drawer": F("0.5") * a_m2, "shelf": F("0.5") * a_m2,
    }  # fmt: skip


@pytest.mark.parametrize(
    ("per", "cabinet", "door", "drawer", "shelf"),
    [("job", 0, 0, 0, 0), ("site trip", 0, 0, 0, 0), ("sheet", 0, 0, 0, 0), ("part", 5, 1, 1, 1), ("m2", F("0.92776"), F("0.5"), F("0.5"), F("0.5")), ("cabinet", 1, 0, 0, 0), ("door", 0, 1, 0, 0), ("drawer", 0, 0, 1, 0), ("shelf", 1, 0, 0, 1)],
)
def test_what_stands_in_a_line(per: str, cabinet: Any, door: Any, drawer: Any, shelf: Any) -> None:
    """Fittings at 7, steps of 6 minutes at 30 an hour; a step per m2 is paid with the job's work."""
    found = priced(fittings=(fitting("x", "", per, "", "7"), fitting("away", "by hand", "part" if per != "part" else "edge", "", "99")))
    numbers = {"Kitchen 1": cabinet, "door": door, "drawer": drawer, "shelf": shelf}
    assert {line.ref: line.prime - BARE[line.ref] for line in found.price.lines} == {name: 7 * number for name, number in numbers.items()}
    assert [line.fittings for line in found.counted.lines] == [(F(number),) for number in numbers.values()]
    worked = priced(work=(step("x", "making", per, "6"), step("away", "banding", "edge", "60", "by hand")))
    steps = {name: 0 if per == "m2" else number for name, number in numbers.items()}
    assert {line.ref: line.prime - BARE[line.ref] for line in worked.price.lines} == {name: 3 * number for name, number in steps.items()}
    assert [line.steps for line in worked.counted.lines] == [(F(number),) for number in steps.values()]


@pytest.mark.parametrize(
    ("of", "cabinet", "parts"),
    [("", 1, 5), ("wall open", 1, 5), ("white", 1, 5), ("carcass", 1, 5), ("white 18", 1, 5), ("white 0.4 mm", 1, 5), ("nothing", 0, 0)],
)
def test_of_limits_a_cabinet_to_those_with_a_part_that_matches(of: str, cabinet: int, parts: int) -> None:
    job = sample("one-cabinet")
    of = {"wall open": job.cabinets[0].kind, "white": job.finishes[0].finish}.get(of, of)
    fittings = (fitting("a", "", "cabinet", of, "7"), fitting("b", "", "part", of, "1"))
    work = (replace(step("c", "making", "cabinet", "6"), of=of), replace(step("d", "making", "part", "6"), of=of))
    found = priced(fittings=fittings, work=work)
    line = found.counted.lines[0]
    assert (line.fittings, line.steps) == ((cabinet, parts), (cabinet, parts))
    assert found.price.lines[0].prime - BARE["Kitchen 1"] == 7 * cabinet + parts + 3 * (cabinet + parts)


def test_names_that_of_may_hold_by_what_they_mean() -> None:
    job = sample("one-cabinet")
    glued = replace(job.edgings[0], material="ABS")
    known = names_known(replace(job, edgings=(glued,)))
    assert list(known) == ["kind", "finish", "role", "board", "edging", "adhesive", "material"]
    assert (known["finish"], known["role"], known["board"], known["edging"], known["material"]) == (
        {"white"}, {role.casefold() for role in (*job.finishes[0].boards, *job.finishes[0].edgings)}, {"white 18"}, {"white 0.4 mm"}, {"abs"},
    )  # fmt: skip
    assert known["adhesive"] == {job.adhesives[0].adhesive.casefold()}
    assert known["kind"] == {job.cabinets[0].kind.casefold()}
    part = priced().parts[0]
    other = replace(part.bands[0], edging=replace(part.bands[0].edging, edging="oak", adhesive="hot", material="veneer"))
    both = replace(part, bands=(part.bands[0], other))
    for name, meaning in (("oak", "edging"), ("hot", "adhesive"), ("veneer", "material")):
        limit = limit_of(name.upper(), known={meaning: {name}})
        assert (limit.part(both), limit.part(part), limit.band(both, other), limit.band(both, part.bands[0])) == (True, False, True, False)


def test_an_extra_costs_what_is_bought_and_its_minutes() -> None:
    extras = (replace(extra("1", ref="e"), price_each=None, cost_each=F(40), minutes_each=F(15)), replace(extra("9", ref="f", qty="2")))
    found = {line.ref: line for line in priced(extras=extras).price.lines}
    assert (found["e"].prime, found["f"].prime, found["f"].net) == (F("47.5"), 0, 18)


def test_minutes_of_the_job_by_route_and_of_extras() -> None:
    """Extras at a price of their own bring no minutes; two of 15 bring 30."""
    extras = (replace(extra("1", qty="2", ref="e"), price_each=None, minutes_each=F(15)), replace(extra("9", ref="f"), minutes_each=F(99)))
    minutes = priced(extras=extras, work=(step("cut", "making", "part", "2"), step("press", "banding", "edge", "1", "by hand"), step("pack", "away", "part", "1", "send out"))).minutes
    assert (minutes.extras, minutes.always, minutes.by_hand, minutes.send_out, minutes.total) == (30, 30 + 14 * 2, 10, 0, 30 + 14 * 2 + 10)
