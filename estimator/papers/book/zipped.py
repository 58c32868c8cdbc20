"""The bytes of a workbook in, its parts out, each still packed; and parts back into the bytes of a workbook.

A part that nobody changes is never unpacked: its packed bytes move from the old file into the new one. That is the
proof that nothing in it can be lost, and it makes the work independent of how much data the user has.
"""

import io
import struct
import zipfile
import zlib
from collections.abc import Iterable

from estimator.model.dataclass import dataclass
from estimator.papers.book.refused import Refused

MOST_UNPACKED = 1 << 30   # bytes: far above any workbook of a shop, far below what fills a computer's memory
MOST_PARTS = 20_000       # a zip without its 64-bit extension ends at 65,535

_LOCAL = struct.Struct("<4s5H3L2H")
_CENTRAL = struct.Struct("<4s6H3L5H2L")
_END = struct.Struct("<4s4H2LH")
_NEW_YEAR_1980 = 0 << 16 | (1 << 5 | 1)   # time and date as zip counts them: the first moment that it can name
_UTF8_NAME = 0x800
_SIZES_BEHIND = 0x8


@dataclass(frozen=True, slots=True)
class Part:
    """One file of the package, as it lies in the zip."""

    name: str
    packed: bytes | memoryview
    method: int
    crc: int
    size: int
    flags: int = 0
    time: int = _NEW_YEAR_1980 >> 16
    date: int = _NEW_YEAR_1980 & 0xFFFF
    attributes: int = 0

    @property
    def key(self) -> str:
        """The name under which other parts find this one: part names know no capitals, and some writers use `\\`."""
        return self.name.replace("\\", "/").lstrip("/").lower()


def pack(name: str, content: bytes) -> Part:
    """A part of our own: always the same bytes and the same date for the same content."""
    squeeze = zlib.compressobj(4, zlib.DEFLATED, -15)  # a third faster than 6, and a twentieth larger
    packed = squeeze.compress(content) + squeeze.flush()
    return Part(name, packed, zipfile.ZIP_DEFLATED, zlib.crc32(content), len(content),
                0 if name.isascii() else _UTF8_NAME)


def unpack(part: Part) -> bytes | Refused:
    """What stands in a part; never more bytes than the zip's directory announced."""
    if part.method == zipfile.ZIP_STORED:
        content = bytes(part.packed)
    elif part.method == zipfile.ZIP_DEFLATED:
        try:
            content = zlib.decompressobj(-15).decompress(part.packed, part.size + 1)
        except zlib.error:
            content = b""
    else:
        return Refused(f"The workbook packs {part.name} in an unusual way: open it in a spreadsheet program, save it "
                       "as a workbook (.xlsx) and price it again.")
    if len(content) != part.size or zlib.crc32(content) != part.crc:
        return Refused(f"The workbook is damaged at {part.name}: open it in a spreadsheet program, let it repair "
                       "the file, save it and price it again.")
    return content


def parts_of(workbook: bytes) -> tuple[Part, ...] | Refused:
    """Every part of a workbook in the order of the zip, or why the file cannot be taken apart."""
    if workbook.startswith(b"\xd0\xcf\x11\xe0"):
        return Refused("The workbook has a password or is an old .xls file: take the password off or save it as an "
                       "workbook (.xlsx), then price it again.")
    try:
        entries = zipfile.ZipFile(io.BytesIO(workbook)).infolist()
    except (zipfile.BadZipFile, NotImplementedError, ValueError, OSError):
        return Refused("The file is not a workbook (.xlsx or .xlsm), or it is damaged.")
    if len(entries) > MOST_PARTS or sum(entry.file_size for entry in entries) > MOST_UNPACKED:
        return Refused("The workbook would unpack to more than a workbook can sensibly hold, so it was not opened.")
    parts = tuple(_part(entry, memoryview(workbook)) for entry in entries)
    if any(entry.flag_bits & 1 for entry in entries):
        return Refused("The workbook is packed with a password: unpack and save it without one, then price it again.")
    if not all(parts):
        return Refused("The workbook is damaged: its table of contents does not fit what is in it.")
    whole = tuple(part for part in parts if part)
    if len({part.key for part in whole}) < len(whole):
        return Refused("The workbook holds two parts of one name, and nobody can tell which of them counts: open it "
                       "in a spreadsheet program, save it and price it again.")
    return whole


def _part(entry: zipfile.ZipInfo, workbook: memoryview) -> Part | None:
    """The packed bytes behind one line of the zip's directory; None where the two do not fit together."""
    start = entry.header_offset
    if start + _LOCAL.size > len(workbook) or bytes(workbook[start:start + 4]) != b"PK\x03\x04":
        return None
    *_, name_length, extra_length = _LOCAL.unpack_from(workbook, start)
    start += _LOCAL.size + name_length + extra_length
    packed = workbook[start:start + entry.compress_size]
    if len(packed) != entry.compress_size:
        return None
    year, month, day, hour, minute, second = entry.date_time
    return Part(entry.orig_filename, packed, entry.compress_type, entry.CRC, entry.file_size,
                entry.flag_bits & ~_SIZES_BEHIND, hour << 11 | minute << 5 | second // 2,
                (year - 1980) << 9 | month << 5 | day, entry.external_attr)


def zip_of(parts: Iterable[Part]) -> bytes:
    """The parts as one zip file, in the order given; the same parts always give the same bytes."""
    pieces: list[bytes | memoryview] = []
    directory: list[bytes] = []
    offset = 0
    for part in parts:
        name = part.name.encode("utf-8" if part.flags & _UTF8_NAME else "cp437")
        sizes = (part.crc, len(part.packed), part.size)
        local = _LOCAL.pack(b"PK\x03\x04", 20, part.flags, part.method, part.time, part.date, *sizes, len(name), 0)
        directory.append(_CENTRAL.pack(b"PK\x01\x02", 20, 20, part.flags, part.method, part.time, part.date, *sizes,
                                       len(name), 0, 0, 0, 0, part.attributes, offset) + name)
        pieces += (local, name, part.packed)
        offset += len(local) + len(name) + len(part.packed)
    length = sum(map(len, directory))
    end = _END.pack(b"PK\x05\x06", 0, 0, len(directory), len(directory), length, offset, 0)
    return b"".join((*pieces, *directory, end))
