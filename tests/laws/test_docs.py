"""The manuals in step with the program: README shows what the commands really print, DEVELOPERS.md runs."""

import doctest
import io
import re
from contextlib import redirect_stderr, redirect_stdout
from pathlib import Path

import pytest

from estimator.__main__ import main
from tests.laws.telling_apart import change, won_kitchen

HOUSE = Path(__file__).parents[2]
README = (HOUSE / "README.md").read_text(encoding="utf-8")


def shown_after(line: str) -> str:
    """What README shows below a command, up to the end of the block."""
    found = re.search(rf"^\$ {re.escape(line)}\n(.*?)^```", README, re.MULTILINE | re.DOTALL)
    assert found, line
    return found.group(1).strip()


def printed_by(*words: str) -> str:
    out = io.StringIO()
    with redirect_stdout(out), redirect_stderr(out):
        main(words)
    return out.getvalue().strip()


def test_one_cabinet_followed_through_the_house(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(HOUSE)
    failed, tried = doctest.testfile(str(HOUSE / "DEVELOPERS.md"), module_relative=False)
    assert tried > 15
    assert failed == 0


def test_readme_shows_what_pricing_the_kitchen_prints(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.chdir(HOUSE)
    said = printed_by("price", "workbooks/kitchen.xlsx", "--out", str(tmp_path / "reports"))
    assert said.replace(str(tmp_path / "reports"), "reports").replace("\\", "/") == shown_after(
        "estimator price workbooks/kitchen.xlsx"
    )


def test_readme_shows_what_a_mistake_gets(tmp_path: Path) -> None:
    """North street is the kitchen with a letter O in a width and half a kind's name."""
    import shutil

    from openpyxl import load_workbook

    shutil.copy(HOUSE / "workbooks" / "shop.xlsx", tmp_path)
    book = load_workbook(HOUSE / "workbooks" / "kitchen.xlsx")
    book["Cabinets"]["E7"], book["Cabinets"]["C9"] = "60O", "wal"
    book.save(tmp_path / "north-street.xlsx")
    assert printed_by("check", str(tmp_path / "north-street.xlsx")) == shown_after("estimator check north-street.xlsx")


def test_readme_shows_what_finished_jobs_teach(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.chdir(HOUSE)
    said = printed_by("learn", "workbooks/finished-jobs", "--shop", "workbooks/shop.xlsx", "--out", str(tmp_path / "reports"))
    assert said.replace(str(tmp_path / "reports"), "reports").replace("\\", "/") == shown_after(
        "estimator learn workbooks/finished-jobs --shop workbooks/shop.xlsx"
    )


def test_readme_shows_what_moved_the_price(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    won_kitchen(tmp_path)
    monkeypatch.chdir(tmp_path)
    assert main(["price", "kitchen.xlsx"]) == 0
    change(tmp_path)
    for line in ("reports/kitchen/1 kitchen.xlsx", "reports/kitchen/1 kitchen.xlsx --change-order"):
        assert printed_by("compare", *line.split()).replace("\\", "/") == shown_after(f"estimator compare {line}")


def test_every_command_is_in_the_readme() -> None:
    helped = io.StringIO()
    with redirect_stdout(helped), pytest.raises(SystemExit):
        main(["--help"])
    commands = re.findall(r"^    (\w+) ", helped.getvalue(), re.MULTILINE)
    assert {"blank", "check", "price"} <= set(commands)
    assert all(f"`estimator {command} " in README for command in commands)


def test_every_picture_is_there() -> None:
    assert all((HOUSE / path).is_file() for path in re.findall(r"!\[[^\]]*\]\(([^)]+)\)", README))
