"""Jobs handed to a real scheduler and two real workers on this computer: the same words, the same bytes, and a lost worker loses nothing."""

from __future__ import annotations

import contextlib
import os
import shutil
import socket
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from importlib.util import find_spec
from pathlib import Path

import pytest
from openpyxl import load_workbook

from estimator.__main__ import main

HOUSE = Path(__file__).parents[1]
needs_cluster = pytest.mark.skipif(find_spec("distributed") is None, reason="distributed is not installed: --on was NOT tried")


@contextlib.contextmanager
def cluster(workers: int) -> Iterator[tuple[str, list[subprocess.Popen[bytes]]]]:
    """A scheduler and its workers as processes; its address, and the workers."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    address = f"tcp://127.0.0.1:{port}"
    quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL, "env": {**os.environ, "PYTHONPATH": str(HOUSE)}}
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


def files_below(place: Path) -> dict[str, bytes]:
    return {str(path.relative_to(place)): path.read_bytes() for path in sorted(place.rglob("*")) if path.is_file()}


def kill_after_the_first_paper(worker: subprocess.Popen[bytes], out: Path) -> None:
    """Lose a worker in the middle: one job is written, most are not."""
    end = time.monotonic() + 60
    while time.monotonic() < end and not list(out.rglob("estimate.json")):
        time.sleep(0.01)
    worker.kill()


@needs_cluster
def test_a_cluster_gives_the_same_papers_and_a_lost_worker_loses_no_job(jobs: Path, tmp_path: Path, capfd: pytest.CaptureFixture[str]) -> None:
    assert main(["price", str(jobs), "--out", str(tmp_path / "here")]) == 1
    capfd.readouterr()
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
    assert "job 3.xlsx: not priced" in first.err
    assert f"Papers: {tmp_path / 'there' / 'kitchen' / '1'}" in first.out
    assert again.count("unchanged since it was priced") == 6


@needs_cluster
def test_no_cluster_at_an_address_is_said(jobs: Path, tmp_path: Path, capfd: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("estimator.cluster.PATIENCE_S", "0.5s")
    assert main(["price", str(jobs), "--out", str(tmp_path / "out"), "--on", "tcp://127.0.0.1:9"]) == 2
    assert "no cluster answers at tcp://127.0.0.1:9" in capfd.readouterr().err


def test_what_lies_beside_the_papers_stays_as_it_is(jobs: Path, tmp_path: Path) -> None:
    """A file of somebody else's in a revision's folder, and the quote that the client holds, come to no harm."""
    from concurrent.futures import ThreadPoolExecutor

    from estimator.batch import tasks_for
    from estimator.cluster import _fetched, _handed

    (task,) = tasks_for([jobs / "job 0.xlsx"], out=tmp_path / "out")
    with ThreadPoolExecutor(1) as hands:
        assert _fetched(task, _handed(task, hands, as_json=False), as_json=False).code == 0
        stranger = task.folder / "1" / "signed-change-order.pdf"
        stranger.write_bytes(b"signed")
        assert _fetched(task, _handed(task, hands, as_json=False), as_json=False).code == 0
        assert stranger.read_bytes() == b"signed"
        assert (task.folder / "1" / "quote.pdf").read_bytes().startswith(b"%PDF")
        gone = jobs / "job 0.xlsx"
        gone.unlink()
        assert _fetched(task, _handed(task, hands, as_json=False), as_json=False).code == 1
