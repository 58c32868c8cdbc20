"""What spoilt parts cost follows prices and rates: a shop that names shares of spoilt edges, and then another price of its board."""

import io
from pathlib import Path

import pytest
from openpyxl import Workbook, load_workbook

from estimator.model.exact import Fraction
from tests.papers.priced.recalculation import libreoffice, recalculated
from tests.papers.priced.test_live import JOBS
from tests.papers.priced.what_if import differences, priced, result_sheets, with_value

SAMPLE = Path(__file__).parents[3] / "workbooks" / "one-cabinet.xlsx"


def with_shares(opened: Workbook) -> Workbook:
    """The sample with 8 % of the edges spoilt by hand, and 2 % by the contract bander."""
    for sheet, item, share in (("Shop", "Spoilt by hand", "8 %"), ("Contract", "Spoilt", "2 %")):
        row = next(row for row in opened[sheet].iter_rows() if str(row[0].value).startswith(item))
        row[1].value = share
    return opened


@pytest.fixture(scope="module")
def spoilt(tmp_path_factory):
    path = tmp_path_factory.mktemp("spoilt") / "job.xlsx"
    with_shares(load_workbook(SAMPLE)).save(path)
    estimate, book = priced(path)
    return estimate, load_workbook(io.BytesIO(book))


def test_spoilt_parts_are_worked_out_from_what_they_take(spoilt):
    """Every part has one banded edge, so all edges spoilt would take every part anew.

    By hand: 0.92776 m2 at 61.50 / (5.699 x 0.80), 3.330 m at 0.18, 5 parts at 2.2 minutes of an hour at 30; 8 % of it.
    """
    estimate, opened = spoilt
    anew = Fraction("0.92776") * Fraction("61.5") / (Fraction("5.699") * Fraction("0.8")) + Fraction("3.33") * Fraction("0.18") + Fraction("5.5")
    by_hand = next(plan for plan in estimate.banding.plans if not plan.sent)
    assert by_hand.spoilt == anew * Fraction("0.08")
    row = next(row for row in opened["Counts by way"].iter_rows() if row[0].value == "Parts anew, of those that go")
    assert str(row[1].value).startswith("=SUMPRODUCT(")


def test_a_share_that_is_followed_asks_for_no_fresh_run(spoilt):
    watched = {row[1].value for row in spoilt[1]["What has changed"].iter_rows(min_row=6)}
    assert not watched & {"Spoilt by hand", "Spoilt"}
    assert {"Saw kerf", "Bench length"} <= watched


@pytest.mark.skipif(libreoffice() is None, reason="LibreOffice IS NOT INSTALLED: the formulas are not checked by an independent program")
@pytest.mark.skipif(JOBS < 12, reason="the full run only: PRICED_JOBS=12 or more")
@pytest.mark.parametrize(("sheet", "cell", "value"), [("Boards", "E2", 400), ("Edgings", "E2", 9), ("Shop", "B10", 75), ("Shop", "B28", 0.3)])
def test_another_price_gives_what_a_fresh_run_gives(spoilt, tmp_path, sheet, cell, value):
    path = tmp_path / "changed.xlsx"
    spoilt[1][sheet][cell].number_format = "0 %" if cell == "B28" else spoilt[1][sheet][cell].number_format
    path.write_bytes(with_value(spoilt[1], sheet, cell, value))
    found = result_sheets(recalculated([path], tmp_path / "back")[0].read_bytes())
    assert "run it again" not in str(found["Answer"]["A3"])
    assert not differences(result_sheets(priced(path)[1]), found, told_at_pricing=True)
