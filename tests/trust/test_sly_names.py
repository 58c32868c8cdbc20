"""Words that look like formulas, markup, templates or paths stay words: in the filled-in workbook, the PDFs and the folder."""

from __future__ import annotations

import io
import re
import zipfile
from pathlib import Path

import pytest
from openpyxl import load_workbook
from pypdf import PdfReader

from estimator.batch import Priced, price_and_write, price_many

HOUSE = Path(__file__).parents[2]
SLY = ("=1+PLANTED()", "+PLANTED", "-PLANTED|' /C calc'!A1", "@PLANTED(A1)", "<b>PLANTED</b> & <img src='file:///etc/hostname'>", "{{ PLANTED }}{% endfor %}")
TEXTS = ("Job name", "Client", "Client address", "Site address", "Prepared by", "Lead time words", "Not included")


def sly_book(path: Path, words: str) -> Path:
    """The sample job with the words in every place for free words that a person may fill in."""
    book = load_workbook(HOUSE / "workbooks" / "one-cabinet.xlsx")
    for row in book["Job"].iter_rows(min_row=2):
        if row[0].value in TEXTS:
            row[1].value, row[1].data_type = words, "s"
    for sheet, columns in (("Cabinets", ("Ref", "Room", "Note")), ("Finishes", ("Words for the quote",))):
        headers = {cell.value: cell.column for cell in book[sheet][1]}
        for name in columns:
            cell = book[sheet].cell(2, headers[name])
            cell.value, cell.data_type = words, "s"
    book.save(path)
    return path


def formulas(book: bytes) -> list[str]:
    """Every formula of a workbook, and every name that is defined by one."""
    with zipfile.ZipFile(io.BytesIO(book)) as archive:
        parts = [archive.read(name).decode("utf-8", "replace") for name in archive.namelist() if name.endswith(".xml")]
    return [found for part in parts for found in re.findall(r"<(?:\w+:)?(?:f|definedName|formula1)\b[^>]*>(.*?)</", part, re.S)]


@pytest.mark.parametrize("words", SLY)
def test_sly_words_stay_words(tmp_path: Path, words: str) -> None:
    outcome = price_and_write(sly_book(tmp_path / "job.xlsx", words), folder=tmp_path / "reports")
    assert isinstance(outcome, Priced), outcome
    assert outcome.folder is not None
    priced = (outcome.folder / "priced.xlsx").read_bytes()
    assert len(formulas(priced)) > 100
    assert [formula for formula in formulas(priced) if "PLANTED" in formula] == []
    quote = "".join(page.extract_text() for page in PdfReader(outcome.folder / "quote.pdf").pages)
    assert words[:9] in quote
    shop = "".join(page.extract_text() for page in PdfReader(outcome.folder / "shop.pdf").pages)
    assert "PLANTED" in shop


def test_the_search_for_formulas_finds_one_that_is_planted(tmp_path: Path) -> None:
    book = load_workbook(HOUSE / "workbooks" / "one-cabinet.xlsx")
    book["Job"]["F1"] = "=PLANTED()"
    book.save(tmp_path / "job.xlsx")
    assert any("PLANTED" in formula for formula in formulas((tmp_path / "job.xlsx").read_bytes()))


@pytest.mark.parametrize("revision", ["../../../up", "/tmp/elsewhere", "..\\..\\up", "con", "x" * 150, "ревизия ١", "a\u202eb", ".", "1\x1f2"])
def test_no_name_leads_out_of_the_folder(tmp_path: Path, revision: str) -> None:
    path = tmp_path / "job.xlsx"
    book = load_workbook(HOUSE / "workbooks" / "one-cabinet.xlsx")
    for row in book["Job"].iter_rows(min_row=2):
        if row[0].value == "Revision":
            row[1].value = re.sub(r"[\x00-\x1f]", "_x001F_", revision)
    book.save(path)
    before = {one for one in tmp_path.parent.rglob("*") if "reports" not in one.parts}
    (outcome,) = price_many([path], out=tmp_path / "reports")
    assert isinstance(outcome, Priced), outcome
    assert outcome.folder is not None
    assert (tmp_path / "reports") in outcome.folder.resolve().parents
    assert {one for one in tmp_path.parent.rglob("*") if "reports" not in one.parts} == before


@pytest.mark.parametrize("name", ["con.xlsx", "ж" * 100 + ".xlsx", "北街 5号.xlsx", "a'b & c.xlsx", " lead.xlsx", "%41.xlsx", "n" * 245 + ".xlsx"])
def test_files_of_any_name_are_priced(tmp_path: Path, name: str) -> None:
    path = tmp_path / name
    path.write_bytes((HOUSE / "workbooks" / "one-cabinet.xlsx").read_bytes())
    (outcome,) = price_many([path], out=tmp_path / "reports")
    assert isinstance(outcome, Priced), outcome
    assert outcome.folder is not None
    assert (outcome.folder / "quote.pdf").is_file()


def test_a_template_from_anywhere_cannot_reach_into_the_program(tmp_path: Path) -> None:
    """Templates of --words run fenced in: what reaches for the inside of a value is a problem that names the file."""
    words = tmp_path / "words"
    words.mkdir()
    (words / "terms.txt").write_text("{{ ''.__class__.__mro__[1].__subclasses__() }}", encoding="utf-8")
    job = tmp_path / "job.xlsx"
    job.write_bytes((HOUSE / "workbooks" / "one-cabinet.xlsx").read_bytes())
    outcome = price_and_write(job, folder=tmp_path / "reports", words=words)
    assert not isinstance(outcome, Priced), "the sly template was printed"
    assert "terms.txt" in str(outcome)
