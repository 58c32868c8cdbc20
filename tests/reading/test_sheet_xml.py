"""The XML of a sheet as several programs write it: each attribute that may lack, each kind of cell, each limit at its value and one above."""

from __future__ import annotations

import io
import zipfile
from typing import Any

import pytest

from estimator.reading import sheet_parts
from estimator.reading.package import Package, Unfit
from estimator.reading.raw_cells import Cell, RawSheet
from estimator.reading.sheet_parts import MOST_CELLS, MOST_TEXTS, _keep_top_left, _plain, read_rows, shared_texts

DAMAGED = "take your last copy that opens, or save it again in your spreadsheet program"
SEVERAL = "split the job into several workbooks"


def package_of(**parts: str) -> Package:
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w") as archive:
        for name, content in parts.items():
            archive.writestr(name, content)
    return Package(zipfile.ZipFile(held), {name: name for name in parts})


def sheet(rows: str, *, after: str = "", texts: tuple[str, ...] = (), shows: tuple[Any, ...] = ("",)) -> RawSheet:
    raw = RawSheet("Cabinets", hidden=False)
    xml = f"<worksheet><sheetData>{rows}</sheetData>{after}</worksheet>"
    read_rows(raw, package_of(sheet=xml), "sheet", texts=list(texts), shows=shows)
    return raw


def only(cell: str, **more: Any) -> Cell | None:
    """The one cell that a row holds; None where it is blank."""
    rows = sheet(f'<row r="1">{cell}</row>', **more).rows
    return next(iter(rows[1].values())) if rows else None


# --- one cell -----------------------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("xml", "cell"),
    [
        ('<c r="A1"><v>7</v></c>', Cell("7", "number")), ('<c r="A1" t="n"><v>7</v></c>', Cell("7", "number")), ('<c r="A1" t="s"><v>1</v></c>', Cell("oak")),
        ('<c r="A1" t="str"><v>oak</v></c>', Cell("oak")), ('<c r="A1" t="inlineStr"><is><t>oak</t></is></c>', Cell("oak")), ('<c r="A1" t="b"><v>1</v></c>', Cell("1", "yes or no")),
        ('<c r="A1" t="e"><v>#REF!</v></c>', Cell("#REF!", "error")), ('<c r="A1" t="d"><v>2031-02-03</v></c>', Cell("2031-02-03", "iso date")),
        ('<c r="A1" t="unheard of"><v>oak</v></c>', Cell("oak")), ('<c r="A1"/>', None), ('<c r="A1"><v></v></c>', None), ('<c r="A1" t="str"><v>  </v></c>', None),
        ('<c r="A1" t="s"><v>2</v></c>', None),
        # formulas: with their answer, with none, with an answer of no signs
        ('<c r="A1"><f>3+4</f><v>7</v></c>', Cell("7", "number", "", True)), ('<c r="A1" t="str"><f>B1</f><v>oak</v></c>', Cell("oak", "text", "", True)),
        ('<c r="A1"><f>3+4</f></c>', Cell("", "no answer", "", True)), ('<c r="A1"><f>3+4</f><v></v></c>', Cell("", "no answer", "", True)),
        ('<c r="A1" t="str"><f>B1</f></c>', Cell("", "no answer", "", True)), ('<c r="A1" t="str"><f>B1</f><v></v></c>', None),
        ('<c r="A1" t="inlineStr"><f>B1</f><is><t></t></is></c>', Cell("", "no answer", "", True)),
        # a text of pieces, without what is only spoken
        ('<c r="A1" t="inlineStr"><is><r><t>white </t></r><r><t>oak</t></r></is></c>', Cell("white oak")),
        ('<c r="A1" t="inlineStr"><is><t>oak</t><rPh><t>ook</t></rPh></is></c>', Cell("oak")),
        ('<c r="A1" t="inlineStr"><is><rPh><t>ook</t></rPh><rPh><t>oke</t></rPh><t>oak</t></is></c>', Cell("oak")),
        ('<c r="A1"><v>7</v>beside</c>', Cell("7", "number")), ('<c r="A1" t="inlineStr"><is><t>oak</t>beside</is></c>', Cell("oak")),
        # an x0041 is a letter A, in a cell's own text
        ('<c r="A1" t="str"><v>_x0041_sh_x000a_oak</v></c>', Cell("Ash\noak")), ('<c r="A1"><v>_x0041_</v></c>', Cell("_x0041_", "number")),
    ],
)  # fmt: skip
def test_each_kind_of_cell(xml: str, cell: Cell | None) -> None:
    assert only(xml, texts=("white", "oak", " ")) == cell


def test_a_cell_after_another_starts_anew() -> None:
    cells = '<c r="A1" t="str" s="1"><f>B1</f><v>oak</v></c><c><v>7</v></c><c t="str"><v>ash</v></c><c r="H1"><v>8</v></c><c><v>9</v></c>'
    assert sheet(f'<row r="1">{cells}</row>', shows=("", "percent")).rows[1] == {
        1: Cell("oak", "text", "percent", True), 2: Cell("7", "number"), 3: Cell("ash"), 8: Cell("8", "number"), 9: Cell("9", "number"),
    }  # fmt: skip


@pytest.mark.parametrize(
    ("style", "shows", "what"),
    [
        ("", ("date", "percent"), "date"), ('s="0"', ("date", "percent"), "date"), ('s="1"', ("date", "percent"), "percent"), ('s="2"', ("date", "percent"), ""),
        ('s="none"', ("date", "percent"), ""), ("", (), ""), ('s="0"', (), ""), ('s="1"', (), ""),
    ],
)  # fmt: skip
def test_what_a_style_shows(style: str, shows: tuple[Any, ...], what: str) -> None:
    assert only(f'<c r="A1" {style}><v>1</v></c>', shows=shows) == Cell("1", "number", what)  # type: ignore[arg-type]


@pytest.mark.parametrize("number", ["2", "one", ""])
def test_a_cell_that_points_to_no_text_is_of_a_damaged_workbook(number: str) -> None:
    with pytest.raises(Unfit) as unfit:
        only(f'<c r="A1" t="s"><f/><v>{number}</v></c>', texts=("white", "oak"))
    assert (unfit.value.found, unfit.value.mend) == ("a damaged workbook: a cell points to a text that is not there", DAMAGED)


@pytest.mark.parametrize(
    ("typed", "plain"),
    [
        ("oak", "oak"), ("a\r\nb\rc\nd\te", "a\nb\nc\nd\te"), ("a\x00b\x07c\x0bd\x0ce\x1ff\ufffe\uffffg", "abcdefg"), ("_x0007_bell", "bell"), ("_x00e9_t_x00C9_", "étÉ"), ("_x41_", "_x41_"),
        ("_x000D__x000A_", "\n"), ("a" * 5_000, "a" * 5_000), ("a" * 5_001, "a" * 5_001), ("a" * 5_002, "a" * 5_001), ("a\ud800b", "ab"),
    ],
)  # fmt: skip
def test_the_plain_text_of_a_cell(typed: str, plain: str) -> None:
    assert _plain(typed) == plain


# --- rows and their limits ------------------------------------------------------------------------------------------------------------------

CELL = "<c><v>7</v></c>"


def test_rows_with_and_without_their_number() -> None:
    rows = f'<row>{CELL}</row><row r="4">{CELL}</row><row>{CELL}</row><row r="99999999">{CELL}</row><row r="100000000">{CELL}</row><row r="two">{CELL}</row><row r="²">{CELL}</row>'
    read = sheet(rows)
    assert list(read.rows) == [1, 4, 5, 99_999_999, 100_000_000, 100_000_001, 100_000_002]
    assert all(cells == {1: Cell("7", "number")} for cells in read.rows.values())
    assert sheet(f'<row r="123456789">{CELL}</row>').rows.keys() == {1}, "no sheet has so many rows"


def test_hidden_rows() -> None:
    rows = '<row r="2" hidden="1"/><row r="3" hidden="true"/><row r="4" hidden="0"/><row r="5"/><row r="6" hidden="false"/>'
    assert sheet(rows).hidden_rows == [2, 3]


def test_columns_up_to_the_700th() -> None:
    assert sheet('<row r="1"><c r="ZX1"><v>7</v></c><c r="ZY1"><v>7</v></c></row>').rows == {1: {700: Cell("7", "number")}}


@pytest.mark.parametrize(("blank", "found"), [(1_999, [1, 2_001]), (2_000, [1])])
def test_after_2000_blank_rows_the_sheet_is_at_its_end(blank: int, found: list[int]) -> None:
    assert list(sheet(f'<row r="1">{CELL}</row>{"<row/>" * blank}<row>{CELL}</row>').rows) == found


def test_so_many_filled_cells_and_no_more(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sheet_parts, "MOST_CELLS", 3)
    raw = RawSheet("Cabinets", hidden=False)
    filled = package_of(sheet=f"<worksheet><row>{CELL * 3}<c/></row></worksheet>")
    assert read_rows(raw, filled, "sheet", texts=[], shows=("",)) == 3
    with pytest.raises(Unfit) as unfit:
        sheet(f"<row>{CELL * 4}</row>")
    assert (unfit.value.found, unfit.value.mend) == ("a workbook of more than 3 filled cells", SEVERAL)


# --- the shared texts -----------------------------------------------------------------------------------------------------------------------


def test_shared_texts_in_their_order() -> None:
    xml = (
        "<sst><si><t>white</t></si><si><r><t>pale </t></r><r><t>oak</t></r></si><si><t>ash</t>beside<rPh><t>esh</t></rPh><rPh><t>osh</t></rPh></si>"
        "<si><rPh><t>el</t></rPh><t>elm_x0041_</t></si><si/></sst>"
    )
    assert shared_texts(package_of(texts=xml), "texts") == ["white", "pale oak", "ash", "elmA", ""]
    assert shared_texts(package_of(texts=xml), "others") == []
    assert shared_texts(package_of(texts=xml), "") == []


def test_so_many_shared_texts_and_no_more(monkeypatch: pytest.MonkeyPatch) -> None:
    assert MOST_TEXTS == MOST_CELLS == 400_000, "no more texts than cells"
    monkeypatch.setattr(sheet_parts, "MOST_TEXTS", 2)
    assert shared_texts(package_of(texts="<sst><si/><si/></sst>"), "texts") == ["", ""]
    with pytest.raises(Unfit) as unfit:
        shared_texts(package_of(texts="<sst><si/><si/><si/></sst>"), "texts")
    assert (unfit.value.found, unfit.value.mend) == ("a workbook of more than 2 texts", SEVERAL)


# --- merged cells ---------------------------------------------------------------------------------------------------------------------------


def block(rows: int, columns: int) -> RawSheet:
    """Every cell holds its own column and row."""
    return RawSheet("Cabinets", hidden=False, rows={row: {column: Cell(f"{column}/{row}") for column in range(1, columns + 1)} for row in range(1, rows + 1)})


@pytest.mark.parametrize(
    ("merged", "gone"),
    [
        (["B2:C3"], {"3/2", "2/3", "3/3"}), (["B2:B2"], set()), (["A4:D4"], {"2/4", "3/4", "4/4"}), (["D1:D5"], {"4/2", "4/3", "4/4", "4/5"}),
        (["C3:ZZZ9999999"], {"4/3", "3/4", "4/4", "3/5", "4/5"}), (["A2:A6"], {"1/3", "1/4", "1/5"}), (["A2:A7"], {"1/3", "1/4", "1/5"}),
        (["A1:B1", "a2:b2", "A2", "", "A3:B3"], {"2/1", "2/3"}), (["A2:AAAA3", "A2:B10000000"], set()),
    ],
)  # fmt: skip
def test_only_the_top_left_of_merged_cells_counts(merged: list[str], gone: set[str]) -> None:
    raw = block(5, 4)
    raw.merged += merged
    _keep_top_left(raw)
    left = {cell.text for cells in raw.rows.values() for cell in cells.values()}
    assert {f"{column}/{row}" for row in range(1, 6) for column in range(1, 5)} - left == gone


def test_merged_rows_far_apart() -> None:
    raw = RawSheet("Cabinets", hidden=False, rows={row: {1: Cell(str(row)), 2: Cell("beside")} for row in (1, 2, 50, 51)})
    raw.merged.append("A2:A50")
    _keep_top_left(raw)
    assert [list(cells) for cells in raw.rows.values()] == [[1, 2], [1, 2], [2], [1, 2]]


@pytest.mark.parametrize(("many", "left"), [(10_000, 1), (10_001, 2)])
def test_beyond_so_many_merged_blocks_none_is_looked_at(many: int, left: int) -> None:
    raw = block(1, 2)
    raw.merged += ["A1:B1"] * many
    _keep_top_left(raw)
    assert len(raw.rows[1]) == left


def test_merged_cells_are_noted_up_to_so_many() -> None:
    read = sheet(f'<row r="1">{CELL}{CELL}</row>', after='<mergeCells><mergeCell ref="A1:B1"/><mergeCell/></mergeCells>')
    assert (read.merged, read.rows) == (["A1:B1", ""], {1: {1: Cell("7", "number")}})
    assert len(sheet(f"<row>{CELL}</row>", after="<mergeCell/>" * 100_001).merged) == 100_000
