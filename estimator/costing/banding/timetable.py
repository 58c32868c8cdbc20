"""One timetable of the bench: batches in, who does what from when to when out.

While one batch dries the next is coated, where bench and open time allow; trimming fills the waits. A worker does one thing at
a time and no coat or pressing is broken off for a break. Long edges wait until the ends of the same parts are trimmed.
"""

from collections.abc import Sequence
from dataclasses import field

from estimator.costing.banding.bench_batches import BenchBatch
from estimator.costing.banding.clock import Day
from estimator.model.dataclass import dataclass
from estimator.model.decision import Doing, GlueTask
from estimator.model.exact import Fraction
from estimator.model.problems import Fault

NONE = Fraction(0)
LOOK_AHEAD = 6
"""So many waiting batches are looked at for one that can be coated now."""


@dataclass(slots=True)
class _Lying:
    """A batch on its way: what comes next, from when it may and until when it must."""

    number: int
    batch: BenchBatch
    coats_left: int
    ready_min: Fraction
    due_min: Fraction | None = None
    coated: bool = False


@dataclass(slots=True)
class _Worker:
    number: int
    now_min: Fraction
    lying: list[_Lying] = field(default_factory=list)


@dataclass(slots=True)
class _Bench:
    """The whole state of the bench while a timetable is made."""

    day: Day
    overlap: bool
    limits: tuple[Fraction | None, int | None]
    waiting: list[tuple[int, BenchBatch]]
    workers: list[_Worker]
    tasks: list[GlueTask] = field(default_factory=list)
    trims: dict[int, Fraction] = field(default_factory=dict)
    """Trimming still to be done, by batch."""
    ready: dict[int, Fraction] = field(default_factory=dict)
    """When the last strip of a batch was pressed: it is trimmed later."""
    pressed: list[tuple[BenchBatch, Fraction]] = field(default_factory=list)
    """Batches with the end of their pressing, until which their strips hold the bench."""
    first_ends: dict[int, frozenset[int]] = field(default_factory=dict)
    """For each batch of long edges, the batches of ends that must be trimmed before it."""
    last_trim: dict[int, Fraction] = field(default_factory=dict)
    """When the trimming of a batch so far ends."""
    trimmed: dict[int, Fraction] = field(default_factory=dict)
    """When the last of a batch was trimmed."""


def timetable(
    batches: Sequence[BenchBatch],
    day: Day,
    *,
    workers: int,
    limits: tuple[Fraction | None, int | None],
    overlap: bool = True,
) -> tuple[GlueTask, ...]:
    """Who does what from when to when; each batch finds a place in the day by itself (`bench_batches` sees to it)."""
    start_min = Fraction(day.start_min)
    bench = _Bench(day, overlap, limits, list(enumerate(batches)), [_Worker(i, start_min) for i in range(workers)])
    bench.first_ends = _first_ends(batches)
    for _ in range(1000 * (len(batches) + 1)):
        if not bench.waiting and not bench.trims and not any(worker.lying for worker in bench.workers):
            return tuple(sorted(bench.tasks, key=lambda task: (task.start_min, task.worker)))
        worker = min(bench.workers, key=lambda one: (one.now_min, one.number))
        if not (_apply(bench, worker) or _coat_again(bench, worker) or _begin(bench, worker) or _trim(bench, worker)):
            worker.now_min = _next_event(bench, worker)
    raise Fault("the glue day found no end")


def _first_ends(batches: Sequence[BenchBatch]) -> dict[int, frozenset[int]]:
    """For each batch of long edges the batches in which the ends of its parts lie."""
    ends_of: dict[int, set[int]] = {}
    for number, batch in enumerate(batches):
        for one in batch.edges if batch.side == "ends" else ():
            ends_of.setdefault(one.part, set()).add(number)
    return {
        number: frozenset().union(*(ends_of.get(part, set()) for part in {one.part for one in batch.edges}))
        for number, batch in enumerate(batches)
        if batch.side == "long edges"
    }


def _do(bench: _Bench, worker: _Worker, number: int, doing: Doing, lasting_min: Fraction) -> None:
    end_min = worker.now_min + lasting_min
    bench.tasks.append(GlueTask(worker.number, number, doing, worker.now_min, end_min))
    worker.now_min = end_min
    earliest = min(other.now_min for other in bench.workers)
    bench.pressed = [one for one in bench.pressed if one[1] > earliest]


def _fits_now(bench: _Bench, worker: _Worker, lasting_min: Fraction) -> bool:
    return bench.day.next_slot_min(worker.now_min, lasting_min=lasting_min) == worker.now_min


def _in_time(bench: _Bench, worker: _Worker, end_min: Fraction, more: Sequence[tuple[Fraction, Fraction | None, Fraction]]) -> bool:
    """After some work that ends then, every coated batch of this worker can still be applied inside its open time."""
    coated = [(one.ready_min, one.due_min, one.batch.apply_min) for one in worker.lying if one.coated]
    queue = sorted([*coated, *more], key=lambda one: (one[1] is None, one[1] or NONE, one[0]))
    now_min = end_min
    for ready_min, due_min, lasting_min in queue:
        start = bench.day.next_slot_min(max(now_min, ready_min), lasting_min=lasting_min)
        if start is None or (due_min is not None and start > due_min):
            return False
        now_min = start + lasting_min
    return True


def _apply(bench: _Bench, worker: _Worker) -> bool:
    """Press the batch that is dry and due first, where no other is made late by it."""
    dry = [one for one in worker.lying if one.coated and one.ready_min <= worker.now_min]
    for one in sorted(dry, key=lambda lying: (lying.due_min is None, lying.due_min or NONE)):
        lasting_min = one.batch.apply_min
        if not _fits_now(bench, worker, lasting_min):
            continue
        worker.lying.remove(one)
        if not _in_time(bench, worker, worker.now_min + lasting_min, ()):
            worker.lying.append(one)
            continue
        _do(bench, worker, one.number, "applying", lasting_min)
        bench.ready[one.number] = worker.now_min
        if one.batch.after_min:
            bench.trims[one.number] = one.batch.after_min
        else:
            bench.trimmed[one.number] = worker.now_min
        bench.pressed.append((one.batch, worker.now_min))
        return True
    return False


def _coat_again(bench: _Bench, worker: _Worker) -> bool:
    """Give the next coat to a batch whose last one has waited long enough."""
    for one in worker.lying:
        if one.coated or one.ready_min > worker.now_min:
            continue
        last = one.coats_left == 1
        lasting_min = one.batch.coat_min if last else one.batch.early_min
        after = _window(one.batch, worker.now_min) if last else None
        end_min = worker.now_min + lasting_min
        if not _fits_now(bench, worker, lasting_min) or not _in_time(bench, worker, end_min, [after] if after else []):
            continue
        _coated(one, worker.now_min)
        _do(bench, worker, one.number, "coating again", lasting_min)
        return True
    return False


def _window(batch: BenchBatch, start_min: Fraction) -> tuple[Fraction, Fraction | None, Fraction]:
    """When a batch may and must be applied whose last coat starts now, and how long that takes."""
    shut_min = None if batch.shut_min is None else start_min + batch.shut_min
    return start_min + batch.dry_min, shut_min, batch.apply_min


def _coated(one: _Lying, start_min: Fraction) -> None:
    """A coat starts now: what comes after it."""
    one.coats_left -= 1
    if one.coats_left:
        one.ready_min = start_min + one.batch.next_coat_min(last=one.coats_left == 1)
    else:
        one.coated = True
        one.ready_min, one.due_min, _ = _window(one.batch, start_min)


def _begin(bench: _Bench, worker: _Worker) -> bool:
    """Set up and coat the next batch that has room on the bench, whose ends are done and that can be applied in time."""
    if not bench.overlap and (worker.lying or bench.trims):
        return False
    for place, (number, batch) in enumerate(bench.waiting[:LOOK_AHEAD]):
        if not _has_room(bench, worker, batch) or not _ends_done(bench, worker, number):
            continue
        first_min = batch.early_min if batch.early_coats else batch.coat_min
        lasting_min = batch.setup_min + first_min
        paint_min = worker.now_min + batch.setup_min
        after = [] if batch.early_coats else [_window(batch, paint_min)]
        if not _fits_now(bench, worker, lasting_min) or not _in_time(bench, worker, worker.now_min + lasting_min, after):
            continue
        del bench.waiting[place]
        one = _Lying(number, batch, batch.early_coats + 1, paint_min)
        _coated(one, paint_min)
        worker.lying.append(one)
        _do(bench, worker, number, "set-up and coating", lasting_min)
        return True
    return False


def _has_room(bench: _Bench, worker: _Worker, batch: BenchBatch) -> bool:
    """Strips lie out from the first coat until they are pressed; others' pressing that ends later still holds the bench."""
    length_m, edges = bench.limits
    out = [one.batch for other in bench.workers for one in other.lying]
    out += [other for other, until_min in bench.pressed if until_min > worker.now_min]
    strip_m = sum((one.strip_m for one in out), start=batch.strip_m)
    lying = sum(len(one.edges) for one in out) + len(batch.edges)
    return (length_m is None or strip_m <= length_m) and (edges is None or lying <= edges)


def _ends_done(bench: _Bench, worker: _Worker, number: int) -> bool:
    """The ends of its parts are trimmed, so that its long edges can go over them."""
    return all(other in bench.trimmed and bench.trimmed[other] <= worker.now_min for other in bench.first_ends.get(number, frozenset()))


def _trim(bench: _Bench, worker: _Worker) -> bool:
    """Trim what is pressed until something else is due."""
    for number, left_min in bench.trims.items():
        if bench.ready[number] > worker.now_min or not _fits_now(bench, worker, NONE):
            continue
        until = bench.day.stretch_end_min(worker.now_min)
        until = min([until, *(one.ready_min for one in worker.lying if one.ready_min > worker.now_min)])
        lasting_min = min(left_min, until - worker.now_min)
        if lasting_min <= 0:
            continue
        _do(bench, worker, number, "trimming", lasting_min)
        bench.last_trim[number] = max(bench.last_trim.get(number, NONE), worker.now_min)
        bench.trims[number] = left_min - lasting_min
        if bench.trims[number] == 0:
            del bench.trims[number]
            bench.trimmed[number] = bench.last_trim.pop(number)
        return True
    return False


def _next_event(bench: _Bench, worker: _Worker) -> Fraction:
    """The next time at which this worker might have something to do."""
    times = [one.ready_min for one in worker.lying]
    times += [other.now_min for other in bench.workers if other is not worker]
    times += [one.ready_min for other in bench.workers for one in other.lying]
    day = int(worker.now_min // 1440)
    times += [Fraction(start + 1440 * (day + more)) for more in (0, 1) for start, _ in bench.day.stretches]
    return min(one for one in times if one > worker.now_min)
