"""Many jobs priced side by side: tasks in, what came of each told in the order of the tasks, whatever core or computer did it.

A job needs nothing of another, so they are handed to workers through the executor interface of `concurrent.futures`: processes of this
computer, or what somebody else brings along. With one job or one worker everything is done here. A worker that dies takes no job with it:
what it left is done here.
"""

from __future__ import annotations

import gc
import os
import signal
import sys
import threading
import time
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Executor, Future
from contextlib import nullcontext
from functools import partial
from pathlib import Path
from typing import TypeVar

from estimator.batch import Task, do
from estimator.job_files import job_files
from estimator.papers.at_hand import fetch_papers
from estimator.telling import Told, told

Handed = TypeVar("Handed")
_LOOKS_EVERY_S = 0.5
AHEAD = 4
"""Tasks handed out ahead for each worker: enough to keep all busy, few enough that memory does not grow with the folder."""


def price_folder(
    tasks: Sequence[Task], *, as_json: bool = False, workers: int | None = None, executor: Executor | None = None
) -> Iterator[Told]:
    """What came of each task, in the order of the tasks."""
    many = min(workers or os.cpu_count() or 1, len(tasks))
    if executor is None and many < 2:
        yield from (work(task, as_json) for task in tasks)
        return
    with nullcontext(executor) if executor else processes(many) as hands:
        try:
            yield from in_order(
                tasks, hand=partial(_handed, hands=hands, as_json=as_json), fetch=partial(_fetched, as_json=as_json), ahead=AHEAD * many
            )
        except KeyboardInterrupt:
            hands.shutdown(wait=False, cancel_futures=True)  # whoever presses Ctrl-C waits for no further job
            raise


def work(task: Task, as_json: bool) -> Told:
    """One task, where it is done; what it leaves in circles goes with it, so that memory does not grow with the jobs."""
    outcome = told(do(task), papers=True, as_json=as_json)
    if not task.alone:
        gc.collect()
    return outcome


def in_order(
    tasks: Sequence[Task], *, hand: Callable[[Task], Handed], fetch: Callable[[Task, Handed], Told], ahead: int
) -> Iterator[Told]:
    """Each task handed out, no more than `ahead` of them at once, and fetched in the order of the tasks."""
    waiting: deque[tuple[Task, Handed]] = deque()
    rest = iter(tasks)
    while True:
        while len(waiting) < ahead and (task := next(rest, None)):
            waiting.append((task, hand(task)))
        if not waiting:
            return
        yield fetch(*waiting.popleft())


def _handed(task: Task, *, hands: Executor, as_json: bool) -> Future[Told] | None:
    """None where the workers take no more, since one of them died."""
    from concurrent.futures import BrokenExecutor

    try:
        return hands.submit(work, task, as_json)
    except BrokenExecutor:
        return None


def _fetched(task: Task, future: Future[Told] | None, *, as_json: bool) -> Told:
    from concurrent.futures import BrokenExecutor

    try:
        return future.result() if future else work(task, as_json)
    except BrokenExecutor:
        return work(task, as_json)


def processes(many: int) -> Executor:
    """Workers on this computer's cores; where a process can be copied, each starts with all that is imported here."""
    from concurrent.futures import ProcessPoolExecutor
    from multiprocessing import get_context

    if not sys.platform.startswith("linux"):
        return ProcessPoolExecutor(many)
    fetch_papers()
    # what a worker starts with stays: it need not be looked through after every job
    return ProcessPoolExecutor(many, mp_context=get_context("fork"), initializer=_begin_work, initargs=(os.getpid(),))


def _begin_work(parent: int) -> None:
    """In a worker: leave Ctrl-C to the process that handed the work out, and end with it, however it ends."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    threading.Thread(target=_end_with, args=(parent,), daemon=True).start()
    gc.freeze()


def _end_with(parent: int) -> None:
    """A worker waits on a pipe that its sisters hold open too, so it would never hear that nobody hands out work any more."""
    while os.getppid() == parent:
        time.sleep(_LOOKS_EVERY_S)
    os._exit(1)


def left_alone(paths: Sequence[Path], *, besides: Path) -> str:
    """Which workbooks of the folders are no jobs, in words; nothing when all are."""
    others = [path.name for path, is_job in job_files(paths, besides=besides) if not is_job]
    if not others:
        return ""
    shown = ", ".join(others[:5]) + (f" and {len(others) - 5} more" if len(others) > 5 else "")
    return f"Left alone, being no job: {shown}"
