"""A folder that is watched: a save prices its job in a moment; half-saved, locked, renamed and deleted files do no harm."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
import threading
import time
from pathlib import Path

import pytest
from openpyxl import load_workbook

from estimator import watching
from estimator.telling import moved
from estimator.watching import jobs_touched

HOUSE = Path(__file__).parents[1]


@pytest.fixture
def jobs(tmp_path: Path) -> Path:
    here = tmp_path / "jobs"
    here.mkdir()
    shutil.copy(HOUSE / "workbooks" / "one-cabinet.xlsx", here / "street.xlsx")
    return here


def test_a_job_a_price_book_and_nothing_else_touch_jobs(jobs: Path) -> None:
    for name in ("kitchen.xlsx", "wardrobe.xlsx", "shop.xlsx"):
        shutil.copy(HOUSE / "workbooks" / name, jobs / name)
    out = jobs / "reports"

    def touched(*names: str, shop: Path | None = None) -> list[str]:
        return [path.name for path in jobs_touched([jobs / name for name in names], folder=jobs, out=out, shop=shop)]

    (out / "x").mkdir(parents=True)
    shutil.copy(jobs / "street.xlsx", out / "x" / "priced.xlsx")
    (jobs / "~$street.xlsx").write_bytes(b"open")
    assert touched("street.xlsx") == ["street.xlsx"]
    assert touched("shop.xlsx") == ["kitchen.xlsx", "street.xlsx", "wardrobe.xlsx"]
    assert touched("~$street.xlsx", "reports/x/priced.xlsx", "notes.txt", "gone.xlsx") == []
    assert touched("shop.xlsx", shop=jobs / "kitchen.xlsx") == ["kitchen.xlsx", "street.xlsx", "wardrobe.xlsx"]


class Watched:
    """The command as a process, and what it has said so far."""

    def __init__(self, folder: Path) -> None:
        self.said: list[str] = []
        self.process = subprocess.Popen(
            [sys.executable, "-u", "-m", "estimator", "watch", str(folder), "--out", str(folder / "reports")],
            stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, cwd=folder, env={**os.environ, "PYTHONPATH": str(HOUSE)},
        )  # fmt: skip
        threading.Thread(target=self._listen, daemon=True).start()

    def _listen(self) -> None:
        assert self.process.stdout is not None
        for line in self.process.stdout:
            self.said.append(line)

    def wait_for(self, words: str, *, within_s: float = 120) -> None:
        end = time.monotonic() + within_s
        while time.monotonic() < end:
            if any(words in line for line in self.said):
                self.said.clear()
                return
            time.sleep(0.05)
        raise AssertionError(f"{words!r} was not said, but: {''.join(self.said)}")


def widened(path: Path, width: int) -> bytes:
    """The workbook with its cabinet of another width, as bytes."""
    book = load_workbook(path)
    book["Cabinets"]["E2"] = width
    copy = path.parent / "~$copy.tmp"
    book.save(copy)
    content = copy.read_bytes()
    copy.unlink()
    return content


def test_a_price_book_elsewhere_serves_all_jobs(jobs: Path, tmp_path: Path) -> None:
    shop = tmp_path / "office" / "prices.xlsx"
    shop.parent.mkdir()
    shutil.copy(HOUSE / "workbooks" / "shop.xlsx", shop)
    assert [path.name for path in jobs_touched([shop], folder=jobs, out=jobs / "reports", shop=shop)] == ["street.xlsx"]
    assert jobs_touched([shop], folder=jobs, out=jobs / "reports", shop=None) == []


def test_a_glance_that_sees_no_save_opens_no_workbook(jobs: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    looked: list[Path] = []
    monkeypatch.setattr(watching, "job_files", lambda paths, **_: looked.extend(paths) or [])
    assert jobs_touched([], folder=jobs, out=jobs / "reports", shop=None) == []
    assert jobs_touched([jobs / "notes.txt"], folder=jobs, out=jobs / "reports", shop=None) == []
    assert looked == []
    jobs_touched([jobs / "street.xlsx"], folder=jobs, out=jobs / "reports", shop=None)
    assert looked == [jobs]


def test_what_moved_is_said_with_its_sign() -> None:
    one = {
        "price": {"gross": "100.00"}, "cost": {"total": "70.5"}, "minutes": {"total": "90"}, "best": ["white"],
        "boards": {"white 18": {"sheets": 3}}, "edgings": {"white": {"net_m": "10"}},
    }  # fmt: skip
    two = {**one, "cost": {"total": "70"}, "boards": {"white 18": {"sheets": 2}}, "edgings": {"white": {"net_m": "12.25"}}, "best": []}
    assert moved(one, two, units="mm") == "moved: cost -0.50, sheets -1, metres +2.3; best now: band everything here"
    assert moved(two, two, units="mm") == "nothing has moved"


def test_what_moved_has_the_decimals_of_its_money_and_the_feet_of_an_inch_shop() -> None:
    """Yen have no decimals, Bahraini dinars three (ISO 4217); 3.048 m are 10 ft."""
    one = {"job": {"currency": "JPY"}, "price": {"gross": "15000"}, "cost": {"total": "9000.4"}, "edgings": {"white": {"net_m": "3.048"}}}
    two = {**one, "price": {"gross": "15300"}, "cost": {"total": "9101"}, "edgings": {"white": {"net_m": "6.096"}}}
    assert moved(one, two, units="inch") == "moved: price +300, cost +101, feet +10.0"
    dinars = {"job": {"currency": "BHD"}}
    assert moved({**one, **dinars}, {**two, **dinars}, units="mm") == "moved: price +300.000, cost +100.600, metres +3.0"
    assert "cannot be compared" in moved(one, {**two, **dinars}, units="mm")


@pytest.mark.skipif(sys.platform == "win32", reason="Ctrl-C is sent otherwise on Windows")
def test_saves_are_priced_as_they_come(jobs: Path) -> None:
    job = jobs / "street.xlsx"
    wider, widest = widened(job, 700), widened(job, 900)
    watched = Watched(jobs)
    try:
        watched.wait_for("Watching")
        job.write_bytes(wider)
        watched.wait_for("moved: price +")
        job.write_bytes(widest[:9000])  # half saved
        time.sleep(0.7)
        job.write_bytes(widest)
        watched.wait_for("moved: price +")
        job.rename(jobs / "lane.xlsx")
        watched.wait_for("lane.xlsx:")
        (jobs / "lane.xlsx").unlink()
        watched.wait_for("lane.xlsx is gone or renamed")
        watched.process.send_signal(signal.SIGINT)
        assert watched.process.wait(60) == 0
        assert "No longer watching." in "".join(watched.said)
        assert "Traceback" not in "".join(watched.said)
        assert "KeyboardInterrupt" not in "".join(watched.said)
    finally:
        watched.process.kill()
