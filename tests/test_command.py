"""The command as a shop uses it: blank, check, price; exit codes; one bad workbook never stops the next."""

import json
import re
import shutil
from pathlib import Path
from zipfile import ZipFile

import pytest
from openpyxl import load_workbook

from estimator.__main__ import main
from estimator.papers.files import folder_name, write_papers

WORKBOOKS = Path(__file__).parents[1] / "workbooks"


def copy(name: str, folder: Path, *, to: str = "") -> Path:
    return Path(shutil.copy(WORKBOOKS / name, folder / (to or name)))


def typed(path: Path, sheet: str, cell: str, value: object) -> Path:
    book = load_workbook(path)
    book[sheet][cell] = value
    book.save(path)
    return path


def row_of(path: Path, sheet: str, item: str) -> int:
    book = load_workbook(path)
    return next(row[0].row for row in book[sheet].iter_rows() if str(row[0].value or "").split(" (")[0] == item)


def test_a_job_gets_its_papers(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    job = copy("one-cabinet.xlsx", tmp_path)
    before = job.read_bytes()
    assert main(["price", str(job), "--out", str(tmp_path / "out")]) == 0
    papers = sorted(path.name for path in (tmp_path / "out" / "one-cabinet" / "1").iterdir())
    assert papers == ["estimate.json", "owner.pdf", "priced.xlsx", "quote.pdf", "shop.pdf"]
    assert not [name for name in papers if "unfinished" in name]
    assert "179.65 EUR" in capsys.readouterr().out
    assert job.read_bytes() == before


def test_what_blank_wrote_is_priced(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    form = tmp_path / "north-street.xlsx"
    assert main(["blank", str(form)]) == 0
    assert main(["price", str(form), "--out", str(tmp_path / "out")]) == 0
    assert main(["blank", str(form)]) == 2  # what is there stays
    assert "stays as it is" in capsys.readouterr().err


@pytest.mark.parametrize("unit", ["inch", "Inches", "in"])
def test_blank_in_inches_is_priced_in_feet(unit: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    form = tmp_path / "north-street.xlsx"
    assert main(["blank", str(form), "--units", unit]) == 0
    assert "in inches and feet" in capsys.readouterr().out
    assert main(["check", str(form)]) == 0
    assert re.search(r"USD, 7 sheets, [0-9.]+ ft of edges", capsys.readouterr().out)


def test_blank_asks_for_a_unit_that_it_knows(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["blank", str(tmp_path / "north-street.xlsx"), "--units", "ell"]) == 2
    assert "type mm or inch" in capsys.readouterr().err
    assert not list(tmp_path.iterdir())


def test_one_bad_workbook_never_stops_the_next(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = tmp_path / "jobs"
    folder.mkdir()
    typed(copy("one-cabinet.xlsx", folder, to="a bad one.xlsx"), "Cabinets", "E2", "60O")
    (folder / "b no workbook.xlsx").write_text("not a workbook")
    copy("one-cabinet.xlsx", folder, to="c good.xlsx")
    (folder / "~$c good.xlsx").write_bytes(b"lock")
    assert main(["price", str(folder), "--out", str(tmp_path / "out")]) == 1
    said = capsys.readouterr()
    assert "c good.xlsx: 179.65 EUR" in said.out
    assert "a bad one.xlsx > Cabinets > E2" in said.err
    assert (tmp_path / "out" / "c good" / "1" / "quote.pdf").is_file()


def test_json_is_all_that_stands_on_standard_output(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    good, bad = copy("one-cabinet.xlsx", tmp_path), copy("one-cabinet.xlsx", tmp_path, to="bad.xlsx")
    typed(bad, "Cabinets", "C2", "no such kind")
    assert main(["price", str(good), "--json", "--out", str(tmp_path / "out")]) == 0
    one = json.loads(capsys.readouterr().out)
    assert one["price"]["gross"] == "179.65"
    written = json.loads((tmp_path / "out" / "one-cabinet" / "1" / "estimate.json").read_text(encoding="utf-8"))
    assert one == written, "what is printed is estimate.json"
    assert main(["price", str(good), str(bad), "--json", "--out", str(tmp_path / "out")]) == 1
    several = json.loads(capsys.readouterr().out)
    assert [one["outcome"] for one in several] == ["priced", "refused"]
    assert several[1]["problems"][0]["place"] == "bad.xlsx > Cabinets > C2"


def test_check_writes_nothing(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    job = copy("one-cabinet.xlsx", tmp_path)
    assert main(["check", str(job)]) == 0
    assert "no problems found" in capsys.readouterr().out
    assert [path.name for path in tmp_path.iterdir()] == ["one-cabinet.xlsx"]


def test_check_tells_what_would_keep_the_papers_from_being_written(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    job = copy("one-cabinet.xlsx", tmp_path)
    with ZipFile(job, "a") as book:
        book.writestr("_xmlsignatures/origin.sigs", "")
    assert main(["check", str(job)]) == main(["price", str(job), "--out", str(tmp_path / "out")]) == 1
    checked, priced = capsys.readouterr().err.split(f"{job.name}: not priced")[1:]
    assert "digitally signed" in checked
    assert checked == priced


def test_what_was_sent_is_never_overwritten(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    job, out = copy("one-cabinet.xlsx", tmp_path), str(tmp_path / "out")
    where = row_of(job, "Job", "Status") if _has(job, "Status") else load_workbook(job)["Job"].max_row + 1
    typed(job, "Job", f"A{where}", "Status")
    typed(job, "Job", f"B{where}", "sent")
    assert main(["price", job.as_posix(), "--out", out]) == 0
    quote = (tmp_path / "out" / "one-cabinet" / "1" / "quote.pdf").read_bytes()
    assert main(["price", job.as_posix(), "--out", out]) == 0  # the same job again is no change
    typed(job, "Cabinets", "E2", 700)
    assert main(["price", job.as_posix(), "--out", out]) == 1
    assert "sent already" in capsys.readouterr().err
    assert (tmp_path / "out" / "one-cabinet" / "1" / "quote.pdf").read_bytes() == quote


def _has(job: Path, item: str) -> bool:
    return any(str(row[0].value) == item for row in load_workbook(job)["Job"].iter_rows())


def test_two_runs_give_the_same_bytes(tmp_path: Path) -> None:
    job = copy("one-cabinet.xlsx", tmp_path)
    for out in ("once", "twice"):
        assert main(["price", str(job), "--out", str(tmp_path / out)]) == 0
    once, twice = (sorted((tmp_path / out).rglob("*.*")) for out in ("once", "twice"))
    assert [path.read_bytes() for path in once] == [path.read_bytes() for path in twice]


@pytest.mark.parametrize(
    "words",
    [["prise", "x.xlsx"], [], ["price"], ["price", "not-there.xlsx"], ["check", "x.xlsx", "--shop", "not-there.xlsx"]],
    ids=["misspelt", "nothing", "no file", "a file that is not there", "a shop that is not there"],
)
def test_wrong_words_at_the_prompt(words: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "x.xlsx").write_bytes(b"")
    try:
        code = main(words)
    except SystemExit as stop:
        code = int(stop.code or 0)
    assert code == 2


def test_our_own_fault_is_told_as_ours(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    from estimator import batch
    from estimator.model.problems import Fault

    def broken(job: object) -> None:
        raise Fault("lines do not add up to the sum")

    monkeypatch.setattr(batch, "estimate_job", broken)
    assert main(["price", str(copy("one-cabinet.xlsx", tmp_path)), "--out", str(tmp_path / "out")]) == 3
    assert "fault of this program's own" in capsys.readouterr().err
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize("words", ["../../etc", "a/b\\c", "nul", "COM1.txt", "  ", "x" * 300, "ü" * 300, "tab\tname", "end. "])
def test_no_name_leaves_its_folder(words: str, tmp_path: Path) -> None:
    name = folder_name(words)
    assert (tmp_path / name).resolve().parent == tmp_path.resolve()
    assert len(name.encode()) <= 121
    (tmp_path / name).mkdir()


def test_a_disk_that_fails_leaves_the_old_papers_whole(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    write_papers(tmp_path, {"a.txt": b"old a", "b.txt": b"old b"})
    import os

    real, calls = os.fsync, []

    def full(handle: int) -> None:
        calls.append(handle)
        if len(calls) == 2:
            raise OSError(28, "No space left on device")
        real(handle)

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="No space"):
        write_papers(tmp_path, {"a.txt": b"new a", "b.txt": b"new b"})
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == {"a.txt": b"old a", "b.txt": b"old b"}


def test_an_inch_job_counts_its_edges_in_feet(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """72.4 m are 72.4 / 0.3048 = 237.6 ft."""
    assert main(["check", str(copy("inch-job.xlsx", tmp_path))]) == 0
    assert "237.6 ft of edges" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("fault", "words"),
    [
        (PermissionError(13, "Permission denied", "quote.pdf"), "(quote.pdf): it may be open in another program. Close it there"),
        (OSError(28, "No space left on device"), "the disk is full: make room on it"),
        (OSError(5, "Input/output error"), "Input/output error; the earlier papers are as they were"),
    ],
    ids=["open elsewhere", "disk full", "another"],
)
def test_a_paper_that_cannot_be_written_is_told_with_what_to_do(
    fault: OSError, words: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    from estimator import batch

    def fails(*_: object, **__: object) -> None:
        raise fault

    monkeypatch.setattr(batch, "written_or_sent", fails)
    monkeypatch.setattr(batch, "papers_of", lambda *_, **__: ({}, ()))
    assert main(["price", str(copy("one-cabinet.xlsx", tmp_path)), "--out", str(tmp_path / "out")]) == 1
    assert words in capsys.readouterr().err
