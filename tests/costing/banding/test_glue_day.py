"""The glue day walked through event by event: one thing at a time, drying, open time, bench, breaks, corners, second coats."""

import random
from dataclasses import replace
from itertools import pairwise
from typing import Any

import pytest

from estimator.costing.banding.bench_batches import BenchBatch, bench_batches
from estimator.costing.banding.clock import Day, clock_text, day_of, minute_of, working_day
from estimator.costing.banding.drying_table import times_on_the_day
from estimator.costing.banding.glue_day import glue_day_of
from estimator.costing.estimate import estimate_job
from estimator.costing.limits import names_known
from estimator.costing.parts import parts_of_job
from estimator.model.decision import GlueDay, GlueTask
from estimator.model.exact import Fraction
from estimator.model.problems import Problem
from estimator.model.records import Job
from estimator.model.results import Estimate
from estimator.model.shop_records import Adhesive, DryingRow, Step
from estimator.papers.owner_pages import owner_pdf
from tests.building import AT, shop, terms
from tests.costing.banding.worked import edging, four_edgings, loose

F = Fraction


def glue(name: str, **other: Any) -> Adhesive:
    plain = Adhesive(name, F(5), 2, 1, F(0), F(1), F(15), "litres", F(30), F(240), F(0), None, AT)
    return replace(plain, **other)


def step(name: str, per: str, minutes: str, during: Any = "") -> Step:
    return Step(name, "banding", "by hand", per, "", F(minutes), F(100), None, None, None, during, True, AT)


WORK = (
    step("set up", "batch", "8"), step("coat", "edge", "0.4", "coating"), step("coat long", "metre", "0.5", "coating"),
    step("press", "edge", "0.5", "applying"), step("press long", "metre", "0.6", "applying"), step("trim", "metre", "1"),
    step("label", "part", "0.4"),
)  # fmt: skip


def a_job(seed: int, **other: Any) -> Job:
    """Loose parts banded on one to four edges with three edgings, two adhesives and one that is pre-glued."""
    chance = random.Random(seed)
    names = ("white", "oak", "iron")
    bands = ("", *names)
    parts = tuple(
        loose(f"part {k}", chance.randrange(1, 9), chance.randrange(300, 2000), chance.randrange(100, 600), chance.choice(names),
              chance.choice(bands), right=chance.choice(bands), back=chance.choice(bands))
        for k in range(chance.randrange(1, 14))
    )  # fmt: skip
    plain: dict[str, Any] = {
        "edgings": (
            edging("white", "1", adhesive="quick"),
            edging("oak", "2", adhesive="slow", overhang_mm=F(20)),
            edging("iron", "1"),
        ),
        "adhesives": (
            glue("quick", drying_min=F(chance.randrange(5, 40)), open_min=F(chance.randrange(60, 200))),
            glue("slow", drying_min=F(chance.randrange(20, 60)), between_coats_min=F(chance.choice((0, 15)))),
        ),
        "work": WORK, "fittings": (), "contract": None, "contract_prices": (), "loose_parts": parts,
        "shop": shop(
            bench_length_m=chance.choice((None, F(12), F(30))), edges_in_a_batch=chance.choice((None, 20)),
            bench_workers=chance.choice((1, 1, 2, 3)), breaks=chance.choice(("", "9:30-9:45, 12:00-12:30")),
        ),
    }  # fmt: skip
    return four_edgings(**{**plain, **other})


def timetable_of(job: Job) -> tuple[GlueDay, tuple[BenchBatch, ...], Day]:
    made, known, day = parts_of_job(job), names_known(job), day_of(job.shop)
    assert isinstance(day, Day)
    batches = bench_batches(job, made.parts, known, (), day, times_on_the_day(job)[0])
    found = glue_day_of(job, made.parts, known, (), day)
    assert found is not None
    assert not isinstance(batches, str)
    return found, batches, day


def coats(tasks: list[GlueTask], batch: BenchBatch) -> list[Fraction]:
    """When each coat of a batch starts."""
    starts = [task.start_min for task in tasks if task.doing == "coating again"]
    first = next(task for task in tasks if task.doing == "set-up and coating")
    return [first.start_min + batch.setup_min, *starts]


def walk_batch(found: GlueDay, number: int, batch: BenchBatch) -> tuple[Fraction, Fraction]:
    """Edge by edge through the coats and the pressing of one batch. First brush stroke and last strip pressed."""
    tasks = sorted((task for task in found.tasks if task.batch == number), key=lambda task: task.start_min)
    starts = coats(tasks, batch)
    assert len(starts) == batch.early_coats + 1
    pressing = next(task for task in tasks if task.doing == "applying")
    ends: list[Fraction] = []
    for turn, start in enumerate(starts):
        now, last = start, turn == len(starts) - 1
        for place, one in enumerate(batch.edges):
            if turn:
                assert now >= ends[place] + batch.between_min
            now += one.edge.coat_min if last else one.early_min
            ends[place : place + 1] = [now]
    now = pressing.start_min
    for one, end in zip(batch.edges, ends, strict=True):
        assert now >= end
        if one.edge.drying_min is not None and one.edge.open_min is not None:
            assert end + one.edge.drying_min <= now <= end + one.edge.open_min
        now += one.edge.apply_min
    assert now == pressing.end_min
    trimming = [task for task in tasks if task.doing == "trimming"]
    assert all(task.start_min >= pressing.end_min for task in trimming)
    assert sum(task.end_min - task.start_min for task in trimming) == batch.after_min
    return starts[0], now


@pytest.mark.parametrize("seed", range(150))
def test_event_walk(seed: int) -> None:
    job = a_job(seed)
    found, batches, day = timetable_of(job)
    assert not found.why
    for worker in range(job.shop.bench_workers):
        mine = sorted((task.start_min, task.end_min) for task in found.tasks if task.worker == worker)
        assert all(before[1] <= after[0] for before, after in pairwise(mine))
    for task in found.tasks:
        within = [(start, end) for start, end in day.stretches if start <= task.start_min % 1440 < end]
        assert within
        assert task.end_min - task.start_min // 1440 * 1440 <= within[0][1]
    out = [walk_batch(found, number, batch) for number, batch in enumerate(batches)]
    for start, _ in out:
        lying = [batch for (first, last), batch in zip(out, batches, strict=True) if first <= start < last]
        if job.shop.bench_length_m is not None:
            assert sum(batch.strip_m for batch in lying) <= job.shop.bench_length_m
        if job.shop.edges_in_a_batch is not None:
            assert sum(len(batch.edges) for batch in lying) <= job.shop.edges_in_a_batch
    ends_done = {
        number: max(task.end_min for task in found.tasks if task.batch == number)
        for number, batch in enumerate(batches)
        if batch.side == "ends"
    }
    for number, batch in enumerate(batches):
        parts = {one.part for one in batch.edges}
        for other, done in ends_done.items():
            if batch.side == "long edges" and parts & {one.part for one in batches[other].edges}:
                assert min(task.start_min for task in found.tasks if task.batch == number) >= done
    assert found.least_end_min <= found.end_min
    work = sum(batch.setup_min + batch.early_coats * batch.early_min + batch.coat_min for batch in batches)
    assert found.labour_min == work + sum(batch.apply_min + batch.after_min for batch in batches)


@pytest.mark.parametrize("seed", range(60))
def test_never_later_than_batch_after_batch_in_list_order(seed: int) -> None:
    found, _, _ = timetable_of(a_job(seed))
    assert found.end_min <= found.one_after_another_min
    assert all(batch.least_min <= batch.ordered_min <= batch.as_listed_min for batch in found.batches)


@pytest.mark.parametrize("seed", range(40))
def test_every_edge_lies_in_one_batch_of_its_side(seed: int) -> None:
    job = a_job(seed)
    found, batches, _ = timetable_of(job)
    wanted = {"ends": 0, "long edges": 0}
    for part in parts_of_job(job).parts:
        for band in part.bands:
            wanted["ends" if band.side in ("left", "right") else "long edges"] += part.count
    for side, many in wanted.items():
        assert sum(len(batch.edges) for batch in batches if batch.side == side) == many
        assert sum(batch.edges for batch in found.batches if batch.side == side) == many


def test_overlapping_gains_time_somewhere() -> None:
    assert any(found.end_min < found.one_after_another_min for found, _, _ in map(timetable_of, map(a_job, range(10))))


def test_an_edge_that_dries_too_long_for_the_day_is_said_in_words() -> None:
    job = a_job(3, adhesives=(glue("quick", drying_min=F(600), open_min=F(700)), glue("slow")))
    made = parts_of_job(job)
    found = glue_day_of(job, made.parts, names_known(job), ["oak", "iron"], Day(480, 990, ()))
    assert found is not None
    assert "no place between two breaks" in found.why


def test_clock_words() -> None:
    assert (minute_of("7:30"), minute_of("16.05"), minute_of("noon"), clock_text(450)) == (450, 965, None, "7:30")
    assert working_day(terms().quote_date, days=5).isoformat() == "2031-02-10"
    for wrong in ({"start_of_day": "early"}, {"end_of_day": "7:00"}, {"breaks": "12:30-12:00"}, {"breaks": "9:00"}):
        assert isinstance(day_of(shop(**wrong)), Problem)


# --- the product's own table ------------------------------------------------------------------------------------------

TABLE = tuple(
    DryingRow("quick", F(temperature), F(humidity), F(drying), F(open_), AT)
    for temperature, humidity, drying, open_ in ((15, 50, 50, 200), (15, 70, 70, 180), (20, 50, 30, 240), (20, 70, 45, 220))
)


@pytest.mark.parametrize(
    ("temperature", "humidity", "times"),
    [
        (20, 50, (30, 240)),  # a row of the table
        (17, 50, (50, 200)),  # between two temperatures: the slower drying, the shorter open time
        (18, 60, (70, 180)),  # between four rows
        (20, None, (45, 220)),  # no humidity typed: any row of that temperature may hold
        (25, 50, (20, 100)),  # outside the table: the sheet Adhesives
        (None, None, (20, 100)),
    ],
)
def test_times_of_the_day(temperature: int | None, humidity: int | None, times: tuple[int, int]) -> None:
    def maybe(value: int | None) -> Fraction | None:
        return None if value is None else F(value)

    quick = glue("quick", drying_min=F(20), open_min=F(100))
    job = a_job(
        1,
        adhesives=(quick,),
        drying=TABLE,
        terms=terms(bench_temperature=maybe(temperature), bench_humidity=maybe(humidity)),
    )
    of, words = times_on_the_day(job)
    assert of(quick) == times
    assert bool(words) == (temperature == 25)


def test_work_that_takes_no_time_makes_no_timetable() -> None:
    """A shop that has typed no minutes by hand: there is nothing to put on a clock, and its papers are printed all the same."""
    job = four_edgings()
    answer = estimate_job(job)
    assert isinstance(answer, Estimate)
    assert answer.glue_day is None
    assert owner_pdf(answer)
