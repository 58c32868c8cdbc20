"""One writer at a time where the system locks files instead of folders. Windows itself is played here, by a lock that a list keeps: nobody has run this there."""

import os
import sys
import threading
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

from estimator.papers import files
from estimator.papers.files import PASSING, write_papers


class Locks(ModuleType):
    """What the program asks of Windows: a byte of a file is locked by one handle until that is closed."""

    LK_NBLCK = 2

    def __init__(self) -> None:
        super().__init__("msvcrt")
        self.held: dict[Any, int] = {}
        self.refused = 0

    def locking(self, handle: int, mode: int, many: int) -> None:
        assert (mode, many) == (self.LK_NBLCK, 1)
        file = os.fstat(handle).st_ino
        if file in self.held:
            self.refused += 1
            raise PermissionError(13, "another process has it")
        self.held[file] = handle

    def let_go(self, handle: int) -> None:
        self.held = {file: holder for file, holder in self.held.items() if holder != handle}


@pytest.fixture
def windows(monkeypatch: pytest.MonkeyPatch) -> Locks:
    locks, close = Locks(), os.close

    def closed(handle: int) -> None:
        locks.let_go(handle)
        close(handle)

    monkeypatch.setitem(sys.modules, "msvcrt", locks)
    monkeypatch.delattr(os, "O_DIRECTORY")
    monkeypatch.setattr(os, "close", closed)
    monkeypatch.setattr(files, "_WAIT_S", 0.001)
    return locks


def test_papers_are_written_under_the_lock_and_it_is_let_go(windows: Locks, tmp_path: Path) -> None:
    write_papers(tmp_path, {"a.txt": b"one", "b.txt": b"two"})
    assert windows.held == {}
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir() if PASSING not in path.name} == {"a.txt": b"one", "b.txt": b"two"}


def test_a_second_writer_waits_for_the_first(windows: Locks, tmp_path: Path) -> None:
    def slowly() -> Any:
        yield b"first "
        second.start()
        while not windows.refused:
            second.join(0.001)
        yield b"run"

    second = threading.Thread(target=lambda: write_papers(tmp_path, {"a.txt": b"second run", "b.txt": b"second run"}))
    write_papers(tmp_path, {"a.txt": slowly(), "b.txt": b"first run"})
    second.join(10)
    assert windows.refused > 0
    assert [(tmp_path / name).read_bytes() for name in ("a.txt", "b.txt")] == [b"second run", b"second run"]


def test_where_no_lock_is_to_be_had_papers_are_written_all_the_same(windows: Locks, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A share that lets nobody make the lock's file: forty tries, then without."""
    tries = []
    opened = os.open

    def refusing(path: Any, *more: Any, **words: Any) -> int:
        if str(path).endswith(f"lock{PASSING}"):
            tries.append(path)
            raise PermissionError(13, "not here")
        return opened(path, *more, **words)

    monkeypatch.setattr(os, "open", refusing)
    write_papers(tmp_path, {"a.txt": b"one"})
    assert len(tries) == 40
    assert (tmp_path / "a.txt").read_bytes() == b"one"
