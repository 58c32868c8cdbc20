"""A workbook file in, its parts as chunks of checked XML out: sizes are summed before anything is unpacked.

A workbook may come by e-mail. What is not a table (macros, links to other files, pictures, embedded objects) is never opened.
"""

from __future__ import annotations

import zipfile
from collections.abc import Callable
from dataclasses import field
from pathlib import Path
from xml.parsers import expat

from estimator.model.dataclass import dataclass
from estimator.model.written import is_known_encoding

MOST_ENTRIES = 4_000
MOST_UNPACKED_BYTES = 250_000_000
MOST_PART_BYTES = 60_000_000
MOST_RATIO = 150
RATIO_COUNTS_FROM_BYTES = 5_000_000
MOST_ELEMENTS = 3_000_000
MOST_TOKEN_BYTES = 1_000_000
"""Of one tag with its attributes, or one comment: the parser begins such a piece anew with every chunk until its end is there."""
_CHUNK = 1 << 16

StartElement = Callable[[str, dict[str, str]], None]
EndElement = Callable[[str], None]
Characters = Callable[[str], None]


class Unfit(Exception):
    """A file that is not read further: what was found, and how to mend it. Caught where the book is opened."""

    def __init__(self, found: str, mend: str) -> None:
        super().__init__(found)
        self.found, self.mend = found, mend


class Enough(Exception):
    """A sheet has said all it has to say; the rest of its part is not read."""


DAMAGED = "take your last copy that opens, or save it again in your spreadsheet program"
_TOO_MUCH = "take old sheets, pictures and styled empty rows out of it, or start from the blank form (estimator blank writes it)"


@dataclass(slots=True)
class Package:
    """An opened workbook file, and how many XML elements were read from it so far."""

    archive: zipfile.ZipFile
    names: dict[str, str] = field(default_factory=dict)
    elements: int = 0

    def has(self, name: str) -> bool:
        return name.casefold() in self.names

    def parse(self, name: str, *, start: StartElement, end: EndElement | None = None, characters: Characters | None = None) -> None:
        """Walk one part; a missing part, a DTD, broken XML and too many elements make the file unfit."""
        real = self.names.get(name.casefold())
        if real is None:
            raise Unfit(f"a damaged workbook: its part {name[:80]} is missing", DAMAGED)
        if self.archive.getinfo(real).file_size > MOST_PART_BYTES:
            raise Unfit(f"a workbook whose part {name[:80]} has more than {MOST_PART_BYTES // 1_000_000} MB", _TOO_MUCH)
        parser = _parser(self, start=start, end=end, characters=characters)
        fed = 0
        try:
            with self.archive.open(real) as part:
                while chunk := part.read(_CHUNK):
                    parser.Parse(chunk, False)
                    fed += len(chunk)
                    if fed - parser.CurrentByteIndex > MOST_TOKEN_BYTES:
                        raise Unfit(f"a damaged workbook: its part {name[:80]} has a tag longer than any program writes", DAMAGED)
            parser.Parse(b"", True)
        except Enough:
            return
        except (expat.ExpatError, LookupError) as error:  # a LookupError: an encoding that nobody knows
            raise Unfit(f"a damaged workbook: its part {name[:80]} breaks off or is not XML", DAMAGED) from error


def open_package(path: Path) -> Package:
    """Open a file that `what_kind_of_file` called a workbook; raises Unfit when it is larger inside than a job can be."""
    archive = zipfile.ZipFile(path)
    try:
        entries = archive.infolist()
        _check_sizes(entries, packed_bytes=path.stat().st_size)
    except BaseException:
        archive.close()
        raise
    return Package(archive, {entry.filename.lstrip("/").casefold(): entry.filename for entry in entries})


def _check_sizes(entries: list[zipfile.ZipInfo], *, packed_bytes: int) -> None:
    if len(entries) > MOST_ENTRIES:
        raise Unfit(f"a workbook of {len(entries):,} parts, more than {MOST_ENTRIES:,}", _TOO_MUCH)
    if any(entry.flag_bits & 1 for entry in entries):
        raise Unfit("a workbook with a password", "take the password off: open it, save it without one, then run again")
    unpacked = sum(entry.file_size for entry in entries)
    if unpacked > MOST_UNPACKED_BYTES:
        raise Unfit(f"a workbook that unpacks to {unpacked // 1_000_000:,} MB, more than {MOST_UNPACKED_BYTES // 1_000_000}", _TOO_MUCH)
    if unpacked > RATIO_COUNTS_FROM_BYTES and unpacked > MOST_RATIO * packed_bytes:
        raise Unfit(
            f"a workbook that unpacks from {packed_bytes // 1000:,} kB to {unpacked // 1_000_000:,} MB: no job does that",
            _TOO_MUCH,
        )
    largest = max((entry.file_size for entry in entries if entry.filename.casefold().endswith(".xml")), default=0)
    if largest > MOST_PART_BYTES:
        raise Unfit(f"a workbook with a sheet of {largest // 1_000_000:,} MB, more than {MOST_PART_BYTES // 1_000_000}", _TOO_MUCH)


def _parser(package: Package, *, start: StartElement, end: EndElement | None, characters: Characters | None) -> expat.XMLParserType:
    parser = expat.ParserCreate(namespace_separator=None)
    parser.buffer_text = True
    parser.SetParamEntityParsing(expat.XML_PARAM_ENTITY_PARSING_NEVER)

    def counted_start(tag: str, attributes: dict[str, str]) -> None:
        package.elements += 1
        if package.elements > MOST_ELEMENTS:
            raise Unfit(f"a workbook of more than {MOST_ELEMENTS:,} cells and formats", _TOO_MUCH)
        start(tag, attributes)

    def first_start(tag: str, attributes: dict[str, str]) -> None:
        """The root tells whether this writer puts a prefix before every tag (x:row for row)."""
        if ":" in tag:
            parser.StartElementHandler = lambda tag, attributes: counted_start(tag.rpartition(":")[2], attributes)
            if end is not None:
                parser.EndElementHandler = lambda tag: end(tag.rpartition(":")[2])
        else:
            parser.StartElementHandler = counted_start
        parser.StartElementHandler(tag, attributes)

    def refuse_doctype(*_: object) -> None:
        raise Unfit("a workbook with a document type inside, which no spreadsheet program writes", DAMAGED)

    def known_letters(_version: str, encoding: str | None, _standalone: int) -> None:
        if encoding is not None and not is_known_encoding(encoding):
            raise Unfit(f"a damaged workbook: a part of it says that its letters are of the kind {encoding[:20]}", DAMAGED)

    parser.XmlDeclHandler = known_letters
    parser.StartElementHandler = first_start
    if end is not None:
        parser.EndElementHandler = end
    if characters is not None:
        parser.CharacterDataHandler = characters
    parser.StartDoctypeDeclHandler = refuse_doctype
    return parser
