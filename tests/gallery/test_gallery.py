"""All that the program says of a whole job, of a file and at the prompt, in its exact words: the page is held to the program.

`python -m tests.gallery.test_gallery` writes the page anew; read it aloud before it is kept.
"""

from __future__ import annotations

import io
import os
import re
import shlex
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, redirect_stderr, redirect_stdout, suppress
from functools import cache
from pathlib import Path
from unittest import mock

import pytest

from estimator.__main__ import main
from estimator.batch import price_book
from estimator.costing.remarks import RULES
from estimator.learning import learn
from estimator.model.refusal import Refusal
from tests.gallery.cases import (
    BY_HAND,
    ENGINE,
    FILES,
    IN_INCHES,
    LOG,
    LOG_CHANGES,
    PROMPT,
    QUIET,
    QUIETLY,
    READING,
    REMARKS,
    cases,
    retyped_in_inches,
)
from tests.reading.base_books import JOB_SHEETS
from tests.reading.drawing import draw

PAGE = Path(__file__).with_name("gallery.md")
BOOK = "north-street.xlsx"
HEADS = {
    "remarks": "Remarks: worth a look, though the quote can go out",
    "engine": "Problems that come to light when the parts are worked out",
    "inches": "The same of a job in inches",
    "log": "Problems of a Time log, as `estimator learn` tells them",
    "files": "Files that are no workbook",
    "prompt": "Words at the prompt",
}


@contextmanager
def somewhere() -> Iterator[Path]:
    """A folder of its own, in which the command is typed."""
    before = Path.cwd()
    with tempfile.TemporaryDirectory() as folder:
        os.chdir(folder)
        try:
            yield Path(folder)
        finally:
            os.chdir(before)


def said_to(words: list[str]) -> str:
    heard = io.StringIO()
    with redirect_stdout(heard), redirect_stderr(heard), mock.patch("sys.stdin", io.StringIO()), suppress(SystemExit):
        main(words)
    return heard.getvalue().strip()


def remarks_of(path: Path) -> str:
    answer = price_book(path)
    return "\n".join(map(str, answer.remarks if not isinstance(answer, Refusal) else answer.problems))


def problems_of(path: Path) -> str:
    answer = price_book(path)
    return "\n".join(map(str, answer.problems)) if isinstance(answer, Refusal) else ""


def told_of_jobs() -> Iterator[tuple[str, str, str]]:
    for title, changes in cases(REMARKS).items():
        yield "remarks", title, remarks_of(draw(Path(BOOK), QUIET, changes={**QUIETLY, **changes}))
    for title, change in BY_HAND.items():
        path = draw(Path(BOOK), QUIET, changes=QUIETLY)
        change(path)
        yield "remarks", title, remarks_of(path)
    for title, changes in cases(ENGINE).items():
        yield "engine", title, problems_of(draw(Path(BOOK), QUIET, changes={**QUIETLY, **changes}))


def told_in_inches() -> Iterator[tuple[str, str, str]]:
    everything = {**cases(REMARKS), **cases(ENGINE), **cases(READING)}
    for title in IN_INCHES:
        path = draw(Path(BOOK), QUIET, changes={**QUIETLY, **everything[title]})
        retyped_in_inches(path)
        yield "inches", f"{title}, in inches", remarks_of(path)


def told_of_logs() -> Iterator[tuple[str, str, str]]:
    for line in LOG.strip().splitlines():
        title, _, row = line.partition(" | ")
        log = f"Date | Job | Step | Count | Minutes\n{row}"
        changes = {**QUIETLY, ("Work", "E5"): "plastic", **LOG_CHANGES.get(title, {})}
        draw(Path(BOOK), {**QUIET, "Time log": log}, changes=changes)
        lesson = learn(Path(), shop=None, out=Path("reports"))
        told = [*lesson.problems, *lesson.remarks, *(problem for refusal in lesson.refused for problem in refusal.problems)]
        yield "log", title, "\n".join(map(str, told))


def told_of_files() -> Iterator[tuple[str, str, str]]:
    for title, (name, content) in FILES.items():
        Path(name).write_bytes(content)
        yield "files", title, said_to(["check", name])
        Path(name).unlink()


def told_at_the_prompt() -> Iterator[tuple[str, str, str]]:
    draw(Path("kitchen.xlsx"), QUIET, changes={**QUIETLY, ("Cabinets", "A3"): "Kitchen 2"})
    draw(Path("shop.xlsx"), {name: table for name, table in QUIET.items() if name not in JOB_SHEETS})
    Path("my kitchen.xlsx").write_bytes(Path("kitchen.xlsx").read_bytes())
    Path("empty-folder").mkdir()
    Path("taken").mkdir()
    Path("taken", "shop.xlsx").write_bytes(b"mine")
    for typed in PROMPT.strip().splitlines():
        yield "prompt", f"estimator {typed}", said_to(shlex.split(typed))


@cache
def now() -> dict[str, dict[str, str]]:
    """Everything as it is said today, by part of the page and title."""
    told: dict[str, dict[str, str]] = {part: {} for part in HEADS}
    for make in (told_of_jobs, told_in_inches, told_of_logs, told_of_files, told_at_the_prompt):
        with somewhere():
            for part, title, words in make():
                told[part][title] = words
    return told


def page() -> str:
    parts = ["# What the program says of a job, of a file and at the prompt\n"]
    for part, cells in now().items():
        parts.append(f"# {HEADS[part]}\n")
        parts += [f"## {title}\n\n```\n{words}\n```\n" for title, words in cells.items()]
    return "\n".join(parts)


def told_on_the_page() -> dict[str, str]:
    sections = PAGE.read_text(encoding="utf-8").split("\n## ")[1:]
    return {section.partition("\n")[0]: section.split("```\n")[1].rstrip("\n") for section in sections}


@pytest.mark.parametrize("part", HEADS)
def test_the_page_says_what_the_program_says(part: str) -> None:
    page_says = told_on_the_page()
    for title, words in now()[part].items():
        assert words == page_says.get(title), title


def test_the_page_holds_these_cases_and_no_others() -> None:
    assert list(told_on_the_page()) == [title for cells in now().values() for title in cells]


def test_every_case_says_something_of_its_own() -> None:
    """The quiet workbook says nothing, so each remark on the page was brought about by its own change."""
    with somewhere():
        assert remarks_of(draw(Path(BOOK), QUIET, changes=QUIETLY)) == ""
    assert all(words for cells in now().values() for words in cells.values())


def test_a_shop_in_inches_is_never_told_of_millimetres_or_metres() -> None:
    """Lengths that the shop typed in mm are quoted as typed; here none is."""
    metric = re.compile(r"[0-9] (mm|m|metres?)\b")
    assert [(title, words) for title, words in now()["inches"].items() if metric.search(words)] == []
    assert any(metric.search(words) for words in now()["engine"].values())  # so the search can find


def test_every_remark_of_the_engine_is_on_the_page() -> None:
    told = set()
    with somewhere():
        for changes in cases(REMARKS).values():
            answer = price_book(draw(Path(BOOK), QUIET, changes={**QUIETLY, **changes}))
            if not isinstance(answer, Refusal):
                told |= {rule.__name__ for rule in RULES if list(rule(answer))}
    assert {rule.__name__ for rule in RULES} == told


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
