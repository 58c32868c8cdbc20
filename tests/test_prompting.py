"""Wrong words at the prompt get the ones that were meant; every command's help fits one screen and holds an example."""

from __future__ import annotations

from pathlib import Path

import pytest

from estimator.__main__ import main
from estimator.commands import commands
from estimator.prompting import _commands

COMMANDS = sorted(_commands(commands()))
SCREEN_WIDE, SCREEN_HIGH = 80, 24


def said_to(words: list[str], capsys: pytest.CaptureFixture[str]) -> tuple[int, str]:
    try:
        code = main(words)
    except SystemExit as stop:
        code = int(stop.code or 0)
    return code, capsys.readouterr().err


@pytest.mark.parametrize("name", ["", *COMMANDS])
def test_help_fits_one_screen_and_holds_an_example(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        main([name, "--help"] if name else ["--help"])
    lines = capsys.readouterr().out.rstrip("\n").splitlines()
    assert len(lines) <= SCREEN_HIGH
    assert max(map(len, lines)) <= SCREEN_WIDE
    assert any(line.startswith("Example:  estimator ") for line in lines)
    assert lines[0].endswith(".")


@pytest.mark.parametrize("name", COMMANDS)
def test_the_example_of_a_command_is_no_wrong_word(name: str) -> None:
    example = _commands(commands())[name].example.split()
    assert example[0] == "estimator"
    assert commands().read(example[1:]).command == name


# what is typed | what the answer must hold
CASES = """
prise kitchen.xlsx | no command prise. Did you mean price?
chekc kitchen.xlsx | Did you mean check?
dance | The commands are
price | something is missing: FILE
price --shpo s.xlsx kitchen.xlsx | no option --shpo. Did you mean --shop?
price kitchen.xlsx --frobnicate | no option --frobnicate
price kitchen.xlsx --out | --out wants a word behind it
price kitchn.xlsx | kitchn.xlsx is not there. Did you mean kitchen.xlsx?
price kitchen | kitchen is not there. Did you mean kitchen.xlsx?
price nothing-like-it.xlsx | The workbooks in this folder: kitchen.xlsx
price nowhere/kitchen.xlsx | there is no folder nowhere either
check kitchen.xlsx --shop shpo.xlsx | shpo.xlsx is not there
kitchen.xlsx | Did you mean: estimator price kitchen.xlsx
-v | a command is missing
blank one two | there is no room for two
"""


@pytest.mark.parametrize("case", CASES.strip().splitlines(), ids=lambda case: case.split(" | ")[0])
def test_wrong_words_get_the_ones_that_were_meant(
    case: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "kitchen.xlsx").write_bytes(b"")
    typed, words = case.split(" | ")
    code, said = said_to(typed.split(), capsys)
    assert code == 2
    assert words in said


def test_help_may_be_asked_for_as_a_word(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as stop:
        main(["help", "price"])
    assert stop.value.code == 0
    assert "price workbooks" in capsys.readouterr().out.casefold()


def test_no_words_show_the_page_of_all_commands(capsys: pytest.CaptureFixture[str]) -> None:
    code, said = said_to([], capsys)
    assert code == 2
    assert all(name in said for name in COMMANDS)
