"""The form: every sheet and column said once, with what may stand there, what blank means and a hint.

The same table checks a cell, words what was expected of it, draws the blank workbook and prints the README's columns.
"""

from estimator.model.form.column import Column, Sheet, What, expected, unit_words
from estimator.model.form.job_sheets import CABINETS, EXTRAS, JOB, LOOSE_PARTS, OPTIONS, TIME_LOG
from estimator.model.form.shop_sheets import ADHESIVES, BOARDS, DRYING, EDGINGS, FINISHES, SHOP
from estimator.model.form.work_sheets import (
    CONSTRUCTION,
    CONTRACT,
    CONTRACT_PRICES,
    FITTINGS,
    KINDS,
    MACHINE,
    MERCHANT,
    OFFCUTS,
    PER_OF_ROUTE,
    ROLL_ENDS,
    WORK,
)

SHEETS: tuple[Sheet, ...] = (
    JOB, CABINETS, LOOSE_PARTS, SHOP, BOARDS, EDGINGS, FINISHES,
    ADHESIVES, FITTINGS, WORK, KINDS, CONSTRUCTION, CONTRACT, CONTRACT_PRICES, EXTRAS, OPTIONS, OFFCUTS, ROLL_ENDS, DRYING,
    MACHINE, MERCHANT, TIME_LOG,
)  # fmt: skip

__all__ = [
    "ADHESIVES", "BOARDS", "CABINETS", "CONSTRUCTION", "CONTRACT", "CONTRACT_PRICES", "DRYING", "EDGINGS", "EXTRAS",
    "FINISHES", "FITTINGS", "JOB", "KINDS", "LOOSE_PARTS", "MACHINE", "MERCHANT", "OFFCUTS", "OPTIONS", "PER_OF_ROUTE",
    "ROLL_ENDS", "SHEETS", "SHOP", "TIME_LOG", "WORK",
    "Column", "Sheet", "What", "expected", "unit_words",
]  # fmt: skip
