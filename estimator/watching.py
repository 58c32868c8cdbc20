"""A folder watched: every save of a workbook prices its job again, and says the new price and what moved since the last time.

The process stays as it is between saves, so a save is answered in a moment. Half-saved files are waited for, files that a spreadsheet
program holds open are read when they are whole, and what is taken away or renamed is told.
"""

from __future__ import annotations

import json
import time
import zipfile
from collections.abc import Callable, Iterable
from contextlib import suppress
from pathlib import Path
from typing import Any

from estimator.batch import Priced, Task, do, tasks_for
from estimator.job_files import job_files
from estimator.papers.estimate_json import estimate_data
from estimator.papers.files import PASSING, kept
from estimator.telling import gone_words, moved, told, watching_words

Say = Callable[[str], None]
PATIENCE_S, GLANCE_S = 4.0, 0.15
"""How long a save may take until it is told as a damaged file, and how often one looks."""
GLANCE_MS = 300
"""How long one waits for a save before looking again."""


def watch(folder: Path, *, out: Path, shop: Path | None, words: Path | None, say: Say) -> None:
    """Price what has changed since the last time, then every job as it is saved, until somebody stops it with Ctrl-C."""
    with suppress(KeyboardInterrupt):  # at whatever moment: papers are whole or not there
        _watch(folder, out=out, shop=shop, words=words, say=say)


def _watch(folder: Path, *, out: Path, shop: Path | None, words: Path | None, say: Say) -> None:
    from watchfiles import watch as saves

    elsewhere = [shop.resolve().parent] if shop and folder.resolve() not in shop.resolve().parents else []
    saved = saves(folder, *elsewhere, debounce=400, step=50, rust_timeout=GLANCE_MS, yield_on_timeout=True, raise_interrupt=True)
    next(saved)  # the watch stands before the first job is priced, so that no save falls between the two
    last: dict[Path, dict[str, Any]] = {}
    for task in tasks_for([folder], out=out, shop=shop, words=words):
        if before := latest_estimate(task.folder):
            last[task.path] = before
        _price(task, last, say)
    say(watching_words(folder))
    for changes in saved:
        changed = {Path(name) for _, name in changes}
        for gone in sorted(path for path in changed & last.keys() if not path.exists()):
            last.pop(gone)
            say(gone_words(gone))
        for job in jobs_touched(changed, folder=folder, out=out, shop=shop):
            book = shop.resolve() if shop else job.with_name("shop.xlsx")
            if book in {path.resolve() for path in changed}:
                _whole(book)
            if not _whole(job):
                continue
            for task in tasks_for([folder], out=out, shop=shop, words=words):
                if task.path.resolve() == job:
                    _price(task, last, say)


def jobs_touched(changed: Iterable[Path], *, folder: Path, out: Path, shop: Path | None) -> list[Path]:
    """The jobs that a set of saved files concerns: a job itself, or every job that a price book serves; never our own papers."""
    books = {
        path.resolve()
        for path in changed
        if path.suffix.lower() in (".xlsx", ".xlsm")
        and not path.name.startswith("~$")
        and PASSING not in path.name
        and out.resolve() not in path.resolve().parents
        and path.exists()
    }
    if not books:
        return []  # most glances see nothing saved, or our own papers: no workbook is opened for them
    files = [(path, is_job) for path, is_job in job_files([folder], besides=out) if not path.name.startswith("~$")]
    jobs = {path.resolve() for path, is_job in files if is_job or not zipfile.is_zipfile(path)}  # a half-saved one may be a job
    serving_all = shop is not None and shop.resolve() in books
    served = {job for job in jobs if serving_all or job.with_name("shop.xlsx") in books}
    return sorted((books & jobs) | served)


def _price(task: Task, last: dict[Path, dict[str, Any]], say: Say) -> None:
    outcome = do(task)
    say(told(outcome, papers=True, as_json=False).words)
    if isinstance(outcome, Priced):
        now = json.loads(json.dumps(estimate_data(outcome.estimate)))
        if before := last.get(task.path):
            say(f"    {moved(before, now, units=outcome.estimate.job.terms.units)}")
        last[task.path] = now


def _whole(path: Path) -> bool:
    """Wait for a save to end: the file keeps its size and opens. False for one that is gone; a damaged one is priced, to be told."""
    end = time.monotonic() + PATIENCE_S
    size = -1
    while time.monotonic() < end:
        try:
            now = path.stat().st_size
            if now == size and zipfile.is_zipfile(path):
                return True
        except FileNotFoundError:
            now = -1  # some programs save by taking the old file away first
        except OSError:
            now = size
        size = now
        time.sleep(GLANCE_S)
    return path.exists()


def latest_estimate(folder: Path) -> dict[str, Any] | None:
    """The estimate that was written last among a job's revisions."""
    written = sorted(folder.glob("*/estimate.json"), key=lambda path: path.stat().st_mtime)
    for path in reversed(written):
        data = kept(path)
        if isinstance(data, dict):
            return data
    return None
