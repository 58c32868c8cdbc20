"""Files that are no workbook: told by what they hold, whatever their name says, with what to do."""

from __future__ import annotations

import zipfile
from pathlib import Path

import pytest

from estimator.model.refusal import Refusal
from estimator.reading.file_kinds import what_kind_of_file
from estimator.reading.workbook import is_job_workbook, read_job
from tests.reading.base_books import JOB_SHEETS, ONE_BOOK, SHOP_SHEETS
from tests.reading.drawing import draw

OLE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(504)
ODS = "application/vnd.oasis.opendocument.spreadsheet"

CONTENT: dict[str, bytes | dict[str, str]] = {
    "empty": b"",
    "old workbook": OLE + "Workbook".encode("utf-16-le"),
    "password": OLE + "EncryptedPackage".encode("utf-16-le"),
    "old or password": OLE,
    "pdf": b"%PDF-1.7\n",
    "web page": b"<html><table><tr><td>Ref</td></tr></table></html>",
    "rich text": b"{\\rtf1 hello}",
    "csv": b"Ref;Room;Kind\nKitchen 1;Kitchen;base\n",
    "text": b"two base cabinets and a larder\n",
    "picture": b"\x89PNG\r\n\x1a\n" + bytes(40),
    "unknown": bytes(range(256)) * 4,
    "damaged": b"PK\x03\x04 cut off",
    "binary workbook": {"xl/workbook.bin": "", "[Content_Types].xml": ""},
    "open document": {"mimetype": ODS, "content.xml": "", "META-INF/manifest.xml": "<manifest/>"},
    "open document with a password": {"mimetype": ODS, "META-INF/manifest.xml": "<encryption-data/>"},
    "numbers": {"Index/Document.iwa": "", "preview.jpg": ""},
    "strict": {"xl/workbook.xml": '<workbook xmlns="http://purl.oclc.org/ooxml/spreadsheetml/main"/>'},
    "text document": {"word/document.xml": "", "[Content_Types].xml": ""},
    "zip": {"holiday/beach.txt": "sand"},
}


def put(path: Path, content: bytes | dict[str, str]) -> Path:
    if isinstance(content, bytes):
        path.write_bytes(content)
    else:
        with zipfile.ZipFile(path, "w") as archive:
            for name, text in content.items():
                archive.writestr(name, text)
    return path


@pytest.mark.parametrize("kind", CONTENT)
@pytest.mark.parametrize("name", ["job.xlsx", "job.ods"])
def test_a_file_is_told_by_what_it_holds(tmp_path: Path, kind: str, name: str) -> None:
    path = put(tmp_path / name, CONTENT[kind])
    answer = what_kind_of_file(path)
    assert answer.kind == kind
    assert answer.found
    assert answer.mend
    refusal = read_job(path)
    assert isinstance(refusal, Refusal)
    (problem,) = refusal.problems
    assert (str(problem.place), problem.found, problem.mend) == (name, answer.found, answer.mend)
    assert refusal.readable is None


@pytest.mark.parametrize("name", ["job.xlsx", "job.csv", "job", "job.xlsm"])
def test_a_workbook_is_one_under_any_name(tmp_path: Path, name: str) -> None:
    path = draw(tmp_path / "drawn.xlsx", ONE_BOOK).rename(tmp_path / name)
    assert what_kind_of_file(path).kind == "workbook"


def test_what_is_not_there_and_what_is_a_folder(tmp_path: Path) -> None:
    assert what_kind_of_file(tmp_path / "none.xlsx").kind == "missing"
    assert what_kind_of_file(tmp_path).kind == "folder"
    assert what_kind_of_file(tmp_path / ("a" * 400 + ".xlsx")).kind == "cannot be opened"
    assert what_kind_of_file(Path("job\0.xlsx")).kind == "cannot be opened"
    assert what_kind_of_file(put(tmp_path / "~$job.xlsx", b"owner")).kind == "lock file"


def test_a_file_of_more_than_30_mb_is_not_opened(tmp_path: Path) -> None:
    path = draw(tmp_path / "job.xlsx", ONE_BOOK)
    with path.open("ab") as file:
        file.truncate(30_000_001)
    assert what_kind_of_file(path).kind == "too large"


def test_a_run_over_a_folder_takes_jobs_and_leaves_shop_books_alone(tmp_path: Path) -> None:
    assert is_job_workbook(draw(tmp_path / "one.xlsx", ONE_BOOK))
    assert is_job_workbook(draw(tmp_path / "job.xlsx", JOB_SHEETS))
    assert is_job_workbook(draw(tmp_path / "misspelt.xlsx", {"Cabinet": "Ref | Kind"}))
    assert not is_job_workbook(draw(tmp_path / "shop.xlsx", SHOP_SHEETS))
    assert not is_job_workbook(draw(tmp_path / "letters.xlsx", {"Sheet1": "Dear | client"}))
    assert not is_job_workbook(put(tmp_path / "~$one.xlsx", b"owner"))
    assert is_job_workbook(put(tmp_path / "broken.xlsx", b"PK\x03\x04 cut off")), "so that the run says what is wrong with it"


def test_a_shop_book_that_cannot_be_read_is_one_problem(tmp_path: Path) -> None:
    job = draw(tmp_path / "job.xlsx", JOB_SHEETS)
    put(tmp_path / "shop.xlsx", CONTENT["old workbook"])
    answer = read_job(job)
    assert isinstance(answer, Refusal)
    assert [str(problem.place) for problem in answer.problems] == ["shop.xlsx"]
    missing = read_job(job, shop=tmp_path / "prices.xlsx")
    assert isinstance(missing, Refusal)
    assert [(str(problem.place), problem.found) for problem in missing.problems] == [("prices.xlsx", "no file of that name")]
