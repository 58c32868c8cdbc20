"""A folder of finished jobs in, what they teach out: real against estimated, new times, waste, the quotes again; nothing is written.

The only place where time logs, estimates and the arithmetic of learning meet.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path

from estimator.batch import price_book
from estimator.costing.estimate import estimate_job
from estimator.costing.times.comparing import compared
from estimator.costing.times.material import material_use
from estimator.costing.times.observing import Seen, seen_in
from estimator.costing.times.step_times import step_times, with_new_times
from estimator.job_files import job_paths
from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.problems import Problem, Remark
from estimator.model.records import Job
from estimator.model.refusal import Refusal
from estimator.model.results import Estimate
from estimator.model.shop_records import Shop, Step
from estimator.model.times import Learned, LogRow, MaterialUse, Observed, QuoteAgain
from estimator.papers.files import folder_name, kept
from estimator.reading.time_log import TimeLog, read_time_log

SHOP_LOG = "times.xlsx"
Minutes = Mapping[str, Fraction]
"""Of each step, by its name."""


@dataclass(frozen=True, slots=True)
class Lesson:
    """What a folder taught, what must be mended in its logs, and which jobs could not be read."""

    learned: Learned
    shop_book: Path | None
    """The price book whose sheet Work the new times are for."""
    work: tuple[Step, ...]
    shop: Shop | None
    units: str
    """In which the shop measures."""
    problems: tuple[Problem, ...]
    remarks: tuple[Remark, ...]
    refused: tuple[Refusal, ...]
    jobs: int


def learn(folder: Path, *, shop: Path | None, out: Path) -> Lesson:
    """Everything that the jobs of a folder and its shop-wide log say."""
    paths = _named(job_paths([folder], besides=out), folder)
    answers = {name: price_book(path, shop=shop) for name, path in paths.items()}
    estimates = {name: answer for name, answer in answers.items() if isinstance(answer, Estimate)}
    jobs = {name: one.job for name, one in estimates.items()}
    logs = [read_time_log(paths[name], {name: job}, home=name) for name, job in jobs.items()]
    if (folder / SHOP_LOG).is_file():
        logs.append(read_time_log(folder / SHOP_LOG, jobs))
    base = _base(list(jobs.values()), shop.name if shop else "shop.xlsx")
    rows = [row for log in logs for row in log.rows]
    then = {name: minutes_then(estimates[name], out=out, path=paths[name]) for name in estimates}
    seen = {name: seen_in([row for row in rows if row.job == name], one, then=then[name]) for name, one in estimates.items()}
    return Lesson(
        learned=_learned(seen, estimates, base, rows, then),
        shop_book=_shop_book(base, paths, shop),
        work=base.work if base else (),
        shop=base.shop if base else None,
        units=base.terms.units if base else "mm",
        problems=_problems(logs, seen),
        remarks=(*(remark for log in logs for remark in log.remarks), *_other_steps(seen, jobs, base)),
        refused=tuple(answer for answer in answers.values() if isinstance(answer, Refusal)),
        jobs=len(estimates),
    )


def _named(paths: Sequence[Path], folder: Path) -> dict[str, Path]:
    """Each job by its file name; by its way from the folder where two are called alike."""
    names = [path.name for path in paths]
    return {path.name if names.count(path.name) == 1 else path.relative_to(folder).as_posix(): path for path in paths}


def _base(jobs: Sequence[Job], shop_name: str) -> Job | None:
    """The job whose Work the new times are for: the latest that takes its Work from the shop's book, else the latest."""
    with_shop = [job for job in jobs if job.work and job.work[0].at.workbook == shop_name]
    return max(with_shop or jobs, key=lambda job: job.terms.quote_date, default=None)


def _shop_book(base: Job | None, paths: Mapping[str, Path], shop: Path | None) -> Path | None:
    if base is None or not base.work:
        return None
    home = base.work[0].at.workbook
    for path in (*([shop] if shop else []), *paths.values()):
        for one in (path, path.with_name(home)):
            if one.name == home and one.is_file():
                return one
    return None


def minutes_then(estimate: Estimate, *, out: Path, path: Path) -> Minutes:
    """Minutes of each step as the estimate said that went out, from its estimate.json; nothing where none was kept."""
    then = kept(out / folder_name(path.stem) / folder_name(estimate.job.terms.revision) / "estimate.json")
    try:
        return {name: Fraction(minutes) for name, minutes in then["minutes"]["steps"].items()}
    except (ValueError, KeyError, TypeError, AttributeError):
        return {}


def _learned(
    seen: Mapping[str, Seen], estimates: Mapping[str, Estimate], base: Job | None, rows: Sequence[LogRow], then: Mapping[str, Minutes]
) -> Learned:
    known = {name: _same_steps(estimates[name].job, base) for name in estimates}
    observed = [one for name in seen for one in seen[name].observed]
    fit_for: list[Observed] = []
    rest: list[Observed] = []
    for one in observed:
        (fit_for if all(count.step in known[one.job] for count in one.steps) else rest).append(one)
    marked, times = step_times(fit_for, base.work, base.shop) if base else ((), ())
    everything: tuple[Observed, ...] = (*marked, *rest)
    work = base.work if base else ()
    work_now = {name: with_new_times(one.job.work, [t for t in times if t.step.step in known[name]]) for name, one in estimates.items()}
    whole = {name: sum(then[name].values(), start=Fraction(0)) or one.minutes.total for name, one in estimates.items()}
    return Learned(
        observed=everything,
        times=times,
        by_step=compared(everything, lambda one: one.name, order=[step.step for step in work]),
        by_stage=compared(everything, lambda one: one.stage, order=dict.fromkeys(step.stage for step in work)),
        by_job=compared(everything, lambda one: one.job, order=estimates, whole=whole),
        material=_material(seen, base),
        quotes=tuple(again for name, one in estimates.items() if (again := _again(name, one, work_now[name]))),
        newest=max((row.date for row in rows), default=None),
    )


def _same_steps(job: Job, base: Job | None) -> frozenset[str]:
    """Steps that this job counts by the same things as the shop's Work does; of others the minutes cannot be put together."""
    theirs = {step.step: (step.route, step.per, step.of) for step in base.work} if base else {}
    return frozenset(step.step for step in job.work if theirs.get(step.step) == (step.route, step.per, step.of))


def _other_steps(seen: Mapping[str, Seen], jobs: Mapping[str, Job], base: Job | None) -> list[Remark]:
    """A remark for each row whose step the shop's Work has not, or counts by something else."""
    home = base.work[0].at.workbook if base and base.work else "the shop's book"
    return [
        Remark(one.at.place("Step"), f"{one.name} is not counted so in Work of {home}: compared, but no time is learned from it")
        for name, its in seen.items()
        for one in its.observed
        if not all(count.step in _same_steps(jobs[name], base) for count in one.steps)
    ]


def _material(seen: Mapping[str, Seen], base: Job | None) -> tuple[MaterialUse, ...]:
    """Every board and edging of which some job says what it took, in the order of their sheets."""
    boards = dict.fromkeys(name for its in seen.values() for name in its.boards)
    edgings = dict.fromkeys(name for its in seen.values() for name in its.edgings)
    expected = {row.board: row.expected_yield_share for row in base.boards} if base else {}
    spare: dict[str, Fraction | None] = {row.edging: row.spare_share for row in base.edgings} if base else {}
    return (
        *(material_use(name, "board", [its.boards[name] for its in seen.values() if name in its.boards], now_share=expected.get(name))
          for name in boards),
        *(material_use(name, "edging", [its.edgings[name] for its in seen.values() if name in its.edgings], now_share=spare.get(name))
          for name in edgings),
    )  # fmt: skip


def _again(name: str, before: Estimate, work: tuple[Step, ...]) -> QuoteAgain | None:
    """The job priced once more, with the new minutes and nothing else changed."""
    after = estimate_job(replace(before.job, work=work, options=())) if work != before.job.work else before
    if isinstance(after, Refusal):
        return None
    return QuoteAgain(
        job=name,
        currency=before.job.terms.currency,
        minutes=before.minutes.total,
        new_minutes=after.minutes.total,
        cost=before.cost.total,
        new_cost=after.cost.total,
        net=before.price.net,
        new_net=after.price.net,
    )


def _problems(logs: Sequence[TimeLog], seen: Mapping[str, Seen]) -> tuple[Problem, ...]:
    return (*(problem for log in logs for problem in log.problems), *(problem for its in seen.values() for problem in its.problems))
