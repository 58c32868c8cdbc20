"""Sheets and metres really used in, the shop's own yield and spare out, with how sure each is."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from estimator.costing.risk import square_root
from estimator.costing.times.regression import LEVEL, Row, doubts
from estimator.costing.times.step_times import LEAST_ROWS
from estimator.costing.times.student import standard_errors_for
from estimator.costing.times.wild_rows import robust_fit
from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.times import MaterialUse

NONE = Fraction(0)


@dataclass(frozen=True, slots=True)
class JobUse:
    """What one job was to take of a board or an edging, and took."""

    job: str
    net: Fraction
    """What cannot be less: usable square metres that the parts cover, or metres of strip."""
    taken: Fraction
    """Usable square metres of the sheets, or metres off the roll."""
    planned: Fraction
    used: Fraction
    """Both as they are counted: sheets, or metres."""


def spare_share(*, net_m: Fraction, taken_m: Fraction) -> Fraction:
    """What is taken on top of the strips, as a share of them (A12).

        spare  =  taken / strips - 1

    By hand: 110 m off the roll for 100 m of strips is 10 %.

    >>> spare_share(net_m=Fraction(100), taken_m=Fraction(110))
    Fraction(1, 10)

    Source: common-practice.
    """
    return taken_m / net_m - 1


def yield_share(*, net_m2: Fraction, taken_m2: Fraction) -> Fraction:
    """Share of the trimmed sheets that became parts (A10): waste is a division, so a yield is never 1 less what was added.

        yield  =  parts' area / usable area of the sheets taken

    By hand: 100 m2 of parts out of 142.857 m2 is 70 %.

    >>> yield_share(net_m2=Fraction(70), taken_m2=Fraction(100))
    Fraction(7, 10)

    Source: waste-by-division.
    """
    return net_m2 / taken_m2


def material_use(name: str, kind: Literal["board", "edging"], jobs: Sequence[JobUse], *, now_share: Fraction | None) -> MaterialUse:
    """How many times its net a shop takes, over its jobs; big jobs and small ones alike, jobs that lie far off left aside."""
    rows = [Row((Fraction(1),), one.taken / one.net) for one in jobs]
    fit = robust_fit(rows)
    aside = fit.wild if fit else ()
    kept = [one for i, one in enumerate(jobs) if i not in aside]
    times = fit.squares.factors[0] if fit else sum((row.ratio for row in rows), start=NONE) / len(rows)
    ends: tuple[Fraction, Fraction] | None = None
    if fit and len(kept) >= LEAST_ROWS:
        variance = doubts([row for i, row in enumerate(rows) if i not in aside], fit.squares)[0]
        half = standard_errors_for(LEVEL, freedom=fit.squares.freedom) * square_root(variance)
        ends = (times - half, times + half) if times > half else None

    low, high = sorted(_as_share(kind, end) for end in ends) if ends else (None, None)
    return MaterialUse(
        name=name,
        kind=kind,
        jobs=len(kept),
        planned=sum((one.planned for one in kept), start=NONE),
        used=sum((one.used for one in kept), start=NONE),
        now_share=now_share,
        share=_as_share(kind, times),
        from_share=low,
        to_share=high,
        wild=tuple(jobs[i].job for i in aside),
    )


def _as_share(kind: Literal["board", "edging"], times: Fraction) -> Fraction:
    """So many times its net, as the column of Boards or Edgings says it."""
    return yield_share(net_m2=Fraction(1), taken_m2=times) if kind == "board" else spare_share(net_m=Fraction(1), taken_m=times)
