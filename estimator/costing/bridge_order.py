"""A job that is won and the same job changed in, the change order out: only the difference in the work, at today's prices.

What counts as the work: cabinets, loose parts, extras, what a finish is made of, delivery, site trips. Everything else that moved
since (prices, rates, margin, how the shop builds) is made first and left out: the accepted price stands as it was accepted.
"""

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from estimator.costing.bridge import cannot_be_split, price_between, steps_of
from estimator.costing.bridge_changes import OLD_NAMES, Change, Difference, difference_of
from estimator.costing.estimate import price_alone
from estimator.costing.pricing import owners_words
from estimator.model.comparison import BridgeStep, ChangeOrder, OrderedChange, OrderedTax
from estimator.model.exact import Fraction
from estimator.model.problems import Place, Problem
from estimator.model.records import Finish, Job
from estimator.model.refusal import Refusal
from estimator.model.results import Price
from estimator.model.units import to_money

NONE = Fraction(0)
_ROWS = ("cabinets", "loose_parts", "extras")
_TERMS = ("delivery_charge", "site_trips")


def change_order_of(old: Job, new: Job, *, accepted_money: Fraction) -> ChangeOrder | Refusal:
    """What the changed job adds to the accepted total with tax."""
    difference = difference_of(old, new)
    ordered = [change for change in difference.changes if is_work(change) and not change.is_only_said]
    moved = [
        change
        for change in difference.changes
        if not is_work(change) and not change.is_only_said and change.rank[0] != OLD_NAMES
    ]
    if not ordered:
        return Refusal(new.workbook, (_no_change(new),))
    first = price_alone(replace(old, options=()))
    if isinstance(first, tuple):
        return Refusal(old.workbook, first)
    today = price_between(difference.job_with(moved))
    steps = [] if today is None else list(steps_of(difference, iter((one,) for one in ordered), first=today, made=moved))
    if today is None or sum(len(step.changes) for step in steps) < len(ordered):
        mixed = tuple(change.said for change in (ordered if today else moved))
        return Refusal(new.workbook, (cannot_be_split(new, BridgeStep(mixed, first, first)),))
    left_out = tuple(step for step in steps_of(difference, iter((one,) for one in moved), first=first) if step.gross)
    return _order(difference, ordered, steps, today=today, accepted=accepted_money, left_out=left_out)


def _order(
    difference: Difference,
    ordered: Sequence[Change],
    steps: Sequence[BridgeStep],
    *,
    today: Price,
    accepted: Fraction,
    left_out: tuple[BridgeStep, ...],
) -> ChangeOrder:
    terms = difference.new.terms
    added = least_added([step.net for step in steps], least_charge=to_money(difference.new.shop.least_change_fee, currency=terms.currency))
    bases = _bases(steps[-1].after)
    for rate, base in _bases(today).items():
        bases[rate] = bases.get(rate, NONE) - base
    bases[terms.tax_rate_share] = bases.get(terms.tax_rate_share, NONE) + added
    tax = tuple(
        OrderedTax(rate, base, to_money(base * rate, currency=terms.currency)) for rate, base in sorted(bases.items()) if base
    )
    net = sum((step.net for step in steps), start=added)
    tax_total = sum((one.tax for one in tax), start=NONE)
    by_said = {id(change.said): change for change in ordered}
    return ChangeOrder(
        currency=terms.currency,
        accepted=accepted,
        lines=tuple(_lines(difference, step, [by_said[id(said)] for said in step.changes]) for step in steps),
        least_added=added,
        net=net,
        tax=tax,
        tax_total=tax_total,
        gross=net + tax_total,
        left_out=left_out,
    )


def least_added(nets: Sequence[Fraction], *, least_charge: Fraction) -> Fraction:
    """What brings the added work of a change order up to the shop's least fee.

        added  =  least charge - all that the changes add, where that is above 0

    What a change takes off is credited in full and does not count against it.

    By hand: with a least charge of 60, changes of + 45 and - 200 are charged 15 more; a change of + 310 nothing more.

    >>> least_added([Fraction(45), Fraction(-200)], least_charge=Fraction(60)), least_added([Fraction(310)], least_charge=Fraction(60))
    (Fraction(15, 1), Fraction(0, 1))

    Holds for: any changes; a least charge of 0 adds nothing.
    Error: none.
    Source: common-practice.
    """
    return max(least_charge - sum((net for net in nets if net > 0), start=NONE), NONE)


def is_work(change: Change) -> bool:
    """Whether a change is one of the work that the client pays for, and not of the shop's prices."""
    if change.field == "terms":
        return change.piece in _TERMS
    row = isinstance(change.piece, int)  # rows that only stand in another order are no work
    return row and (change.field in _ROWS or (change.field == "finishes" and change.said.kind == "changed"))


def _bases(price: Price) -> dict[Fraction, Fraction]:
    return {line.rate_share: line.base for line in price.tax}


def _lines(difference: Difference, step: BridgeStep, changes: Sequence[Change]) -> tuple[OrderedChange, ...]:
    """The lines of one step; the first carries the amount."""
    return tuple(_line(difference, change, net=step.net if at == 0 else NONE) for at, change in enumerate(changes))


def _line(difference: Difference, change: Change, *, net: Fraction) -> OrderedChange:
    if change.field == "terms":
        was, now = (getattr(job.terms, str(change.piece)) for job in (difference.old, difference.new))
        return OrderedChange(
            None, None, str(was), str(now), net, term="delivery" if change.piece == "delivery_charge" else "site trips"
        )
    assert isinstance(change.piece, int), "is_work takes rows and terms, nothing else"
    slot = difference.slots[change.field][change.piece]
    before, after = slot.old, slot.new
    return OrderedChange(before, after, _called(difference.old, before), _called(difference.new, after), net)


def _called(job: Job, row: Any) -> str:
    """What the client calls a row."""
    if row is None:
        return ""
    if isinstance(row, Finish):
        return row.words or row.finish
    return owners_words({kind.kind.casefold(): kind.words for kind in job.kinds}, row)


def _no_change(new: Job) -> Problem:
    return Problem(
        Place(new.workbook),
        "the same cabinets, loose parts, extras, finishes and delivery as in the accepted job",
        "a changed job: the difference is what a change order is about",
        "change the copy of the job first, then compare again",
    )
