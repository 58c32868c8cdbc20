"""Papers on disk: bytes by name in, files out that are whole or not there at all.

Each file is written beside its place under a passing name, forced to the disk and renamed; a run that is stopped in the middle
leaves the earlier papers whole.
"""

import contextlib
import os
import re
import unicodedata
from collections.abc import Mapping
from pathlib import Path

PASSING = ".unfinished"
_LONGEST_BYTES = 120
_FORBIDDEN = re.compile(r'[<>:"/\\|?*\x00-\x1f\x7f]')
_RESERVED = {"con", "prn", "aux", "nul", *(f"{port}{n}" for port in ("com", "lpt") for n in range(10))}


def folder_name(words: str) -> str:
    """A name for a folder made of somebody's words: it cannot leave its place, and every operating system takes it.

    >>> folder_name("North street 4/5"), folder_name("../.."), folder_name("con")
    ('North street 4-5', '-', 'con-')
    """
    plain = _FORBIDDEN.sub("-", unicodedata.normalize("NFC", words)).strip().strip(".").strip()
    while len(plain.encode("utf-8")) > _LONGEST_BYTES:
        plain = plain[:-1]
    plain = plain.rstrip(" .") or "-"
    return f"{plain}-" if plain.split(".")[0].casefold() in _RESERVED else plain


def write_papers(folder: Path, papers: Mapping[str, bytes]) -> None:
    """All papers into a folder, each one whole; strays of a run that was killed are swept first."""
    folder.mkdir(parents=True, exist_ok=True)
    for stray in folder.glob(f"*{PASSING}"):
        with contextlib.suppress(OSError):
            stray.unlink()
    passing: list[tuple[Path, Path]] = []
    try:
        for name, content in papers.items():
            passing.append((_written(folder / f"{name}.{os.getpid()}{PASSING}", content), folder / name))
        for written, final in passing:
            os.replace(written, final)
    except OSError:
        for written, _ in passing:
            with contextlib.suppress(OSError):
                written.unlink(missing_ok=True)
        raise
    _keep(folder)


def _written(path: Path, content: bytes) -> Path:
    try:
        with path.open("wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
    except OSError:
        with contextlib.suppress(OSError):
            path.unlink(missing_ok=True)
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
