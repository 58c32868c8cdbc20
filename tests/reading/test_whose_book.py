"""Which workbook is a job, which a price book, which logo is named, and what is told of one that cannot be opened."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from estimator.model.refusal import Refusal
from estimator.reading import workbook
from estimator.reading.file_kinds import FileKind
from estimator.reading.findings import Findings
from estimator.reading.logo import logo_named
from estimator.reading.package import Unfit
from estimator.reading.workbook import is_job_workbook, open_or_tell, read_job, shop_book_beside
from tests.reading.drawing import draw
from tests.reading.held import read


def test_the_shop_book_beside_a_job(tmp_path: Path) -> None:
    job, shop, other = tmp_path / "job.xlsx", tmp_path / "shop.xlsx", tmp_path / "prices.xlsx"
    job.write_bytes(b"")
    assert shop_book_beside(job, None) is None
    shop.mkdir()
    assert shop_book_beside(job, None) is None
    shop.rmdir()
    shop.write_bytes(b"")
    assert shop_book_beside(job, None) == shop
    assert [shop_book_beside(tmp_path / name, None) for name in ("shop.xlsx", "SHOP.xlsx")] == [None, None]
    assert shop_book_beside(job, other) == other
    assert shop_book_beside(job, job) is None


@pytest.mark.parametrize(
    ("tabs", "priced"),
    [(("Job",), True), ((" cabinets",), True), (("LOOSE PARTS", "x"), True), (("Cabinet",), True), (("Lose parts",), True), (("Shop", "Boards"), False), (("Jobs",), False), (("Notes",), False)],
)
def test_which_workbooks_of_a_folder_are_jobs(tabs: tuple[str, ...], priced: bool, tmp_path: Path) -> None:
    path = draw(tmp_path / "one.xlsx", dict.fromkeys(tabs, "Item | Value"))
    assert is_job_workbook(path) is priced
    assert is_job_workbook(path.rename(tmp_path / "~$one.xlsx")) is False


def test_what_cannot_be_opened_counts_as_a_job_so_that_it_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "one.xlsx"
    path.write_bytes(b"no workbook")
    assert is_job_workbook(path)
    drawn = draw(tmp_path / "two.xlsx", {"Shop": "Item | Value"})
    assert not is_job_workbook(drawn)
    monkeypatch.setattr(workbook, "open_book", _raising(ValueError("x")))
    assert is_job_workbook(drawn)


def _raising(error: Exception) -> Any:
    def fail(*_: object) -> None:
        raise error

    return fail


@pytest.mark.parametrize(
    ("tabs", "is_price_book"),
    [(("Shop",), True), (("SHOP ", "Boards"), True), (("Shop", "Job"), False), (("Shop", "cabinets"), False), (("Shop", "Loose parts"), False), (("Shop", "Cabinet"), False), (("Shop", "Lose parts"), False), (("Boards",), False)],
)  # fmt: skip
def test_a_price_book_is_no_job(tabs: tuple[str, ...], is_price_book: bool, tmp_path: Path) -> None:
    answer = read_job(draw(tmp_path / "prices.xlsx", dict.fromkeys(tabs, "Item | Value")))
    assert isinstance(answer, Refusal)
    told = [(str(one.place), one.found, one.expected, one.mend) for one in answer.problems if "price book" in one.found]
    assert told == ([("prices.xlsx", "a price book: it has the sheet Shop, but neither Job nor Cabinets", "a job workbook, with the sheets Job and Cabinets",
                      "name the job that is to be priced: the price book is read beside it")] if is_price_book else [])  # fmt: skip
    assert len(answer.problems) == 1 or not is_price_book


class _Library(Exception):
    pass


@pytest.mark.parametrize("module", ["zipfile", "zlib", "lzma", "_lzma", "bz2", "struct", "zipfile.inner"])
def test_a_file_that_breaks_while_it_is_unpacked_is_theirs(module: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(_Library, "__module__", module)
    assert _told_of(_Library("x"), tmp_path, monkeypatch) == [DAMAGED]


DAMAGED = ("one.xlsx", "a damaged workbook: it cannot be unpacked", "a workbook (.xlsx) with the sheets of the form", "take your last copy that opens, or ask for the file again")


@pytest.mark.parametrize("error", [OSError("x"), EOFError("x"), NotImplementedError("x"), RuntimeError("x")])
def test_so_is_one_that_the_computer_cannot_read(error: Exception, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert _told_of(error, tmp_path, monkeypatch) == [DAMAGED]
    assert _told_of(Unfit("too much", "take some out"), tmp_path, monkeypatch) == [("one.xlsx", "too much", "a workbook (.xlsx) with the sheets of the form", "take some out")]
    with pytest.raises(KeyError):
        _told_of(KeyError("x"), tmp_path, monkeypatch)


def _told_of(error: Exception, folder: Path, monkeypatch: pytest.MonkeyPatch) -> list[tuple[str, str, str, str]]:
    monkeypatch.setattr(workbook, "what_kind_of_file", lambda path: FileKind("workbook"))
    monkeypatch.setattr(workbook, "open_book", _raising(error))
    findings = Findings()
    assert open_or_tell(folder / "one.xlsx", findings) is None
    return [(str(one.place), one.found, one.expected, one.mend) for one in findings.problems.values()]


def test_a_shop_book_that_cannot_be_read_is_told_alone(tmp_path: Path) -> None:
    (tmp_path / "shop.xlsx").write_bytes(b"%PDF")
    answer = read_job(draw(tmp_path / "job.xlsx", {"Cabinets": "Kind | Qty | Width | Height | Depth | Finish\nbase | 1 | 600 | 700 | 500 | white", "Job": "Item | Value\nQuote date | 2031-02-03\nCurrency | EUR\nTax rate | 0 %\nMargin | 20 %"}))
    assert isinstance(answer, Refusal)
    assert [(str(one.place), one.found) for one in answer.problems] == [("shop.xlsx", "a PDF")]
    assert answer.readable is not None


@pytest.mark.parametrize(("tables", "is_readable"), [({"Notes": "a | b"}, False), ({"Job": "Item | Value"}, True), ({"Cabinets": "Kind | Qty\nbase | 1"}, True), ({"Cabinets": "Kind | Qty"}, False), ({"Loose parts": "Part | Qty\nshelf | 1"}, True)])
def test_whether_there_is_a_job_to_look_at_further(tables: dict[str, str], is_readable: bool) -> None:
    answer = read(tables)
    assert isinstance(answer, Refusal)
    assert (answer.readable is not None) is is_readable


# --- the logo -------------------------------------------------------------------------------------------------------------------------------


def test_which_logo_is_named(tmp_path: Path) -> None:
    job = draw(tmp_path / "job.xlsx", {"JOB": "Item | Value\nLogo | ours.png"})
    assert logo_named(job) == "ours.png"
    draw(job, {"Job": "Item | Value\nLogo |", "Shop": "Item | Value\nLOGO | own shop.png"})
    assert logo_named(job) == "own shop.png"
    draw(job, {"Job": "Item | Value"})
    assert logo_named(job) == ""
    draw(tmp_path / "shop.xlsx", {"Shop": "Item | Value\nLogo | the shop's.png"})
    draw(tmp_path / "prices.xlsx", {"Shop": "Item | Value\nLogo | prices.png"})
    assert (logo_named(job), logo_named(job, shop=tmp_path / "prices.xlsx")) == ("the shop's.png", "prices.png")
    draw(job, {"Job": "Item | Value", "Shop": "Item | Value"})
    assert logo_named(job) == "", "a Shop sheet in the job's workbook sets the price book aside"
    assert logo_named(tmp_path / "none.xlsx") == ""
