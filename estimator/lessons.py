"""What a folder of finished jobs taught, as sentences, as data and as times.xlsx; and into the shop's book when that is asked for."""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from datetime import date
from pathlib import Path

from estimator.costing.times.step_times import with_new_times
from estimator.learning import SHOP_LOG, Lesson, learn
from estimator.lesson_words import problems_of, told
from estimator.model.exact import Fraction
from estimator.model.problems import Problem
from estimator.model.times import StepTime
from estimator.papers.book import Refused
from estimator.papers.files import write_papers
from estimator.papers.times_book import NewCells, times_book, with_new_cells
from estimator.papers.times_book.data import learned_data
from estimator.reading.workbook import is_job_workbook

TAUGHT, TO_MEND, WRONG_WORDS = 0, 1, 2
BOOK = "times.xlsx"


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
        say(json.dumps({**learned_data(learned), "problems": [_problem(one) for one in problems_of(lesson)]}, ensure_ascii=False, indent=1))
    else:
        say("\n".join(told(lesson, book=BOOK)))
    if not learned.observed and not learned.material:
        return code
    try:
        write_papers(out, {BOOK: times_book(learned, with_new_times(lesson.work, learned.times), units=lesson.units)})
        written = _written(lesson, day, out=out) if write else ""
    except OSError as trouble:
        say(f"{trouble.filename or out} could not be written: {trouble.strerror}. Is it open in another program?")
        return TO_MEND
    sentences = [f"{out / BOOK} holds all of this, with a sheet Work as it would stand."]
    if write:
        sentences.append(written)
    elif any(time.state == "new" for time in learned.times):
        sentences.append("Nothing was changed in your price book; with --write the new times go into it.")
    if not as_json:
        say("\n" + "\n".join(sentences))
    return code


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
    content, noted = answer
    beside = out if is_job_workbook(book) else book.parent  # a second job workbook in the folder would be priced as a job
    copy = _copy_of(book, beside, day or lesson.learned.newest)
    write_papers(beside, {copy.name: book.read_bytes()})
    write_papers(book.parent, {book.name: content})
    spared = f"\nLeft as they are, for formulas stand there: {', '.join(noted.left)}." if noted.left else ""
    shown = ", ".join(noted.waiting[:6]) + (" and more" if len(noted.waiting) > 6 else "")
    waiting = f"\nOpen it in your spreadsheet program and save it once: formulas reckon with the new times ({shown})." if shown else ""
    return f"{book} has new times for {len(new)} step{'' if len(new) == 1 else 's'}; as it was before: {copy}.{spared}{waiting}"


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
