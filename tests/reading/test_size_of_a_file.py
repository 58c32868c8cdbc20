"""How large a workbook may be inside, at each limit exactly and one above: nothing is unpacked to find that out."""

from __future__ import annotations

import io
import zipfile
from pathlib import Path

import pytest

from estimator.reading import package, raw_cells
from estimator.reading.package import Unfit, open_package
from estimator.reading.sheet_parts import _plain

MEGABYTE = 1_000_000
SHEET = "xl/worksheets/sheet1.xml"


def claiming(path: Path, sizes: dict[str, int], *, packed_bytes: int, many: int = 0, locked: bool = False) -> Path:
    """A small archive whose list of parts claims such sizes, filled up to so many bytes on the disk."""
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w") as archive:
        for name in [*sizes, *(f"part{number}" for number in range(many))]:
            archive.writestr(name, b"")
    content = bytearray(made.getvalue())
    at = content.find(b"PK\x01\x02")
    for size in sizes.values():
        content[at + 8] |= locked
        content[at + 24 : at + 28] = size.to_bytes(4, "little")
        at = content.find(b"PK\x01\x02", at + 1)
    path.write_bytes(bytes(packed_bytes - len(content)) + content)
    return path


def found(path: Path) -> str:
    """What is found wrong with the file; blank where it is opened."""
    try:
        open_package(path).archive.close()
    except Unfit as unfit:
        return unfit.found
    return ""


@pytest.mark.parametrize(
    ("sizes", "packed_bytes", "words"),
    [
        pytest.param({SHEET: 60 * MEGABYTE}, MEGABYTE, "", id="a sheet of 60 MB"),
        pytest.param({SHEET: 60 * MEGABYTE + 1}, MEGABYTE, "a workbook with a sheet of 60 MB, more than 60", id="a byte more"),
        pytest.param({SHEET: MEGABYTE, "XL/OTHER.XML": 61 * MEGABYTE}, MEGABYTE, "a workbook with a sheet of 61 MB, more than 60", id="the larger of two, in capitals"),
        pytest.param({"media/picture.png": 90 * MEGABYTE}, MEGABYTE, "", id="a picture is no sheet"),
        pytest.param({"a.png": 125 * MEGABYTE, "b.png": 125 * MEGABYTE}, 2 * MEGABYTE, "", id="250 MB together"),
        pytest.param({"a.png": 125 * MEGABYTE, "b.png": 126 * MEGABYTE}, 2 * MEGABYTE, "a workbook that unpacks to 251 MB, more than 250", id="251 MB together"),
        pytest.param({SHEET: 15 * MEGABYTE}, MEGABYTE // 10, "", id="150 times its size"),
        pytest.param({SHEET: 15 * MEGABYTE + 1}, MEGABYTE // 10, "a workbook that unpacks from 100 kB to 15 MB: no job does that", id="more than 150 times"),
        pytest.param({SHEET: 5 * MEGABYTE}, 1_000, "", id="up to 5 MB that does not count"),
        pytest.param({SHEET: 5 * MEGABYTE + 1}, 1_000, "a workbook that unpacks from 1 kB to 5 MB: no job does that", id="a byte more than 5 MB"),
    ],
)  # fmt: skip
def test_each_limit_exactly_and_one_above(sizes: dict[str, int], packed_bytes: int, words: str, tmp_path: Path) -> None:
    assert found(claiming(tmp_path / "job.xlsx", sizes, packed_bytes=packed_bytes)) == words


@pytest.mark.parametrize(("many", "words"), [(3_999, ""), (4_000, "a workbook of 4,001 parts, more than 4,000")])
def test_so_many_parts(many: int, words: str, tmp_path: Path) -> None:
    assert found(claiming(tmp_path / "job.xlsx", {SHEET: 100}, packed_bytes=MEGABYTE, many=many)) == words


def test_a_password_is_told_before_the_sizes(tmp_path: Path) -> None:
    path = claiming(tmp_path / "job.xlsx", {SHEET: 90 * MEGABYTE}, packed_bytes=MEGABYTE, locked=True)
    with pytest.raises(Unfit) as unfit:
        open_package(path)
    assert (unfit.value.found, unfit.value.mend) == (
        "a workbook with a password",
        "take the password off: open it, save it without one, then run again",
    )
    path.unlink()  # its file is closed again: Windows would not let it go


@pytest.mark.parametrize(("most", "enough"), [(7, False), (8, True)])
def test_as_many_elements_as_are_read(most: int, enough: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "job.xlsx"
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("xl/a.xml", b"<root><row/><row/><row/></root>")
    monkeypatch.setattr(package, "MOST_ELEMENTS", most)
    opened = open_package(path)
    seen: list[str] = []
    opened.parse("XL/A.xml", start=lambda tag, _: seen.append(tag))
    assert seen == ["root", "row", "row", "row"]
    if enough:
        opened.parse("xl/a.xml", start=lambda tag, _: seen.append(tag))
    else:
        with pytest.raises(Unfit) as unfit:
            opened.parse("xl/a.xml", start=lambda tag, _: seen.append(tag))
        assert unfit.value.found == "a workbook of more than 7 cells and formats"
        assert (
            unfit.value.mend
            == "take old sheets, pictures and styled empty rows out of it, or start from the blank form (estimator blank writes it)"
        )
    opened.archive.close()
    assert len(seen) == most


def test_prefixed_tags_are_read_like_plain_ones(tmp_path: Path) -> None:
    path = tmp_path / "job.xlsx"
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("a.xml", b'<x:root xmlns:x="u"><x:row/>text</x:root>')
    walked: list[str] = []
    opened = open_package(path)
    assert opened.has("A.XML")
    assert not opened.has("b.xml")
    opened.parse("a.xml", start=lambda tag, _: walked.append(f"<{tag}"), end=lambda tag: walked.append(f"{tag}>"), characters=walked.append)
    opened.archive.close()
    assert walked == ["<root", "<row", "row>", "text", "root>"]


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"<root><row></root>", "a damaged workbook: its part a.xml breaks off or is not XML"), (b"<root>", "a damaged workbook: its part a.xml breaks off or is not XML"),
        (b'<?xml version="1.0" encoding="nobody-knows"?><root/>', "a damaged workbook: a part of it says that its letters are of the kind nobody-knows"),
        (b'<!DOCTYPE root [<!ENTITY a "b">]><root>&a;</root>', "a workbook with a document type inside, which no spreadsheet program writes"),
    ],
)  # fmt: skip
def test_a_part_that_is_not_what_it_should_be(content: bytes, words: str, tmp_path: Path) -> None:
    path = tmp_path / "job.xlsx"
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("a.xml", content)
    opened = open_package(path)
    with pytest.raises(Unfit) as unfit:
        opened.parse("a.xml", start=lambda tag, _: None)
    with pytest.raises(Unfit) as missing:
        opened.parse("b" * 100, start=lambda tag, _: None)
    opened.archive.close()
    assert (unfit.value.found, unfit.value.mend) == (words, "take your last copy that opens, or save it again in your spreadsheet program")
    assert missing.value.found == f"a damaged workbook: its part {'b' * 80} is missing"


def test_a_part_of_a_long_name_is_told_by_its_first_80_signs(tmp_path: Path) -> None:
    path = tmp_path / "job.xlsx"
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("c" * 90, b"<root>")
    opened = open_package(path)
    with pytest.raises(Unfit) as unfit:
        opened.parse("c" * 90, start=lambda tag, _: None)
    opened.archive.close()
    assert unfit.value.found == f"a damaged workbook: its part {'c' * 80} breaks off or is not XML"


def test_the_longest_text_of_a_cell() -> None:
    """What is said of a text names this limit, so it is a round number."""
    assert raw_cells.MOST_TEXT == 5_000
    assert [len(_plain("x" * many)) for many in (4_999, 5_000, 5_001, 9_000)] == [4_999, 5_000, 5_001, 5_001]
