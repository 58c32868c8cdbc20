"""Jobs handed to other computers: tasks in, what came of each told in their order, through a running Dask cluster.

A job travels as bytes: its workbook, the price book, the shop's own words, its logo, and what an earlier run left of its papers. The
papers come back as bytes and are written here, by the same hand as ever. A worker that is lost loses no job: the cluster gives it to
another, and nothing is written until it is whole. Every computer of the cluster has this program installed, in the same version.
"""

from __future__ import annotations

import tempfile
from collections import deque
from collections.abc import Iterator, Sequence
from concurrent.futures import Executor, Future
from dataclasses import replace
from pathlib import Path
from typing import Any

from estimator.batch import Priced, Task, broken, do
from estimator.model.dataclass import dataclass
from estimator.papers.files import write_papers
from estimator.telling import Told, told

AHEAD = 200
"""Jobs under way at once: enough for many workers, few enough that their papers fit into memory."""
TRIES = 5
PATIENCE_S = "10s"


class NoCluster(Exception):
    """Why the jobs cannot be handed on, in words for the person who asked."""


@dataclass(frozen=True, slots=True)
class Parcel:
    """A job on its way: its files by their path below the folder in which it is unpacked."""

    task: Task
    workbook: str
    shop: str
    words: str
    files: dict[str, bytes]
    as_json: bool


@dataclass(frozen=True, slots=True)
class Returned:
    """What came back: how it is told, and the papers to write."""

    told: Told
    folder: Path | None
    papers: dict[str, bytes]


def hands_at(address: str) -> tuple[Any, Executor]:
    """The cluster's client, to be closed, and its workers as an executor like any other."""
    try:
        from distributed import Client
    except ImportError as missing:
        raise NoCluster('--on needs the packages of the cluster: pip install "estimator[cluster]"') from missing
    try:
        client = Client(address, timeout=PATIENCE_S, set_as_default=False)  # type: ignore[no-untyped-call]
    except (OSError, ValueError) as trouble:
        raise NoCluster(f"no cluster answers at {address}: {trouble}") from trouble
    return client, client.get_executor(retries=TRIES)  # type: ignore[no-untyped-call]


def price_elsewhere(tasks: Sequence[Task], address: str, *, as_json: bool) -> Iterator[Told]:
    """What came of each task, in the order of the tasks; papers are written here as they come."""
    client, hands = hands_at(address)
    try:
        waiting: deque[tuple[Task, Future[Returned] | Told]] = deque()
        rest = iter(tasks)
        while True:
            while len(waiting) < AHEAD and (task := next(rest, None)):
                waiting.append((task, _handed(task, hands, as_json=as_json)))
            if not waiting:
                return
            yield _fetched(*waiting.popleft(), as_json=as_json)
    finally:
        client.close()


def _handed(task: Task, hands: Executor, *, as_json: bool) -> Future[Returned] | Told:
    """The job on its way; or what kept it from leaving, which stops no other."""
    try:
        return hands.submit(work, packed(task, as_json=as_json))
    except Exception as fault:
        return told(broken(task.path, fault), papers=True, as_json=as_json)


def _fetched(task: Task, handed: Future[Returned] | Told, *, as_json: bool) -> Told:
    """What came back, its papers written; a job that was lost too often or that the disk would not take stops no other."""
    if isinstance(handed, Told):
        return handed
    try:
        returned = handed.result()
        if returned.folder and returned.papers:
            write_papers(returned.folder, returned.papers)
        return returned.told
    except Exception as fault:
        return told(broken(task.path, fault), papers=True, as_json=as_json)


def packed(task: Task, *, as_json: bool) -> Parcel:
    """A task with everything that it needs, as bytes."""
    files = {f"job/{task.path.name}": task.path.read_bytes()}
    second = task.shop or task.path.with_name("shop.xlsx")
    if second.is_file():
        files[f"{'shop' if task.shop else 'job'}/{second.name}"] = second.read_bytes()
    for picture in task.path.parent.iterdir():
        if picture.suffix.lower() in (".png", ".jpg", ".jpeg", ".gif"):
            files[f"job/{picture.name}"] = picture.read_bytes()
    for page in task.words.rglob("*") if task.words else ():
        if page.is_file() and task.words:
            files[f"words/{page.relative_to(task.words).as_posix()}"] = page.read_bytes()
    for paper in task.folder.glob("*/*"):
        if paper.is_file():  # of most papers a worker needs to know only that they are there
            content = paper.read_bytes() if paper.name == "estimate.json" else b""
            files[f"out/{paper.parent.name}/{paper.name}"] = content
    return Parcel(
        task,
        workbook=f"job/{task.path.name}",
        shop=f"shop/{second.name}" if task.shop else "",
        words="words" if task.words else "",
        files=files,
        as_json=as_json,
    )


def work(parcel: Parcel) -> Returned:
    """One job done where the parcel arrived: unpacked, priced, and its papers taken back up."""
    with tempfile.TemporaryDirectory() as place:
        here = Path(place)
        for name, content in parcel.files.items():
            (here / name).parent.mkdir(parents=True, exist_ok=True)
            (here / name).write_bytes(content)
        words, shop = (here / name if name else None for name in (parcel.words, parcel.shop))
        outcome = do(Task(here / parcel.workbook, here / "out", shop, words, again=parcel.task.again))
        papers: dict[str, bytes] = {}
        folder = None
        found = getattr(outcome, "folder", None)
        if found is not None:
            folder = parcel.task.folder / found.name
            outcome = replace(outcome, folder=folder)
            if isinstance(outcome, Priced):
                papers = _in_order({path.name: path.read_bytes() for path in sorted(found.iterdir())})
        outcome = replace(outcome, path=parcel.task.path)
        return Returned(told(outcome, papers=True, as_json=parcel.as_json), folder, papers)


def _in_order(papers: dict[str, bytes]) -> dict[str, bytes]:
    """The papers that were made, the estimate last: it is their seal.

    What came along only as a name came back empty, a quote that the client holds or a file that somebody laid beside
    the papers: it stays here as it is.
    """
    made = {name: content for name, content in papers.items() if content}
    return {name: made[name] for name in sorted(made, key=lambda name: (name == "estimate.json", name))}
