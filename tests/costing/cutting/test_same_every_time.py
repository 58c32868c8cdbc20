"""The same plan in every run: not moved by the order of rows, by the seed of hashes or by what was planned before."""

from __future__ import annotations

import os
import subprocess
import sys

from estimator.costing.cutting import plan_board
from estimator.costing.cutting.shuffled import ShuffledNumbers
from estimator.model.cutting_plan import CuttingPlan, StockSheet, WantedPart
from estimator.model.exact import Fraction

STOCK = [
    StockSheet(Fraction(2800), Fraction(2070), Fraction(10), Fraction(61), 0, True),
    StockSheet(Fraction(2440), Fraction(1220), Fraction(10), Fraction(34), 1, True),
    StockSheet(Fraction(1300), Fraction(800), Fraction(0), Fraction(0), 2, False),
]


def wanted() -> list[WantedPart]:
    below = ShuffledNumbers(77).below
    return [
        WantedPart(Fraction(200 + below(1500), 1 + below(2)), Fraction(100 + below(500)), 1 + below(4), "either") for _ in range(14)
    ]


def shape(rows: list[WantedPart], stock: list[StockSheet]) -> str:
    """Everything that a plan says, with the sizes of parts and sheets in place of their numbers."""
    plan = plan_board(wanted=rows, stock=stock, kerf_mm=Fraction(16, 5))
    assert isinstance(plan, CuttingPlan)
    sheets = sorted(
        (str(stock[pattern.sheet]), pattern.count, [str(cut) for cut in pattern.cuts], [str(offcut) for offcut in pattern.offcuts])
        for pattern in plan.patterns
    )
    places = sorted(
        (str(rows[one.part].length_mm), str(rows[one.part].width_mm), str(one.x_mm), str(one.y_mm), str(stock[pattern.sheet]))
        for pattern in plan.patterns
        for one in pattern.placements
        for _ in range(pattern.count)
    )
    return repr((sheets, places, plan.sheets, plan.bound, str(plan.money), str(plan.bound_money), str(plan.kerf_mm2)))


def test_the_order_of_rows_changes_nothing() -> None:
    rows = wanted()
    plain = shape(rows, STOCK)
    assert shape(rows[::-1], STOCK) == plain
    assert shape([*rows[5:], *rows[:5]], STOCK) == plain
    assert shape(rows, STOCK[::-1]) == plain
    assert shape(rows, STOCK) == plain


def test_the_seed_of_hashes_changes_nothing() -> None:
    words = "from tests.costing.cutting.test_same_every_time import *; print(shape(wanted(), STOCK))"
    told = {
        subprocess.run(
            [sys.executable, "-c", words], env={**os.environ, "PYTHONHASHSEED": seed}, capture_output=True, text=True, check=True
        ).stdout
        for seed in ("0", "1", "4242")
    }
    assert told == {shape(wanted(), STOCK) + "\n"}
