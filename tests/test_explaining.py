"""`estimator explain`: one cabinet followed to its price, in words that add up with the quote; a misspelt Ref gets a guess."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

from estimator.__main__ import main
from estimator.costing.following import OwnMinutes
from estimator.explaining import _counted
from estimator.model.exact import Fraction
from estimator.model.problems import Place

WORKBOOKS = Path(__file__).parents[1] / "workbooks"
KITCHEN = str(WORKBOOKS / "kitchen.xlsx")


def said(words: list[str], capsys: pytest.CaptureFixture[str]) -> tuple[int, str, str]:
    code = main(words)
    heard = capsys.readouterr()
    return code, heard.out, heard.err


def test_each_figure_stands_beside_its_cell(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = said(["explain", str(WORKBOOKS / "one-cabinet.xlsx"), "wall", "1"], capsys)
    assert code == 2  # no such Ref
    code, out, _ = said(["explain", KITCHEN, "kitchen", "2"], capsys)
    assert code == 0
    assert "kitchen.xlsx > Cabinets > A3" in out
    assert re.search(r"Assemble a drawer +3 x 22\.4 min .* shop\.xlsx > Work > F9", out)
    assert "length = width - 2 * gap side, width = front_height (shop.xlsx > Construction > D23 and E23)" in out


def test_what_is_said_adds_up_with_the_quote(capsys: pytest.CaptureFixture[str]) -> None:
    """The estimate's own line, from --json of price, beside what explain says of the same line."""
    _, out, _ = said(["explain", KITCHEN, "Kitchen 2", "--json"], capsys)
    one = json.loads(out)
    taken = [Decimal(row["money"]) for name in ("boards", "edgings", "fittings", "bought") for row in one[name]]
    taken += [Decimal(row["money"]) for row in one["minutes"] if row["in_prime"]]
    assert abs(sum(taken) - Decimal(one["prime"])) < Decimal("1e-8")
    carried = sum(Decimal(row["share"]) for row in one["costs"])
    assert abs(carried - Decimal(one["target"])) < Decimal("1e-8")
    assert carried.quantize(Decimal("0.01")) == Decimal(one["unit"])
    _, words, _ = said(["explain", KITCHEN, "Kitchen 2"], capsys)
    assert f"Kitchen 2, base cabinet with drawers: {one['net']} EUR before tax" in words


def test_an_inch_job_is_told_in_feet(capsys: pytest.CaptureFixture[str]) -> None:
    _, out, _ = said(["explain", str(WORKBOOKS / "inch-job.xlsx"), "Workroom 1"], capsys)
    assert re.search(r"maple veneer +14\.5 feet of strip +at 0\.24 ", out)
    assert "finished sizes in inches" in out
    assert "21 7/8 × 21 1/2" in out


def test_an_extra_with_a_price_of_its_own_is_told_as_that() -> None:
    from estimator.batch import price_book
    from estimator.explaining import explained
    from estimator.model.records import Extra
    from estimator.model.results import Estimate

    estimate = price_book(Path(KITCHEN))
    assert isinstance(estimate, Estimate)
    line = next(line for line in estimate.price.lines if isinstance(line.owner, Extra) and line.owner.price_each is not None)
    assert "Its price is typed: kitchen.xlsx > Extras > " in explained(estimate, line)


@pytest.mark.parametrize(("ref", "words"), [("Kitchn 2", "Did you mean Kitchen 2?"), ("sofa", "There are: Kitchen 1, ")])
def test_a_misspelt_ref_gets_a_guess(ref: str, words: str, capsys: pytest.CaptureFixture[str]) -> None:
    code, _, err = said(["explain", KITCHEN, ref], capsys)
    assert code == 2
    assert words in err


def test_a_workbook_with_problems_is_not_explained(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "a.xlsx").write_text("no workbook")
    code, _, err = said(["explain", str(tmp_path / "a.xlsx"), "Kitchen 1"], capsys)
    assert code == 1
    assert "to mend" in err


def test_what_work_counts_by_the_metre_says_so() -> None:
    """In a job in inches 9.923 beside 10 edges would be read as feet."""
    beside = OwnMinutes("Coat strips", "metre", Fraction("9.9234"), Fraction("0.28"), Fraction(0), Fraction(0), False, Place("a.xlsx"))
    edges = replace(beside, per="edge", count=Fraction(10))
    assert (_counted(beside), _counted(replace(beside, per="m2")), _counted(edges)) == ("9.923 m", "9.923 m2", "10")
