"""What a folder of finished jobs taught, as sentences, as data and as times.xlsx; and into the shop's book when that is asked for."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Sequence
from datetime import date
from pathlib import Path

from estimator.costing.times.step_times import with_new_times
from estimator.learning import SHOP_LOG, Lesson, learn
from estimator.model.exact import Fraction
from estimator.model.problems import Problem
from estimator.model.times import Compared, Learned, Observed, StepTime
from estimator.model.units import decimal_text, money_text
from estimator.papers.book import Refused
from estimator.papers.files import write_papers
from estimator.papers.times_book import NewCells, times_book, with_new_cells
from estimator.papers.times_book.data import learned_data
from estimator.papers.times_book.said import material_words, minutes, percent, time_words
from estimator.reading.workbook import is_job_workbook

TAUGHT, TO_MEND, WRONG_WORDS = 0, 1, 2
BOOK = "times.xlsx"
_MOST_LEFT_ASIDE = 12


def run(folder: Path, *, shop: Path | None, out: Path, write: bool, day: date | None, as_json: bool, say: Callable[[str], None]) -> int:
    """Learn from a folder, tell it, write times.xlsx; with `write` change the shop's sheet Work after a dated copy."""
    if (folder / SHOP_LOG).is_file() and (out / BOOK).resolve() == (folder / SHOP_LOG).resolve():
        say(f"{folder / SHOP_LOG} is your own log and would be written over; name another folder for the answer with --out")
        return WRONG_WORDS
    lesson = learn(folder, shop=shop, out=out)
    if not lesson.jobs and not lesson.refused and not as_json:
        say(f"There is no job workbook in {folder}; name the folder in which the finished jobs lie")
        return TO_MEND
    learned, code = lesson.learned, TO_MEND if lesson.problems or lesson.refused else TAUGHT
    if as_json:
        say(json.dumps({**learned_data(learned), "problems": [_problem(one) for one in _problems(lesson)]}, ensure_ascii=False, indent=1))
    else:
        say("\n".join(_told(lesson)))
    if not learned.observed and not learned.material:
        return code
    try:
        write_papers(out, {BOOK: times_book(learned, with_new_times(lesson.work, learned.times), units=lesson.units)})
        written = _written(lesson, day, out=out) if write else ""
    except OSError as trouble:
        say(f"{trouble.filename or out} could not be written: {trouble.strerror}. Is it open in another program?")
        return TO_MEND
    sentence = f"{out / BOOK} holds all of this, with a sheet Work as it would stand."
    if write:
        sentence += f" {written}"
    elif any(time.state == "new" for time in learned.times):
        sentence += " Nothing was changed in your price book; to have the new times in it, add --write."
    if not as_json:
        say(f"\n{sentence}")
    return code


def _problems(lesson: Lesson) -> tuple[Problem, ...]:
    return (*lesson.problems, *(problem for refusal in lesson.refused for problem in refusal.problems))


def _problem(one: Problem) -> dict[str, str]:
    return {"place": str(one.place), "found": one.found, "expected": one.expected, "mend": one.mend}


# --- into the shop's book ---------------------------------------------------------------------------------------------


def _written(lesson: Lesson, day: date | None, *, out: Path) -> str:
    """Change Minutes, Low, High and Timed of the steps with a new time; the sentence that says so, or why not."""
    new = [time for time in lesson.learned.times if time.state == "new"]
    if lesson.problems:
        return "The price book was not changed: mend the problems above first."
    if not new or lesson.shop_book is None:
        return "There is no new time to write."
    book, sheet = lesson.shop_book, new[0].step.at.sheet
    answer = with_new_cells(book.read_bytes(), sheet, new_cells(new))
    if isinstance(answer, Refused):
        return f"The price book was not changed: {answer.reason}"
    content, left = answer
    beside = out if is_job_workbook(book) else book.parent  # a second job workbook in the folder would be priced as a job
    copy = _copy_of(book, beside, day or lesson.learned.newest)
    write_papers(beside, {copy.name: book.read_bytes()})
    write_papers(book.parent, {book.name: content})
    spared = f" Left as they are, for formulas stand there: {', '.join(left.cells)}." if left.cells else ""
    return f"{book} has new times for {len(new)} step{'' if len(new) == 1 else 's'}; as it was before: {copy}.{spared}"


def new_cells(times: Sequence[StepTime]) -> NewCells:
    """The cells of Work that change; a column that the sheet does not have is passed over."""
    cells: dict[str, Fraction | str] = {}
    for time in times:
        wanted = {"Minutes": time.minutes, "Low": time.low_min, "High": time.high_min, "Timed": "yes"}
        for header, value in wanted.items():
            letter = time.step.at.letters.get(header)
            if letter and value is not None:
                cells[f"{letter}{time.step.at.number}"] = value
    return cells


def _copy_of(book: Path, folder: Path, day: date | None) -> Path:
    """A place for the copy where nothing stands yet."""
    stem = f"{book.stem} before {day.isoformat()}" if day else f"{book.stem} before"
    names = [f"{stem}{book.suffix}", *(f"{stem} ({number}){book.suffix}" for number in range(2, 1000))]
    return next(path for name in names if not (path := folder / name).exists())


# --- sentences --------------------------------------------------------------------------------------------------------


def _told(lesson: Lesson) -> Iterator[str]:
    """Everything, most useful first; problems before it, because they say what is not in it."""
    learned = lesson.learned
    if problems := _problems(lesson):
        yield f"{len(problems)} problem{'' if len(problems) == 1 else 's'} to mend; these rows and jobs are not in what follows:\n"
        yield from (f"{problem}\n" for problem in problems)
    if not learned.observed and not learned.material:
        yield f"{_many(lesson.jobs, 'job')} read, and no row of a Time log in them: note what the bench takes, then run this again."
        return
    yield from _opening(lesson)
    yield from _table("stage", learned.by_stage)
    yield from _new_times(learned)
    yield from _left_aside([one for one in learned.observed if one.wild])
    if learned.material:
        yield "\nMaterial:"
        yield from (f"    {use.name}: {material_words(use)}" for use in learned.material)
    yield from _again(learned)
    yield from (f"    remark  {remark}" for remark in lesson.remarks)


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


def _table(title: str, all_of: Sequence[Compared]) -> Iterator[str]:
    wide = max((len(one.name) for one in all_of), default=0)
    yield f"\n    {title.ljust(wide)}  estimated    real  minutes"
    for one in all_of:
        figures = f"{decimal_text(one.estimated_min, places=0):>9}{decimal_text(one.real_min, places=0):>8}"
        change = _more_or_less(one.real_min / one.estimated_min - 1) if one.estimated_min else "not estimated"
        yield f"    {one.name.ljust(wide)}  {figures}  {change}"


def _new_times(learned: Learned) -> Iterator[str]:
    new = [time for time in learned.times if time.state == "new"]
    if new:
        yield "\nNew standard minutes of one, rest and rating included:"
        wide = max(len(time.step.step) for time in new)
        for time in new:
            figures = f"{minutes(time.now_min):>6} -> {minutes(proposed_min(time)):<6}"
            yield f"    {time.step.step.ljust(wide)}  {figures} {time_words(time)}"
    for time in learned.times:
        if time.state in ("too few", "at odds"):
            yield f"    {time.step.step}: {time_words(time)}"
    if never := [time.step.step for time in learned.times if time.state == "never timed"]:
        yield f"Never timed: {'; '.join(never)}."


def proposed_min(time: StepTime) -> Fraction:
    """Standard minutes that the new Minutes stand for: in proportion, for rating and allowance stay as they are."""
    if time.minutes is None:
        return time.now_min
    return time.minutes / time.step.minutes * time.now_min if time.step.minutes else time.minutes


def _left_aside(wild: Sequence[Observed]) -> Iterator[str]:
    if wild:
        yield "\nLeft aside in the new times, too far from the others; look at the cell:"
    for one in wild[:_MOST_LEFT_ASIDE]:
        note = f" ({one.note})" if one.note else ""
        took = f"{decimal_text(one.real_min, places=0)} minutes where the estimate had {decimal_text(one.estimated_min, places=0)}"
        yield f"    {one.at.place('Minutes')}: {one.name}, {took}{note}"
    if len(wild) > _MOST_LEFT_ASIDE:
        yield f"    and {len(wild) - _MOST_LEFT_ASIDE} more; all stand in {BOOK}"


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
