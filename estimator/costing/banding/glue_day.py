"""The glue day: a job and what is sent of it in, the bench's timetable by the clock and what it comes to out."""

from collections.abc import Mapping, Sequence
from itertools import pairwise

from estimator.costing.banding.batch_order import elapsed_min, least_elapsed_min
from estimator.costing.banding.bench_batches import BenchBatch, as_listed, bench_batches
from estimator.costing.banding.clock import Day
from estimator.costing.banding.drying_table import times_on_the_day
from estimator.costing.banding.timetable import timetable
from estimator.model.decision import GlueBatch, GlueDay, GlueTask
from estimator.model.exact import Fraction
from estimator.model.gathering import listed
from estimator.model.records import Job
from estimator.model.taken import Part

NONE = Fraction(0)
OPEN_TIME_WARNING = Fraction(3, 4)
COATING, AGAIN, APPLYING = "set-up and coating", "coating again", "applying"


def glue_day_of(job: Job, parts: Sequence[Part], known: Mapping[str, frozenset[str]], sent: Sequence[str], day: Day) -> GlueDay | None:
    """The timetable for the edges that stay at the bench when some edgings are sent; None when there are none."""
    times, words = times_on_the_day(job)
    batches = bench_batches(job, parts, known, sent, day, times)
    if isinstance(batches, str):
        return GlueDay((), (), NONE, NONE, NONE, NONE, NONE, NONE, batches, words)
    if not any(batch.setup_min + batch.early_min + batch.coat_min + batch.apply_min + batch.after_min for batch in batches):
        return None  # nothing to band here, or nothing that takes time
    limits = (job.shop.bench_length_m, job.shop.edges_in_a_batch)
    overlapping = timetable(batches, day, workers=job.shop.bench_workers, limits=limits)
    plain = timetable([as_listed(batch) for batch in batches], day, workers=1, limits=limits, overlap=False)
    if plain[-1].end_min < max(task.end_min for task in overlapping):
        overlapping, batches = plain, tuple(as_listed(batch) for batch in batches)
    return _glue_day(batches, overlapping, plain, day, job.shop.bench_workers, words)


# --- what it comes to -------------------------------------------------------------------------------------------------


def _glue_day(
    batches: Sequence[BenchBatch],
    tasks: Sequence[GlueTask],
    plain: Sequence[GlueTask],
    day: Day,
    workers: int,
    words: tuple[str, ...],
) -> GlueDay:
    start_min, end_min = tasks[0].start_min, max(task.end_min for task in tasks)
    labour_min = sum((task.end_min - task.start_min for task in tasks), start=NONE)
    by_batch: dict[int, list[GlueTask]] = {}
    for task in tasks:
        by_batch.setdefault(task.batch, []).append(task)
    shown = tuple(_shown(batch, by_batch[number]) for number, batch in enumerate(batches))
    near = [str(number) for number, one in enumerate(shown, 1) if one.open_used_share and one.open_used_share > OPEN_TIME_WARNING]
    if near:
        words = (*words, _near_words(near))
    return GlueDay(
        batches=shown,
        tasks=tuple(tasks),
        start_min=start_min,
        end_min=end_min,
        labour_min=labour_min,
        waiting_min=sum((_waiting(tasks, worker, day) for worker in range(workers)), start=NONE),
        one_after_another_min=max(task.end_min for task in plain),
        least_end_min=_worked_until(day, start_min, labour_min / workers),
        why="",
        remarks=words,
    )


def _near_words(numbers: Sequence[str]) -> str:
    """Batches whose open time is nearly used up, by their numbers.

    >>> _near_words(["3"]), _near_words(["1", "2", "4"])
    ('batch 3 uses more than 75 % of its open time', 'batches 1, 2 and 4 use more than 75 % of their open time')
    """
    if len(numbers) == 1:
        return f"batch {numbers[0]} uses more than 75 % of its open time"
    return f"batches {listed(numbers)} use more than 75 % of their open time"


def _waiting(tasks: Sequence[GlueTask], worker: int, day: Day) -> Fraction:
    """Working time between a worker's own tasks."""
    mine = sorted((task for task in tasks if task.worker == worker), key=lambda task: task.start_min)
    return sum((_work_between(day, one.end_min, other.start_min) for one, other in pairwise(mine)), start=NONE)


def _work_between(day: Day, from_min: Fraction, to_min: Fraction) -> Fraction:
    total, first, last = NONE, int(from_min // 1440), int(to_min // 1440)
    for number in range(first, last + 1):
        for start, end in day.stretches:
            low, high = max(from_min, Fraction(start + 1440 * number)), min(to_min, Fraction(end + 1440 * number))
            total += max(NONE, high - low)
    return total


def _worked_until(day: Day, from_min: Fraction, lasting_min: Fraction) -> Fraction:
    """When so much work is done that starts then and rests in breaks only."""
    left = lasting_min
    number = int(from_min // 1440)
    while True:
        for start, end in day.stretches:
            low = max(from_min, Fraction(start + 1440 * number))
            room = Fraction(end + 1440 * number) - low
            if room > 0 and left <= room:
                return low + left
            left -= max(room, NONE)
        number += 1


def _shown(batch: BenchBatch, mine: Sequence[GlueTask]) -> GlueBatch:
    applying = next(task for task in mine if task.doing == APPLYING)
    last_coat = max((task for task in mine if task.doing in (COATING, AGAIN)), key=lambda task: task.start_min)
    painted = last_coat.end_min - batch.coat_min
    edges = [one.edge for one in batch.edges]
    pressed, used = applying.start_min, None
    for edge in edges:
        painted += edge.coat_min
        if edge.open_min is not None:
            share = (pressed - painted) / edge.open_min
            used = share if used is None else max(used, share)
        pressed += edge.apply_min
    return GlueBatch(
        edging=batch.edging,
        side=batch.side,
        edges=len(edges),
        metres=sum((edge.length_m for edge in edges), start=NONE),
        strip_m=batch.strip_m,
        refs=tuple(dict.fromkeys(one.ref for one in batch.edges)),
        first_coat_min=mine[0].start_min + batch.setup_min,
        applied_min=applying.end_min,
        open_used_share=used,
        as_listed_min=elapsed_min([one.edge for one in batch.listed]),
        ordered_min=elapsed_min(edges),
        least_min=least_elapsed_min(edges),
    )
