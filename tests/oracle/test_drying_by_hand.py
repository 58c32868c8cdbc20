"""Glue batches that neither worked job reaches: drying, open time and the bench's limits, against arithmetic that anyone can redo."""

from decimal import Decimal
from fractions import Fraction
from functools import cache

import pytest

from tests.oracle.answer import answer
from tests.oracle.banding import edgings_of
from tests.oracle.drying import Batch, _glue_times, _State, batches_of
from tests.oracle.jobs import bench_m, edges_in_a_batch
from tests.oracle.parts import lines_of
from tests.oracle.random_jobs import random_job
from tests.oracle.worked import one_cabinet, with_metres


def twelve_edges():
    job = with_metres(white=12)
    job["Loose parts"][0]["Length"] = 720
    job["Adhesives"], job["Edgings"][0]["Adhesive"] = one_cabinet()["Adhesives"], "contact"
    job["Shop"]["Allowance"] = "15 %"
    job["Work"] = [
        {"Step": f"{during} an {per}", "Route": "by hand", "Per": per, "Minutes": Decimal(minutes), "During": during}
        for during, per, minutes in (
            ("coating", "edge", "0.30"),
            ("coating", "metre", "0.60"),
            ("applying", "edge", "0.50"),
            ("applying", "metre", "0.90"),
        )
    ]
    job["Job"]["Banding"] = "by hand"
    return job


def test_drying_schedule():
    """12 edges of 0.72 m: coating ends 10.10, start 30.84, wait 20.74, elapsed 46.68, labour 25.94 (an event walk agrees)."""
    found = answer(twelve_edges())
    [batch] = found["batches"]
    start, wait, elapsed = (float(batch[name]) for name in ("start_min", "wait_min", "elapsed_min"))
    assert (start, wait, elapsed) == pytest.approx((30.84, 20.74, 46.68), abs=0.01)
    assert float(batch["start_min"] - batch["wait_min"]) == pytest.approx(10.10, abs=0.01)
    assert float(found["minutes"]["by_hand"]) == pytest.approx(25.94, abs=0.01)


def test_a_walk_through_the_events_gives_the_same_start():
    """Walk minute by minute of the bench: the start is the first at which every edge, when its turn comes, is dry."""
    for coated, applying in (([2, 5, 6], [3, 1, 4]), ([1, 2, 3, 4], [9, 9, 9, 9]), ([4, 8], [1, 1])):
        batch = Batch("x", [], [Fraction(c) for c in coated], [Fraction(a) for a in applying], drying_min=Fraction(7))
        start = coated[-1]
        while any(start + sum(applying[:at]) < coated[at] + 7 for at in range(len(coated))):
            start += 1
        assert batch.start_min == start


def test_open_time_bench_and_edges_close_a_batch():
    job = twelve_edges()
    job["Shop"] |= {"Edges in a batch": 5}
    assert [batch["edges"] for batch in answer(job)["batches"]] == [5, 5, 2]
    job["Shop"] |= {"Edges in a batch": None, "Bench length": Decimal("2.88")}  # four strips of 0.72 m fill it exactly
    assert [batch["edges"] for batch in answer(job)["batches"]] == [4, 4, 4]
    job["Shop"] |= {"Bench length": None}
    job["Adhesives"] = [{**job["Adhesives"][0], "Open time": 31}]
    assert all(batch["slack_min"] >= 0 for batch in answer(job)["batches"])
    assert len(answer(job)["batches"]) > 1


@pytest.mark.parametrize("seed", range(8))
def test_next_fit_gives_the_fewest_batches_that_keep_the_order(seed):
    """Against every way of cutting the row of edges into batches."""
    job = random_job(seed, most_cabinets=2)
    lines = lines_of(job)
    made, _ = batches_of(job, lines, edgings_of(job, lines))
    for batches in made.values():
        if not batches:
            continue
        strips = [edge.strip_mm / 1000 for batch in batches for _, edge in batch.held]
        times = [pair for batch in batches for pair in _times(batch)]
        glue = _glue_times(job, batches[0].held[0][1])
        assert len(batches) == _fewest(times, strips, (glue, bench_m(job), edges_in_a_batch(job)))


def _times(batch):
    before = Fraction(0)
    for coated, applying in zip(batch.coated_min, batch.applying_min, strict=True):
        yield coated - before, applying
        before = coated


def _fewest(times, strips, limits):
    @cache
    def from_here(at):
        if at == len(times):
            return 0
        state, best = _State(), len(times)
        for end in range(at, len(times)):
            state = state.with_edge(*times[end], strips[end])
            if not state.possible(*limits):
                break
            best = min(best, 1 + from_here(end + 1))
        return best

    for at in reversed(range(len(times))):
        from_here(at)
    return from_here(0)


def test_a_batch_may_use_its_open_time_to_the_last_second():
    """Coating 2, applying 1: C_i - P_i is i + 1, so n edges need an open time of n - 1 over the drying: 3 over gives four."""
    job = twelve_edges()
    for step, minutes in zip(job["Work"], (2, 0, 1, 0), strict=True):
        step |= {"Minutes": minutes, "Allowance": 0}
    job["Adhesives"] = [{**job["Adhesives"][0], "Drying": 30, "Open time": 33}]
    found = answer(job)["batches"]
    assert [(batch["edges"], batch["slack_min"]) for batch in found] == [(4, 0)] * 3
    assert [batch["start_min"] for batch in found] == [35] * 3  # 30 + 4 + 1
