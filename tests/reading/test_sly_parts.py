"""Parts of a workbook that no spreadsheet program writes: what would be read wrongly is refused, what would be read for ever is cut short."""

from __future__ import annotations

import io
import time
import zipfile
from pathlib import Path

import pytest

from estimator.reading import package as packages
from estimator.reading import sheet_parts
from estimator.reading.number_formats import MOST_STYLES, shows_of_code, shows_of_styles
from estimator.reading.package import Package, Unfit
from estimator.reading.raw_cells import Cell, RawSheet, column_number
from estimator.reading.sheet_parts import read_rows
from estimator.reading.spreadsheet import open_book

SPACE = 'xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"'
ROW = '<row r="1"><c r="A1"><v>7</v></c></row>'


def package_of(**parts: str | bytes) -> Package:
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w") as archive:
        for name, content in parts.items():
            archive.writestr(name, content)
    return Package(zipfile.ZipFile(held), {name: name for name in parts})


def rows_of(xml: str | bytes, *, texts: tuple[str, ...] = ()) -> dict[int, dict[int, Cell]]:
    raw = RawSheet("Cabinets", hidden=False)
    read_rows(raw, package_of(sheet=xml), "sheet", texts=list(texts), shows=("", "percent"))
    return raw.rows


def sheet(rows: str, *, after: str = "") -> str:
    return f"<worksheet><sheetData>{rows}</sheetData>{after}</worksheet>"


def cell(xml: str) -> Cell:
    return rows_of(sheet(f'<row r="1">{xml}</row>'), texts=("white", "oak"))[1][1]


@pytest.mark.parametrize("number", ["-1", "2", "٠", "+0", "1_0", "1.0", "9" * 5000])
def test_a_shared_text_is_named_by_a_plain_number(number: str) -> None:
    with pytest.raises(Unfit, match="points to a text that is not there"):
        cell(f'<c r="A1" t="s"><v>{number}</v></c>')


def test_blanks_around_a_stored_number_mean_nothing() -> None:
    assert cell('<c r="A1" t="s"><v>\n 1 </v></c>') == Cell("oak")
    assert cell('<c r="A1"><v> 7\n</v></c>') == Cell("7", "number")


def test_what_a_terminal_obeys_is_no_part_of_a_text() -> None:
    assert cell('<c r="A1" t="str"><v>oak&#x9b;2J&#x7f;_x001B_ mint</v></c>') == Cell("oak2J mint")


@pytest.mark.parametrize("style", ["-1", "٠", "+1", "9" * 5000])
def test_a_style_is_named_by_a_plain_number(style: str) -> None:
    assert cell(f'<c r="A1" s="{style}"><v>7</v></c>') == Cell("7", "number")


@pytest.mark.parametrize("values", ["<v>1</v><v>2</v>", "<v>1</v><is><t>5</t></is>", "<is><t>5</t></is><v>1</v>"])
def test_two_values_in_a_cell_are_not_put_together(values: str) -> None:
    with pytest.raises(Unfit, match="a cell in row 1 of the sheet Cabinets holds two values"):
        cell(f'<c r="A1">{values}</c>')


@pytest.mark.parametrize(
    "rows",
    [
        ROW + ROW,  # which of the two counts?
        '<row r="1"><c r="A1"><v>7</v></c><c r="A1"><v>8</v></c></row>',
        '<row r="1"><c r="a1"><v>7</v></c></row>',
        '<row r="1"><c r="$A$1"><v>7</v></c></row>',
    ],
)
def test_no_value_is_passed_over_for_its_place(rows: str) -> None:
    with pytest.raises(Unfit, match="row 1 of the sheet Cabinets"):
        rows_of(sheet(rows))


def test_merged_cells_that_lie_on_one_another_are_not_walked_for_ever(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sheet_parts, "_MOST_MERGED_ROWS", 3)
    rows = ROW + '<row r="2"><c r="A2"><v>7</v></c></row>'
    once, twice = ("<mergeCells>" + '<mergeCell ref="A1:B9"/>' * many + "</mergeCells>" for many in (1, 2))
    assert rows_of(sheet(rows, after=once)) == {1: {1: Cell("7", "number")}, 2: {}}
    with pytest.raises(Unfit, match="merged cells of the sheet Cabinets lie on one another"):
        rows_of(sheet(rows, after=twice))


@pytest.mark.parametrize(
    "part", ["<!--" + "x" * 200_000 + "-->", "<" + "t" * 200_000 + "/>", '<c r="' + "D" * 200_000 + '"/>', "<?x " + "y" * 200_000 + "?>"]
)
def test_a_tag_without_an_end_is_not_begun_anew_for_ever(part: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(packages, "MOST_TOKEN_BYTES", 100_000)
    with pytest.raises(Unfit, match="a tag longer than any program writes"):
        rows_of(sheet(part + ROW))
    assert rows_of(sheet('<row r="1"><c r="A1" t="str"><v>' + "x" * 200_000 + "</v></c></row>"))  # a long text is no tag


@pytest.mark.parametrize("encoding", ["utf-7", "idna", "shift_jis", "undefined", "unicode_escape", "zlib_codec", "rot13"])
def test_letters_of_an_unusual_kind_are_told(encoding: str) -> None:
    with pytest.raises(Unfit, match=f"letters are of the kind {encoding}"):
        rows_of(f'<?xml version="1.0" encoding="{encoding}"?>{sheet(ROW)}')


@pytest.mark.parametrize("encoding", ["UTF-8", "utf-16", "us-ascii", "ISO-8859-1", "windows-1252"])
def test_letters_of_a_usual_kind_are_read(encoding: str) -> None:
    assert rows_of(f'<?xml version="1.0" encoding="{encoding}"?>{sheet(ROW)}'.encode(encoding))[1][1] == Cell("7", "number")


def test_a_part_is_no_larger_than_a_part_may_be_whatever_its_name(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(packages, "MOST_PART_BYTES", 100)
    with pytest.raises(Unfit, match="a workbook whose part sheet has more than"):
        rows_of(sheet(ROW * 3))


def test_long_names_and_formats_are_read_once() -> None:
    began = time.process_time()
    assert column_number("D" * 1_000_000) > 700
    assert shows_of_code("[" * 100_000) == shows_of_code('"' + "y" * 100_000) == ""
    assert shows_of_code("[h" * 100_000) == ""
    assert time.process_time() - began < 1  # each sign looked at by each: minutes


def test_more_cell_formats_than_a_program_takes_are_told() -> None:
    styles = f"<styleSheet><cellXfs>{'<xf/>' * (MOST_STYLES + 1)}</cellXfs></styleSheet>"
    with pytest.raises(Unfit, match="more than 65,490 cell formats"):
        shows_of_styles(package_of(styles=styles), "styles")


def book_of(tmp_path: Path, sheets: str, links: str) -> Path:
    path = tmp_path / "job.xlsx"
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("xl/workbook.xml", f"<workbook {SPACE}><sheets>{sheets}</sheets></workbook>")
        archive.writestr("xl/_rels/workbook.xml.rels", f"<Relationships>{links}</Relationships>")
    return path


LINK = '<Relationship Id="a" Type="x/worksheet" Target="a.xml"/>'


def test_a_sheet_that_leads_nowhere_is_not_passed_over(tmp_path: Path) -> None:
    sheets = '<sheet name="Cabinets" r:id="a"/><sheet name="Loose parts" r:id="b"/>'
    with pytest.raises(Unfit, match="does not say where Loose parts is"):
        open_book(book_of(tmp_path, sheets, LINK))
    chart = '<Relationship Id="b" Type="x/chartsheet" Target="b.xml"/>'
    book = open_book(book_of(tmp_path, sheets, LINK + chart))
    assert list(book.sheets) == ["Cabinets"]  # a sheet that holds a chart has no cells
    book.close()


def test_two_sheets_of_one_name_are_told(tmp_path: Path) -> None:
    with pytest.raises(Unfit, match="two of its sheets are named Cabinets"):
        open_book(book_of(tmp_path, '<sheet name="Cabinets" r:id="a"/>' * 2, LINK))


@pytest.mark.parametrize("links", ["<a/>" * 20_001, '<Relationship Id="b" Type="x/y" Target="' + "../" * 700 + '"/>'])
def test_links_beyond_measure_are_told(links: str, tmp_path: Path) -> None:
    with pytest.raises(Unfit, match="links among its parts that no program writes"):
        open_book(book_of(tmp_path, '<sheet name="Cabinets" r:id="a"/>', LINK + links))
