"""What a folder of finished jobs taught, in; lines for the terminal out, none wider than 80 signs but for the places of problems.

Estimated against real minutes by stage and, below each, by step; the new times with how sure each is; what was left aside, named.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence

from estimator.learning import Lesson
from estimator.model.exact import Fraction
from estimator.model.problems import Problem
from estimator.model.times import Compared, Learned, Observed, StepTime
from estimator.model.units import decimal_text, money_text
from estimator.papers.times_book.said import material_words, minutes, percent, time_words

WIDE = 80
_NAME = 34
_MOST_LEFT_ASIDE = 12


def told(lesson: Lesson, *, book: str) -> Iterator[str]:
    """Everything, most useful first; problems before it, because they say what is not in it. `book` holds all of it as a workbook."""
    learned = lesson.learned
    if problems := problems_of(lesson):
        yield f"{_many(len(problems), 'problem')} to mend; these rows and jobs are not in what follows:\n"
        yield from (f"{problem}\n" for problem in problems)
    if not learned.observed and not learned.material:
        jobs = _many(lesson.jobs, "job")
        yield from broken(f"{jobs} read, and no row of a Time log in them: note what the bench takes, then run this again.")
        return
    yield from _opening(lesson)
    yield from _stages_and_steps(learned)
    yield from _new_times(learned)
    yield from _left_aside([one for one in learned.observed if one.wild], book)
    if learned.material:
        yield "\nMaterial:"
        for use in learned.material:
            yield from broken(f"{use.name}: {material_words(use)}", first=4, then=8)
    yield from _again(learned)
    for remark in lesson.remarks:
        yield from broken(f"remark  {remark}", first=4, then=12)


def problems_of(lesson: Lesson) -> tuple[Problem, ...]:
    """The logs' own, then those of jobs that could not be read."""
    return (*lesson.problems, *(problem for refusal in lesson.refused for problem in refusal.problems))


def broken(words: str, *, first: int = 0, then: int = 0) -> list[str]:
    """A sentence in lines that fit a terminal, between words only, so that a path stays whole.

    >>> broken("a row of words that is broken where the terminal ends, and set in below its first line", first=4, then=8)
    ['    a row of words that is broken where the terminal ends, and set in below its', '        first line']
    """
    start, rest = " " * first, " " * then
    return textwrap.wrap(
        words, WIDE, initial_indent=start, subsequent_indent=rest, break_long_words=False, break_on_hyphens=False
    )


def _many(count: int, what: str) -> str:
    return f"{count} {what}{'' if count == 1 else 's'}"


def _opening(lesson: Lesson) -> Iterator[str]:
    observed = lesson.learned.observed
    rows = sum(one.rows for one in observed)
    real = sum((one.real_min for one in observed), start=Fraction(0))
    estimated = sum((one.estimated_min for one in observed), start=Fraction(0))
    yield f"{_many(lesson.jobs, 'job')}, {_many(rows, 'row')} of work in their logs."
    if estimated:
        hours = f"{decimal_text(real / 60, places=1)} hours; the estimates allowed {decimal_text(estimated / 60, places=1)}"
        yield f"What was logged took {hours} ({_more_or_less(real / estimated - 1)})."


def _more_or_less(share: Fraction) -> str:
    shown = decimal_text(abs(share) * 100, places=0)
    return "the same" if shown == "0" else f"{shown} % {'more' if share > 0 else 'less'}"


# --- real against estimated -------------------------------------------------------------------------------------------


def _stages_and_steps(learned: Learned) -> Iterator[str]:
    """Each stage with the steps below it that were logged in it."""
    yield f"\n    {'stage, and its steps as logged'.ljust(_NAME)}  estimated    real  minutes"
    stage_of = {one.name: one.stage for one in learned.observed}
    for stage in learned.by_stage:
        yield from _compared(stage.name or "without a stage", stage, indent=4)
        for step in learned.by_step:
            if stage_of[step.name] == stage.name:
                yield from _compared(step.name, step, indent=6)


def _compared(name: str, one: Compared, *, indent: int) -> Iterator[str]:
    """One line; a name that is too long, such as that of several steps, is broken before its figures."""
    room = _NAME + 4 - indent
    *above, last = textwrap.wrap(name, room, subsequent_indent="  ", break_long_words=False, break_on_hyphens=False) or [""]
    yield from (" " * indent + line for line in above)
    figures = f"{decimal_text(one.estimated_min, places=0):>9}{decimal_text(one.real_min, places=0):>8}"
    change = _more_or_less(one.real_min / one.estimated_min - 1) if one.estimated_min else "not estimated"
    yield f"{' ' * indent}{last.ljust(room)}  {figures}  {change}"


# --- new times --------------------------------------------------------------------------------------------------------


def _new_times(learned: Learned) -> Iterator[str]:
    new = [time for time in learned.times if time.state == "new"]
    if new:
        yield "\nNew standard minutes of one, rest and rating included. Nine times in ten the"
        yield "true time lies within the percentage shown:\n"
        yield f"    {'step'.ljust(_NAME)}     now     new  within  rows"
        yield from (_new_time(time) for time in new)
        yield from _common_corrections(new)
    for time in learned.times:
        if time.state in ("too few", "at odds"):
            yield from broken(f"{time.step.step}: {time_words(time)}", first=4, then=8)
    if never := [time.step.step for time in learned.times if time.state == "never timed"]:
        yield from broken(f"Never timed: {'; '.join(never)}.", then=4)


def _new_time(time: StepTime) -> str:
    """Steps that are not told apart are as sure as both together; the star says so."""
    within = time.shared_within_share if time.shared else time.within_share
    sure = "" if within is None else percent(within)
    star = " *" if time.shared or time.together else ""
    rows = f"{time.rows}{f', {time.wild} left aside' if time.wild else ''}"
    name = textwrap.shorten(time.step.step, _NAME, placeholder=" ...")
    return f"    {name.ljust(_NAME)}  {minutes(time.now_min):>6}  {minutes(proposed_min(time)):>6}  {sure:>6}  {rows}{star}"


def _common_corrections(new: Sequence[StepTime]) -> Iterator[str]:
    """One sentence for each group of steps that share a correction, however many of them there are."""
    told: set[frozenset[str]] = set()
    for time in new:
        group = frozenset((time.step.step, *time.shared, *time.together))
        if len(group) == 1 or group in told:
            continue
        told.add(group)
        names = " and ".join((time.step.step, *dict.fromkeys((*time.shared, *time.together))))
        yield from broken(
            f"* {names}: the log does not tell them apart, so they share one correction. Time them in rows of their own to know each.",
            first=4, then=6,
        )  # fmt: skip


def proposed_min(time: StepTime) -> Fraction:
    """Standard minutes that the new Minutes stand for: in proportion, for rating and allowance stay as they are."""
    if time.minutes is None:
        return time.now_min
    return time.minutes / time.step.minutes * time.now_min if time.step.minutes else time.minutes


# --- what was left aside, and the quotes again ------------------------------------------------------------------------


def _left_aside(wild: Sequence[Observed], book: str) -> Iterator[str]:
    if wild:
        yield "\nLeft aside in the new times, too far from the others; look at the cell:"
    for one in wild[:_MOST_LEFT_ASIDE]:
        note = f" ({one.note})" if one.note else ""
        took = f"{decimal_text(one.real_min, places=0)} minutes where the estimate had {decimal_text(one.estimated_min, places=0)}"
        yield from broken(f"{one.at.place('Minutes')}: {one.name}, {took}{note}", first=4, then=8)
    if len(wild) > _MOST_LEFT_ASIDE:
        yield f"    and {len(wild) - _MOST_LEFT_ASIDE} more; all stand in {book}"


def _again(learned: Learned) -> Iterator[str]:
    """What the quotes would have been, where a new time changes them."""
    changed = [one for one in learned.quotes if one.new_minutes != one.minutes]
    if changed:
        yield "\nThe quotes with the new times, before tax:"
    wide = max((len(one.job) for one in changed), default=0)
    for one in changed:
        before, after = (money_text(net, currency=one.currency) for net in (one.net, one.new_net))
        share = percent((one.new_net / one.net - 1), places=1) if one.net else ""
        hours = f"{decimal_text(one.minutes / 60, places=1)} -> {decimal_text(one.new_minutes / 60, places=1)} hours"
        sign = "+" if one.new_net > one.net else ""
        yield f"    {one.job.ljust(wide)}  {before} -> {after} {one.currency} ({sign}{share}), {hours}"
