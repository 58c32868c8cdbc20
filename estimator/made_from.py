"""What a job's papers were made from: workbook, price book, words and program in, prints of them out, to see whether anything has changed.

The prints stand in `estimate.json`, which is written last of all papers; so papers whose prints are those of today's files are whole and
need not be made again.
"""

from collections.abc import Mapping
from hashlib import file_digest, sha256
from pathlib import Path
from typing import Any

from estimator import __version__
from estimator.papers.files import kept
from estimator.papers.quote.logo_file import logo_beside
from estimator.reading.file_kinds import MOST_FILE_BYTES

KEY = "made_from"
NOTHING = ""


def prints_of(path: Path, *, shop: Path | None, words: Path | None) -> dict[str, str]:
    """A print of everything that a job's papers are made from, but its logo."""
    second = shop or path.with_name("shop.xlsx")
    return {
        "program": __version__,
        "workbook": _print_of(path),
        "shop": _print_of(second) if second.is_file() else NOTHING,
        "words": _print_of_folder(words) if words else NOTHING,
    }


def with_logo(prints: Mapping[str, str], logo: str, *, beside: Path) -> dict[str, str]:
    """The same with the logo that the job names, where it may be printed."""
    picture = logo_beside(logo, beside=beside)
    return {**prints, "logo": logo, "logo_file": _print_of(picture) if picture else NOTHING}


def priced_before(folder: Path, prints: Mapping[str, str], *, beside: Path, papers: int) -> tuple[Path, dict[str, Any]] | None:
    """The revision in a job's folder that was made from the very same, with its estimate; None when there is none or a paper is gone."""
    for estimate in sorted(folder.glob("*/estimate.json")):
        data = kept(estimate)
        before = data.get(KEY) if isinstance(data, dict) else None
        if isinstance(before, dict) and before == with_logo(prints, str(before.get("logo", "")), beside=beside):
            whole = sum(1 for file in estimate.parent.iterdir() if file.suffix in (".pdf", ".xlsx", ".xlsm", ".json"))
            return (estimate.parent, data) if whole >= papers else None
    return None


def _print_of(path: Path) -> str:
    """Nothing for what is no file, such as a pipe that nobody fills, and for what is too large to be read as a workbook."""
    if not path.is_file() or path.stat().st_size > MOST_FILE_BYTES:
        return NOTHING
    with path.open("rb") as file:
        return file_digest(file, sha256).hexdigest()


def _print_of_folder(folder: Path) -> str:
    whole = sha256()
    for path in sorted(folder.rglob("*")):
        if path.is_file():
            whole.update(f"{path.relative_to(folder).as_posix()}\n{_print_of(path)}\n".encode())
    return whole.hexdigest()
