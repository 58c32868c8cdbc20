"""Logged minutes in, a new standard time for each row of Work out, with how sure it is.

Steps that are ever logged together are fitted together; steps that the log never tells apart share one correction.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from estimator.costing.risk import square_root
from estimator.costing.times.entangled import merged_until_told_apart
from estimator.costing.times.regression import LEVEL, Fit, Row, doubts, robust_fit
from estimator.costing.times.student import standard_errors_for
from estimator.costing.work import step_standard_min
from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.records import Shop, Step
from estimator.model.times import Observed, StepTime
from estimator.model.units import decimal_text

LEAST_ROWS = 5
"""Fewer observations than these make no new time."""
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
        for name in fitted.steps:
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
class _Fitted:
    """A group of rows with the fit of its columns; a column is a step, or steps that are not told apart."""

    columns: tuple[tuple[str, ...], ...]
    kept: tuple[int, ...]
    """For each column: rows that count for it."""
    left_aside: tuple[int, ...]
    wild: frozenset[int]
    fit: Fit | None
    doubts: tuple[Fraction, ...]
    row_variance: Fraction

    @property
    def steps(self) -> tuple[str, ...]:
        return tuple(name for column in self.columns for name in column)


def _fitted(observed: Sequence[Observed], numbers: Sequence[int], now: Mapping[str, Fraction]) -> _Fitted:
    names = tuple(name for name in now if any(name == one.step for i in numbers for one in observed[i].steps))
    rows = [_row(observed[i], names, now) for i in numbers]
    columns, rows = merged_until_told_apart(tuple((name,) for name in names), rows)
    fit = robust_fit(rows)
    aside = set(fit.wild) if fit else set()
    kept = [row for i, row in enumerate(rows) if i not in aside]
    return _Fitted(
        columns=columns,
        kept=tuple(sum(bool(row.shares[k]) for row in kept) for k in range(len(columns))),
        left_aside=tuple(sum(bool(rows[i].shares[k]) for i in aside) for k in range(len(columns))),
        wild=frozenset(numbers[i] for i in aside),
        fit=fit,
        doubts=doubts(kept, fit.squares) if fit else (),
        row_variance=fit.squares.variance if fit else NONE,
    )


def _row(one: Observed, names: Sequence[str], now: Mapping[str, Fraction]) -> Row:
    """A logged row as shares of the standard minutes that its counts stand for; a step of 0 minutes is taken at one a piece."""
    counts = {count.step: count.count for count in one.steps}
    reckoned = [counts.get(name, NONE) * (now[name] or 1) for name in names]
    whole = sum(reckoned, start=NONE)
    return Row(tuple(part / whole for part in reckoned), one.real_min / whole)


def _time_of(time: StepTime, fitted: _Fitted, shop: Shop) -> StepTime:
    """The new time of one step, where its rows are enough and say something that can be."""
    name = time.step.step
    k = next(k for k, column in enumerate(fitted.columns) if name in column)
    together = tuple(one for one in fitted.columns[k] if one != name)
    time = replace(time, rows=fitted.kept[k], wild=fitted.left_aside[k], together=together, state="too few")
    if fitted.fit is None:
        return time
    factor, basis = fitted.fit.squares.factors[k], time.now_min or Fraction(1)
    half = standard_errors_for(LEVEL, freedom=fitted.fit.squares.freedom) * square_root(fitted.doubts[k])
    if fitted.kept[k] < LEAST_ROWS:
        return time
    if factor <= half:
        return replace(time, state="at odds")
    to_an_end = _DEVIATIONS_TO_AN_END * square_root(fitted.doubts[k] + fitted.row_variance)
    return replace(
        time,
        state="new",
        standard_min=factor * basis,
        from_min=(factor - half) * basis,
        to_min=(factor + half) * basis,
        within_share=half / factor,
        minutes=_cell(factor * basis, time.step, shop),
        low_min=_cell(max(NONE, factor - to_an_end) * basis, time.step, shop),
        high_min=_cell((factor + to_an_end) * basis, time.step, shop),
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
