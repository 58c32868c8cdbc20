"""What-ifs on random jobs: one live input of a written workbook is changed, LibreOffice works it out, a fresh run must agree.

    nice -n 10 python -m tests.papers.priced.what_ifs 200 [FIRST SEED]

Kinds of input take turns, the least tried first, so that every column that the formulas follow is met. A change that moves a sheet, a
glue batch or a tax rate is not compared, as the formulas take those as they were counted; another is drawn in its place. One change
a job is of a cell that decides sizes or counts: there the line "sizes have changed" must stand on the first sheet, and nowhere else.
"""

from __future__ import annotations

import io
import sys
import tempfile
from collections import Counter
from dataclasses import dataclass
from pathlib import Path
from random import Random

from openpyxl import Workbook, load_workbook

from estimator.batch import price_book
from estimator.model.results import Estimate
from estimator.papers.priced.changed_sheet import SIZES
from estimator.papers.priced_workbook import PricedBook, priced_book
from tests.oracle.book import write
from tests.oracle.random_jobs import random_job
from tests.papers.priced.recalculation import recalculated
from tests.papers.priced.what_if import (
    WAY,
    Change,
    asked_for,
    changes_by_kind,
    differences,
    priced,
    result_sheets_quickly,
    watched_by_kind,
    with_value,
)

MOST_CABINETS, CHANGES_A_JOB, FILES_A_CALL = 4, 7, 40


@dataclass(frozen=True)
class WhatIf:
    """A change made in a book, and what a fresh run writes for it; nothing where sizes are what was changed."""

    seed: int
    words: str
    edited: bytes
    wanted: bytes | None


def job_of(seed: int, folder: Path) -> Path:
    """A random job; every second one with spoilt parts and with parts too small for the contract bander, every fourth with options."""
    job = random_job(seed, most_cabinets=MOST_CABINETS)
    if seed % 4:
        job["Options"] = []
    if seed % 2:
        job["Shop"]["Spoilt by hand"] = "3 %"
        if job.get("Contract"):
            job["Contract"]["Spoilt"] = "2 %"
            job["Contract"]["Smallest length"] = "350 mm"
    return write(job, folder)


def counts(estimate: Estimate) -> tuple[object, object, int]:
    """Sheets, batches and tax rates: what the formulas take as it was counted. Where they move a fresh run is asked for."""
    batches = {way.sent: way.batches for way in estimate.counted.ways}  # of each way, since the best may be another then
    sheets = [[size.sheets for size in use.by_size] for use in estimate.boards]
    return sheets, batches, len(estimate.price.tax)


def fresh_run(book: bytes, opened: Workbook, change: Change, before: Estimate, folder: Path) -> tuple[bytes, bytes] | None:
    """The book with the change, and what a fresh run writes into it; None where counts move or the change is refused."""
    edited = with_value(opened, change.sheet, change.cell, change.after)
    path = folder / "changed.xlsx"
    path.write_bytes(asked_for(book, str(change.after)) if change.figure == WAY else edited)
    fresh = price_book(path)
    step = 2 if change.figure == WAY else 1  # another way of banding has other batches, which are counted way by way
    if not isinstance(fresh, Estimate) or counts(fresh)[::step] != counts(before)[::step]:
        return None
    wanted = priced_book(fresh, user_book=path.read_bytes(), shop_book=None)
    assert isinstance(wanted, PricedBook)
    return edited, wanted.book


def of_one_job(seed: int, live: Counter[str], watched: Counter[str]) -> list[WhatIf]:
    """A few changes of live inputs, and one of a cell that decides sizes; none of a job that its small parts make impossible."""
    with tempfile.TemporaryDirectory() as folder:
        path = job_of(seed, Path(folder))
        if not isinstance(price_book(path), Estimate):
            return []
        before, book = priced(path)
        rng, opened = Random(seed), load_workbook(io.BytesIO(book))
        kinds, found = changes_by_kind(opened, rng), list[WhatIf]()
        for kind in sorted(kinds, key=lambda kind: (live[kind], rng.random())):
            change = rng.choice(kinds[kind])
            both = fresh_run(book, opened, change, before, Path(folder))
            if both is not None:
                live[kind] += 1
                found.append(WhatIf(seed, str(change), *both))
            if len(found) == CHANGES_A_JOB:
                break
        sizes = watched_by_kind(opened)
        kind = min(sizes, key=lambda kind: (watched[kind], rng.random()))
        watched[kind] += 1
        sheet, cell = rng.choice(sizes[kind])
        found.append(WhatIf(seed, f"{kind} at {sheet} {cell}", other_value(opened, sheet, cell), None))
    return found


def other_value(opened: Workbook, sheet: str, cell: str) -> bytes:
    value = opened[sheet][cell].value
    number = isinstance(value, int | float) and not isinstance(value, bool)
    return with_value(opened, sheet, cell, value + 1 if number else f"{value or ''}1")


def complaints(cases: list[WhatIf]) -> list[str]:
    """Every cell of every case that LibreOffice works out otherwise than the engine."""
    said = []
    with tempfile.TemporaryDirectory() as folder:
        paths = [Path(folder) / f"{place}.xlsx" for place in range(len(cases))]
        for path, case in zip(paths, cases, strict=True):
            path.write_bytes(case.edited)
        for case, back in zip(cases, recalculated(paths, Path(folder) / "back"), strict=True):
            found = result_sheets_quickly(back.read_bytes())
            line = str(found["Answer"]["A3"])
            if case.wanted is None:
                lines = [] if line == SIZES else [f"the line says {line!r}"]
            else:
                lines = differences(result_sheets_quickly(case.wanted), found, told_at_pricing=True)
                lines += ["the line says that sizes have changed"] if line == SIZES else []
            said += [f"seed {case.seed}, {case.words}: {words}" for words in lines[:5]]
    return said


def main(many: int, first: int) -> int:
    live, watched, said, seed, waiting = Counter[str](), Counter[str](), list[str](), first, list[WhatIf]()
    while sum(live.values()) < many:
        waiting += of_one_job(seed, live, watched)
        seed += 1
        if len(waiting) >= FILES_A_CALL or sum(live.values()) >= many:
            new = complaints(waiting)
            said += new
            waiting = []
            print(f"{sum(live.values())} of {many}, {len(said)} complaints", *new, sep="\n", flush=True)
    for words, kinds in (("live", live), ("of sizes and counts", watched)):
        print(f"{sum(kinds.values())} changes {words}, {len(kinds)} kinds:", ", ".join(f"{kind} {kinds[kind]}" for kind in sorted(kinds)))
    return 1 if said else 0


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]), int(sys.argv[2]) if len(sys.argv) > 2 else 0))
