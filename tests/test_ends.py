"""How a command ends when something outside stops it: what was pressed, a parent that is gone, names and files that no program expects."""

from __future__ import annotations

import os
import threading
from dataclasses import replace
from pathlib import Path

import pytest
from reportlab.platypus import Paragraph

from estimator import __main__ as command
from estimator import folder, sent
from estimator.__main__ import main
from estimator.batch import tasks_for
from estimator.costing.estimate import estimate_job
from estimator.made_from import priced_before, prints_of
from estimator.model.form import JOB
from estimator.model.results import Estimate
from estimator.papers.files import folder_name, kept
from estimator.papers.page.document import document
from estimator.papers.page.look import look_of
from estimator.papers.shop.assembly_sheets import _shown
from estimator.papers.shop_papers import shop_pdf
from estimator.reading.cells import read_cell
from estimator.reading.raw_cells import Cell
from estimator.reading.typed_numbers import Wrong
from estimator.registering import rows_below
from estimator.telling import open_elsewhere_words
from tests.samples import sample


@pytest.mark.parametrize(
    ("stopped", "code", "words"),
    [
        (KeyboardInterrupt(), 130, "Stopped. Each job's papers are whole, or as they were."),
        (OSError(28, "No space left on device", "reports"), 1, "No space left on device: reports. Nothing was left half written"),
        (ZeroDivisionError("ours"), 3, "a fault of this program's own, not of your workbook."),
        (BrokenPipeError(), 0, ""),
        (SystemExit(2), 2, ""),
    ],
)
def test_every_end_has_its_code_and_a_sentence(
    stopped: BaseException, code: int, words: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def stop() -> int:
        raise stopped

    ended: list[int] = []
    monkeypatch.setattr(command, "main", stop)
    monkeypatch.setattr(os, "_exit", ended.append)
    monkeypatch.setattr(command.sys, "stdout", command.sys.stdout)  # put back after the test
    command.run()
    assert ended == [code]
    assert capsys.readouterr().err.startswith(words)


def test_a_worker_ends_with_the_process_that_handed_its_work_out(monkeypatch: pytest.MonkeyPatch) -> None:
    ended: list[int] = []
    monkeypatch.setattr(folder, "_LOOKS_EVERY_S", 0.01)
    monkeypatch.setattr(os, "_exit", ended.append)
    folder._end_with(os.getppid() + 1)  # whose parent is another by now
    assert ended == [1]
    watch = threading.Thread(target=folder._end_with, args=(os.getppid(),), daemon=True)
    watch.start()
    watch.join(0.05)
    assert watch.is_alive()
    monkeypatch.setattr(os, "getppid", lambda: 0)
    watch.join(5)
    assert ended == [1, 1]


def test_no_two_jobs_of_a_run_share_a_folder(tmp_path: Path) -> None:
    """As Windows and macOS look at names, where capitals and ways to write an accent make no other name."""
    names = ["a b/c", "a/b c", "a/b/c", "x/c", "y/x/c", "one/Job", "two/job", "r/caf\u00e9", "s/cafe\u0301", f"t/{'n' * 150}1", f"u/{'n' * 150}2", "v/w:1", "v/w?1"]
    paths = [tmp_path / f"{name}.xlsx" for name in names]
    folders = [task.folder.name for task in tasks_for(paths, out=tmp_path / "out")]
    assert len({name.casefold() for name in folders}) == len(paths)
    assert folders == [task.folder.name for task in tasks_for(paths, out=tmp_path / "out")]
    assert folders[5:7] == ["one Job", "two job"]


def test_two_names_that_begin_alike_stay_two() -> None:
    one, other = (folder_name("n" * 150 + end) for end in "12")
    assert one != other
    assert max(len(one), len(other)) <= 120
    assert folder_name("n" * 120) == "n" * 120
    assert folder_name("\udcff.xlsx") == "-.xlsx"


def test_a_name_as_long_as_the_computer_takes(tmp_path: Path) -> None:
    assert open_elsewhere_words([tmp_path / f"{'n' * 250}.xlsx"]) == ""
    assert main(["check", str(tmp_path / f"{'n' * 5000}.xlsx")]) == 2


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no pipes by name here")
def test_a_pipe_that_nobody_fills_is_not_waited_for(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    pipe = tmp_path / "job.xlsx"
    os.mkfifo(pipe)
    assert main(["price", str(pipe), "--out", str(tmp_path / "out")]) == 1
    assert "job.xlsx\n    found     no file but a device, a pipe or the like" in capsys.readouterr().err


@pytest.mark.skipif(os.name == "nt", reason="names are of letters there")
def test_a_name_that_is_no_letters_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "\udcff.xlsx"
    path.write_bytes(b"PK")
    assert main(["price", str(tmp_path), "--out", str(tmp_path / "out")]) == 1
    assert "found     a file whose name holds signs that are no letters" in capsys.readouterr().err


def test_a_file_too_large_to_be_a_workbook_is_not_read_for_its_print(tmp_path: Path) -> None:
    large = tmp_path / "job.xlsx"
    with large.open("wb") as file:
        file.truncate(30_000_001)
    assert prints_of(large, shop=None, words=None)["workbook"] == ""


@pytest.mark.parametrize("content", ["[" * 100_000, "\0", "[]", '{"job": "x"}', '{"job": {"status": [1]}}'])
def test_an_estimate_that_somebody_made_something_else_of_stops_no_job(content: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = tmp_path / "estimate.json"
    before.write_text(content, encoding="utf-8")
    assert sent._sent(tmp_path) is None or content.startswith('{"job": {')
    assert kept(before) is None or content.startswith(("{", "[]"))
    (tmp_path / "job" / "1").mkdir(parents=True)
    before.rename(tmp_path / "job" / "1" / "estimate.json")
    assert priced_before(tmp_path / "job", {}, beside=tmp_path, papers=5) is None
    assert [row.workbook for row in rows_below(tmp_path)[1]] == ["job/1/estimate.json"]


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no pipes by name here")
def test_a_pipe_among_the_papers_is_not_waited_for(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "estimate.json")
    assert kept(tmp_path / "estimate.json") is None
    assert sent._sent(tmp_path) is None


def test_what_is_closed_is_opened_onto_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("stdin", "stdout", "stderr"):
        monkeypatch.setattr(command.sys, name, None)
    command._speak_utf8()
    opened = [command.sys.stdin, command.sys.stdout, command.sys.stderr]
    assert (opened[0].read(), [one.write("lost") for one in opened[1:]]) == ("", [4, 4])
    for one in opened:
        one.close()


def test_no_day_of_the_builder_stands_in_a_paper(monkeypatch: pytest.MonkeyPatch) -> None:
    def paper() -> bytes:
        return document([Paragraph("Osier Lane")], look=look_of(paper="A4", colour=""), title="t", author="a")

    plain = paper()
    for day in ("86400", "no day"):
        monkeypatch.setenv("SOURCE_DATE_EPOCH", day)
        assert paper() == plain


@pytest.mark.parametrize(
    ("words", "code", "told"),
    [
        (["blank", "."], 2, ". is a folder: name the workbook too"),
        (["blank", ""], 2, ". is a folder: name the workbook too"),
        (["blank", "taken/new.xlsx"], 1, "taken/new.xlsx could not be written: "),
        (["start", "taken/shop", "--currency", "EUR", "--tax", "VAT 20 %", "--wage", "24", "--overhead", "42000"], 1, "taken/shop could not be written: "),
        (["price", "taken", "--words", "taken"], 2, "--words must name a folder, and taken is a file"),
        (["compare", "taken", "taken", "--words", "taken"], 2, "--words must name a folder, and taken is a file"),
    ],
)  # fmt: skip
def test_a_wrong_place_is_no_fault_of_ours(
    words: list[str], code: int, told: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "taken").write_bytes(b"mine")
    assert main(words) == code
    said = capsys.readouterr()
    assert told in said.out + said.err
    assert [path.name for path in tmp_path.iterdir()] == ["taken"]


@pytest.mark.skipif(os.name == "nt", reason="words are letters there")
def test_a_word_that_is_no_letters_becomes_one_that_is(tmp_path: Path) -> None:
    answers = ["--name", "\udcff", "--currency", "EUR", "--tax", "VAT 20 %", "--wage", "24", "--overhead", "42000"]
    assert main(["start", str(tmp_path / "shop"), *answers]) == 0


def test_a_name_gives_the_terminal_no_orders(capsys: pytest.CaptureFixture[str]) -> None:
    command._say("\x1b[2J\x9b31m\x07\u202e\x1b[1mours\x1b[0m\n\tand\x1b[31m red\x1b[m")
    assert capsys.readouterr().out == "?[2J?31m??\x1b[1mours\x1b[0m\n\tand\x1b[31m red\x1b[m\n"


def test_long_words_of_a_cabinet_find_room_on_every_paper(tmp_path: Path) -> None:
    """A note of five thousand signs had been taller than a page, and that stopped the papers."""
    job = sample("one-cabinet")
    cabinet = replace(job.cabinets[0], note="N\n" * 2_400)
    estimate = estimate_job(replace(job, cabinets=(cabinet,)))
    assert isinstance(estimate, Estimate)
    assert shop_pdf(estimate, words=None).startswith(b"%PDF")
    assert (_shown("two\n lines"), _shown("n" * 601)) == ("two lines", "n" * 600 + " …")


def test_who_prepared_a_quote_is_a_name() -> None:
    column = next(column for column in JOB.columns if column.field == "prepared_by")
    assert isinstance(read_cell(Cell("w " * 200), column, units="mm"), Wrong)
    assert read_cell(Cell("the \n bench"), column, units="mm") == "the bench"
