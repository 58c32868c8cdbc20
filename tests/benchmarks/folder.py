"""A folder of jobs of mixed sizes: jobs a second with one worker and with two, beside the floor's own rate for the same files.

`python -m tests.benchmarks.folder [JOBS]` draws that many jobs by chance with a fixed seed (one to sixty cabinets, 200 if nothing is said). The floor is one warm
process that opens each workbook with openpyxl, saves it and writes a PDF of three pages: what no program of this kind can do without. The last lines say
what 100,000 such jobs a day would need of this computer: its cores, its disk, and a network to others.
"""

import io
import os
import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from openpyxl import load_workbook

from estimator.batch import tasks_for
from estimator.folder import price_folder
from tests.benchmarks.cold_start import three_pages
from tests.oracle.book import write
from tests.oracle.random_jobs import random_job

A_DAY = 100_000
WAITS = 6
"""Files and the folder that are forced to the disk for each job."""


def draw_jobs(place: Path, many: int) -> list[Path]:
    """So many different jobs, each in a folder of its own."""
    paths = []
    for number in range(many):
        folder = place / f"{number:04}"
        folder.mkdir(parents=True)
        path = write(random_job(500_000 + number), folder)
        paths.append(path.rename(path.with_name(f"job {number:04}.xlsx")))
    return paths


def floor(paths: list[Path]) -> None:
    for path in paths:
        load_workbook(path).save(io.BytesIO())
        three_pages(io.BytesIO())


def priced(paths: list[Path], out: Path, *, workers: int) -> None:
    codes = [told.code for told in price_folder(tasks_for(paths, out=out, again=True), workers=workers)]
    assert codes == [0] * len(paths), "a job of the benchmark was refused"


def spent(run: Callable[[], None]) -> tuple[float, float]:
    """Seconds by the clock, and of the processor with all workers."""
    before, start = os.times(), time.perf_counter()
    run()
    after = os.times()
    return time.perf_counter() - start, sum(after[:4]) - sum(before[:4])


def forced_ms(place: Path, *, size: int) -> float:
    """How long the disk takes for a new file of so many bytes until it is kept for good: the median of forty."""
    waits = []
    for number in range(40):
        with (place / f"forced {number}").open("wb") as file:
            start = time.perf_counter()
            file.write(os.urandom(size))
            file.flush()
            os.fsync(file.fileno())
            waits.append((time.perf_counter() - start) * 1000)
    return statistics.median(waits)


def bytes_below(place: Path) -> int:
    return sum(path.stat().st_size for path in place.rglob("*") if path.is_file())


def tell_a_day(many: int, *, one_s: float, back: int, there: int, disk_ms: float) -> None:
    """What a day of many jobs would need, from what was measured."""
    print(f"a job: {there / many / 1e6:.2f} MB of workbooks in, {back / many / 1e6:.2f} MB of papers out, {WAITS} waits for the disk of {disk_ms:.1f} ms")
    print(f"{A_DAY:,} jobs a day, {A_DAY / 86_400:.2f} a second:")
    print(f"  cores      {one_s / many * A_DAY / 3600:8.1f} hours of one core, so {one_s / many * A_DAY / 86_400:.2f} cores all day")
    print(f"  disk       {WAITS * disk_ms / 1000 * A_DAY / 3600:8.1f} hours of waiting on the computer that writes; {back / many * A_DAY / 1e9:.0f} GB in {5 * A_DAY:,} files")
    print(f"  network    {(back + there) / many * A_DAY / 86_400 / 1e6:8.2f} MB a second between the computers, spread over the day")


def main(many: int) -> None:
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        paths = draw_jobs(place / "jobs", many)
        least = spent(lambda: floor(paths))
        one, two = (spent(lambda: priced(paths, place / f"out {workers}", workers=workers)) for workers in (1, 2))
        there, back = bytes_below(place / "jobs"), bytes_below(place / "out 2")
        disk_ms = forced_ms(place, size=back // many // 5)
    print(f"a folder of {many} jobs{'':12}{'seconds':>10}{'processor s':>13}{'jobs a second':>15}{'times the floor':>17}{'by processor':>14}")
    for name, taken in (("floor, one process", least), ("one worker", one), ("two workers", two)):
        clock, processor = taken
        print(f"{name:34}{clock:10.1f}{processor:13.1f}{many / clock:15.2f}{clock / least[0]:17.2f}{processor / least[1]:14.2f}")
    print(f"two workers do {one[0] / two[0]:.2f} times the work of one")
    tell_a_day(many, one_s=one[1], back=back, there=there, disk_ms=disk_ms)


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 200)
