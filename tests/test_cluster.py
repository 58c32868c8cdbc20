"""Jobs handed to a real scheduler and two real workers on this computer: the same words, the same bytes, and a lost worker loses nothing."""

from __future__ import annotations

import contextlib
import os
import re
import shutil
import socket
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from importlib.util import find_spec
from pathlib import Path

import pytest
from openpyxl import load_workbook

from estimator.__main__ import main
from estimator.batch import tasks_for
from estimator.cluster import fetched, handed, packed, work
from estimator.made_from import prints_of
from estimator.telling import Told

HOUSE = Path(__file__).parents[1]
needs_cluster = pytest.mark.skipif(find_spec("distributed") is None, reason="distributed is not installed: --on was NOT tried")


@contextlib.contextmanager
def cluster(workers: int, *, house: Path = HOUSE) -> Iterator[tuple[str, list[subprocess.Popen[bytes]]]]:
    """A scheduler and its workers as processes; its address, and the workers."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    address = f"tcp://127.0.0.1:{port}"
    quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL, "env": {**os.environ, "PYTHONPATH": str(house)}, "cwd": house}
    scheduler = [sys.executable, "-m", "distributed.cli.dask_scheduler", "--host", "127.0.0.1", "--port", str(port), "--no-dashboard"]
    worker = [sys.executable, "-m", "distributed.cli.dask_worker", address, "--host", "127.0.0.1", "--nthreads", "1", "--no-nanny", "--no-dashboard"]
    running = [subprocess.Popen(scheduler, **quiet)]
    try:
        for _ in range(200):
            with contextlib.suppress(OSError), socket.create_connection(("127.0.0.1", port), 0.2):
                break
            time.sleep(0.05)
        hands = [subprocess.Popen(worker, **quiet) for _ in range(workers)]
        running += hands
        yield address, hands
    finally:
        for process in running:
            process.kill()
            process.wait()


@pytest.fixture
def jobs(tmp_path: Path) -> Path:
    here = tmp_path / "jobs"
    here.mkdir()
    book = load_workbook(HOUSE / "workbooks" / "one-cabinet.xlsx")
    for number in range(6):
        book["Cabinets"]["E2"].value = "60O" if number == 3 else 500 + number
        book.save(here / f"job {number}.xlsx")
    shutil.copy(HOUSE / "workbooks" / "kitchen.xlsx", here / "kitchen.xlsx")
    shutil.copy(HOUSE / "workbooks" / "shop.xlsx", here / "shop.xlsx")
    return here


def retyped(path: Path, sheet: str, item: str, value: object) -> None:
    """The value beside an item's name."""
    book = load_workbook(path)
    next(row for row in book[sheet].iter_rows() if row[0].value == item)[1].value = value
    book.save(path)


def files_below(place: Path) -> dict[str, bytes]:
    return {str(path.relative_to(place)): path.read_bytes() for path in sorted(place.rglob("*")) if path.is_file()}


def kill_after_the_first_paper(worker: subprocess.Popen[bytes], out: Path) -> None:
    """Lose a worker in the middle: one job is written, most are not."""
    end = time.monotonic() + 60
    while time.monotonic() < end and not list(out.rglob("estimate.json")):
        time.sleep(0.01)
    worker.kill()


@needs_cluster
def test_a_cluster_gives_the_same_papers_and_a_lost_worker_loses_no_job(
    jobs: Path, tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    (jobs / "~$job 1.xlsx").write_bytes(b"somebody has job 1.xlsx open")
    assert main(["price", str(jobs), "--out", str(tmp_path / "here")]) == 1
    here = capfd.readouterr()
    with cluster(2) as (address, workers):
        killer = threading.Thread(target=kill_after_the_first_paper, args=(workers[0], tmp_path / "there"))
        killer.start()
        assert main(["price", str(jobs), "--out", str(tmp_path / "there"), "--on", address]) == 1
        killer.join()
        assert workers[0].wait(10) == -9
        first = capfd.readouterr()
        assert main(["price", str(jobs), "--out", str(tmp_path / "there"), "--on", address]) == 1
        again = capfd.readouterr().out
    assert files_below(tmp_path / "there") == files_below(tmp_path / "here")
    assert first.out.replace(str(tmp_path / "there"), str(tmp_path / "here")) == here.out
    assert "Left alone, being no job: shop.xlsx, ~$job 1.xlsx" in first.out
    assert "job 3.xlsx: not priced" in first.err
    assert again.count("unchanged since it was priced") == 6


@needs_cluster
def test_no_cluster_at_an_address_is_said(
    jobs: Path, tmp_path: Path, capfd: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("estimator.cluster.PATIENCE_S", "0.5s")
    assert main(["price", str(jobs), "--out", str(tmp_path / "out"), "--on", "tcp://127.0.0.1:9"]) == 2
    assert "no cluster answers at tcp://127.0.0.1:9" in capfd.readouterr().err


@needs_cluster
@pytest.mark.parametrize("lacking", ["a newer version", "a program from before there were clusters"])
def test_a_worker_that_is_not_set_up_alike_is_refused(
    jobs: Path, tmp_path: Path, capfd: pytest.CaptureFixture[str], lacking: str
) -> None:
    other = tmp_path / "other computer" / "estimator"
    shutil.copytree(HOUSE / "estimator", other, ignore=shutil.ignore_patterns("__pycache__"))
    (other / "__init__.py").write_text('__version__ = "0.0.9"\n', encoding="utf-8")
    if lacking != "a newer version":
        # as where it is missing; a file that is only gone would be found in this checkout, where that is installed to be worked on
        (other / "set_up.py").write_text("raise ModuleNotFoundError(\"No module named 'estimator.set_up'\")\n", encoding="utf-8")
    with cluster(1, house=other.parent) as (address, _):
        assert main(["price", str(jobs), "--out", str(tmp_path / "out"), "--on", address]) == 2
    said = capfd.readouterr().err
    if lacking == "a newer version":
        assert re.fullmatch(
            r"the worker tcp://127\.0\.0\.1:\d+ is not set up as this computer, so its papers could differ: "
            r"estimator 0\.0\.9 \(\w{8}\) there and 0\.1\.0 \(\w{8}\) here\. "
            r"Install it there as it is here, or take it out of the cluster\n", said,
        )  # fmt: skip
    else:
        assert "cannot run this program: " in said
        assert "No module named" in said
        assert said.endswith("Install it there as it is here, or take it out of the cluster\n")
    assert not (tmp_path / "out").exists()


@needs_cluster
def test_a_cluster_without_workers_is_said(
    jobs: Path, tmp_path: Path, capfd: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("estimator.cluster.PATIENCE_S", "0.3s")
    with cluster(0) as (address, _):
        assert main(["price", str(jobs), "--out", str(tmp_path / "out"), "--on", address]) == 2
    assert "but no worker has joined it" in capfd.readouterr().err


def test_what_is_missing_for_a_cluster_is_said(
    jobs: Path, tmp_path: Path, capfd: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "distributed", None)
    assert main(["price", str(jobs), "--out", str(tmp_path / "out"), "--on", "tcp://127.0.0.1:8786"]) == 2
    assert capfd.readouterr().err == '--on needs the packages of the cluster: pip install "estimator[cluster]"\n'


def price_in_a_thread(job: Path, out: Path, **more: bool) -> Told:
    """One job packed, done and put away, as for a cluster of one worker."""
    (task,) = tasks_for([job], out=out)
    task = replace(task, **more)
    with ThreadPoolExecutor(1) as hands:
        return fetched(task, handed(task, hands=hands, as_json=False), as_json=False)


def test_what_lies_beside_the_papers_stays_as_it_is(jobs: Path, tmp_path: Path) -> None:
    """A file of somebody else's in a revision's folder, and the quote that the client holds, come to no harm."""
    job, papers = jobs / "job 0.xlsx", tmp_path / "out" / "job 0" / "1"
    assert price_in_a_thread(job, tmp_path / "out").code == 0
    stranger = papers / "signed-change-order.pdf"
    stranger.write_bytes(b"signed")
    assert price_in_a_thread(job, tmp_path / "out").code == 0
    assert stranger.read_bytes() == b"signed"
    assert (papers / "quote.pdf").read_bytes().startswith(b"%PDF")
    assert "unchanged since it was priced" in price_in_a_thread(job, tmp_path / "out", again=False).words
    job.unlink()
    assert price_in_a_thread(job, tmp_path / "out").code == 1


def test_what_the_client_holds_is_looked_at_where_the_papers_lie(jobs: Path, tmp_path: Path) -> None:
    job, papers = jobs / "job 0.xlsx", tmp_path / "out" / "job 0" / "1"
    retyped(job, "Job", "Status", "sent")
    assert price_in_a_thread(job, tmp_path / "out").code == 0
    (papers / "quote.pdf").write_bytes(b"as it was sent")
    retyped(job, "Job", "Status", "won")
    assert price_in_a_thread(job, tmp_path / "out").code == 0
    assert (papers / "quote.pdf").read_bytes() == b"as it was sent"
    book = load_workbook(job)
    book["Cabinets"]["E2"].value = 700
    book.save(job)
    told = price_in_a_thread(job, tmp_path / "out")
    assert told.code == 1
    assert "which is won already; the job has changed since" in told.words


@pytest.mark.parametrize("named", ["pictures/ours.png", "./pictures/../pictures/ours.png", "../ours.png", "whole"])
def test_a_logo_travels_from_the_folder_and_below_never_from_outside(jobs: Path, tmp_path: Path, named: str) -> None:
    from PIL import Image

    (jobs / "pictures").mkdir()
    for place in (jobs / "pictures" / "ours.png", jobs.parent / "ours.png"):
        Image.new("RGB", (40, 20), "black").save(place)
    job = jobs / "job 0.xlsx"
    retyped(job, "Job", "Logo", str(jobs / "pictures" / "ours.png") if named == "whole" else named)
    (task,) = tasks_for([job], out=tmp_path / "there")
    parcel = packed(task, prints=prints_of(job, shop=None, words=None), as_json=False)
    travelling = {"../ours.png": set(), "whole": None}.get(named, {"job/pictures/ours.png"})
    assert (parcel and {name for name in parcel.files if name.endswith(".png")}) == travelling
    assert price_in_a_thread(job, tmp_path / "there").code == 0
    assert main(["price", str(job), "--out", str(tmp_path / "here")]) == 0
    assert files_below(tmp_path / "there") == files_below(tmp_path / "here")


def test_a_worker_that_joins_later_and_is_not_set_up_alike_does_nothing(jobs: Path, tmp_path: Path) -> None:
    job = jobs / "job 0.xlsx"
    (task,) = tasks_for([job], out=tmp_path / "out")
    parcel = packed(task, prints=prints_of(job, shop=None, words=None), as_json=False)
    assert parcel is not None
    returned = work(replace(parcel, sender={**parcel.sender, "reportlab": "0.1"}))
    assert returned.papers is None
    assert returned.told.code == 1
    assert "and 0.1 here" in returned.told.words
