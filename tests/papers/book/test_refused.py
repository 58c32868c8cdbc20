"""Files that cannot take our sheets are refused with a sentence; nothing that anybody can send makes the code fall over."""

import io
import struct
import warnings
import zipfile
import zlib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as some

from estimator.papers.book import Refused, Spliced, add_sheets, dates_from_1904, free_defined_names, free_names, users_book, zipped
from tests.papers.book.gallery import BARE, CHAIN_REL, MAIN, OFFICE, by_hand, read_part, result_sheets, with_parts
from tests.papers.book.test_unharmed import BOOKS, WANTED

PLAIN = by_hand(BARE)
OURS = result_sheets({name: name for name in WANTED})
SIGNATURE = ('<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" '
             f'Type="{OFFICE}/officeDocument" Target="xl/workbook.xml"/><Relationship Id="s" Target="_xmlsignatures/origin.sigs"'
             ' Type="http://schemas.openxmlformats.org/package/2006/relationships/digital-signature/origin"/></Relationships>')
STRICT = "http://purl.oclc.org/ooxml"


def twice(name):
    """A zip in which one name stands twice."""
    out = io.BytesIO(PLAIN)
    with zipfile.ZipFile(out, "a") as package, warnings.catch_warnings():
        warnings.simplefilter("ignore")   # Python finds it odd as well, and does it
        package.writestr(name, "second")
    return out.getvalue()


def packed(content, method):
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", method) as package:
        for name in zipfile.ZipFile(io.BytesIO(content)).namelist():
            package.writestr(name, read_part(content, name))
    return out.getvalue()


def in_workbook(old, new):
    text = read_part(PLAIN, "xl/workbook.xml").decode()
    assert old in text
    return with_parts(PLAIN, {"xl/workbook.xml": text.replace(old, new)})


FILES = {
    "nothing": (b"", "not a workbook"),
    "a text": (b"Ref,Room,Kind\n", "not a workbook"),
    "a password, or an old file": (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(600), "password or is an old .xls"),
    "some other zip": (with_parts(PLAIN, {"[Content_Types].xml": None}), "a zip but not"),
    "no list of sheets": (with_parts(PLAIN, {"xl/workbook.xml": None}), "a zip but not"),
    "no list of what it uses": (with_parts(PLAIN, {"xl/_rels/workbook.xml.rels": None}), "damaged"),
    "no root": (with_parts(PLAIN, {"_rels/.rels": None}), "a zip but not"),
    "a binary workbook": (with_parts(PLAIN, {"_rels/.rels": read_part(PLAIN, "_rels/.rels").replace(b".xml\"", b'.bin"'),
                                             "xl/workbook.bin": b"x"}), "binary"),
    "a text document": (in_workbook(MAIN, "http://schemas.openxmlformats.org/wordprocessingml/2006/main"), "not a workbook"),
    "no sheets": (in_workbook('<sheets><sheet name="Shop" sheetId="1" r:id="rId1"/></sheets>', ""), "not a workbook"),
    "a sheet without a part": (in_workbook('r:id="rId1"', 'r:id="rId5"'), "where sheet 1 is"),
    "Strict by its list of sheets": (in_workbook(MAIN, f"{STRICT}/spreadsheetml/main"), "Strict Open XML"),
    "Strict by its root": (with_parts(PLAIN, {"_rels/.rels": read_part(PLAIN, "_rels/.rels").replace(
        OFFICE.encode(), f"{STRICT}/officeDocument/relationships".encode())}), "Strict Open XML"),
    "signed": (with_parts(PLAIN, {"_rels/.rels": SIGNATURE, "_xmlsignatures/origin.sigs": ""}), "digitally signed"),
    "signed, told by a part": (with_parts(PLAIN, {"_xmlsignatures/sig1.xml": "<a/>"}), "digitally signed"),
    "a DTD": (in_workbook("<workbook", '<!DOCTYPE a [<!ENTITY b "c">]><workbook'), "document type definition"),
    "not XML": (in_workbook("</sheets>", "</sheet>"), "damaged at xl/workbook.xml"),
    "a second root": (in_workbook("</workbook>", "</workbook><workbook/>"), "damaged at xl/workbook.xml"),
    "letters that are none": (with_parts(PLAIN, {"xl/workbook.xml": read_part(PLAIN, "xl/workbook.xml").replace(
        b"Shop", b"Sh\xff\xfep")}), "letters cannot be read"),
    "an encoding that is none": (with_parts(PLAIN, {"xl/workbook.xml": read_part(PLAIN, "xl/workbook.xml").replace(
        b'"utf-8"', b'"no-such"')}), "letters cannot be read"),
    "an encoding of no letters": (with_parts(PLAIN, {"[Content_Types].xml": b'<?xml version="1.0" encoding="idna"?>' + read_part(
        PLAIN, "[Content_Types].xml").partition(b"?>")[2]}), "letters cannot be read"),
    "a number that is none": (in_workbook('sheetId="1"', 'sheetId="\u00b2"'), "where sheet 1 is"),
    "a number without end": (in_workbook('sheetId="1"', f'sheetId="{"9" * 5000}"'), "where sheet 1 is"),
    "one name twice": (twice("xl/workbook.xml"), "two parts of one name"),
    "one name twice but for capitals": (twice("xl/Workbook.XML"), "two parts of one name"),
    "cut off": (PLAIN[:-60], "damaged"),
    "an unusual packing": (packed(PLAIN, zipfile.ZIP_LZMA), "unusual way"),
    "other bytes than its check sum": (PLAIN.replace(b'name="Shop"', b'name="Shap"'), "damaged at xl/workbook.xml"),
}


@pytest.mark.parametrize("name", FILES)
def test_a_file_that_cannot_take_our_sheets_is_refused_with_a_sentence(name):
    content, words = FILES[name]
    answer = add_sheets(user_book=content, ours=OURS)
    assert isinstance(answer, Refused), answer
    assert words in answer.reason
    assert answer.reason.endswith(".")
    for ask in (lambda: free_names(content, WANTED), lambda: free_defined_names(content, WANTED),
                lambda: dates_from_1904(content)):
        assert ask() == answer


def test_the_same_file_without_the_fault_is_taken():
    """So that no line above is refused for another reason than the one that it plants."""
    assert isinstance(add_sheets(user_book=PLAIN, ours=OURS), Spliced)
    assert isinstance(add_sheets(user_book=packed(PLAIN, zipfile.ZIP_STORED), ours=OURS), Spliced)
    assert isinstance(add_sheets(user_book=packed(PLAIN, zipfile.ZIP_DEFLATED), ours=OURS), Spliced)


@pytest.mark.parametrize("number", ["\u00b2", "\u0663", "-1", "9" * 5000])
def test_numbers_that_count_nothing_are_passed_over(number):
    """Python takes a small 2 for a digit and for no number, and no more than 4,300 digits for one."""
    names = f'</sheets><definedNames><definedName name="a" localSheetId="{number}">1</definedName></definedNames>'
    tabs = f'<bookViews><workbookView activeTab="{number}" firstSheet="{number}"/></bookViews><sheets>'
    for old, new in (("</sheets>", names), ("<sheets>", tabs)):
        assert isinstance(add_sheets(user_book=in_workbook(old, new), ours=OURS), Spliced)
    styles = (f'<styleSheet xmlns="{MAIN}"><numFmts><numFmt numFmtId="{number}" formatCode="0 %"/></numFmts><cellXfs><xf/></cellXfs>'
              f'<cellStyles><cellStyle builtinId="8" xfId="{number}"/></cellStyles></styleSheet>')
    relation = f'<Relationship Id="s" Type="{OFFICE}/styles" Target="styles.xml"/></Relationships>'
    rels = read_part(PLAIN, "xl/_rels/workbook.xml.rels").decode().replace("</Relationships>", relation)
    book = with_parts(PLAIN, {"xl/styles.xml": styles, "xl/_rels/workbook.xml.rels": rels})
    assert isinstance(add_sheets(user_book=book, ours=OURS), Spliced)


def test_a_bomb_is_counted_before_anything_is_unpacked(monkeypatch):
    """The directory of a zip says how much each part unpacks to: here a little more in all than is allowed."""
    monkeypatch.setattr(zipped, "MOST_UNPACKED", 50_000)
    monkeypatch.setattr(zipped, "unpack", None)
    book = with_parts(PLAIN, {"xl/media/a.bin": bytes(30_000), "xl/media/b.bin": bytes(30_000)})
    answer = add_sheets(user_book=book, ours=OURS)
    assert isinstance(answer, Refused)
    assert "would unpack to more" in answer.reason


def test_a_part_that_unpacks_to_more_than_it_says_is_damaged():
    text = read_part(PLAIN, "xl/workbook.xml")
    squeeze = zlib.compressobj(9, zlib.DEFLATED, -15)
    bomb = squeeze.compress(text + b" " * 50_000_000) + squeeze.flush()
    part = zipped.Part("xl/workbook.xml", bomb, zipfile.ZIP_DEFLATED, zlib.crc32(text), len(text))
    parts = zipped.parts_of(PLAIN)
    book = zipped.zip_of(part if other.name == part.name else other for other in parts)
    answer = add_sheets(user_book=book, ours=OURS)
    assert isinstance(answer, Refused)
    assert "damaged at xl/workbook.xml" in answer.reason


def test_a_book_with_no_room_for_more_cell_formats_is_refused(monkeypatch):
    """A workbook takes 65,490 cell formats (limits of a workbook, as spreadsheet programs publish them)."""
    monkeypatch.setattr(users_book, "MOST_LOOKS", 1)
    answer = add_sheets(user_book=BOOKS["XlsxWriter many things"], ours=OURS)
    assert isinstance(answer, Refused)
    assert "no room for ours" in answer.reason


def test_a_packed_password_is_refused():
    """Bit 0 of the flags of an entry, in the local header and in the directory (the zip format, sections 4.3.7 and 4.3.12)."""
    content = bytearray(PLAIN)
    start = content.find(b"PK\x03\x04")
    content[start + 6] |= 1
    content[content.find(b"PK\x01\x02") + 8] |= 1
    answer = add_sheets(user_book=bytes(content), ours=OURS)
    assert isinstance(answer, Refused)
    assert "password" in answer.reason


BASES = [PLAIN, BOOKS["by hand, prefixes and single quotes"], by_hand(BARE, rels=CHAIN_REL)]


@settings(max_examples=300, deadline=None)
@given(some.data())
def test_no_spoiled_file_makes_it_fall_over(data):
    """Bytes changed, cut out or doubled anywhere in a stored package: an answer of one kind or the other, never a crash."""
    content = bytearray(data.draw(some.sampled_from(BASES)))
    for _ in range(data.draw(some.integers(1, 4))):
        at = data.draw(some.integers(0, len(content) - 1))
        length = data.draw(some.integers(0, 12))
        content[at:at + length] = data.draw(some.binary(max_size=12) | some.sampled_from([b"<", b">", b"\"", b"&#xD800;", b"/"]))
    answer = add_sheets(user_book=bytes(content), ours=OURS)
    assert isinstance(answer, Spliced | Refused)


TOKENS = ["<", ">", "/", "'", '"', "&", "=", "sheets", "sheet", "workbook", "x:", "<!--", "-->", "]]>", "<![CDATA[", "rId1",
          "1", "-1", "999999999999", "", " ", "definedName", "localSheetId", "name", "\n", "xmlns", "é", "count"]


@settings(max_examples=300, deadline=None)
@given(some.data())
def test_no_spoiled_list_of_sheets_makes_it_fall_over(data):
    """The same with sound check sums, so that the spoiled XML itself is read."""
    base = data.draw(some.sampled_from(BASES[:2]))
    part = data.draw(some.sampled_from(["xl/workbook.xml", "xl/_rels/workbook.xml.rels", "[Content_Types].xml", "_rels/.rels"]
                                       + (["xl/styles.xml"] if base is BASES[1] else [])))
    text = read_part(base, part).decode()
    for _ in range(data.draw(some.integers(1, 3))):
        at = data.draw(some.integers(0, len(text)))
        text = text[:at] + data.draw(some.sampled_from(TOKENS)) + text[at + data.draw(some.integers(0, 9)):]
    assert isinstance(add_sheets(user_book=with_parts(base, {part: text}), ours=OURS), Spliced | Refused)


def test_what_is_in_the_central_directory_can_be_read_by_anyone():
    """The zip that we write, read by its published layout alone (end record, 22 bytes; entries of 46 bytes and a name)."""
    book = add_sheets(user_book=PLAIN, ours=OURS).workbook
    *_, count, length, offset, comment = struct.unpack("<4s4H2LH", book[-22:])
    assert (comment, offset + length) == (0, len(book) - 22)
    at = offset
    for info in zipfile.ZipFile(io.BytesIO(book)).infolist():
        assert book[at:at + 4] == b"PK\x01\x02"
        name_length = struct.unpack_from("<H", book, at + 28)[0]
        assert book[at + 46:at + 46 + name_length].decode() == info.filename
        at += 46 + name_length
        count -= 1
    assert (at, count) == (len(book) - 22, 0)
