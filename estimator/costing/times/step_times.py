"""Logged minutes in, a new standard time for each row of Work out, with how sure it is.

Steps that are ever logged together are fitted together; steps that the log never tells apart share one correction.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from estimator.costing.risk import square_root
from estimator.costing.times.entangled import merged_until_told_apart, taken_as_one
from estimator.costing.times.regression import LEVEL, Row, doubts, shortened
from estimator.costing.times.student import standard_errors_for
from estimator.costing.times.wild_rows import robust_fit
from estimator.costing.work import step_standard_min
from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.shop_records import Shop, Step
from estimator.model.times import Observed, StepTime
from estimator.model.units import decimal_text

LEAST_ROWS = 5
"""Fewer observations than these make no new time."""
TOO_WIDE = Fraction(1, 2)
"""A time whose interval is wider than half of it on either side is not worth writing down."""
_CELL_PLACES = 4
_DEVIATIONS_TO_AN_END = 3
"""From the likely to the low or high of a three-point estimate."""
NONE = Fraction(0)


def minutes_without(standard_min: Fraction, *, rating: Fraction, allowance_share: Fraction) -> Fraction:
    """What stands in Work > Minutes when a step really takes so long, with rating and allowance kept apart (A15).

        minutes  =  standard / (rating / 100 x (1 + allowance))

    By hand: 28.8 standard minutes at a rating of 120 with 20 % allowance are 20 timed minutes.

    >>> minutes_without(Fraction("28.8"), rating=Fraction(120), allowance_share=Fraction(1, 5))
    Fraction(20, 1)

    Holds for: a log that holds rests and small delays, as the standard time does.
    Error: the log's own.
    Source: time-study.
    """
    return standard_min / (rating / 100 * (1 + allowance_share))


def step_times(observed: Sequence[Observed], work: Sequence[Step], shop: Shop) -> tuple[tuple[Observed, ...], tuple[StepTime, ...]]:
    """The log with its wild rows marked, and what it says of each row of Work, in the order of the sheet."""
    now = {step.step: step_standard_min(step, shop) for step in work}
    times = {step.step: StepTime(step, "never timed", 0, 0, now[step.step]) for step in work}
    wild: set[int] = set()
    usable = [i for i, one in enumerate(observed) if all(count.step in now for count in one.steps)]
    for group in _groups(observed, usable):
        fitted = _fitted(observed, group, now)
        wild |= fitted.wild
        for name in (name for one in fitted.factors for name in one.steps):
            times[name] = _time_of(times[name], fitted, shop)
    marked = tuple(replace(one, wild=True) if i in wild else one for i, one in enumerate(observed))
    return marked, tuple(times.values())


def _groups(observed: Sequence[Observed], usable: Sequence[int]) -> list[list[int]]:
    """Numbers of rows that hang together: any two that share a step stand in one group."""
    groups: list[tuple[set[str], list[int]]] = []
    for i in usable:
        names, rows = {one.step for one in observed[i].steps}, [i]
        for group in [one for one in groups if one[0] & names]:
            groups.remove(group)
            names, rows = names | group[0], group[1] + rows
        groups.append((names, rows))
    return [sorted(rows) for _, rows in groups]


@dataclass(frozen=True, slots=True)
class _Factor:
    """How many times today's standard minutes steps really take."""

    steps: tuple[str, ...]
    rows: int
    wild: int
    factor: Fraction | None
    half: Fraction = NONE
    """Half of the interval."""
    to_an_end: Fraction = NONE
    """From the likely to the low or high: three deviations of a logged row, the doubt of the fit in it."""

    @property
    def is_wide(self) -> bool:
        return self.factor is None or self.half > self.factor * TOO_WIDE


@dataclass(frozen=True, slots=True)
class _Fitted:
    """A group of rows with the factor of each of its columns; a column is a step, or steps that are never told apart."""

    factors: tuple[_Factor, ...]
    shared: tuple[_Factor, ...]
    """Of columns logged so alike that their own factors are too wide: one factor for them all."""
    wild: frozenset[int]


def _fitted(observed: Sequence[Observed], numbers: Sequence[int], now: Mapping[str, Fraction]) -> _Fitted:
    names = tuple(name for name in now if any(name == one.step for i in numbers for one in observed[i].steps))
    columns, rows = merged_until_told_apart(tuple((name,) for name in names), [_row(observed[i], names, now) for i in numbers])
    factors, wild = _factors(columns, rows)
    alike = [cluster for cluster in _logged_alike(rows) if any(factors[k].is_wide for k in cluster)]
    shared: list[_Factor] = []
    if alike:
        wider, fewer = taken_as_one(columns, rows, alike)
        both = {name for cluster in alike for k in cluster for name in columns[k]}
        shared = [one for one in _factors(wider, fewer)[0] if both & set(one.steps)]
    return _Fitted(factors, tuple(shared), frozenset(numbers[i] for i in wild))


def _factors(columns: Sequence[tuple[str, ...]], rows: Sequence[Row]) -> tuple[tuple[_Factor, ...], frozenset[int]]:
    """The factor of each column, and the rows that were left aside."""
    rows = [shortened(row) for row in rows]
    fit = robust_fit(rows)
    aside = frozenset(fit.wild) if fit else frozenset[int]()
    kept = [row for i, row in enumerate(rows) if i not in aside]
    variances = doubts(kept, fit.squares) if fit else ()
    answer = []
    for k, column in enumerate(columns):
        many, wild = sum(bool(row.shares[k]) for row in kept), sum(bool(rows[i].shares[k]) for i in aside)
        if fit is None:
            answer.append(_Factor(column, many, wild, None))
            continue
        half = standard_errors_for(LEVEL, freedom=fit.squares.freedom) * square_root(variances[k])
        to_an_end = _DEVIATIONS_TO_AN_END * square_root(variances[k] + fit.squares.variance)
        answer.append(_Factor(column, many, wild, fit.squares.factors[k], half, to_an_end))
    return tuple(answer), aside


def _logged_alike(rows: Sequence[Row]) -> list[list[int]]:
    """Columns that stand in the same rows at least as often as not; each with the first that it is like."""
    clusters: list[list[int]] = []
    stands = [{i for i, row in enumerate(rows) if row.shares[k]} for k in range(len(rows[0].shares))]
    for k, own in enumerate(stands):
        like = next((one for one in clusters if 2 * len(own & stands[one[0]]) >= len(own | stands[one[0]])), None)
        if like is None:
            clusters.append([k])
        else:
            like.append(k)
    return [one for one in clusters if len(one) > 1]


def _row(one: Observed, names: Sequence[str], now: Mapping[str, Fraction]) -> Row:
    """A logged row as shares of the standard minutes that its counts stand for; a step of 0 minutes is taken at one a piece."""
    counts = {count.step: count.count for count in one.steps}
    reckoned = [counts.get(name, NONE) * (now[name] or 1) for name in names]
    whole = sum(reckoned, start=NONE)
    return Row(tuple(part / whole for part in reckoned), one.real_min / whole)


def _time_of(time: StepTime, fitted: _Fitted, shop: Shop) -> StepTime:
    """The new time of one step, where its rows are enough and say something that can be."""
    name = time.step.step
    own = next(one for one in fitted.factors if name in one.steps)
    time = replace(time, rows=own.rows, wild=own.wild, together=tuple(one for one in own.steps if one != name), state="too few")
    if own.factor is None or own.rows < LEAST_ROWS:
        return time
    basis = time.now_min or Fraction(1)
    if own.factor > own.half:
        time = replace(
            time,
            standard_min=own.factor * basis,
            from_min=(own.factor - own.half) * basis,
            to_min=(own.factor + own.half) * basis,
            within_share=own.half / own.factor,
        )
    used = next((one for one in fitted.shared if name in one.steps), own)
    if used.factor is None or used.is_wide:
        return replace(time, state="at odds")
    if used is not own:
        others = tuple(one for one in used.steps if one != name and one not in time.together)
        time = replace(time, shared=others, shared_within_share=used.half / used.factor)
    return replace(
        time,
        state="new",
        minutes=_cell(used.factor * basis, time.step, shop),
        low_min=_cell(max(NONE, used.factor - used.to_an_end) * basis, time.step, shop),
        high_min=_cell((used.factor + used.to_an_end) * basis, time.step, shop),
    )


def _cell(standard_min: Fraction, step: Step, shop: Shop) -> Fraction:
    """Standard minutes as they would stand in Work, at the decimals of the cell."""
    allowance = shop.allowance_share if step.allowance_share is None else step.allowance_share
    return Fraction(decimal_text(minutes_without(standard_min, rating=step.rating, allowance_share=allowance), places=_CELL_PLACES))


def with_new_times(work: Sequence[Step], times: Sequence[StepTime]) -> tuple[Step, ...]:
    """The rows of Work as they would stand with the new times; a step without one stays as it is."""
    new = {time.step.step: time for time in times if time.state == "new"}
    return tuple(
        replace(step, minutes=time.minutes, low_min=time.low_min, high_min=time.high_min, timed=True)
        if (time := new.get(step.step)) and time.minutes is not None
        else step
        for step in work
    )
