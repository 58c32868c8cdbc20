"""What a shop would otherwise do: a workbook of formulas worked out anew and printed by LibreOffice, beside the command on the same jobs.

`python -m tests.benchmarks.libreoffice [--runs 5] [--jobs 20]`: first the kitchen, the two in turn, so many times; then a folder of so many copies of
the sample kitchen, one cabinet and wardrobe, once as a run over the folder and once with LibreOffice called for each job. LibreOffice is given our
filled-in workbook, whose formulas hold the whole estimate: it writes one PDF, we write five papers. By the clock and by the processor.
"""

import argparse
import os
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from pathlib import Path

from tests.papers.priced.recalculation import ALWAYS_ANEW

HOUSE = Path(__file__).parents[2]
SAMPLES = ("kitchen", "one-cabinet", "wardrobe")


def spent(command: list[str]) -> tuple[float, float]:
    """Seconds by the clock, and of the processor, of one run of a command."""
    before, start = os.times(), time.perf_counter()
    subprocess.run(command, check=True, capture_output=True, cwd=HOUSE)
    after = os.times()
    return time.perf_counter() - start, sum(after[2:4]) - sum(before[2:4])


def recalculating(place: Path) -> None:
    """LibreOffice works every formula out anew when it opens a book, instead of believing the answers stored in it."""
    user = place / "profile" / "user"
    user.mkdir(parents=True)
    (user / "registrymodifications.xcu").write_text(ALWAYS_ANEW, encoding="utf-8")


def office(book: Path, place: Path) -> list[str]:
    profile = f"-env:UserInstallation=file://{place}/profile"
    return ["soffice", "--headless", profile, "--convert-to", "pdf", "--outdir", str(place), str(book)]


def price(jobs: Path, place: Path) -> list[str]:
    return [sys.executable, "-m", "estimator", "price", str(jobs), "--out", str(place / "out"), "--again"]


def one_job(place: Path, runs: int) -> None:
    kitchen = HOUSE / "workbooks" / "kitchen.xlsx"
    ours, theirs = price(kitchen, place), office(place / "out" / "kitchen" / "1" / "priced.xlsx", place)
    spent(ours), spent(theirs)  # the first run warms the disk and makes the profile
    pairs = [(spent(ours), spent(theirs)) for _ in range(runs)]
    mine, other = ([statistics.median(pair[who][what] for pair in pairs) for what in (0, 1)] for who in (0, 1))
    tell(f"the kitchen, median of {runs}", mine, "LibreOffice", other)


def tell(what: str, mine: Sequence[float], who: str, other: Sequence[float]) -> None:
    for words, at in (("by the clock", 0), ("of the processor", 1)):
        print(f"{what}:  estimator price {mine[at]:.2f} s, {who} {other[at]:.2f} s {words}, {other[at] / mine[at]:.1f} times as long")


def folder(place: Path, many: int) -> None:
    jobs = place / "jobs"
    jobs.mkdir()
    for number in range(many):
        shutil.copy(HOUSE / "workbooks" / f"{SAMPLES[number % len(SAMPLES)]}.xlsx", jobs / f"job {number:03}.xlsx")
    shutil.copy(HOUSE / "workbooks" / "shop.xlsx", jobs)
    mine = spent(price(jobs, place))
    books = sorted((place / "out").glob("job */*/priced.xlsx"))
    assert len(books) == many
    theirs = [spent(office(book, place)) for book in books]
    tell(f"a folder of {many} jobs", mine, "LibreOffice called per job", [sum(one[at] for one in theirs) for at in (0, 1)])


def main(*, runs: int, jobs: int) -> None:
    if shutil.which("soffice") is None:
        print("LibreOffice is not here: NOT compared")
        return
    with tempfile.TemporaryDirectory() as place:
        recalculating(Path(place))
        one_job(Path(place), runs)
        folder(Path(place), jobs)


if __name__ == "__main__":
    reader = argparse.ArgumentParser(description="The command beside LibreOffice on the same jobs.")
    reader.add_argument("--runs", type=int, default=5, metavar="N", help="how often the kitchen is priced and printed by each")
    reader.add_argument("--jobs", type=int, default=20, metavar="N", help="jobs of the folder")
    main(**vars(reader.parse_args()))
