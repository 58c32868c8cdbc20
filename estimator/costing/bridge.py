"""Two jobs in, the bridge from the old price to the new one out: one change after the other is made and the job priced anew.

Each step's difference is that of two whole prices, so the steps add up to the whole difference exactly, however the changes
work on each other. What a change does depends on what was changed before it: the order is fixed (see `bridge_changes.py`). Where
a job in between cannot be priced, the next change is made in the same step.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from estimator.costing.bridge_changes import Change, Difference, difference_of
from estimator.costing.estimate import price_alone
from estimator.model.comparison import Bridge, BridgeStep
from estimator.model.exact import Fraction
from estimator.model.problems import Fault, Place, Problem
from estimator.model.records import Job
from estimator.model.refusal import Refusal
from estimator.model.results import Price

_MOST_BY_ITSELF = 120
"""With more changes than this in one sheet, the sheet is one step: a new price list is one piece of news."""


def bridge_of(old: Job, new: Job) -> Bridge | Refusal:
    """The bridge between two jobs of one currency that can both be priced."""
    if old.terms.currency != new.terms.currency:
        return Refusal(new.workbook, (_two_currencies(old, new),))
    difference = difference_of(old, new)
    first, last = price_alone(replace(old, options=())), price_alone(replace(new, options=()))
    if isinstance(first, tuple):
        return Refusal(old.workbook, first)
    if isinstance(last, tuple):
        return Refusal(new.workbook, last)
    priced = [change for change in difference.changes if not change.is_only_said]
    said = [change for change in difference.changes if change.is_only_said]
    steps = list(steps_of(difference, groups_of(priced), first=first))
    if _amounts(steps[-1].after if steps else first) != _amounts(last):
        steps += steps_of(difference, iter((tuple(said),)), first=steps[-1].after if steps else first, made=priced)
        said = []
    if _amounts(steps[-1].after if steps else first) != _amounts(last):
        raise Fault(f"the bridge does not end at the new price of {last.gross}")
    return Bridge(new.terms.currency, first, last, tuple(steps), tuple(change.said for change in said))


def _amounts(price: Price) -> tuple[Fraction, ...]:
    """The amounts that must be those of the new job; how it is split over rooms and instalments is no matter of the bridge."""
    return price.gross, price.net, price.tax_total, price.target


def groups_of(changes: Sequence[Change]) -> Iterator[tuple[Change, ...]]:
    """The changes one by one; those of a sheet that changed all over, together."""
    at = 0
    while at < len(changes):
        end = at
        while end < len(changes) and (changes[end].rank[0], changes[end].field) == (changes[at].rank[0], changes[at].field):
            end += 1
        if end - at > _MOST_BY_ITSELF:
            yield tuple(changes[at:end])
        else:
            yield from ((change,) for change in changes[at:end])
        at = end


def steps_of(
    difference: Difference, groups: Iterator[tuple[Change, ...]], *, first: Price, made: Sequence[Change] = ()
) -> Iterator[BridgeStep]:
    """One step a group of changes; a job that cannot be priced takes the next group along."""
    done, waiting, before = list(made), list[Change](), first
    for group in groups:
        done += group
        waiting += group
        after = price_between(difference.job_with(done))
        if after is None:
            continue
        yield BridgeStep(tuple(change.said for change in waiting), before, after)
        before, waiting = after, []


def price_between(job: Job) -> Price | None:
    """The price of a job on the way; None where there is none.

    Nobody has read this job from a workbook, so what the reading promises of a job (every name is there, an hour has its rates)
    need not hold of it, and the engine may stumble. The jobs at both ends are priced without this net.
    """
    try:
        answer = price_alone(replace(job, options=()))
    except Exception:
        return None
    return None if isinstance(answer, tuple) else answer


def _two_currencies(old: Job, new: Job) -> Problem:
    return Problem(
        new.terms.at.place("Currency"),
        f"{new.terms.currency}, where the other job is in {old.terms.currency}",
        "two jobs of one currency: amounts of two currencies have no difference",
        f"compare with a job in {new.terms.currency}",
    )


def cannot_be_split(job: Job, step: BridgeStep) -> Problem:
    """A change of the work that can only be priced together with one of the price book."""
    return Problem(
        Place(job.workbook),
        f"changes that can only be priced together: {step.words}",
        "a change of the work that can be priced by itself",
        "keep the old rows of the price book in place beside the new ones, and compare again",
    )
