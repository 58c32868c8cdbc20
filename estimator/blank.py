"""The empty form of `estimator blank`: a path and the unit that a shop measures in, in; the workbook and a sentence, out.

A file that is there is never written over.
"""

from __future__ import annotations

from pathlib import Path

from estimator.model.form import JOB
from estimator.papers.files import write_papers
from estimator.papers.form_book import blank_book
from estimator.prompting import quoted
from estimator.reading.cells import read_cell
from estimator.reading.raw_cells import Cell
from estimator.reading.typed_numbers import Wrong

READY, NOT_WRITTEN, WRONG_WORDS = 0, 1, 2
_UNITS = next(column for column in JOB.columns if column.header == "Units")


def write_blank(path: Path, *, units: str) -> tuple[int, str]:
    """The exit code, and what to say."""
    read = read_cell(Cell(units), _UNITS, units="mm")
    if isinstance(read, Wrong):
        return WRONG_WORDS, f"--units {units}: type mm or inch, for example: estimator blank {quoted(path.name)} --units inch"
    if path.is_dir() or not path.name:
        example = quoted(str(path / "north-street.xlsx"))
        return WRONG_WORDS, f"{path} is a folder: name the workbook too, for example: estimator blank {example}"
    if path.suffix.lower() != ".xlsx":
        path = path.with_name(f"{path.name}.xlsx")
    if path.exists():
        return WRONG_WORDS, f"{path} is there already and stays as it is; name another file"
    try:
        write_papers(path.parent, {path.name: blank_book(read)})
    except OSError as trouble:
        return NOT_WRITTEN, f"{path} could not be written: {trouble.strerror}"
    in_what = ", in inches and feet" if read == "inch" else ""
    return READY, f"{path} is ready{in_what}. Fill in Job, Cabinets and Loose parts, then run: estimator price {quoted(str(path))}"
