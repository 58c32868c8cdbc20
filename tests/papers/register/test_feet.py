"""A register of inch jobs speaks feet: on the page, in its table and its sums; one of two kinds of jobs keeps to metres."""

import io
from dataclasses import replace

import pytest
from openpyxl import load_workbook

from estimator.model.exact import Fraction
from estimator.papers.register import RegisterRow, register_book, register_page
from tests.papers.register.test_register import row

A_FOOT_M = Fraction("0.3048")


def jobs(*units: str) -> list[RegisterRow]:
    """Jobs of 300 feet by hand and 100 sent out."""
    return [
        replace(row(f"job {at}"), shown_in=unit, by_hand_m=300 * A_FOOT_M, sent_out_m=100 * A_FOOT_M) for at, unit in enumerate(units)
    ]


@pytest.mark.parametrize(
    ("units", "name", "sign", "of_one", "of_two"),
    [(("inch", "inch"), "Feet", "ft", "400.0", "800.0"), (("inch", "mm"), "Metres", "m", "121.9", "243.8"), (("mm", "mm"), "Metres", "m", "121.9", "243.8")],
)
def test_runs_of_edging_stand_in_the_unit_of_the_jobs(units: tuple[str, ...], name: str, sign: str, of_one: str, of_two: str) -> None:
    rows = jobs(*units)
    page = b"".join(register_page(rows, [])).decode()
    other = "Metres" if name == "Feet" else "Feet"
    assert f">{name}</th>" in page
    assert f">{of_one}</td>" in page
    assert f">{of_two}</td>" in page
    assert f"{name} of edges by month" in page
    assert f"{other}<" not in page
    assert f"{other} of edges" not in page
    assert f"{600 if name == 'Feet' else 183} {sign}<" in page
    book = load_workbook(io.BytesIO(register_book(rows, [])), data_only=True)
    for sheet, value in (("Jobs", of_one), ("Totals", of_two), ("Months", of_two)):
        heads = [cell.value for cell in book[sheet][1]]
        assert {f"{name} of edges", f"{name} by hand", f"{name} sent out"} <= set(heads)
        assert book[sheet].cell(2, heads.index(f"{name} of edges") + 1).value == pytest.approx(float(value), abs=0.05)
