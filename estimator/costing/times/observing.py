"""Rows of a job's time log and its estimate in; what was really spent beside what was allowed for the same counts out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from estimator.costing.sheets import usable_m2
from estimator.costing.times.material import JobUse
from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.problems import Problem
from estimator.model.results import Estimate, StepMinutes
from estimator.model.shop_records import Step
from estimator.model.times import LogRow, Observed, StepCount
from estimator.model.units import M_PER_FOOT

NONE = Fraction(0)


@dataclass(frozen=True, slots=True)
class Seen:
    """What one job's log says of its minutes and its material, and what of it cannot be."""

    observed: tuple[Observed, ...]
    boards: Mapping[str, JobUse]
    edgings: Mapping[str, JobUse]
    problems: tuple[Problem, ...]


def seen_in(rows: Sequence[LogRow], estimate: Estimate, *, then: Mapping[str, Fraction]) -> Seen:
    """The log of one job. `then` holds the minutes that its estimate of that day allowed for a step, where one was kept."""
    planned = {step.step.step: step for step in estimate.minutes.steps}
    observed: list[Observed] = []
    problems: list[Problem] = []
    for one in _taken_together([row for row in rows if row.kind in ("steps", "stage")]):
        match _counts_of(one[0], planned, inch=estimate.job.terms.units == "inch"):
            case Problem() as problem:
                problems.append(problem)
            case counts:
                observed.append(_observed(one, counts, planned, then))
    boards, edgings, unused = _material([row for row in rows if row.kind in ("board", "edging")], estimate)
    return Seen(tuple(observed), boards, edgings, (*problems, *unused))


def _taken_together(rows: Sequence[LogRow]) -> Iterator[list[LogRow]]:
    """Rows without a count stand for all of the job, so those of one step are one observation over several days."""
    whole: dict[tuple[str, ...], list[LogRow]] = {}
    for row in rows:
        if row.counts:
            yield [row]
        else:
            whole.setdefault((row.kind, *row.names), []).append(row)
    yield from whole.values()


def _counts_of(row: LogRow, planned: Mapping[str, StepMinutes], *, inch: bool) -> tuple[StepCount, ...] | Problem:
    """How many of each step: as typed, as the job counts them, or the typed share of what the job counts."""
    names = row.names
    if row.kind == "stage":
        names = tuple(name for name, step in planned.items() if step.step.stage == row.names[0] and step.count)
    if row.counts and len(row.counts) == len(names):
        pairs = zip(names, row.counts, strict=True)
        return tuple(StepCount(name, count * _unit_of(planned[name].step, inch=inch)) for name, count in pairs)
    counted = [StepCount(name, planned[name].count) for name in names if planned[name].count]
    if not row.counts:
        return tuple(counted) or _none_counted(row)
    typed = row.counts[0] * _unit_of(planned[names[0]].step, inch=inch)
    drivers = {(planned[name].step.route, planned[name].step.per, planned[name].step.of) for name in names}
    if len(drivers) == 1:
        return tuple(StepCount(name, typed) for name in names)
    first = planned[names[0]].count
    if not first:
        return _none_counted(row)
    return tuple(StepCount(one.step, one.count * typed / first) for one in counted)


def _unit_of(step: Step, *, inch: bool) -> Fraction:
    """What one of a typed count is in the engine's unit: a workbook in inches counts runs in feet and areas in square feet."""
    if not inch:
        return Fraction(1)
    return {"metre": M_PER_FOOT, "m2": M_PER_FOOT**2}.get(step.per, Fraction(1))


def _none_counted(row: LogRow) -> Problem:
    return Problem(
        row.at.place("Count"),
        "nothing: the cell is blank" if not row.counts else "a count for the first of several steps",
        f"Count: a number, for the job's estimate has nothing of the {row.kind.rstrip('s')} {row.names[0]}",
        ("name its steps in its place, and type how many of each were done" if row.kind == "stage" else "type how many were done")
        + ("" if len(row.names) == 1 else ", for each step with + between them"),
    )


def _observed(
    rows: Sequence[LogRow], counts: tuple[StepCount, ...], planned: Mapping[str, StepMinutes], then: Mapping[str, Fraction]
) -> Observed:
    stages = dict.fromkeys(planned[one.step].step.stage for one in counts)
    return Observed(
        date=max(row.date for row in rows),
        job=rows[0].job,
        steps=counts,
        stage=" + ".join(stages),
        real_min=sum((row.minutes or NONE for row in rows), start=NONE),
        estimated_min=sum((_estimated(one, planned[one.step], then) for one in counts), start=NONE),
        note="; ".join(row.note for row in rows if row.note),
        at=rows[0].at,
        rows=len(rows),
    )


def _estimated(one: StepCount, planned: StepMinutes, then: Mapping[str, Fraction]) -> Fraction:
    """What was allowed for so many: by the estimate of that day, else by today's standard minutes."""
    if one.step in then and planned.count:
        return then[one.step] * one.count / planned.count
    return planned.each_min * one.count


def _material(rows: Sequence[LogRow], estimate: Estimate) -> tuple[dict[str, JobUse], dict[str, JobUse], list[Problem]]:
    boards = {use.board: use for use in estimate.boards}
    strips = {use.edging: use for use in estimate.edgings}
    metres = M_PER_FOOT if estimate.job.terms.units == "inch" else Fraction(1)
    used: dict[tuple[str, str], Fraction] = {}
    problems: list[Problem] = []
    for row in rows:
        name = row.names[0]
        if name not in (boards if row.kind == "board" else strips):
            which = "an edging" if row.kind == "edging" else "a board"
            problems.append(Problem(
                row.at.place("Step"), f"{name}, of which this job uses none", f"Step: {which} that the job uses",
                "use the name of the one that was taken, or take the row out",
            ))  # fmt: skip
            continue
        used[row.kind, name] = used.get((row.kind, name), NONE) + row.counts[0]
    for_boards = {name: _sheets(rows[0].job, estimate, name, sheets) for (kind, name), sheets in used.items() if kind == "board"}
    for_edgings = {
        name: JobUse(rows[0].job, strips[name].strip_m, metres * length, strips[name].strip_m, metres * length)
        for (kind, name), length in used.items()
        if kind == "edging"
    }
    return for_boards, for_edgings, problems


def _sheets(job: str, estimate: Estimate, board: str, sheets: Fraction) -> JobUse:
    """Sheets really taken; of a board in several sizes they are taken to be of the sizes that were planned."""
    use = next(one for one in estimate.boards if one.board == board)
    planned = sum(one.sheets for one in use.by_size)
    usable = sum((one.sheets * usable_m2(one.board) for one in use.by_size), start=NONE)
    each = usable / planned if planned else usable_m2(next(one for one in estimate.job.boards if one.board == board))
    return JobUse(job, use.area_m2, sheets * each, Fraction(use.sheets), sheets)
