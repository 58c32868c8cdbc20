"""An amount split by weights into whole minor units that add up to it: the largest-remainder rule in cells (A32, A33).

Everything is counted in whole minor units, so the comparison of the remainders is one of whole numbers and exact.
"""

from __future__ import annotations

from collections.abc import Sequence

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.papers.priced.page import Page
from estimator.papers.priced.terms import Term


@dataclass(frozen=True, slots=True)
class Columns:
    """Where a split stands: its first row, the columns of the weights and the shares, and the first of three for the working."""

    first: int
    weight: int
    share: int
    working: int


def write_shares(
    page: Page,
    at: Columns,
    amount: Term,
    weights: Sequence[Fraction],
    *,
    decimals: int,
    weight_decimals: int,
    told: Sequence[Fraction] | None = None,
) -> tuple[Term, ...]:
    """The shares, a row a weight; the working is the weight in whole units, the whole share and what is left of it."""
    unit, scale = 10**decimals, 10**weight_decimals
    units = [weight * scale for weight in weights]
    everything, whole = sum(units, start=Fraction(0)), amount.value * unit
    all_units = page.span(at.first, at.working, units).words
    minor = Term(f"ROUND({amount.words}*{unit},0)", whole)
    floors = [Fraction(whole * own // everything) if everything else Fraction(0) for own in units]
    rests = [whole * own - floor * everything for own, floor in zip(units, floors, strict=True)]
    for i, (own, floor, rest) in enumerate(zip(units, floors, rests, strict=True)):
        row = at.first + i
        weight, share = page.ref(row, at.working), page.ref(row, at.working + 1)
        page.live(row, at.working, Term(f"ROUND({page.ref(row, at.weight)}*{scale},0)", own), "fact")
        page.live(
            row, at.working + 1, Term(f"IF(SUM({all_units})=0,0,INT({minor.words}*{weight}/SUM({all_units})))", floor), "fact"
        )
        page.live(row, at.working + 2, Term(f"{minor.words}*{weight}-{share}*SUM({all_units})", rest), "fact")
    left = whole - sum(floors, start=Fraction(0)) if everything else Fraction(0)
    left_words = f"IF(SUM({all_units})=0,0,{minor.words}-SUM({page.span(at.first, at.working + 1, floors).words}))"
    shares = []
    for i, floor in enumerate(floors):
        ahead = sum(rest > rests[i] for rest in rests) + sum(rest == rests[i] for rest in rests[:i])
        value = (floor + (1 if ahead < left else 0)) / unit
        words = f"({page.ref(at.first + i, at.working + 1)}+IF({_ahead(page, at, i, rests)}<{left_words},1,0))/{unit}"
        shares.append(
            page.live(at.first + i, at.share, Term(words, value), "money or blank", told=None if told is None else told[i])
        )
    return tuple(shares)


def _ahead(page: Page, at: Columns, i: int, rests: Sequence[Fraction]) -> str:
    """How many have a larger rest, or an equal one and stand earlier."""
    own = page.ref(at.first + i, at.working + 2)
    larger = f"SUMPRODUCT(({page.span(at.first, at.working + 2, rests).words}>{own})*1)"
    earlier = page.span(at.first, at.working + 2, rests[:i]).words
    return f"{larger}+SUMPRODUCT(({earlier}={own})*1)" if i else larger
