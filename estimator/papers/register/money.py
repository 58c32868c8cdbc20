"""Sums over the register: rows in, one figure a currency and a month out; amounts of two currencies are never added together."""

from collections.abc import Callable, Iterable, Sequence

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.papers.register.figures import left, margin_share, metres
from estimator.papers.register.rows import RegisterRow

_NONE = Fraction(0)


@dataclass(frozen=True, slots=True)
class Sums:
    """Figures of several jobs of one currency. `month` is blank for all months together."""

    currency: str
    month: str
    jobs: int
    won: int
    gross: Fraction
    won_gross: Fraction
    net: Fraction
    cost: Fraction
    hours: Fraction
    sheets: int
    by_hand_m: Fraction
    sent_out_m: Fraction

    left, margin_share, metres = property(left), property(margin_share), property(metres)


def totals(rows: Sequence[RegisterRow]) -> tuple[Sums, ...]:
    """One sum a currency, in the alphabet's order."""
    return tuple(sums_of([row for row in rows if row.currency == one], currency=one) for one in currencies(rows))


def months(rows: Sequence[RegisterRow]) -> tuple[Sums, ...]:
    """One sum a currency and month, the months in order."""
    found = sorted({(row.currency, row.month) for row in rows})
    return tuple(
        sums_of([row for row in rows if (row.currency, row.month) == (currency, month)], currency=currency, month=month)
        for currency, month in found
    )


def currencies(rows: Iterable[RegisterRow]) -> tuple[str, ...]:
    return tuple(sorted({row.currency for row in rows}))


def sums_of(rows: Sequence[RegisterRow], *, currency: str, month: str = "") -> Sums:
    """The figures of some rows, all of one currency."""

    def total(figure: Callable[[RegisterRow], Fraction]) -> Fraction:
        return sum((figure(row) for row in rows), start=_NONE)

    won = [row for row in rows if row.status == "won"]
    return Sums(
        currency=currency,
        month=month,
        jobs=len(rows),
        won=len(won),
        gross=total(lambda row: row.gross),
        won_gross=sum((row.gross for row in won), start=_NONE),
        net=total(lambda row: row.net),
        cost=total(lambda row: row.cost),
        hours=total(lambda row: row.hours),
        sheets=sum(row.sheets for row in rows),
        by_hand_m=total(lambda row: row.by_hand_m),
        sent_out_m=total(lambda row: row.sent_out_m),
    )
