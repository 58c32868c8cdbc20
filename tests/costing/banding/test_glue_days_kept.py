"""Sixteen glue days, minute for minute, as they were when every one was walked through and found sound (`test_glue_day`).

`glue_days.txt` beside this file holds them; `python -m tests.costing.banding.test_glue_days_kept` writes it anew. A change there is a change of what
the bench is told to do, so each line of it is to be looked at. Drawn are one to three workers, benches with and without limits, second coats, breaks.
"""

from pathlib import Path

from estimator.costing.banding.clock import clock_text
from estimator.model.decision import GlueDay
from estimator.model.units import decimal_text
from tests.costing.banding.test_glue_day import a_job, timetable_of

KEPT = Path(__file__).with_name("glue_days.txt")
SEEDS = (1, 2, 5, 7, 8, 10, 11, 13, 17, 20, 23, 26, 29, 31, 37, 41)


def told(day: GlueDay) -> list[str]:
    """A day in lines: what it comes to, each batch, each task."""
    lines = [
        f"{clock_text(day.start_min)} to {_minutes(day.end_min)}, one after another {_minutes(day.one_after_another_min)}, at best {_minutes(day.least_end_min)}, "
        f"work {_minutes(day.labour_min)}, waiting {_minutes(day.waiting_min)} {' '.join(day.remarks)}".rstrip()
    ]
    for one in day.batches:
        used = "-" if one.open_used_share is None else f"{decimal_text(one.open_used_share * 100, places=2)} %"
        lines.append(
            f"  {one.edging}, {one.side}: {one.edges} edges, {decimal_text(one.metres, places=3)} m, strips {decimal_text(one.strip_m, places=3)} m, {used}, "
            f"{_minutes(one.first_coat_min)} to {_minutes(one.applied_min)}, listed {_minutes(one.as_listed_min)}, ordered {_minutes(one.ordered_min)}, "
            f"least {_minutes(one.least_min)}: {' '.join(ref.removeprefix('part ') for ref in one.refs)}"
        )
    for task in day.tasks:
        lines.append(f"    {task.worker} {task.batch} {task.doing} {_minutes(task.start_min)} {_minutes(task.end_min)}")
    return lines


def _minutes(minute: object) -> str:
    return decimal_text(minute, places=3)  # type: ignore[arg-type]


def every_day() -> str:
    return "".join(
        f"day {seed}: {line}\n" if not at else f"{line}\n" for seed in SEEDS for at, line in enumerate(told(timetable_of(a_job(seed))[0]))
    )


def test_the_bench_is_told_what_it_was_told() -> None:
    assert every_day().splitlines() == KEPT.read_text(encoding="utf-8").splitlines()


if __name__ == "__main__":
    KEPT.write_text(every_day(), encoding="utf-8", newline="\n")
