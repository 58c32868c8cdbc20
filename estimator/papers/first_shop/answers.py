"""What a new shop says of itself: the few answers from which its first price book is made."""

from __future__ import annotations

from datetime import date
from typing import Literal

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.papers.form_book import starter_rows

EDGINGS_TO_CHOOSE = tuple(row["Edging"] for row in starter_rows()["Edgings"])
"""The same names stand in the inch tables."""


@dataclass(frozen=True, slots=True)
class Answers:
    """Money is in the shop's own currency. None: not answered, the starting number stays and says so."""

    units: Literal["mm", "inch"]
    currency: str
    paper: Literal["A4", "Letter"]
    tax_name: str
    tax_rate_share: Fraction
    wage: Fraction
    overhead_a_year: Fraction
    day: date
    """On which the answers were given."""
    shop_name: str = ""
    workers: Fraction = Fraction(1)
    paid_hours: Fraction | None = None
    bench_hours: Fraction | None = None
    sheet: tuple[str, str] | None = None
    """Length and width of a sheet, as typed."""
    edgings: tuple[str, ...] = EDGINGS_TO_CHOOSE[:3]
    """The first one bands what has no other."""

    @property
    def note(self) -> str:
        """Where a number comes from that the shop itself gave."""
        return f"your answer of {self.day.isoformat()}"
