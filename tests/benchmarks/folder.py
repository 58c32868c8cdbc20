"""A folder of jobs of mixed sizes: jobs a second with one worker and with two, beside the floor's own rate for the same files.

`python -m tests.benchmarks.folder [JOBS]` draws that many jobs by chance with a fixed seed (one to sixty cabinets, 200 if nothing is said). The floor is one warm
process that opens each workbook with openpyxl, saves it and writes a PDF of three pages: what no program of this kind can do without.
"""

import io
import sys
import tempfile
import time
from pathlib import Path

from openpyxl import load_workbook

from estimator.batch import tasks_for
from estimator.folder import price_folder
from tests.benchmarks.cold_start import three_pages
from tests.oracle.book import write
from tests.oracle.random_jobs import random_job


def draw_jobs(place: Path, many: int) -> list[Path]:
    """So many different jobs, each in a folder of its own."""
    paths = []
    for number in range(many):
        folder = place / f"{number:04}"
        folder.mkdir(parents=True)
        path = write(random_job(500_000 + number), folder)
        paths.append(path.rename(path.with_name(f"job {number:04}.xlsx")))
    return paths


def floor_s(paths: list[Path]) -> float:
    start = time.perf_counter()
    for path in paths:
        load_workbook(path).save(io.BytesIO())
        three_pages(io.BytesIO())
    return time.perf_counter() - start


def priced_s(paths: list[Path], out: Path, *, workers: int) -> float:
    start = time.perf_counter()
    codes = [told.code for told in price_folder(tasks_for(paths, out=out, again=True), workers=workers)]
    assert codes == [0] * len(paths), "a job of the benchmark was refused"
    return time.perf_counter() - start


def main(many: int) -> None:
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        paths = draw_jobs(place / "jobs", many)
        floor = floor_s(paths)
        one, two = (priced_s(paths, place / f"out {workers}", workers=workers) for workers in (1, 2))
    print(f"a folder of {many} jobs{'':12}{'seconds':>10}{'jobs a second':>16}{'times the floor':>18}")
    for name, taken in (("floor, one process", floor), ("one worker", one), ("two workers", two)):
        print(f"{name:34}{taken:10.1f}{many / taken:16.2f}{taken / floor:18.2f}")
    print(f"two workers do {one / two:.2f} times the work of one")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 200)
