"""The glue day for the bench: an estimate in; the timetable of coating, pressing and trimming by the clock, to be ticked off, out.

The batches of this page keep corners: the ends of a part are banded and trimmed before its long edges. They need no list of their
own, since each is all edges of one edging, or the part of them that the bench has room for, cabinet after cabinet.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from estimator.model.decision import GlueBatch, GlueDay, GlueTask
from estimator.model.exact import Fraction
from estimator.model.units import half_away
from estimator.papers.page.clock import DAY_MIN
from estimator.papers.page.pieces import SHORT_SHARE, bullet_list, gap, heading, kept_whole, paragraph, tick_box, title
from estimator.papers.page.tables import Column, fitting_mm, table
from estimator.papers.shop.paper import ShopPaper

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable

_LEAST_MIN = Fraction(1, 2)

_EDGING_MM = 58
"""Of the edging's column at most: the refs beside it take what is left."""


def glue_day_story(paper: ShopPaper) -> list[Flowable]:
    """Nothing where nothing is banded at the bench, or where no timetable could be made."""
    day, look = paper.estimate.glue_day, paper.look
    if day is None or day.why or not day.tasks:
        return []
    story = [title(paper.say("glue day"), look), paragraph(_words(paper, day), look)]
    for number in range(day.days):
        tasks = [task for task in day.tasks if task.start_min // DAY_MIN == number and _is_seen(task)]
        if tasks:
            if day.days > 1:
                story += heading(paper.say("day head", n=number + 1), look, level=1)
            story += [gap(0.5), _timetable(paper, day, tasks)]
    batches = [*heading(paper.say("the batches"), look, level=1), _batches(paper, day)]
    story += kept_whole(batches, look, most_share=SHORT_SHARE)
    return [*story, gap(0.5), *bullet_list([f"{words[:1].upper()}{words[1:].rstrip('.')}." for words in day.remarks], look)]


def _is_seen(task: GlueTask) -> bool:
    """The last seconds of a task that was broken off for the night are none to tick off."""
    return task.end_min - task.start_min >= _LEAST_MIN


def _words(paper: ShopPaper, day: GlueDay) -> str:
    hands = paper.say.counted("workers", len({task.worker for task in day.tasks}))
    return paper.say("glue day lead", start=paper.clock(day.start_min), end=paper.clock(day.end_min), hands=hands)


def _timetable(paper: ShopPaper, day: GlueDay, tasks: list[GlueTask]) -> Flowable:
    """One line a task, in the order of the clock."""
    several, say = len({task.worker for task in day.tasks}) > 1, paper.say
    rows: list[list[str | Flowable]] = []
    for task in sorted(tasks, key=lambda task: (task.start_min, task.worker)):
        batch, number = day.batches[task.batch], task.batch + 1
        who = [say("worker", n=task.worker + 1)] if several else []
        times = [paper.clock(minute % DAY_MIN) for minute in (task.start_min, task.end_min)]
        minutes = str(half_away(task.end_min) - half_away(task.start_min))
        which = say("batch with edging", n=number, edging=batch.edging, side=say(f"side {batch.side}"))
        rows.append([tick_box(), *times, minutes, *who, say(f"doing {task.doing}"), which, str(batch.edges)])
    time_mm = 17 if paper.language.clock_of_twelve else 14
    done = len(rows[0]) - 3
    columns = [
        Column(say("tick done"), width_mm=11),
        Column(say("from time"), width_mm=time_mm, align="right"),
        Column(say("to time"), width_mm=time_mm, align="right"),
        Column(say("minutes head"), width_mm=15, align="right"),
        *([Column(say("who"), width_mm=17)] if several else []),
        Column(say("what is done"), width_mm=fitting_mm((str(row[done]) for row in rows), least_mm=20)),
        Column(say("batch head")),
        Column(say("edges head"), width_mm=14, align="right"),
    ]
    return table(columns, rows, look=paper.look)


def _batches(paper: ShopPaper, day: GlueDay) -> Flowable:
    say = paper.say
    rows = [
        [str(number), f"{batch.edging}, {say(f'side {batch.side}')}", str(batch.edges), paper.long(batch.strip_m), _refs(batch)]
        for number, batch in enumerate(day.batches, start=1)
    ]
    columns = [
        Column(say("batch head"), width_mm=18, align="right"),
        Column(say("edging"), width_mm=min(fitting_mm((row[1] for row in rows), least_mm=44), _EDGING_MM)),
        Column(say("edges head"), width_mm=16, align="right"),
        Column(say("strip"), width_mm=20, align="right"),
        Column(say("in the order taken")),
    ]
    return table(columns, rows, look=paper.look)


def _refs(batch: GlueBatch) -> str:
    return ", ".join(dict.fromkeys(batch.refs))
