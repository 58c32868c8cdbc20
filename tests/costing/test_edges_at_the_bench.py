"""Every edge at the bench in its order, with its own coating and applying time, on paper; and which edges lie in which batch."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from estimator.costing.bridge_order import change_order_of
from estimator.costing.drying import Edge, edges_in_order, job_batches
from estimator.costing.limits import names_known
from estimator.costing.parts import parts_of_job
from estimator.costing.stock import covering_width, stock_of
from estimator.model.exact import Fraction
from estimator.model.problems import Place, Problem
from estimator.model.records import Job
from estimator.model.refusal import Refusal
from tests.building import shop
from tests.costing.banding.test_glue_day import glue
from tests.costing.banding.worked import board, edging, four_edgings, loose
from tests.costing.test_seldom_met import step
from tests.samples import sample

F = Fraction


def during(name: str, per: str, minutes: str, when: str, *, of: str = "", route: str = "by hand") -> Any:
    return replace(step(name, "banding", per, minutes, route), during=when, of=of, rating=F(110))


WORK = (
    during("coat", "edge", "1", "coating"), during("brush", "metre", "2", "coating"), during("press", "edge", "3", "applying"), during("roll", "metre", "4", "applying", of="white"), during("look", "edge", "50", ""), during("pack", "part", "60", "applying", route="send out"),
)  # fmt: skip


def two() -> Job:
    """White with glue, birch without; a part of 1000 x 500 with white in front and birch at the left and the right, twice; one of 800 x 400 with birch behind."""
    edgings = (edging("white", "2", overhang_mm=F(20), adhesive="quick"), edging("birch", "3"))
    parts = (loose("a", 2, 1000, 500, "white", "birch", right="birch"), loose("b", 1, 800, 400, "", back="birch"))
    return four_edgings(boards=(board(),), edgings=edgings, adhesives=(glue("quick", drying_min=F(30), open_min=F(200)),), loose_parts=parts, work=WORK, fittings=(), shop=shop(edges_in_a_batch=3))


def test_the_edges_in_their_order() -> None:
    """Piece by piece, front, back, left, right. Rated at 110: white 1.1 + 2.2 coating and 3.3 + 4.4 applying; birch is not coated, and rolling is for white only."""
    job = two()
    found = [(name, edge, part.part, band.side) for name, edge, part, band in edges_in_order(job, parts_of_job(job).parts, names_known(job))]
    white = Edge(F(1), F("1.04"), F("3.3"), F("7.7"), F(30), F(200))
    side = Edge(F("0.5"), F("0.5"), F(0), F("3.3"), None, None)
    back = Edge(F("0.8"), F("0.8"), F(0), F("3.3"), None, None)
    piece = [("white", white, "a", "front"), ("birch", side, "a", "left"), ("birch", side, "a", "right")]
    assert found == [*piece, *piece, ("birch", back, "b", "back")]


def test_which_edges_lie_in_which_batch() -> None:
    """Three at once: birch has left, right, left of the first two pieces, then right and the back of the other part."""
    job = two()
    parts = parts_of_job(job).parts
    batched = job_batches(job, parts, names_known(job))
    assert list(batched) == ["white", "birch"]
    a, b = map(id, parts)
    assert batched["white"].bands == (frozenset({(a, "front")}),)
    assert batched["birch"].bands == (frozenset({(a, "left"), (a, "right")}), frozenset({(a, "right"), (b, "back")}))
    assert [[(batch.edges, batch.first_edge, batch.metres) for batch in one.batches] for one in batched.values()] == [[(2, 0, 2)], [(3, 0, F("1.5")), (2, 3, F("1.3"))]]
    short = job_batches(replace(job, shop=shop(bench_length_m=F(1))), parts, names_known(job))
    assert (short["white"].bands, getattr(short["white"].batches, "why", "")) == ((), "a strip of white is longer than the bench")


def test_whole_cabinets_one_after_another() -> None:
    """Two cabinets of two sides each: four edges of sides, then the other parts of each cabinet in turn, and not all sides first."""
    job = sample("one-cabinet")
    job = replace(job, cabinets=(replace(job.cabinets[0], qty=2),))
    names = [part.part for _, _, part, _ in edges_in_order(job, parts_of_job(job).parts, names_known(job))]
    assert len(names) == 10
    assert names[:5] == names[5:]
    assert names[0] == names[1] == "side"


@pytest.mark.parametrize(("thickness", "chosen"), [("16", 18), ("16.01", 22), ("18", 22), ("20", 22), ("20.01", 45), ("43", 45), ("43.01", None)])
def test_the_narrowest_strip_that_covers_a_board_and_two_millimetres(thickness: str, chosen: int | None) -> None:
    job = four_edgings(edgings=tuple(edging("white", "1", width_mm=F(width)) for width in (45, 18, 22)))
    widths = stock_of(job).widths["white"]
    assert [row.width_mm for row in widths] == [18, 22, 45]
    found = covering_width(widths, thickness_mm=F(thickness))
    assert (None if found is None else found.width_mm) == chosen


def test_stock_by_name() -> None:
    job = sample("one-cabinet")
    stock = stock_of(job)
    assert (stock.units, stock.thickness_mm, list(stock.finishes)) == ("mm", {"white 18": 18}, ["white"])
    assert {kind: len(rows) for kind, rows in stock.construction.items()} == {job.cabinets[0].kind.casefold(): len(job.construction)}


def test_a_change_order_without_a_change_is_refused() -> None:
    job = four_edgings()
    assert change_order_of(job, replace(job, boards=(board(price=F(99)),)), accepted_money=F(1)) == Refusal(
        "book.xlsx",
        (
            Problem(
                Place("book.xlsx"), "the same cabinets, loose parts, extras, finishes and delivery as in the accepted job", "a changed job: the difference is what a change order is about",
                "change the copy of the job first, then compare again",
            ),
        ),
    )  # fmt: skip
