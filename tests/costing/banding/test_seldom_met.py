"""No banded edges, no possible way, no place in the day: the ways out of the banding decision that few jobs take."""

from dataclasses import replace
from typing import Any

import pytest

from estimator.costing.banding import timetable as timetables
from estimator.costing.banding.bench_batches import BenchBatch, _filled, bench_batches
from estimator.costing.banding.changing import choose, stakes_at
from estimator.costing.banding.clock import Day, day_of
from estimator.costing.banding.decide import banding_sentence, sentence_of
from estimator.costing.banding.drying_table import times_on_the_day
from estimator.costing.banding.every_plan import _worth_a_look
from estimator.costing.banding.glue_day import glue_day_of
from estimator.costing.banding.question import METRES, question_of
from estimator.costing.banding.searching import _Found
from estimator.costing.banding.sensitivity import _crossing, tornado
from estimator.costing.banding.timetable import timetable
from estimator.costing.drying import Bench, Edge, Impossible, batches_of, job_batches
from estimator.costing.limits import names_known
from estimator.costing.parts import parts_of_job
from estimator.model.exact import Fraction
from estimator.model.problems import Fault, Items
from estimator.model.records import Job
from estimator.model.shop_records import Machine
from tests.building import shop
from tests.costing.banding.test_decision import WORKED, priced, ways_of
from tests.costing.banding.test_glue_day import glue, step
from tests.costing.banding.worked import edging, four_edgings, loose

F = Fraction
MACHINE = Machine(F(16_000), F(500), F(3_000), 8, F(9, 100), F(650), F("0.95"), F(4_200), None, Items("book.xlsx", "Machine", {}))


# --- nothing to band --------------------------------------------------------------------------------------------------


def test_a_job_without_banded_edges_has_no_decision_and_a_machine_for_it_no_saving() -> None:
    """What is left of the machine is what it costs by itself: (16,500 - 3,000/1.09^8) x 0.18067438 + 650 a year."""
    answer = priced(four_edgings(loose_parts=(loose("bare", 3, 600, 400, ""),), fittings=(), machine=MACHINE))
    assert answer.decision is None
    assert banding_sentence(answer) == ""
    assert answer.glue_day is None
    machine = answer.machine
    assert machine is not None
    assert (machine.saving_a_year, machine.npv, machine.break_even_metres) == (None, None, None)
    assert abs(machine.equivalent_annual_cost - F("3359.10")) < F("0.005")


# --- no possible way --------------------------------------------------------------------------------------------------


def nowhere(**other: Any) -> Job:
    """Four edgings of which white can be banded neither here nor elsewhere."""
    plain = four_edgings(**other)
    return replace(plain, edgings=(replace(plain.edgings[0], by_hand=False, send_out=False), *plain.edgings[1:]))


def test_where_no_plan_is_possible_nothing_is_chosen_and_no_input_changes_that() -> None:
    ways = ways_of(nowhere())
    question = question_of(ways)
    assert choose(question, {}) is None
    assert tornado(question) == ()
    assert _worth_a_look(ways) == [0, ways.everything]
    found = _Found(stakes_at(question, {}))
    found.keep(0)
    assert (found.sent, found.cost) == (None, None)


def test_a_plan_that_is_not_possible_is_recommended_in_no_words() -> None:
    plans = WORKED.banding.plans
    barred = replace(plans[0], relevant_cost=None)
    assert sentence_of(four_edgings(), chosen=barred, by_hand=barred, sent_out=plans[-1], names=("white",)) == ""


# --- where two ways cost the same -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("difference", "size"),
    [
        pytest.param(lambda size: size - 1, F(1), id="at a size that is looked at"),
        pytest.param(lambda size: size - F(3, 2), F(3, 2), id="a straight line, met at once"),
        pytest.param(lambda size: (size - F(3, 2)) * size, F(3, 2), id="a bend, met in the middle"),
        pytest.param(lambda size: size + 1, None, id="never"),
    ],
)
def test_the_size_at_which_a_difference_changes_its_sign(difference: Any, size: Fraction | None) -> None:
    assert _crossing(difference) == size


@pytest.mark.parametrize("square", [F(3), F(7), F(11)])
def test_a_root_that_is_no_fraction_is_found_to_a_thousand_millionth(square: Fraction) -> None:
    found = _crossing(lambda size: size**2 - square)
    assert found is not None
    assert found**2 >= square > (found - F(1, 10**9)) ** 2


# --- the glue batches -------------------------------------------------------------------------------------------------


def an_edge(strip_m: str = "1", coat: int = 1, *, dry: int = 30, open_min: int = 240) -> Edge:
    return Edge(length_m=F(strip_m), strip_m=F(strip_m), coat_min=F(coat), apply_min=F(1), drying_min=F(dry), open_min=F(open_min))


def test_no_edges_no_batches_and_one_edge_may_be_too_much() -> None:
    bench = Bench(F(2), None)
    assert batches_of("oak", [], bench) == ()
    assert batches_of("oak", [an_edge("2.5")], bench) == Impossible("a strip of oak is longer than the bench")
    assert batches_of("oak", [an_edge(dry=60, open_min=59)], bench) == Impossible("oak dries longer than it stays open")
    assert batches_of("oak", [an_edge(), an_edge("2.5")], bench) == Impossible("a strip of oak is longer than the bench")


def test_an_edging_with_a_strip_longer_than_the_bench_has_no_batches_in_the_job() -> None:
    job = four_edgings(shop=shop(bench_length_m=F(3)))
    made = parts_of_job(job)
    found = job_batches(job, made.parts, names_known(job))
    assert found["oak veneer"].batches == Impossible("a strip of oak veneer is longer than the bench")
    assert found["oak veneer"].bands == ()
    assert sum(batch.edges for batch in found["birch"].batches) == 16


# --- the bench's day --------------------------------------------------------------------------------------------------


def test_work_begins_where_no_break_interrupts_it_today_or_tomorrow_or_never() -> None:
    """The bench works from 8:00 to 12:00 and from 12:30 to 16:00."""
    day = Day(480, 960, ((720, 750),))
    assert day.next_slot_min(F(700), lasting_min=F(20)) == 700
    assert day.next_slot_min(F(701), lasting_min=F(20)) == 750
    assert day.next_slot_min(F(941), lasting_min=F(20)) == 1440 + 480
    assert day.next_slot_min(F(0), lasting_min=F(240)) == 480
    assert day.next_slot_min(F(0), lasting_min=F(241)) is None


def one_edge_day(work: Any, breaks: str = "", **glue_words: Any) -> tuple[Job, Any, Day]:
    """One edge of a metre, banded at the bench."""
    job = four_edgings(
        edgings=(edging("white", "1", adhesive="quick"),), adhesives=(glue("quick", **glue_words),), work=work, fittings=(), contract=None,
        contract_prices=(), loose_parts=(loose("shelf", 1, 1000, 300, "white"),), shop=shop(breaks=breaks),
    )  # fmt: skip
    day = day_of(job.shop)
    assert isinstance(day, Day)
    return job, parts_of_job(job).parts, day


def test_a_batch_that_coats_longer_than_the_first_stretch_finds_its_place_in_the_next() -> None:
    """Work from 8:00: a break at 8:20 leaves 20 minutes, and coating takes 30."""
    job, parts, day = one_edge_day((step("coat", "edge", "30", "coating"), step("press", "edge", "1", "applying")), "8:20-8:30")
    found = glue_day_of(job, parts, names_known(job), (), day)
    assert found is not None
    assert found.why == ""
    assert day.start_min == 480
    assert min(task.start_min for task in found.tasks) == 510


def test_an_edge_that_coats_longer_than_every_stretch_finds_no_place() -> None:
    job, parts, day = one_edge_day((step("coat", "edge", "600", "coating"), step("press", "edge", "1", "applying")))
    known, times = names_known(job), times_on_the_day(job)[0]
    words = "an edge of white finds no place between two breaks of the bench's day inside its open time"
    assert bench_batches(job, parts, known, (), day, times) == words
    found = glue_day_of(job, parts, known, (), day)
    assert found is not None
    assert found.why == words
    (batch,) = _made_here(replace(job, work=(step("coat", "edge", "1", "coating"),)), parts, day)
    long = replace(batch.edges[0], edge=replace(batch.edges[0].edge, coat_min=F(600)))
    assert list(_filled([long], Bench(None, None), day, F(0))) == [()]


def _made_here(job: Job, parts: Any, day: Day) -> tuple[BenchBatch, ...]:
    found = bench_batches(job, parts, names_known(job), (), day, times_on_the_day(job)[0])
    assert not isinstance(found, str)
    return found


def test_trimming_longer_than_the_day_goes_on_the_next_day() -> None:
    """1,500 minutes of trimming after two minutes of glue work and its drying: three days and a rest of the fourth."""
    work = (step("coat", "edge", "1", "coating"), step("press", "edge", "1", "applying"), step("trim", "edge", "1500"))
    job, parts, day = one_edge_day(work)
    found = glue_day_of(job, parts, names_known(job), (), day)
    assert found is not None
    trims = [task for task in found.tasks if task.doing == "trimming"]
    assert sum(task.end_min - task.start_min for task in trims) == 1500
    assert [task.start_min // 1440 for task in trims] == [0, 1, 2, 3]


def test_a_timetable_that_comes_to_no_end_is_a_fault(monkeypatch: pytest.MonkeyPatch) -> None:
    job, parts, day = one_edge_day((step("coat", "edge", "1", "coating"), step("press", "edge", "1", "applying")))
    for name in ("_apply", "_coat_again", "_begin", "_trim"):
        monkeypatch.setattr(timetables, name, lambda *_: False)
    monkeypatch.setattr(timetables, "_next_event", lambda _, worker: worker.now_min)
    with pytest.raises(Fault, match="found no end"):
        timetable(_made_here(job, parts, day), day, workers=1, limits=(None, None))


def test_metres_change_nothing_where_a_question_has_one_answer() -> None:
    assert choose(question_of(ways_of(four_edgings())), {METRES: F(1)}).cost == F("404.10")  # type: ignore[union-attr]


def two_kinds(*, edges: tuple[int, int], times: tuple[str, str, str], white: tuple[int, int], oak: tuple[int, int] | None, **other: Any) -> tuple[Job, Any, Day]:
    """White and oak with their drying and open times (oak may need no glue), and minutes an edge to coat, press and trim."""
    coat, press, trim = times
    work = (step("coat", "edge", coat, "coating"), step("press", "edge", press, "applying"), step("trim", "edge", trim))
    glues = [glue(name, drying_min=F(dry), open_min=F(shut)) for name, (dry, shut) in (("quick", white), ("slow", oak or (1, 2)))]
    job = four_edgings(
        edgings=(edging("white", "1", adhesive="quick"), edging("oak", "1", adhesive="slow" if oak else ""), edging("iron", "1")), adhesives=tuple(glues),
        work=work, fittings=(), contract=None, contract_prices=(),
        loose_parts=(loose("a", edges[0], 1000, 300, "white"), loose("b", edges[1], 700, 300, "oak"), *other.pop("more", ())), shop=shop(**other),
    )  # fmt: skip
    day = day_of(job.shop)
    assert isinstance(day, Day)
    return job, parts_of_job(job).parts, day


def test_a_strip_that_may_wait_is_not_pressed_while_another_would_dry_past_its_open_time() -> None:
    """White is coated from 8:00 to 8:20, two edges of 10 minutes; both stand open only when pressing starts at 8:40 sharp.

    Oak is coated till 8:30. The iron-on strip could be pressed then, but its 40 minutes would make white late: it comes last.
    """
    more = (loose("c", 1, 700, 300, "iron"),)
    job, parts, day = two_kinds(edges=(2, 1), times=("10", "40", "0"), white=(30, 60), oak=(90, 120), more=more)
    tasks = timetable(_made_here(job, parts, day), day, workers=1, limits=(None, None))
    assert [(task.batch, task.start_min, task.end_min) for task in tasks if task.doing == "applying"] == [
        (0, 520, 600), (1, 600, 640), (2, 640, 680),
    ]  # fmt: skip


def test_where_one_batch_after_the_other_is_done_sooner_the_day_is_told_like_that() -> None:
    """White takes 100 minutes to coat, 60 to dry, 100 to press; breaks at 10:00 and 12:00. Begun together they end at 16:30 on the
    second day (2430 minutes), one after the other at 14:55 (2335): two strips without glue pressed from 12:30 to 15:50 and trimmed till 16:30,
    then white: coated from 10:15 of the next day, when the first stretch is long enough, pressed from 12:55 and trimmed till 14:55."""
    job, parts, day = two_kinds(edges=(1, 2), times=("100", "100", "20"), white=(60, 120), oak=None, breaks="10:00-10:15, 12:00-12:30")
    found = glue_day_of(job, parts, names_known(job), (), day)
    assert found is not None
    assert max(task.end_min for task in found.tasks) == 2335
    assert max(task.end_min for task in timetable(_made_here(job, parts, day), day, workers=1, limits=(None, None))) == 2430


# --- spoilt edges -----------------------------------------------------------------------------------------------------


def test_what_a_spoilt_edge_takes_anew_is_its_part_with_its_minutes() -> None:
    """Eight shelves of 1000 x 300 with an edge of a metre each: 2.4 m2, 8 m, 8 x 2 + 2.4 x 5 = 28 minutes; 4 % of them are spoilt.

    A square metre that becomes parts costs 60 / (5.98 x 5.98 x 0.8).
    """
    always = [replace(step(name, per, minutes), route="") for name, per, minutes in (("cut", "part", "2"), ("oil", "m2", "5"), ("fetch", "sheet", "9"))]
    job = four_edgings(
        work=(*always, step("press", "edge", "1")), fittings=(), contract=None, contract_prices=(), loose_parts=(loose("shelf", 8, 1000, 300, "white"),),
        shop=shop(value_of_a_freed_hour="wage", spoilt_by_hand_share=F(4, 100)),
    )  # fmt: skip
    answer = priced(job)
    goes, stays = answer.counted.anew["white"]
    assert (goes.area_m2, goes.strip_m, goes.steps) == ({"white 18": F("2.4")}, (F(8),), (F(8), F("2.4"), F(0)))
    assert sum(stays.steps) == 0
    a_metre2 = 60 / (F("5.98") * F("5.98") * F("0.8"))
    assert answer.banding.best.spoilt == F(4, 100) * (F("2.4") * a_metre2 + 8 * F("1.35") + F(28, 60) * 30)
