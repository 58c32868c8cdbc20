"""What a file is, by its first bytes and its parts: each kind by each of its marks, at the limits, and in its own words."""

from __future__ import annotations

import zipfile
import zlib
from pathlib import Path

import pytest

from estimator.reading import file_kinds
from estimator.reading.file_kinds import FileKind, what_kind_of_file
from tests.reading.test_file_kinds import put

OLE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
ODS = "application/vnd.oasis.opendocument.spreadsheet"
FORM = "the blank form (estimator blank writes it)"
A_WORKBOOK = f"name a workbook (.xlsx), or start from {FORM}"
SAVE_AS = "open it in your spreadsheet program and save it as a workbook (.xlsx), then run again"


def kind(path: Path, content: bytes | dict[str, str]) -> str:
    return what_kind_of_file(put(path, content)).kind


@pytest.mark.parametrize(
    ("content", "what"),
    [
        # the first bytes
        (b"", "empty"), (b"%PDF-1.7", "pdf"), (b"%PD", "text"), (b"{\\rtf1", "rich text"), (b"\x89PNG\r\n", "picture"), (b"\xff\xd8\xff\xe0", "picture"), (b"GIF89a", "picture"), (b"BM\x00\x01", "picture"),
        (b"\x09\x08\x10\x00", "old workbook"), (b"\x09\x04\x06\x00", "old workbook"), (b"PK\x03\x04", "damaged"), (b"PK\x05\x06", "damaged"), (b"PK\x01\x02 and so on", "unknown"),
        # old files and files with a password
        (OLE + "Workbook".encode("utf-16-le"), "old workbook"), (OLE + "Book".encode("utf-16-le"), "old workbook"), (OLE + "EncryptedPackage Workbook".encode("utf-16-le"), "password"),
        (OLE + b"Workbook", "old or password"), (OLE, "old or password"),
        # web pages under any name
        (b"<!DOCTYPE html><p>", "web page"), (b"<html>", "web page"), (b"<TABLE><tr>", "web page"), (b"<?xml version='1.0'?>", "web page"), (b"<Workbook>", "web page"), (b"\xef\xbb\xbf \r\n\t<html>", "web page"), (b"<p>", "text"),
        ("<html>".encode("utf-16"), "web page"), ("<html>".encode("utf-16-be"), "unknown"), (b"\xfe\xff" + "<html>".encode("utf-16-be"), "web page"),
        # tables of plain text: a mark in each of the first five lines that hold something
        (b"a,b", "csv"), (b"a;b\nc;d", "csv"), (b"a\tb\nc\td", "csv"), (b"a,b\n\n  \nc,d", "csv"), (b"a,b\nc", "text"), (b"a", "text"), (b"\n \n", "text"), (b"a b: c. d", "text"),
        (b"a,b\n" * 5 + b"c", "csv"), (b"a,b\n" * 4 + b"c", "text"), ("a,b\nc,d".encode("utf-16"), "csv"), (b"X", "text"), (b"X<html>", "text"), (b"a" * 4_096 + b"\x00", "text"), (b"a" * 4_095 + b"\x00", "unknown"),
        # what holds too many signs that no text has: one in ten is text, more is none
        (b"a" * 9 + b"\x01", "text"), (b"a" * 8 + b"\x01", "unknown"), (b"a" * 9 + b"\xff", "text"), (b"a" * 8 + b"\xff", "unknown"), (b"a" * 19 + b"\x01", "text"), (b"a" * 18 + b"\x01\x02", "text"), (b"a" * 17 + b"\x01\x02", "unknown"),
        (b"\ta\r\nb", "text"), (b"\t\r\n\t\r\n\t", "text"), (b"two\x00words", "unknown"), ("zwölf".encode("latin-1") + b" Schr\xe4nke f\xfcr das Haus am Ende", "text"), ("\ufeffdeux".encode("utf-16-le") + b"\x01", "text"),
    ],
)  # fmt: skip
def test_a_file_by_its_bytes(content: bytes, what: str, tmp_path: Path) -> None:
    assert kind(tmp_path / "job.xlsx", content) == what


@pytest.mark.parametrize(
    ("parts", "what"),
    [
        ({"xl/workbook.xml": "<workbook/>"}, "workbook"), ({"/XL/Workbook.xml": "<workbook/>"}, "workbook"), ({"[Content_Types].xml": "", "book/workbook.xml": "<workbook/>"}, "workbook"),
        ({"book/workbook.xml": "<workbook/>"}, "zip"), ({"[Content_Types].xml": "", "a.xml": ""}, "zip"), ({"a.xml": "", "xl/workbook.bin": ""}, "binary workbook"), ({"a.bin": ""}, "zip"),
        ({"other.xml": "http://purl.oclc.org/ooxml", "xl/workbook.xml": "<workbook/>"}, "workbook"), ({"other.xml": "", "/xl/WORKBOOK.xml": "<w xmlns='http://purl.oclc.org/ooxml'/>"}, "strict"),
        ({"xl/workbook.xml": " " * 4_070 + "http://purl.oclc.org/ooxml"}, "strict"), ({"xl/workbook.xml": " " * 4_071 + "http://purl.oclc.org/ooxml"}, "workbook"),
        ({"[Content_Types].xml": "", "other/workbook.xml": "http://purl.oclc.org/ooxml"}, "strict"),
        ({"mimetype": ODS}, "open document"), ({"mimetype": ODS, "META-INF/manifest.xml": "<encryption-data/>"}, "open document with a password"), ({"mimetype": ODS, "META-INF/manifest.xml": "<none/>"}, "open document"),
        ({"mimetype": "application/vnd.oasis.opendocument.text"}, "text document"), ({"mimetype": ODS + "-template"}, "open document"), ({"MIMETYPE": ODS}, "damaged"),
        ({"mimetype": " " * (200 - 24) + "opendocument.spreadsheet"}, "open document"), ({"mimetype": " " * (201 - 24) + "opendocument.spreadsheet"}, "text document"),
        ({"mimetype": ODS, "META-INF/manifest.xml": " " * (200_000 - 15) + "encryption-data"}, "open document with a password"), ({"mimetype": ODS, "META-INF/manifest.xml": " " * (200_001 - 15) + "encryption-data"}, "open document"),
        ({"Index/Document.iwa": ""}, "numbers"), ({"Index.zip": ""}, "numbers"), ({"index/a.xml": "", "b/c.iwa": ""}, "zip"), ({"index/a.xml": ""}, "zip"),
        ({"word/document.xml": ""}, "text document"), ({"ppt/slide.xml": ""}, "text document"), ({"a/word/b.xml": ""}, "zip"), ({}, "zip"),
    ],
)  # fmt: skip
def test_an_archive_by_its_parts(parts: dict[str, str], what: str, tmp_path: Path) -> None:
    assert kind(tmp_path / "job.xlsx", parts) == what


@pytest.mark.parametrize("start", [b"PK\x03\x04", OLE])
@pytest.mark.parametrize(("size", "too_large"), [(1_000, False), (1_001, True)])
def test_a_file_of_so_many_bytes(start: bytes, size: int, too_large: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(file_kinds, "MOST_FILE_BYTES", 1_000)
    assert (kind(tmp_path / "job.xlsx", start + bytes(size - len(start))) == "too large") is too_large


def test_a_picture_or_a_text_is_told_as_one_however_large_it_is(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(file_kinds, "MOST_FILE_BYTES", 10)
    assert kind(tmp_path / "job.xlsx", b"%PDF" + bytes(100)) == "pdf"


def test_what_is_no_file(tmp_path: Path) -> None:
    (tmp_path / "~$job.xlsx").write_bytes(b"")
    assert what_kind_of_file(tmp_path / "~$job.xlsx").kind == "lock file"
    assert what_kind_of_file(tmp_path / "~$none.xlsx").kind == "missing"
    (tmp_path / "~$folder").mkdir()
    assert what_kind_of_file(tmp_path / "~$folder").kind == "folder"


def raised(error: BaseException) -> object:
    def fail(*_: object) -> None:
        raise error

    return fail


class LZMAError(Exception):
    """As the library of that name calls its own."""


BROKEN = [zipfile.BadZipFile("x"), OSError("x"), ValueError("x"), NotImplementedError("x"), RuntimeError("x"), EOFError("x"), LookupError("x"), OverflowError("x"), zlib.error("x"), LZMAError("x")]


@pytest.mark.parametrize("error", BROKEN, ids=lambda error: type(error).__name__)
def test_an_archive_that_breaks_is_damaged(error: Exception, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(file_kinds, "_kind_of_archive", raised(error))
    assert kind(tmp_path / "job.xlsx", {"a": ""}) == "damaged"


def test_a_fault_of_our_own_is_not_put_down_to_the_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(file_kinds, "_kind_of_archive", raised(TypeError("x")))
    with pytest.raises(TypeError):
        kind(tmp_path / "job.xlsx", {"a": ""})


WORDS = {
    "missing": ("no file of that name", "look at the spelling and the folder of the file"), "folder": ("a folder", "name a workbook inside it"),
    "empty": ("an empty file: it holds nothing at all", "save the workbook again, or take your last copy of it"),
    "too large": ("a file of more than 30 MB", f"take pictures and old sheets out of it, or start from {FORM}"),
    "cannot be opened": ("a file that this computer does not let us read", "close it in other programs, and see whether you may open it"),
    "lock file": ("the small file that a spreadsheet program leaves while a workbook is open", "name the workbook itself, without ~$"),
    "old workbook": ("a workbook in the old format .xls", SAVE_AS), "password": ("a workbook with a password", "take the password off: open it, save it without one, then run again"),
    "old or password": ("a workbook with a password, or one in the old format .xls", "open it in your spreadsheet program, save it without a password as a workbook (.xlsx), then run again"),
    "binary workbook": ("a workbook in the binary format .xlsb", SAVE_AS), "open document": ("a workbook in the OpenDocument format .ods", SAVE_AS),
    "open document with a password": ("an OpenDocument workbook with a password", "open it, save it without a password as a workbook (.xlsx), then run again"),
    "numbers": ("a spreadsheet of another program (.numbers)", "open it there and export it to .xlsx, then run again"),
    "strict": ("a workbook saved as Strict Open XML", "save it as a plain workbook (.xlsx), without the word Strict, then run again"),
    "text document": ("a text document or a presentation, not a workbook", A_WORKBOOK), "zip": ("a zip archive that holds no workbook", "unpack it, and name the workbook that was inside"),
    "damaged": ("a damaged file: the workbook in it cannot be unpacked", "take your last copy that opens, or ask for the file again"), "pdf": ("a PDF", "name the workbook from which it was printed"),
    "web page": ("a web page or a table saved as one, whatever its name says", SAVE_AS), "rich text": ("a text document", A_WORKBOOK),
    "csv": ("a table of plain text (.csv): it has one sheet only", f"put its rows into the sheets of {FORM}"), "text": ("plain text", A_WORKBOOK), "picture": ("a picture", A_WORKBOOK),
    "unknown": ("a file that is no workbook", A_WORKBOOK), "workbook": ("", ""),
}  # fmt: skip


@pytest.mark.parametrize("what", WORDS)
def test_each_kind_in_its_words(what: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(file_kinds, "_kind", lambda path: what)
    assert what_kind_of_file(tmp_path) == FileKind(what, *WORDS[what])  # type: ignore[arg-type]
