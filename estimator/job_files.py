"""The workbooks that a run is about: files and folders that were named go in; every job workbook among and below them comes out."""

import os
from collections.abc import Iterator, Sequence
from pathlib import Path

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
