"""The best plan, exactly, for any number of edgings: the stakes in, the group to send out (A28).

A few edgings are tried in every combination. More are searched depth first (`searching.py`). The tests hold both against each
other, and against the definition.
"""

from dataclasses import replace
from functools import cache

from estimator.costing.banding.searching import search
from estimator.costing.banding.stakes import Stakes, costs_by_group

TRY_ALL = 7
"""Up to this many edgings every plan is tried; beyond, searching is quicker."""


def best_group(stakes: Stakes, *, near: int | None = None) -> int | None:
    """The group to send at the least relevant cost; None when no plan is possible.

    `near` is a plan that may well be the best, such as the best before a change: with it the search is sooner over.
    Of equal plans the one that sends fewer edgings is best, then the one earlier in the order of the Edgings sheet. Source:
    relevant-cost.
    """
    if stakes.must_send & stakes.must_keep:
        return None  # an edging that can go neither way
    return by_trying(stakes) if stakes.edgings <= TRY_ALL else search(with_tie_grains(stakes), near=near)


def with_tie_grains(stakes: Stakes) -> Stakes:
    """The same stakes, with a grain of cost added to each sent edging that is too small to outweigh any real difference.

    Money is multiplied so that its smallest difference is larger than all grains together. The grain of edging i is
    2^n - 2^(n-1-i): fewer sent edgings weigh less, and of as many the earlier ones; no two plans weigh the same.
    """
    n = stakes.edgings
    finer = (n + 1) << n
    order = stakes.order and replace(stakes.order, amounts=tuple(tuple(finer * amount for amount in row) for row in stakes.order.amounts))
    return replace(
        stakes,
        scale=stakes.scale * finer,
        hand=tuple(finer * cost for cost in stakes.hand),
        sent=tuple(finer * cost + (1 << n) - (1 << (n - 1 - i)) for i, cost in enumerate(stakes.sent)),
        invoice=tuple(finer * cost for cost in stakes.invoice),
        hand_shared={group: finer * cost for group, cost in stakes.hand_shared.items()},
        sent_shared={group: finer * cost for group, cost in stakes.sent_shared.items()},
        invoice_shared={group: finer * cost for group, cost in stakes.invoice_shared.items()},
        minimum=finer * stakes.minimum,
        tins=tuple(replace(tin, price=finer * tin.price) for tin in stakes.tins),
        order=order,
        always=finer * stakes.always,
    )


@cache
def _in_order(edgings: int) -> tuple[int, ...]:
    """Every group: fewer edgings first, then the earlier in the list."""
    every = range(1 << edgings)
    return tuple(sorted(every, key=lambda group: (group.bit_count(), [i for i in range(edgings) if group >> i & 1])))


def by_trying(stakes: Stakes) -> int | None:
    costs = costs_by_group(stakes)
    best, least = None, None
    for group in _in_order(stakes.edgings):
        cost = costs[group]
        if cost is not None and (least is None or cost < least):
            best, least = group, cost
    return best
