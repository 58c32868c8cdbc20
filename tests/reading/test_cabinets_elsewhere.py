"""Cabinets in a sheet of another name: nothing of it is priced, and that is said."""

from pathlib import Path

import pytest

from estimator.model.records import Job
from estimator.reading import sheet_parts, spreadsheet
from estimator.reading.workbook import read_job
from tests.reading.base_books import ONE_BOOK
from tests.reading.drawing import draw
from tests.reading.held import read

WORDS = "this sheet has the headers of Cabinets, but is not read under this name: rename it Cabinets if its rows are to be priced"


def remarks_on(**renamed: str) -> list[str]:
    tables = {renamed.get(name, name): table for name, table in ONE_BOOK.items()}
    job = read(tables)
    assert isinstance(job, Job)
    return [f"{one.place.sheet}: {one.words}" for one in job.remarks if "Cabinets" in one.words]


def test_a_sheet_with_the_headers_of_cabinets_is_told_where_there_is_no_cabinets() -> None:
    assert remarks_on(Cabinets="North wall") == [f"North wall: {WORDS}"]


def test_a_copy_beside_the_sheet_itself_is_the_shops_own_affair() -> None:
    job = read({**ONE_BOOK, "North wall": ONE_BOOK["Cabinets"]})
    assert isinstance(job, Job)
    assert [one for one in job.remarks if "headers of Cabinets" in one.words] == []


def test_a_sheet_of_the_shops_own_that_cannot_be_read_keeps_no_job_from_its_price(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A price list of a thousand cells where no more than nine hundred are read: it is the user's own, and left alone."""
    tables = {name: table for name, table in ONE_BOOK.items() if name != "Cabinets"}
    path = draw(tmp_path / "job.xlsx", {**tables, "Old prices": "\n".join("1|2|3|4|5" for _ in range(200))})
    plain = read_job(draw(tmp_path / "plain.xlsx", tables))
    for module in (sheet_parts, spreadsheet):
        monkeypatch.setattr(module, "MOST_CELLS", 900)
    assert type(read_job(path)) is type(plain)
    assert "filled cells" not in str(read_job(path))
