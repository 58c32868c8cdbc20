"""A path in, what kind of file stands there out: judged by its first bytes and its parts, never by its name."""

from __future__ import annotations

import zipfile
from pathlib import Path
from typing import Literal

from estimator.model.dataclass import dataclass

Kind = Literal[
    "workbook",
    "missing",
    "folder",
    "empty",
    "too large",
    "cannot be opened",
    "no file",
    "a name of no letters",
    "lock file",
    "old workbook",
    "password",
    "old or password",
    "binary workbook",
    "open document",
    "open document with a password",
    "numbers",
    "strict",
    "text document",
    "zip",
    "damaged",
    "pdf",
    "web page",
    "rich text",
    "csv",
    "text",
    "picture",
    "unknown",
]

MOST_FILE_BYTES = 30_000_000

_FORM = "the blank form (estimator blank writes it)"
_A_WORKBOOK = f"name a workbook (.xlsx), or start from {_FORM}"
_SAVE_AS = "open it in your spreadsheet program and save it as a workbook (.xlsx), then run again"
_OLE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
_STRICT = b"http://purl.oclc.org/ooxml"

_WORDS: dict[Kind, tuple[str, str]] = {
    "missing": ("no file of that name", "look at the spelling and the folder of the file"),
    "folder": ("a folder", "name a workbook inside it"),
    "empty": ("an empty file: it holds nothing at all", "save the workbook again, or take your last copy of it"),
    "too large": (
        f"a file of more than {MOST_FILE_BYTES // 1_000_000} MB",
        f"take pictures and old sheets out of it, or start from {_FORM}",
    ),
    "cannot be opened": (
        "a file that this computer does not let us read",
        "close it in other programs, and see whether you may open it",
    ),
    "no file": ("no file but a device, a pipe or the like", "name a workbook (.xlsx)"),
    "a name of no letters": ("a file whose name holds signs that are no letters", "rename it, with plain letters"),
    "lock file": (
        "the small file that a spreadsheet program leaves while a workbook is open",
        "name the workbook itself, without ~$",
    ),
    "old workbook": ("a workbook in the old format .xls", _SAVE_AS),
    "password": ("a workbook with a password", "take the password off: open it, save it without one, then run again"),
    "old or password": (
        "a workbook with a password, or one in the old format .xls",
        "open it in your spreadsheet program, save it without a password as a workbook (.xlsx), then run again",
    ),
    "binary workbook": ("a workbook in the binary format .xlsb", _SAVE_AS),
    "open document": ("a workbook in the OpenDocument format .ods", _SAVE_AS),
    "open document with a password": (
        "an OpenDocument workbook with a password",
        "open it, save it without a password as a workbook (.xlsx), then run again",
    ),
    "numbers": ("a spreadsheet of another program (.numbers)", "open it there and export it to .xlsx, then run again"),
    "strict": (
        "a workbook saved as Strict Open XML",
        "save it as a plain workbook (.xlsx), without the word Strict, then run again",
    ),
    "text document": ("a text document or a presentation, not a workbook", _A_WORKBOOK),
    "zip": ("a zip archive that holds no workbook", "unpack it, and name the workbook that was inside"),
    "damaged": (
        "a damaged file: the workbook in it cannot be unpacked",
        "take your last copy that opens, or ask for the file again",
    ),
    "pdf": ("a PDF", "name the workbook from which it was printed"),
    "web page": ("a web page or a table saved as one, whatever its name says", _SAVE_AS),
    "rich text": ("a text document", _A_WORKBOOK),
    "csv": ("a table of plain text (.csv): it has one sheet only", f"put its rows into the sheets of {_FORM}"),
    "text": ("plain text", _A_WORKBOOK),
    "picture": ("a picture", _A_WORKBOOK),
    "unknown": ("a file that is no workbook", _A_WORKBOOK),
}


@dataclass(frozen=True, slots=True)
class FileKind:
    """What stands at a path; `found` and `mend` are blank for a workbook that can be read."""

    kind: Kind
    found: str = ""
    mend: str = ""


def what_kind_of_file(path: Path) -> FileKind:
    """What a file is by its content, and what to do when it is not a workbook that can be read."""
    try:
        kind = _kind(path)
    except FileNotFoundError:
        kind = "missing"
    except (OSError, ValueError):
        kind = "cannot be opened"
    return FileKind(kind, *_WORDS.get(kind, ("", "")))


def _kind(path: Path) -> Kind:
    if path.is_dir():
        return "folder"
    size = path.stat().st_size
    if not path.is_file():  # opening a pipe waits for somebody to fill it
        return "no file"
    try:
        path.name.encode("utf-8")
    except UnicodeEncodeError:
        return "a name of no letters"
    if path.name.startswith("~$"):
        return "lock file"
    if size == 0:
        return "empty"
    with path.open("rb") as file:
        start = file.read(4096)
    if start.startswith((b"PK\x03\x04", b"PK\x05\x06")):
        return "too large" if size > MOST_FILE_BYTES else _kind_of_zip(path)
    if start.startswith(_OLE):
        return "too large" if size > MOST_FILE_BYTES else _kind_of_ole(path)
    return _kind_of_start(start)


def _kind_of_zip(path: Path) -> Kind:
    try:
        with zipfile.ZipFile(path) as archive:
            return _kind_of_archive(archive)
    except (zipfile.BadZipFile, OSError, ValueError, NotImplementedError, RuntimeError, EOFError, LookupError, OverflowError):
        return "damaged"
    except Exception as error:  # zlib.error and its kin derive from Exception alone
        if type(error).__name__ in {"error", "LZMAError"}:
            return "damaged"
        raise


def _kind_of_archive(archive: zipfile.ZipFile) -> Kind:
    names = {name.lstrip("/").casefold() for name in archive.namelist()}
    if "xl/workbook.xml" in names:
        return _plain_or_strict(archive)
    if "xl/workbook.bin" in names:
        return "binary workbook"
    if "mimetype" in names:
        with archive.open("mimetype") as part:
            said = part.read(200)
        if b"opendocument.spreadsheet" in said:
            return "open document with a password" if _says_encrypted(archive) else "open document"
        return "text document"
    if any(name.startswith("index/") and name.endswith(".iwa") for name in names) or "index.zip" in names:
        return "numbers"
    if any(name.startswith(("word/", "ppt/")) for name in names):
        return "text document"
    if "[content_types].xml" in names and any(name.endswith("workbook.xml") for name in names):
        return _plain_or_strict(archive)
    return "zip"


def _plain_or_strict(archive: zipfile.ZipFile) -> Kind:
    name = next(name for name in archive.namelist() if name.casefold().endswith("workbook.xml"))
    with archive.open(name) as part:
        start = part.read(4096)
    return "strict" if _STRICT in start else "workbook"


def _says_encrypted(archive: zipfile.ZipFile) -> bool:
    try:
        with archive.open("META-INF/manifest.xml") as part:
            return b"encryption-data" in part.read(200_000)
    except KeyError:
        return False


def _kind_of_ole(path: Path) -> Kind:
    """The directory of an OLE file names its streams in UTF-16: a password leaves EncryptedPackage, an old workbook Workbook."""
    content = path.read_bytes()
    if "EncryptedPackage".encode("utf-16-le") in content:
        return "password"
    if "Workbook".encode("utf-16-le") in content or "Book".encode("utf-16-le") in content:
        return "old workbook"
    return "old or password"


def _kind_of_start(start: bytes) -> Kind:
    if start.startswith(b"%PDF"):
        return "pdf"
    if start.startswith(b"{\\rtf"):
        return "rich text"
    if start.startswith((b"\x89PNG", b"\xff\xd8\xff", b"GIF8", b"BM")):
        return "picture"
    if start.startswith((b"\x09\x08", b"\x09\x04")):
        return "old workbook"
    text = _as_text(start)
    if text is None:
        return "unknown"
    head = text.lstrip("\ufeff \t\r\n").casefold()
    if head.startswith(("<!doctype html", "<html", "<table", "<?xml", "<workbook")):
        return "web page"
    lines = [line for line in text.splitlines() if line.strip()][:5]
    marked = [sum(line.count(sign) for sign in ",;\t") for line in lines]
    return "csv" if marked and min(marked) > 0 else "text"


def _as_text(start: bytes) -> str | None:
    if start.startswith((b"\xff\xfe", b"\xfe\xff")):
        return start.decode("utf-16", errors="replace")
    if b"\x00" in start:
        return None
    text = start.decode("utf-8", errors="replace")
    odd = sum(1 for sign in text if sign == "\ufffd" or (sign < " " and sign not in "\t\r\n"))
    return text if odd * 10 <= len(text) else None
