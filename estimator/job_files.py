"""The workbooks that a run is about: files and folders that were named go in; every job workbook among and below them comes out,
and the name of the folder of its papers."""

import os
from collections import Counter
from collections.abc import Iterator, Sequence
from hashlib import sha256
from pathlib import Path

from estimator.papers.files import folder_name
from estimator.reading.workbook import is_job_workbook
from estimator.sent import ESTIMATE

FILLED_IN = "priced"
"""What the filled-in workbook is called, with the ending of the shop's own."""


def job_paths(paths: Sequence[Path], *, besides: Path | None = None) -> list[Path]:
    """The workbooks named, and every job workbook below the folders named, in the order of their names."""
    return list(dict.fromkeys(path for path, is_job in job_files(paths, besides=besides) if is_job))


def job_files(paths: Sequence[Path], *, besides: Path | None = None) -> Iterator[tuple[Path, bool]]:
    """Every workbook named, and every one below the folders named but in `besides`, with whether it is a job."""
    for path in paths:
        if path.is_dir():
            for one in _below(path):
                if besides is None or besides.resolve() not in one.resolve().parents:
                    yield one, not one.name.startswith("~$") and is_job_workbook(one)
        else:
            yield path, True


def _below(folder: Path) -> Iterator[Path]:
    """The workbooks below a folder, but for the filled-in ones that lie among our own papers: they are no further jobs."""
    for parent, folders, files in os.walk(folder):
        folders.sort()
        for name in sorted(files):
            path = Path(parent) / name
            ours = path.stem == FILLED_IN and ESTIMATE in files
            if path.suffix.lower() in (".xlsx", ".xlsm") and not ours:
                yield path


def names_of_folders(jobs: Sequence[Path]) -> list[str]:
    """A folder for each job by its name; where some computer would take two for one, the name of its own folder comes before it,
    and a sign of its whole path behind it if that is not enough.
    """
    names = [folder_name(path.stem) for path in jobs]
    for mark in (lambda _: "", _sign_of):
        many = Counter(name.casefold() for name in names)
        names = [
            name if many[name.casefold()] == 1 else folder_name(f"{path.parent.name} {path.stem}{mark(path)}")
            for path, name in zip(jobs, names, strict=True)
        ]
    return names


def _sign_of(path: Path) -> str:
    return f" {sha256(os.fsencode(path.resolve())).hexdigest()[:8]}"
