"""A shop's first hour: a handful of answers, typed or given as options, in; a folder that can price a job at once, out.

Nothing that is there is ever overwritten: where one of the new files stands already, none is written.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Mapping
from datetime import date
from pathlib import Path
from typing import Any

from estimator.model.form import BOARDS, JOB, SHOP, Column, Sheet, expected
from estimator.papers.files import write_papers
from estimator.papers.first_shop import EDGINGS_TO_CHOOSE, Answers, Machine, first_folder
from estimator.prompting import quoted
from estimator.questions import UNITS, Question, questions
from estimator.reading.cells import read_cell
from estimator.reading.names import close_to, fold
from estimator.reading.raw_cells import Cell
from estimator.reading.typed_numbers import Units, Wrong

_EDGING_NAMES = f"names out of {', '.join(EDGINGS_TO_CHOOSE)}"
_SMALLEST_SHEET_MM = 600
"""Whoever names a smaller sheet has most likely left the unit out: 8 x 4 are feet (common practice)."""
READY, NOT_WRITTEN, WRONG_WORDS = 0, 1, 2
_RUNS_WHEN_CLICKED = (".sh", ".command", ".desktop")
Say = Callable[[str], None]
Ask = Callable[[str], str]


def _column(sheet: Sheet, header: str) -> Column:
    return next(column for column in sheet.columns if column.header == header)


_COLUMNS = {
    "units": _column(JOB, "Units"),
    "currency": _column(JOB, "Currency"),
    "paper": _column(JOB, "Paper"),
    "wage": _column(SHOP, "Wage"),
    "workers": _column(SHOP, "Workers"),
    "paid-hours": _column(SHOP, "Paid hours"),
    "bench-hours": _column(SHOP, "Productive hours"),
    "overhead": _column(SHOP, "Overhead a year"),
}


def read_answer(option: str, text: str, *, units: Units) -> Any:
    """One answer as the workbook would read it, or a Wrong that says what is expected and what to type."""
    match option:
        case "name":
            return text
        case "tax":
            return _tax(text)
        case "sheet":
            return _sheet(text, units=units)
        case "edgings":
            return _edgings(text)
    value = _read(text, _COLUMNS[option], units=units)
    if option == "wage" and value == 0:
        return Wrong("the number 0", "type what an hour is worth, your own too: a shop that is not paid cannot last", "money above 0")
    return value


def _read(text: str, column: Column, *, units: Units) -> Any:
    value = read_cell(Cell(text), column, units=units)
    return value._replace(expected=value.expected or expected(column, units=units)) if isinstance(value, Wrong) else value


def _tax(text: str) -> Any:
    """`VAT 20 %`: the words before the first digit are the name."""
    digits = next((i for i, sign in enumerate(text) if sign.isdigit()), len(text))
    typed = text[digits:]
    share = _read(typed, _column(JOB, "Tax rate"), units="mm") if typed else Wrong(f"the text {text}", "type the rate too")
    if isinstance(share, Wrong):
        return share._replace(expected="the name of the tax and its rate, such as VAT 20 %")
    return text[:digits].strip(" ,:=") or "Tax", share


def _sheet(text: str, *, units: Units) -> Any:
    sizes = [one.strip() for one in fold(text).replace("×", "x").replace(" by ", "x").split("x")]
    like = "length x width, such as " + ("97 x 49" if units == "inch" else "2800 x 2070")
    if len(sizes) != 2 or not all(sizes):
        return Wrong(f"the text {text}", "type two sizes with an x between them", like)
    read = [(_read(size, _column(BOARDS, "Sheet length"), units=units), size) for size in sizes]
    for value, _ in read:
        if isinstance(value, Wrong):
            return value
    if min(value for value, _ in read) < _SMALLEST_SHEET_MM:
        feet = " x ".join(f"{size}'" for size in sizes)
        like_feet, like_m = f"type it in inches, or with its unit, such as {feet}", "type it in mm, or with its unit: 2.8 m x 2.07 m"
        mend = like_feet if units == "inch" else like_m
        unit = "inches" if units == "inch" else "mm"
        return Wrong(f"the text {text}: in {unit} no sheet is so small", mend, like)
    return tuple(size for _, size in sorted(read, key=lambda one: one[0], reverse=True))


def _edgings(text: str) -> Any:
    chosen: list[str] = []
    for typed in filter(None, (one.strip() for one in text.split(","))):
        near = next((name for name in EDGINGS_TO_CHOOSE if fold(name) == fold(typed)), None)
        if near is None:
            begins_so = (name for name in EDGINGS_TO_CHOOSE if fold(name).startswith(fold(typed)))
            guess = next(begins_so, None) or close_to(typed, EDGINGS_TO_CHOOSE)
            mend = f"did you mean {guess}?" if guess else "take the nearest one, and write yours over it in shop.xlsx"
            return Wrong(f"the text {typed}", mend, _EDGING_NAMES)
        chosen.append(near)
    return tuple(dict.fromkeys(chosen)) or Wrong("nothing", "name at least one edging", _EDGING_NAMES)


def start(folder: Path, given: Mapping[str, str], *, ask: Ask | None, say: Say, today: date) -> int:
    """Ask what is not given, then write the folder; the exit code."""
    try:
        answers = _answers(given, ask=ask, say=say, today=today)
    except (EOFError, KeyboardInterrupt):
        say("\nStopped. Nothing was written.")
        return WRONG_WORDS
    if answers is None:
        return WRONG_WORDS
    here, home = str(folder.resolve()), os.environ.get("USERPROFILE", "")
    files = first_folder(answers, machine=this_machine(), python=sys.executable, folder=here, home=home)
    there = [name for name in files if (folder / name).exists()]
    if there:
        say(f"{folder} holds {', '.join(there)} already, and that stays as it is: nothing was written. Name another folder")
        return WRONG_WORDS
    try:
        write_papers(folder, files)
        for name in files:
            if name.endswith(_RUNS_WHEN_CLICKED):
                (folder / name).chmod(0o755)
    except OSError as trouble:
        say(f"{folder} could not be written: {trouble.strerror}")
        return NOT_WRITTEN
    say(_ready(folder, list(files)))
    return READY


def _answers(given: Mapping[str, str], *, ask: Ask | None, say: Say, today: date) -> Answers | None:
    """Every answer; None where one is missing or wrong and there is nobody to ask."""
    units = _one(UNITS, given, ask=ask, say=say, units="mm")
    if isinstance(units, Wrong):
        return None
    answers = {one.option: _one(one, given, ask=ask, say=say, units=units) for one in questions(units)}
    if any(isinstance(answer, Wrong) for answer in answers.values()):
        missing = [one for one in questions(units) if answers[one.option] == _MISSING]
        if missing:
            say(_options_missing(missing))
        return None
    tax_name, tax_rate_share = answers["tax"]
    typed = {option for option in ("paid-hours", "bench-hours", "sheet") if _differs(option, given, answers, units)}
    return Answers(
        units=units,
        currency=answers["currency"],
        paper=answers["paper"],
        tax_name=tax_name,
        tax_rate_share=tax_rate_share,
        wage=answers["wage"],
        overhead_a_year=answers["overhead"],
        day=today,
        shop_name=answers["name"],
        workers=answers["workers"],
        paid_hours=answers["paid-hours"] if "paid-hours" in typed else None,
        bench_hours=answers["bench-hours"] if "bench-hours" in typed else None,
        sheet=answers["sheet"] if "sheet" in typed else None,
        edgings=answers["edgings"],
    )


def _differs(option: str, given: Mapping[str, str], answers: Mapping[str, Any], units: Units) -> bool:
    """Whether an answer was given that is not simply the starting number."""
    default = next(one.default for one in questions(units) if one.option == option)
    return option in given or answers[option] != read_answer(option, default, units=units)


_MISSING = Wrong("nothing", "")


def _one(question: Question, given: Mapping[str, str], *, ask: Ask | None, say: Say, units: Units) -> Any:
    """The answer to one question, from its option or from the person; asked again until it can be read."""
    if question.option in given or ask is None:
        text = given.get(question.option, question.default)
        if not text and not question.may_be_blank:
            return _MISSING
        answer = read_answer(question.option, text, units=units)
        if isinstance(answer, Wrong):
            say(f"--{question.option}\n{_wrong_words(answer)}")
        return answer
    while True:
        text = ask(_asked(question)).strip() or question.default
        if not text and not question.may_be_blank:
            say("    this one is needed")
            continue
        answer = read_answer(question.option, text, units=units)
        if not isinstance(answer, Wrong):
            return answer
        say(_wrong_words(answer))


def _asked(question: Question) -> str:
    """The question, below it what may be typed and what Enter alone means, and a sign that it is the person's turn."""
    hint = f"one or more of {', '.join(EDGINGS_TO_CHOOSE)}; with commas" if question.option == "edgings" else question.hint
    enter = f"Enter alone: {question.default}" if question.default else "Enter alone: none" if question.may_be_blank else ""
    return "\n".join(filter(None, (f"\n{question.words}", f"    {hint}", enter and f"    {enter}", "> ")))


def _wrong_words(wrong: Wrong) -> str:
    return f"    found     {wrong.found}\n    expected  {wrong.expected}\n    to mend   {wrong.mend}"


def _options_missing(missing: list[Question]) -> str:
    lines = ["There is nobody to ask here, so these answers must be given as options:"]
    lines += [f"    --{one.option.ljust(12)}{one.words} ({one.hint})" for one in missing]
    lines.append('for example: estimator start my-shop --currency EUR --tax "VAT 20 %" --wage 24 --overhead 42000')
    return "\n".join(lines)


def this_machine() -> Machine:
    """The kind of computer that this is: the launchers go with it."""
    return "windows" if sys.platform == "win32" else "macos" if sys.platform == "darwin" else "linux"


def _ready(folder: Path, names: list[str]) -> str:
    launchers = [name for name in names if name.endswith((".cmd", ".command", ".desktop"))]
    return "\n".join((
        f"{folder} is ready:",
        "    shop.xlsx         your price book; every number has a note that says where it comes from",
        "    first-job.xlsx    a job of one cabinet, to write over",
        "    next-steps.html   what to do next",
        *(f"    {name}" for name in launchers),
        f"Now go into it (cd {quoted(str(folder))}) and type: estimator price first-job.xlsx",
    ))  # fmt: skip
