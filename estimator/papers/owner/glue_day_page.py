"""The glue day: an estimate in; the bench's timetable as bars on a clock, day by day, and what it says of each batch, out."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from estimator.model.decision import Doing, GlueBatch, GlueDay, GlueTask
from estimator.model.exact import Fraction
from estimator.model.units import MINUTES_PER_HOUR
from estimator.papers.owner.charts import ACCENT, Fill, Segment, SegmentRow, time_bars
from estimator.papers.owner.glue_batches_page import glue_batches_story
from estimator.papers.owner.paper import OwnerPaper, capital
from estimator.papers.page.clock import DAY_MIN
from estimator.papers.page.pieces import bullet_list, gap, heading, paragraph
from estimator.papers.page.tables import Column, fitting_mm, table

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable

_ROWS_IN_A_CHART = 12
_MOST_TICKS = 10
_HEAD_PT = 100.0
"""What the heading and the words below it take."""
_FILLS: dict[Doing, Fill] = {"set-up and coating": ACCENT, "coating again": 0.3, "applying": 0.65, "trimming": 1.0}


def glue_day_story(paper: OwnerPaper) -> list[Flowable]:
    """The timetable; the batches by themselves where there is none; nothing where nothing is banded by hand."""
    day, look = paper.estimate.glue_day, paper.look
    if day is None or day.why or not day.tasks:
        why = [paragraph(paper.say("no timetable", why=day.why), look)] if day and day.why else []
        return [*glue_batches_story(paper), *why]
    charts = [chart for number in range(day.days) for chart in _day_charts(paper, day, number)]
    story = heading(paper.say("glue day"), look, needs_pt=_HEAD_PT + charts[0].height)
    story += [paragraph(glue_day_words(paper, day), look), gap()]
    for chart in charts:
        story += [chart, gap(0.5)]
    story.append(_table(paper, day))
    story += [gap(0.5), paragraph(paper.say("glue day minutes"), look, name="small")]
    return [*story, gap(0.5), *bullet_list([f"{capital(words).rstrip('.')}." for words in day.remarks], look)]


def glue_day_words(paper: OwnerPaper, day: GlueDay) -> str:
    """From when to when, how much of it is work, and what the order is worth."""
    say, at = paper.say, paper.clock
    waiting = paper.language.number(day.waiting_min, most_decimals=0)
    words = [
        say(
            "glue day lead",
            start=at(day.start_min),
            end=at(day.end_min),
            hands=say.counted("people", len({task.worker for task in day.tasks})),
            work=paper.hours(day.labour_min),
            wait=say("glue day wait", wait=waiting) if waiting != "0" else "",
        )
    ]
    own, priced = len(day.batches), len(paper.estimate.batches)
    if own != priced:
        words.append(say("glue day batches", own=own, priced=priced))
    if day.one_after_another_min > day.end_min:
        words.append(say("one after another", end=at(day.one_after_another_min)))
    words.append(say("no timetable ends before", end=at(day.least_end_min)))
    return " ".join(words)


# --- the bars ---------------------------------------------------------------------------------------------------------


def _day_charts(paper: OwnerPaper, day: GlueDay, number: int) -> list[Flowable]:
    """The bars of one day: a row for each batch that is worked on, in the order in which they begin; breaks stay empty."""
    tasks = [task for task in day.tasks if task.start_min // DAY_MIN == number]
    if not tasks:
        return []
    first = Fraction(min(task.start_min for task in tasks) // MINUTES_PER_HOUR * MINUTES_PER_HOUR)
    end = max(task.end_min for task in tasks) - first
    step = -(-end // (_MOST_TICKS * MINUTES_PER_HOUR)) * MINUTES_PER_HOUR
    ticks = [(Fraction(at), _bare(paper.clock((first + at) % DAY_MIN))) for at in range(0, int(end) + 1, int(step))]
    ticks[0] = (ticks[0][0], paper.clock(first))
    batches = list(dict.fromkeys(task.batch for task in sorted(tasks, key=lambda task: task.start_min)))
    several = len({task.worker for task in day.tasks}) > 1
    rows = [
        _row(paper, day.batches[batch], [task for task in tasks if task.batch == batch], first, several=several)
        for batch in batches
    ]
    return [
        time_bars(rows[at : at + _ROWS_IN_A_CHART], look=paper.look, end=end, ticks=ticks)
        for at in range(0, len(rows), _ROWS_IN_A_CHART)
    ]


def _bare(time: str) -> str:
    """A time on the axis: am and pm are told by the one that stands first."""
    return time.partition("\N{NO-BREAK SPACE}")[0]


def _row(paper: OwnerPaper, batch: GlueBatch, tasks: Sequence[GlueTask], first: Fraction, *, several: bool) -> SegmentRow:
    """One batch; each piece says how many minutes it takes, or who does it where there are several."""
    segments = tuple(
        Segment(
            paper.say(f"doing {task.doing}"),
            task.start_min - first,
            task.end_min - first,
            _FILLS[task.doing],
            text=paper.say("worker", n=task.worker + 1)
            if several
            else paper.language.number(task.end_min - task.start_min, most_decimals=0),
        )
        for task in tasks
    )
    return SegmentRow(f"{batch.edges} {paper.say(f'side {batch.side}')}, {batch.edging}", segments, "")


def _table(paper: OwnerPaper, day: GlueDay) -> Flowable:
    number, say = paper.language, paper.say
    rows = [
        [
            f"{batch.edging}, {say(f'side {batch.side}')}",
            number.number(batch.edges),
            paper.long(batch.metres),
            paper.clock(batch.first_coat_min),
            paper.clock(batch.applied_min),
            "–" if batch.open_used_share is None else paper.percent(batch.open_used_share, decimals=0),
            number.fixed(batch.as_listed_min, decimals=1),
            number.fixed(batch.ordered_min, decimals=1),
            number.fixed(batch.least_min, decimals=1),
        ]
        for batch in day.batches
    ]
    clock_mm = fitting_mm((str(row[at]) for row in rows for at in (3, 4)), least_mm=19)
    columns = [
        Column(say("batch")),
        Column(say("edges head"), width_mm=12, align="right"),
        Column(capital(paper.long_unit), width_mm=14, align="right"),
        Column(say("first coat"), width_mm=clock_mm, align="right"),
        Column(say("last strip"), width_mm=clock_mm, align="right"),
        Column(say("open time used"), width_mm=15, align="right"),
        Column(say("as listed min"), width_mm=15, align="right"),
        Column(say("as drawn min"), width_mm=15, align="right"),
        Column(say("least min"), width_mm=15, align="right"),
    ]
    return table(columns, rows, look=paper.look)
