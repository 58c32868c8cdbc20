"""A folder of jobs: priced side by side, in order, the same whatever the workers; what has not changed is left as it is."""

from __future__ import annotations

import json
import os
import shutil
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from openpyxl import load_workbook

from estimator import folder
from estimator.__main__ import main
from estimator.batch import Task, tasks_for
from estimator.papers.files import PASSING, write_papers
from estimator.telling import Told

HOUSE = Path(__file__).parents[1]


@pytest.fixture
def jobs(tmp_path: Path) -> Path:
    """Four small jobs in two folders, one of them with a fault, a price book and a lock file beside them."""
    here = tmp_path / "jobs"
    (here / "later").mkdir(parents=True)
    for name in ("b.xlsx", "a.xlsx", "later/c.xlsx", "later/d.xlsx"):
        shutil.copy(HOUSE / "workbooks" / "one-cabinet.xlsx", here / name)
    retyped(here / "later" / "c.xlsx", "Cabinets", "E2", "60O")
    shutil.copy(HOUSE / "workbooks" / "shop.xlsx", here / "shop.xlsx")
    (here / "~$a.xlsx").write_bytes(b"somebody has a.xlsx open")
    return here


def retyped(path: Path, sheet: str, cell: str, value: object) -> None:
    book = load_workbook(path)
    book[sheet][cell].value = value
    book.save(path)


def files_below(place: Path) -> dict[str, bytes]:
    return {str(path.relative_to(place)): path.read_bytes() for path in sorted(place.rglob("*")) if path.is_file()}


def test_workers_change_neither_the_order_nor_a_byte(jobs: Path, tmp_path: Path, capfd: pytest.CaptureFixture[str]) -> None:
    said, written = [], []
    for workers in ("1", "2"):
        assert main(["price", str(jobs), "--out", str(tmp_path / workers), "--workers", workers]) == 1
        out, err = capfd.readouterr()
        said.append((out.replace(str(tmp_path / workers), "out"), err))
        written.append(files_below(tmp_path / workers))
    assert said[0] == said[1]
    assert written[0] == written[1]
    assert [line.split(":")[0] for line in said[0][0].splitlines() if ".xlsx:" in line] == ["a.xlsx", "b.xlsx", "d.xlsx"]
    assert "c.xlsx: not priced" in said[0][1]
    assert "Open in another program, so what was not saved there is left out: a.xlsx\n" in said[0][0]
    assert "Left alone, being no job: shop.xlsx, ~$a.xlsx\nNot priced, 1 of 4 jobs: c.xlsx\n" in said[0][0]
    assert "Quote number 2031-001 stands on a, b and d: the register counts each of them" in said[0][0]


def test_what_has_not_changed_is_left_as_it_is(jobs: Path, tmp_path: Path, capfd: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "out"
    main(["price", str(jobs), "--out", str(out)])
    before = {path: path.stat().st_mtime_ns for path in out.rglob("quote.pdf")}
    retyped(jobs / "b.xlsx", "Cabinets", "E2", 700)
    capfd.readouterr()
    main(["price", str(jobs), "--out", str(out)])
    told = capfd.readouterr().out
    assert "a.xlsx: 179.65 EUR, unchanged since it was priced." in told
    assert "b.xlsx: 179.65" not in told
    changed = [path.parent.parent.name for path, at in before.items() if path.stat().st_mtime_ns != at]
    assert changed == ["b"]
    main(["price", str(jobs), "--out", str(out), "--again"])
    assert "unchanged" not in capfd.readouterr().out


@pytest.mark.parametrize("change", ["the price book", "a paper taken away", "the words", "a paper that is not sealed"])
def test_any_change_prices_the_job_anew(jobs: Path, tmp_path: Path, capfd: pytest.CaptureFixture[str], change: str) -> None:
    out, words = tmp_path / "out", []
    main(["price", str(jobs), "--out", str(out)])
    match change:
        case "the price book":
            retyped(jobs / "shop.xlsx", "Shop", "D1", "Note of mine")
        case "a paper taken away":
            (out / "a" / "1" / "owner.pdf").unlink()
        case "the words":
            (tmp_path / "words").mkdir()
            (tmp_path / "words" / "terms.txt").write_text("We shake hands.", encoding="utf-8")
            words = ["--words", str(tmp_path / "words")]
        case _:
            (out / "a" / "1" / "estimate.json").write_bytes(b"{")
    capfd.readouterr()
    main(["price", str(jobs), "--out", str(out), *words])
    assert not [line for line in capfd.readouterr().out.splitlines() if line.startswith("a.xlsx") and "unchanged" in line]


WHOLE, HERE = folder.work, os.getpid()


def deadly(task: Task, as_json: bool) -> Told:
    """Work that ends every process but this one."""
    if os.getpid() != HERE:
        os._exit(9)
    return WHOLE(task, as_json)


def test_a_worker_that_dies_takes_no_job_with_it(jobs: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(folder, "work", deadly)
    tasks = tasks_for([jobs], out=tmp_path / "out")
    told = list(folder.price_folder(tasks, workers=2))
    assert [one.path.name for one in told] == ["a.xlsx", "b.xlsx", "c.xlsx", "d.xlsx"]
    assert [one.code for one in told] == [0, 0, 1, 0]


def test_the_filled_in_workbook_among_older_papers_is_no_further_job(jobs: Path) -> None:
    """Papers of an earlier run lie among the jobs, where this run, started elsewhere, puts its own into another folder."""
    before = [task.path.name for task in tasks_for([jobs], out=jobs / "reports")]
    papers = jobs / "reports" / "a" / "1"
    papers.mkdir(parents=True)
    shutil.copy(jobs / "a.xlsx", papers / "priced.xlsx")
    assert len(tasks_for([jobs], out=jobs.parent / "reports")) == len(before) + 1
    (papers / "estimate.json").write_text("{}")
    assert [task.path.name for task in tasks_for([jobs], out=jobs.parent / "reports")] == before


def test_any_executor_will_do(jobs: Path, tmp_path: Path) -> None:
    with ThreadPoolExecutor(2) as hands:
        told = list(folder.price_folder(tasks_for([jobs], out=tmp_path / "out"), executor=hands))
    assert [one.code for one in told] == [0, 0, 1, 0]


def test_only_strays_of_runs_that_are_over_are_swept(tmp_path: Path) -> None:
    from estimator.papers import files

    dead = tmp_path / f"quote.pdf.{files._HERE}-999999999{PASSING}"
    alive = tmp_path / f"quote.pdf.{files._HERE}-{os.getppid()}{PASSING}"
    elsewhere = tmp_path / f"quote.pdf.anothercomputer-999999999{PASSING}"
    for stray in (dead, alive, elsewhere):
        stray.write_bytes(b"half")
    write_papers(tmp_path, {"quote.pdf": b"whole"})
    assert not dead.exists()
    assert alive.exists()
    assert elsewhere.exists()
    os.utime(elsewhere, (0, 0))
    write_papers(tmp_path, {"quote.pdf": b"whole"})
    assert not elsewhere.exists()


def test_what_the_client_holds_is_never_written_again(jobs: Path, tmp_path: Path, capfd: pytest.CaptureFixture[str]) -> None:
    """A quote that was sent stays byte for byte; its job may be won, and a newer program may tell more of it."""
    out = tmp_path / "out"
    job = jobs / "b.xlsx"
    status = next(row[1].coordinate for row in load_workbook(job)["Job"].iter_rows() if row[0].value == "Status")
    retyped(job, "Job", status, "sent")
    assert main(["price", str(job), "--out", str(out)]) == 0
    papers = out / "b" / "1"
    (papers / "quote.pdf").write_bytes(b"as it was sent")
    estimate = json.loads((papers / "estimate.json").read_text(encoding="utf-8"))
    del estimate["counts"]  # an older program knew no counts
    (papers / "estimate.json").write_text(json.dumps(estimate), encoding="utf-8")
    retyped(job, "Job", status, "won")
    assert main(["price", str(job), "--out", str(out)]) == 0
    assert (papers / "quote.pdf").read_bytes() == b"as it was sent"
    assert json.loads((papers / "estimate.json").read_text(encoding="utf-8"))["job"]["status"] == "won"
    retyped(job, "Cabinets", "E2", 700)
    assert main(["price", str(job), "--out", str(out)]) == 1
    assert "which is won already; the job has changed since" in capfd.readouterr().err


def test_a_price_book_further_up_is_told_to_jobs_that_have_none(tmp_path: Path, capfd: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "jobs" / "later").mkdir(parents=True)
    shutil.copy(HOUSE / "workbooks" / "shop.xlsx", tmp_path / "jobs")
    shutil.copy(HOUSE / "workbooks" / "wardrobe.xlsx", tmp_path / "jobs" / "later")
    words = ["price", str(tmp_path / "jobs"), "--out", str(tmp_path / "out")]
    assert main(words) == 1
    book = tmp_path / "jobs" / "shop.xlsx"
    hint = f"{book} serves the jobs beside it only, not wardrobe.xlsx further down. To use it for all: --shop {book}\n"
    assert hint in capfd.readouterr().out
    assert main([*words, "--shop", str(book)]) == 0
    assert "serves the jobs beside it only" not in capfd.readouterr().out
