"""A shop's own words, looked at as a whole: its folder goes in; every line and file that no paper can use comes out.

So all of it is told in one run and before anything is printed, though the papers read their files one after the other.
"""

from __future__ import annotations

from collections.abc import Iterator
from difflib import get_close_matches
from pathlib import Path

from estimator.model.problems import Place, Problem
from estimator.papers.page.phrases import OURS, read_words, where, wrong_lines

_PHRASES = ("labels", "shop", "owner", "common")
_ALIKE = 0.75
"""How alike a file's name must be to one of ours to be taken for a slip."""
_KEEP_OURS = "or take it out of the folder so that our own words are used"


def wrong_words(folder: Path, *, language_code: str) -> tuple[Problem, ...]:
    """Every problem of the folder and of its part for the language, in the order of the files and their lines."""
    ours = {file.name for file in (OURS / language_code).iterdir()}
    return tuple(
        problem
        for place in (folder, folder / language_code)
        if place.is_dir()
        for file in sorted(place.iterdir())
        if file.is_file()
        for problem in _of_file(file, ours=ours, language_code=language_code)
    )


def _of_file(file: Path, *, ours: set[str], language_code: str) -> Iterator[Problem]:
    if file.name not in ours:
        if file.suffix.lower() == ".txt" or f"{file.stem}.txt" in ours:
            yield _unknown(file, ours)
        return
    try:
        text = file.read_text(encoding="utf-8-sig")
    except UnicodeDecodeError:
        mend = f"save it as plain text in UTF-8, {_KEEP_OURS}"
        yield Problem(Place(where(file)), "a file that is not UTF-8 text", "a text file in UTF-8", mend)
        return
    if file.stem in _PHRASES:
        of_ours = read_words((OURS / language_code / file.name).read_text(encoding="utf-8"))
        yield from wrong_lines(text, of_ours, file=file)
    else:
        yield from _of_template(text, file=file, language_code=language_code)


def _unknown(file: Path, ours: set[str]) -> Problem:
    near = [f"{file.stem}.txt"] if f"{file.stem}.txt" in ours else get_close_matches(file.name, sorted(ours), n=1, cutoff=_ALIKE)
    mend = f"did you mean {near[0]}?" if near else "give it the name of the words that it stands for, or take it out of the folder"
    return Problem(Place(where(file)), "a file that no paper reads", f"files named like ours: {', '.join(sorted(ours))}", mend)


def _of_template(text: str, *, file: Path, language_code: str) -> Iterator[Problem]:
    """A template whose marks are not closed; what it names is seen when it is filled in."""
    from jinja2 import TemplateSyntaxError

    from estimator.papers.page.wording import templates_of

    try:
        templates_of(language_code, file.parent).parse(text)
    except TemplateSyntaxError as error:
        lines = text.splitlines()
        shown = lines[error.lineno - 1].strip() if error.lineno <= len(lines) else ""
        yield Problem(
            Place(where(file), cell=f"line {error.lineno}"),
            f"a mark that is not closed, or one of another kind: {shown}"[:200],
            "a name between {{ and }}, or an instruction between {% and %}",
            f"close the mark, {_KEEP_OURS}",
        )
