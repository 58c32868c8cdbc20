"""How the result sheets print: one page wide but for tables of many columns, headings on every page, working columns left off."""

import io
from pathlib import Path

import pytest
from openpyxl import load_workbook

from tests.papers.priced.what_if import priced

SAMPLES = Path(__file__).parents[3] / "workbooks"
MANY_COLUMNS = ("Line by line", "Counts by way")


@pytest.fixture(scope="module")
def sheets():
    opened = load_workbook(io.BytesIO(priced(SAMPLES / "one-cabinet.xlsx")[1]))
    return {sheet.title: sheet for sheet in opened if "estimator_result_sheet" in sheet.defined_names and sheet.sheet_state == "visible"}


def test_every_result_sheet_prints_within_its_paper(sheets):
    assert len(sheets) > 12
    for name, sheet in sheets.items():
        setup = sheet.page_setup
        assert sheet.print_area, name
        assert sheet.sheet_properties.pageSetUpPr.fitToPage, name
        assert name in MANY_COLUMNS or setup.fitToWidth in (None, 1), name
        assert name in ("Answer", "Larger and smaller", "A machine of your own") or setup.fitToHeight == 0, name
        assert name == "Answer" or sheet.print_title_rows, name
        assert sheet.oddFooter.right.text.startswith("Page "), name


def test_the_price_prints_upright_without_its_working(sheets):
    price = sheets["Price"]
    assert price.page_setup.orientation == "portrait"
    assert price.print_area.startswith("'Price'!$A$1:$H$")
    heads = next(row for row in price.iter_rows() if row[0].value == "Ref")
    assert price.print_title_rows == f"${heads[0].row}:${heads[0].row}"


def test_charts_show_what_stands_in_their_cells(sheets):
    """Each chart of the first sheet names cells with figures; one way alone would be no comparison and has no chart."""
    charts = sheets["Answer"]._charts
    assert len(charts) == 3
    for chart in charts:
        for series in chart.series:
            cells = (series.val or series.yVal).numRef.f
            name, _, span = cells.rpartition("!")
            values = [cell.value for row in sheets[name.strip("'")][span.replace("$", "")] for cell in row]
            assert any(value not in (None, "") for value in values), cells


def test_no_whole_number_ends_in_a_lone_point(sheets):
    """With #,##0.## some programs show 50 as `50.`: the point is part of the format, whether a decimal follows or not (from memory)."""
    codes = {cell.number_format for sheet in sheets.values() for row in sheet.iter_rows() for cell in row}
    assert "#,##0.00" in codes
    assert [code for code in codes if "0.#" in code] == []
