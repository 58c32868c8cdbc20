"""Cabinets in a sheet of another name: nothing of it is priced, and that is said."""

from estimator.model.records import Job
from tests.reading.base_books import ONE_BOOK
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
