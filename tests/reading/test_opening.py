"""Opening a workbook: where its parts stand, what its styles show, and how much of it is read."""

from __future__ import annotations

import io
import zipfile
from pathlib import Path

import pytest

from estimator.reading import package, spreadsheet
from estimator.reading.number_formats import shows_of_code, shows_of_styles
from estimator.reading.package import Package, Unfit
from estimator.reading.spreadsheet import _book, _inside, _targets, open_book

OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"


def package_of(parts: dict[str, str]) -> Package:
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w") as archive:
        for name, content in parts.items():
            archive.writestr(name, content)
    return Package(zipfile.ZipFile(held), {name.casefold(): name for name in parts})


def link(number: int, kind: str, target: str, more: str = "") -> str:
    return f'<Relationship Id="r{number}" Type="{OFFICE}/{kind}" Target="{target}" {more}/>'


def rels(*links: str) -> str:
    return f"<Relationships>{''.join(links)}</Relationships>"


CELLS = '<worksheet><sheetData><row r="1"><c r="A1" t="s"><v>0</v></c><c r="B1" s="1"><v>0.5</v></c></row></sheetData></worksheet>'
STYLES = '<styleSheet><cellXfs><xf numFmtId="0"/><xf numFmtId="9"/></cellXfs></styleSheet>'


def parts(main: str = "xl/workbook.xml", folder: str = "xl/", sheets: str = '<sheet name="Job" r:id="r1"/>', before: str = "", links: tuple[str, ...] = ()) -> dict[str, str]:
    at = f"{folder}_rels/{main.rpartition('/')[2]}.rels"
    own = links or (link(1, "worksheet", "worksheets/sheet1.xml"), link(2, "sharedStrings", "sharedStrings.xml"), link(3, "styles", "styles.xml"))
    return {
        "_rels/.rels": rels(link(1, "officeDocument", main)), main: f'<workbook xmlns:r="{OFFICE}">{before}<sheets>{sheets}</sheets></workbook>', at: rels(*own),
        f"{folder}worksheets/sheet1.xml": CELLS, f"{folder}sharedStrings.xml": "<sst><si><t>oak</t></si></sst>", f"{folder}styles.xml": STYLES,
    }  # fmt: skip


@pytest.mark.parametrize(("main", "folder"), [("xl/workbook.xml", "xl/"), ("/xl/workbook.xml", "xl/"), ("book/deep/main.xml", "book/deep/"), ("main.xml", "")])
def test_parts_are_found_wherever_they_stand(main: str, folder: str) -> None:
    held = parts(main.lstrip("/"), folder)
    held["_rels/.rels"] = rels(link(1, "officeDocument", main))
    book = _book("job.xlsx", package_of(held))
    assert (book.name, book.sheets, book.starts_1904) == ("job.xlsx", {"Job": (f"{folder}worksheets/sheet1.xml", False)}, False)
    cells = book.read("Job").rows[1]
    assert [(cell.text, cell.shows) for cell in cells.values()] == [("oak", ""), ("0.5", "percent")]


def test_a_workbook_without_its_first_list_stands_at_the_usual_place() -> None:
    held = parts()
    del held["_rels/.rels"]
    assert list(_book("job.xlsx", package_of(held)).sheets) == ["Job"]


def test_sheets_hidden_linked_elsewhere_or_nowhere() -> None:
    tabs = "".join(f'<sheet name="{name}" {state} r:id="{to}"/>' for name, state, to in (
        ("Job", "", "r1"), ("Old", 'state="hidden"', "r1"), ("Older", 'state="veryHidden"', "r1"), ("Seen", 'state="visible"', "r1"), ("Chart", "", "r4"),
    )) + '<sheet r:id="r1"/>'  # fmt: skip
    links = (link(1, "worksheet", "worksheets/sheet1.xml"), link(4, "chartsheet", "chart.xml"), link(5, "worksheet", "http://elsewhere", 'TargetMode="External"'))
    book = _book("job.xlsx", package_of(parts(sheets=tabs, links=links)))
    assert {name: hidden for name, (_, hidden) in book.sheets.items()} == {"Job": False, "Old": True, "Older": True, "Seen": False, "": False}
    for lost in ('<sheet name="Lost" r:id="r5"/>', '<sheet name="Lost" r:id="r9"/>', '<sheet name="Lost"/>'):  # its rows would be left out unsaid
        with pytest.raises(Unfit, match="does not say where Lost is"):
            _book("job.xlsx", package_of(parts(sheets=tabs + lost, links=links)))


@pytest.mark.parametrize(("attribute", "starts"), [("", False), ('date1904="0"', False), ('date1904="1"', True), ('date1904="true"', True), ('date1904="on"', True), ('date1904="false"', False)])
def test_from_which_day_dates_are_counted(attribute: str, starts: bool) -> None:
    assert _book("job.xlsx", package_of(parts(before=f"<workbookPr {attribute}/>"))).starts_1904 is starts


def test_250_sheets_and_no_more() -> None:
    tabs = "".join(f'<sheet name="{number}" r:id="r1"/>' for number in range(251))
    assert len(_book("job.xlsx", package_of(parts(sheets=tabs.partition('<sheet name="250"')[0]))).sheets) == 250
    with pytest.raises(Unfit) as unfit:
        _book("job.xlsx", package_of(parts(sheets=tabs)))
    assert (unfit.value.found, unfit.value.mend) == ("a workbook of 251 sheets, more than 250", "take the sheets out that the job does not need")


def test_cells_of_all_sheets_are_counted_together(monkeypatch: pytest.MonkeyPatch) -> None:
    book = _book("job.xlsx", package_of(parts()))
    monkeypatch.setattr(spreadsheet, "MOST_CELLS", 4)
    book.read("Job")
    book.read("Job")
    with pytest.raises(Unfit) as unfit:
        book.read("Job")
    assert (unfit.value.found, unfit.value.mend) == ("a workbook of more than 4 filled cells", "split the job into several workbooks")


def test_a_workbook_without_styles_or_texts() -> None:
    book = _book("job.xlsx", package_of({**parts(links=(link(1, "worksheet", "worksheets/sheet1.xml"),)), "xl/worksheets/sheet1.xml": CELLS.replace('t="s"', "")}))
    assert [cell.shows for cell in book.read("Job").rows[1].values()] == ["", ""]


@pytest.mark.parametrize(
    ("folder", "target", "part"),
    [
        ("xl", "sheet.xml", "xl/sheet.xml"), ("xl", "a/sheet.xml", "xl/a/sheet.xml"), ("xl", "/a/sheet.xml", "a/sheet.xml"), ("xl", "../a/sheet.xml", "a/sheet.xml"), ("xl/b", "../../sheet.xml", "sheet.xml"), ("xl", "./sheet.xml", "xl/sheet.xml"),
        ("", "sheet.xml", "sheet.xml"), ("", "../sheet.xml", "sheet.xml"), ("xl", "a//sheet.xml", "xl/a/sheet.xml"), ("xl", "//sheet.xml", "sheet.xml"), ("xl", "/XL/sheet.xml", "XL/sheet.xml"), ("xl", "", "xl"),
    ],
)  # fmt: skip
def test_where_a_link_leads(folder: str, target: str, part: str) -> None:
    assert _inside(folder, target) == part


def test_links_by_their_kind() -> None:
    held = package_of({"xl/_rels/a.rels": rels(link(1, "worksheet", "1.xml"), link(2, "worksheet", "2.xml"), link(3, "styles", "s.xml", 'TargetMode="external"'), "<Other/>", "<Relationship/>"), "_rels/.rels": rels(link(1, "x", "b.xml"))})
    by_id: dict[str, str] = {}
    assert _targets(held, "xl/_rels/a.rels", by_id=by_id) == {"worksheet": ["xl/1.xml", "xl/2.xml"], "": ["xl"]}
    assert by_id == {"r1": "xl/1.xml", "r2": "xl/2.xml", "": ""}  # a blank for what is no sheet of cells
    assert (_targets(held, "_rels/.rels"), _targets(held, "none.rels")) == ({"x": ["b.xml"]}, {})


@pytest.mark.parametrize("broken", ["<workbook>", "<workbook/>" + " " * 200])
def test_a_book_that_cannot_be_opened_is_closed_again(broken: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """One breaks off, the other is too large: neither is held, so that its owner can replace it."""
    path = tmp_path / "job.xlsx"
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("xl/workbook.xml", broken)
    closed: list[str | None] = []
    monkeypatch.setattr(zipfile.ZipFile, "close", lambda archive: closed.append(archive.filename))
    monkeypatch.setattr(package, "MOST_PART_BYTES", 100)
    with pytest.raises(Unfit) as unfit:  # which keeps the archive alive: it is not closed by being forgotten
        open_book(path)
    assert (closed, bool(unfit.value.found)) == ([str(path)], True)


# --- what a style shows ---------------------------------------------------------------------------------------------------------------------

PERCENTS, DATES, TIMES = {9, 10}, {14, 15, 16, 17, 22, *range(27, 37), *range(50, 59)}, {18, 19, 20, 21, 45, 46, 47}
"""The numbers of the built-in formats (ECMA-376 part 1, 18.8.30; from memory)."""


def styles(*numbers: str, own: str = "") -> tuple[str, ...]:
    cells = "".join(f'<xf numFmtId="{number}"/>' if number else "<xf/>" for number in numbers)
    before = '<cellStyleXfs><xf numFmtId="9"/></cellStyleXfs>'
    xml = f"<styleSheet><numFmts>{own}</numFmts>{before}<cellXfs>{cells}</cellXfs><cellStyles><xf numFmtId='9'/></cellStyles></styleSheet>"
    return shows_of_styles(package_of({"styles": xml}), "styles")


def test_each_built_in_format() -> None:
    shown = styles(*(str(number) for number in range(70)))
    for number, what in enumerate(shown):
        assert what == ("percent" if number in PERCENTS else "date" if number in DATES else "time" if number in TIMES else ""), number
    assert styles("", "none", "9") == ("", "", "percent")
    assert shows_of_styles(package_of({}), "styles") == ()


def test_formats_of_the_workbooks_own_win() -> None:
    own = '<numFmt numFmtId="164" formatCode="0.0 %"/><numFmt numFmtId="165" formatCode="d.m.yy"/><numFmt numFmtId="9" formatCode="0"/><numFmt formatCode="h:mm"/><numFmt numFmtId="166"/>'
    assert styles("164", "165", "9", "10", "166", own=own) == ("percent", "date", "", "percent", "")


@pytest.mark.parametrize(
    ("code", "shows"),
    [
        ("General", ""), ("GENERAL", ""), ("@", ""), ("0%", "percent"), ("0;0%", ""), ("yyyy", "date"), ("YY", "date"), ("d", "date"), ("h", "time"), ("ss", "time"), ("m", "date"), ("h:mm", "time"), ("mm:ss", "time"), ("[h]:mm", "time"), ("[mm]:ss", "time"), ("[ss].0", "time"),
        ("[Red]0", ""), ("[$-409]0", ""), ('"day" 0', ""), ("0\\d", ""), ("0_d", ""), ("0*d", ""), ('0"%"', ""), ("[m]", "date"), ("General d", "date"), ("", ""),
    ],
)  # fmt: skip
def test_what_a_format_shows(code: str, shows: str) -> None:
    assert shows_of_code(code) == shows
