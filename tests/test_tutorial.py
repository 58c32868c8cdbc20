"""README's tutorial, followed word by word: its commands run, its cells are typed in, what it shows is what is printed.

`python -m tests.test_tutorial` writes what the commands print today into README; read it before it is kept.
"""

from __future__ import annotations

import io
import os
import re
import shlex
import sys
import tempfile
from collections.abc import Iterator
from contextlib import redirect_stderr, redirect_stdout, suppress
from pathlib import Path

import pypdf
import pytest
from openpyxl import load_workbook

from estimator.__main__ import main

README = Path(__file__).parents[1] / "README.md"
_BLOCK = re.compile(r"^```\n(\$ .*?)^```$", re.MULTILINE | re.DOTALL)
_TABLE = re.compile(r"^\| workbook \| sheet \| cell \| type \|\n\|[-|]+\|\n((?:\|.*\|\n)+)", re.MULTILINE)


def tutorial(readme: str) -> str:
    return readme.partition("<!-- tutorial -->")[2].partition("<!-- /tutorial -->")[0]


def steps(text: str) -> Iterator[tuple[str, str]]:
    """The blocks of commands and the tables of cells, in the order in which they stand."""
    found = [(one.start(), "commands", one[1]) for one in _BLOCK.finditer(text)]
    found += [(one.start(), "cells", one[1]) for one in _TABLE.finditer(text)]
    for _, what, content in sorted(found):
        yield what, content


def type_in(rows: str) -> None:
    """Each cell as a person types it: a number becomes a number, all else stays text."""
    for line in rows.strip().splitlines():
        name, sheet, cell, typed = (one.strip() for one in line.strip("|").split("|"))
        book = load_workbook(name)
        number = re.fullmatch(r"\d+(\.\d+)?", typed)
        book[sheet][cell] = float(typed) if number else typed
        book.save(name)


def printed_by(command: str) -> str:
    program, *words = shlex.split(command)
    if program == "cd":
        os.chdir(words[0])
        return ""
    assert program == "estimator", command
    heard = io.StringIO()
    with redirect_stdout(heard), redirect_stderr(heard), suppress(SystemExit):
        main(words)
    return heard.getvalue().rstrip("\n").replace("\\", "/")


def followed(text: str) -> Iterator[tuple[str, str]]:
    """Each block of commands as README has it, and as it comes out now."""
    for what, content in steps(text):
        if what == "cells":
            type_in(content)
            continue
        commands = [line.removeprefix("$ ") for line in content.splitlines() if line.startswith("$ ")]
        yield content, "".join(f"$ {command}\n{said}{said and chr(10)}" for command in commands for said in [printed_by(command)])


@pytest.mark.skipif(sys.platform != "linux", reason="README shows the launchers that Linux gets")
def test_the_tutorial_word_by_word(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    text = tutorial(README.read_text(encoding="utf-8"))
    blocks = list(followed(text))
    for shown, now in blocks:
        assert now == shown
    assert len(blocks) >= 7
    paper = pypdf.PdfReader(tmp_path / "my-shop" / "reports" / "first-job" / "1" / "quote.pdf")
    quote = " ".join(page.extract_text() for page in paper.pages)
    assert "Osier Lane Cabinets" in quote
    assert "Fern Cottage Guesthouse" in quote
    assert sorted(path.name for path in (tmp_path / "my-shop" / "reports" / "first-job").iterdir()) == ["1"]


def write_anew() -> None:
    """Write into README what the commands print now."""
    readme = README.read_text(encoding="utf-8")
    before, at = Path.cwd(), 0
    with tempfile.TemporaryDirectory() as folder:
        os.chdir(folder)
        for shown, now in list(followed(tutorial(readme))):
            at = readme.index(f"```\n{shown}```", at)
            readme = f"{readme[:at]}```\n{now}```{readme[at + len(shown) + 7 :]}"
            at += len(now)
        os.chdir(before)
    README.write_text(readme, encoding="utf-8")


if __name__ == "__main__":
    write_anew()
