"""Jobs handed to other computers: tasks in, what came of each told in their order, through a running Dask cluster.

This computer holds the files and decides: what has not changed is not sent, what its client was sent is not written over. A job travels
as bytes: its workbook, the price book, the shop's own words, its logo. The papers come back as bytes and are put away here, by the same
hand as ever. A worker that is lost loses no job: the cluster gives it to another. A computer that is not set up as this one is told.
"""

from __future__ import annotations

import os.path
import platform
import tempfile
from collections.abc import Iterator, Mapping, Sequence
from concurrent.futures import Executor, Future
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import Any

from estimator.batch import Broken, Drawn, Priced, Refused, Task, broken, do, drawn, unchanged
from estimator.folder import in_order
from estimator.made_from import prints_of
from estimator.model.dataclass import dataclass
from estimator.model.problems import Place
from estimator.model.refusal import Refusal
from estimator.papers.files import folder_name
from estimator.papers.quote.logo_file import logo_beside
from estimator.reading.logo import logo_named
from estimator.sent import ESTIMATE, written_or_sent
from estimator.set_up import differences, set_up
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

    path: Path
    folder: Path
    """Where its papers will lie, for what is said of them."""
    workbook: str
    shop: str
    words: str
    files: dict[str, bytes]
    prints: dict[str, str]
    sender: dict[str, str]
    """How the computer is set up that sends it."""
    as_json: bool


@dataclass(frozen=True, slots=True)
class Returned:
    """What came back: how it is told, and the papers to put away with the name of their revision and its cell."""

    told: Told
    papers: dict[str, bytes] | None = None
    revision: str = ""
    revision_at: Place | None = None


def price_elsewhere(tasks: Sequence[Task], address: str, *, as_json: bool) -> Iterator[Told]:
    """What came of each task, in their order. Raises NoCluster before anything is handed on."""
    client = _client_at(address)
    try:
        _all_alike(client, address)
    except BaseException:
        client.close()
        raise
    return _handing(tasks, client, as_json=as_json)


def _handing(tasks: Sequence[Task], client: Any, *, as_json: bool) -> Iterator[Told]:
    try:
        hands = client.get_executor(retries=TRIES, pure=False)
        yield from in_order(
            tasks, hand=partial(handed, hands=hands, as_json=as_json), fetch=partial(fetched, as_json=as_json), ahead=AHEAD
        )
    finally:
        client.close()


def _client_at(address: str) -> Any:
    try:
        from distributed import Client
    except ImportError as missing:
        raise NoCluster('--on needs the packages of the cluster: pip install "estimator[cluster]"') from missing
    try:
        return Client(address, timeout=PATIENCE_S, set_as_default=False)  # type: ignore[no-untyped-call]
    except (OSError, ValueError) as trouble:
        raise NoCluster(f"no cluster answers at {address}: {trouble}") from trouble


def _all_alike(client: Any, address: str) -> None:
    """Every computer of the cluster writes the bytes that this one would write."""
    try:
        client.wait_for_workers(1, timeout=PATIENCE_S)
    except OSError as trouble:
        raise NoCluster(f"a cluster answers at {address}, but no worker has joined it: start one on each computer") from trouble
    try:
        found: Mapping[str, Any] = client.run(set_up, on_error="return")
    except Exception as trouble:
        raise NoCluster(f"the workers at {address} cannot run this version of estimator: {trouble}") from trouble
    for worker, there in sorted(found.items()):
        if isinstance(there, BaseException):
            raise NoCluster(f"the worker {worker} cannot run this program: {there}. {_MEND}")
        if why := differences(there, set_up()):
            raise NoCluster(f"the worker {worker} {_NOT_ALIKE}: {why}. {_MEND}")


_NOT_ALIKE = "is not set up as this computer, so its papers could differ"
_MEND = "Install it there as it is here, or take it out of the cluster"


def handed(task: Task, *, hands: Executor, as_json: bool) -> Future[Returned] | Told:
    """The job on its way; or what is known of it already, or what kept it from leaving, which stops no other."""
    try:
        prints = prints_of(task.path, shop=task.shop, words=task.words)
        if not task.again and (before := unchanged(task.path, folder=task.folder, prints=prints)):
            return told(before, papers=True, as_json=as_json)
        parcel = packed(task, prints=prints, as_json=as_json)
        return hands.submit(work, parcel) if parcel else told(do(task), papers=True, as_json=as_json)
    except Exception as fault:
        return told(broken(task.path, fault), papers=True, as_json=as_json)


def fetched(task: Task, handed: Future[Returned] | Told, *, as_json: bool) -> Told:
    """What came back, its papers put away; a job that was lost too often or that the disk would not take stops no other."""
    if isinstance(handed, Told):
        return handed
    try:
        returned = handed.result()
        if returned.papers and returned.revision_at:
            target = task.folder / folder_name(returned.revision)
            if problem := written_or_sent(target, returned.papers, revision_at=returned.revision_at):
                refused = Refused(task.path, Refusal(task.path.name, (problem,)))
                return told(refused, papers=True, as_json=as_json)
        return returned.told
    except Exception as fault:
        return told(broken(task.path, fault), papers=True, as_json=as_json)


def packed(task: Task, *, prints: Mapping[str, str], as_json: bool) -> Parcel | None:
    """A task with everything that it needs, as bytes; None where its logo is named by a path that only this computer knows."""
    files = {f"job/{task.path.name}": task.path.read_bytes()}
    second = task.shop or task.path.with_name("shop.xlsx")
    itself = second.is_file() and second.samefile(task.path)
    shop = f"job/{task.path.name}" if itself and task.shop else f"shop/{second.name}" if task.shop else ""
    if second.is_file() and not itself:
        files[shop or f"job/{second.name}"] = second.read_bytes()
    logo = logo_named(task.path, shop=task.shop)
    if picture := logo_beside(logo, beside=task.path.parent):
        if Path(logo).is_absolute():
            return None
        files[f"job/{_below(logo)}"] = picture.read_bytes()
    for page in task.words.rglob("*") if task.words else ():
        if page.is_file() and task.words:
            files[f"words/{page.relative_to(task.words).as_posix()}"] = page.read_bytes()
    return Parcel(
        task.path, task.folder, f"job/{task.path.name}", shop, "words" if task.words else "", files, dict(prints), set_up(), as_json
    )


def _below(logo: str) -> str:
    """A path below the job's folder without detours, so that it can be laid there again.

    >>> _below("pictures/../marks/ours.png")
    'marks/ours.png'
    """
    return Path(os.path.normpath(logo)).as_posix()


def work(parcel: Parcel) -> Returned:
    """One job done where the parcel arrived: unpacked, priced, and its papers taken back up."""
    if why := differences(set_up(), parcel.sender):
        why = f"the computer {platform.node()}, which joined the cluster later, {_NOT_ALIKE}: {why}. {_MEND}, and run again"
        return Returned(told(Broken(parcel.path, why, ours=False), papers=True, as_json=parcel.as_json))
    with tempfile.TemporaryDirectory() as place:
        here = Path(place)
        for name, content in parcel.files.items():
            (here / name).parent.mkdir(parents=True, exist_ok=True)
            (here / name).write_bytes(content)
        sentences, shop = (here / name if name else None for name in (parcel.words, parcel.shop))
        try:
            made = drawn(here / parcel.workbook, shop=shop, words=sentences, alone=False, prints=parcel.prints)
        except Exception as fault:
            return Returned(told(broken(parcel.path, fault), papers=True, as_json=parcel.as_json))
    return _returned(made, parcel)


def _returned(made: Drawn | Refused, parcel: Parcel) -> Returned:
    if isinstance(made, Refused):
        return Returned(told(replace(made, path=parcel.path), papers=True, as_json=parcel.as_json))
    terms = made.estimate.job.terms
    priced = Priced(parcel.path, made.estimate, parcel.folder / folder_name(terms.revision), made.notes, made.papers[ESTIMATE])
    return Returned(
        told(priced, papers=True, as_json=parcel.as_json), made.papers, terms.revision, terms.at.place("Revision")
    )
