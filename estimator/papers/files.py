"""Papers on disk: bytes by name in, files out that are whole or not there at all.

Each file is written beside its place under a passing name, forced to the disk and renamed; a run that is stopped in the middle
leaves the earlier papers whole.
"""

import contextlib
import json
import os
import platform
import re
import shutil
import time
import unicodedata
from collections.abc import Iterable, Iterator, Mapping, Sequence
from hashlib import sha256
from importlib import import_module
from pathlib import Path
from typing import Any

PASSING = ".unfinished"
_A_DAY_S = 86_400
_WAIT_S, _MOST_SHUT = 0.05, 40
"""Between two tries for a lock; and after how many tries to open its file at all the papers are written without it."""
_HERE = re.sub(r"\W", "", platform.node()) or "here"
_LONGEST_BYTES = 120
_FORBIDDEN = re.compile(r'[<>:"/\\|?*\x00-\x1f\x7f]')
_RESERVED = {"con", "prn", "aux", "nul", *(f"{port}{n}" for port in ("com", "lpt") for n in range(10))}


def folder_name(words: str) -> str:
    """A name for a folder made of somebody's words: it cannot leave its place, and every operating system takes it.

    >>> folder_name("North street 4/5"), folder_name("../.."), folder_name("con")
    ('North street 4-5', '-', 'con-')

    A name that is cut ends with a sign of the whole, so that two that begin alike stay two.
    """
    letters = unicodedata.normalize("NFC", words).encode("utf-8", "replace").decode("utf-8")  # a name on disk may hold what is no letter
    plain = _FORBIDDEN.sub("-", letters).strip().strip(".").strip()
    if len(plain.encode("utf-8")) > _LONGEST_BYTES:
        mark = f"~{sha256(plain.encode('utf-8')).hexdigest()[:8]}"
        while len(f"{plain}{mark}".encode()) > _LONGEST_BYTES:
            plain = plain[:-1]
        plain = f"{plain.rstrip(' .')}{mark}"
    plain = plain.rstrip(" .") or "-"
    return f"{plain}-" if plain.split(".")[0].casefold() in _RESERVED else plain


def write_papers(folder: Path, papers: Mapping[str, bytes | Iterable[bytes]]) -> None:
    """All papers into a folder, each one whole, the last one last; strays of a run that was killed are swept first.

    A paper may come in pieces, so that a long one is never held whole.

    Nobody else writes papers into the folder meanwhile: the set is one run's, never a mixture of two.
    """
    folder.mkdir(parents=True, exist_ok=True)
    passing: list[tuple[Path, Path]] = []
    mark = f"{_HERE}-{os.getpid()}{PASSING}"
    with _alone_in(folder):
        _sweep(folder)
        try:
            for name, content in papers.items():
                passing.append((_written(folder / f"{name}.{mark}", content), folder / name))
            _put_in_place(folder, passing, mark=mark)
        finally:
            for written, _ in passing:
                with contextlib.suppress(OSError):
                    written.unlink(missing_ok=True)


def kept(path: Path) -> Any:
    """What an earlier run wrote as data; None where there is none, or somebody made something else of it."""
    try:
        return json.loads(path.read_text(encoding="utf-8")) if path.is_file() else None
    except (OSError, ValueError, RecursionError):
        return None


def _put_in_place(folder: Path, passing: Sequence[tuple[Path, Path]], *, mark: str) -> None:
    """Every written file under its own name, or none: where one will not go, those before it are put back as they were."""
    earlier: list[tuple[Path | None, Path]] = []
    try:
        for written, final in passing:
            earlier.append((_kept_aside(final, mark=mark), final))
            os.replace(written, final)
        _keep(folder)
    except OSError:
        for aside, final in reversed(earlier):
            with contextlib.suppress(OSError):
                if aside:
                    os.replace(aside, final)
                    aside.unlink(missing_ok=True)  # two names of one file: replacing one by the other leaves both
                else:
                    final.unlink(missing_ok=True)
        raise
    for aside, _ in earlier:
        if aside:
            with contextlib.suppress(OSError):
                aside.unlink(missing_ok=True)


def _kept_aside(final: Path, *, mark: str) -> Path | None:
    """A second name for an earlier paper, or a copy where the disk knows no second names; None when there is no earlier one."""
    if not final.exists():
        return None
    aside = final.with_name(f"{final.name}.earlier.{mark}")
    try:
        os.link(final, aside)
    except OSError:
        shutil.copyfile(final, aside)
    return aside


@contextlib.contextmanager
def _alone_in(folder: Path) -> Iterator[None]:
    """Wait until no other run writes here. The lock is the system's own: it goes with the process that holds it."""
    handle = _locked_folder(folder) if hasattr(os, "O_DIRECTORY") else _locked_file(folder / f"lock{PASSING}")
    try:
        yield
    finally:
        if handle is not None:
            os.close(handle)


def _locked_folder(folder: Path) -> int:
    from fcntl import LOCK_EX, flock

    handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    with contextlib.suppress(OSError):  # some network folders know no locks
        flock(handle, LOCK_EX)
    return handle


def _locked_file(path: Path) -> int | None:
    """Windows locks files, not folders: one that goes when nobody holds it. None where there is none to be had."""
    windows: Any = import_module("msvcrt")
    temporary: int = getattr(os, "O_TEMPORARY", 0)
    shut = 0
    while shut < _MOST_SHUT:
        handle = None
        try:
            handle = os.open(path, os.O_RDWR | os.O_CREAT | temporary)
            windows.locking(handle, windows.LK_NBLCK, 1)
        except OSError:  # another run holds it, or is just letting it go
            if handle is None:
                shut += 1
            else:
                os.close(handle)
            time.sleep(_WAIT_S)
        else:
            return handle
    return None


def _sweep(folder: Path) -> None:
    """Take away what a run that is over left unfinished: its process is gone, or a day has passed."""
    for stray in folder.glob(f"*{PASSING}"):
        with contextlib.suppress(OSError):
            if _is_over(stray.name) or time.time() - stray.stat().st_mtime > _A_DAY_S:
                stray.unlink()


def _is_over(name: str) -> bool:
    """Whether an unfinished paper's writer was on this computer and is no more."""
    where, _, process = name.removesuffix(PASSING).rpartition(".")[2].rpartition("-")
    if where != _HERE or not process.isdecimal() or not hasattr(os, "O_DIRECTORY"):
        return False
    try:
        os.kill(int(process), 0)  # asks whether it is there; sends nothing
    except ProcessLookupError:
        return True
    except OSError:
        return False
    return int(process) == os.getpid()


def _written(path: Path, content: bytes | Iterable[bytes]) -> Path:
    try:
        with path.open("wb") as file:
            file.writelines((content,) if isinstance(content, bytes) else content)
            file.flush()
            os.fsync(file.fileno())
    except BaseException as trouble:
        with contextlib.suppress(OSError):
            path.unlink(missing_ok=True)
        if isinstance(trouble, OSError):
            raise OSError(trouble.errno, trouble.strerror, str(path.parent)) from trouble
        raise
    return path


def _keep(folder: Path) -> None:
    """Force the renames to the disk, where the system knows how."""
    if hasattr(os, "O_DIRECTORY"):
        handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
