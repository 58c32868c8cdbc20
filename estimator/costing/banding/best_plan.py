"""The best plan, exactly, for any number of edgings: the stakes in, the group to send out (A28).

A few edgings are tried in every combination. More are searched depth first: each edging is decided in turn, and a half-decided
plan is dropped when a proven lower bound on all its completions is not below the best plan found. The tests hold both against
each other.
"""

from collections.abc import Mapping
from dataclasses import replace
from functools import cache

from estimator.costing.banding.stakes import Stakes, cost_of, costs_by_group, sum_of
from estimator.model.dataclass import dataclass

TRY_ALL = 5
"""Up to this many edgings every plan is tried; beyond, searching is quicker."""


def best_group(stakes: Stakes) -> int | None:
    """The group to send at the least relevant cost; None when no plan is possible.

    Of equal plans the one that sends fewer edgings is best, then the one earlier in the order of the Edgings sheet. Source:
    relevant-cost.
    """
    return _by_trying(stakes) if stakes.edgings <= TRY_ALL else _Search(_with_tie_grains(stakes)).best()


def _with_tie_grains(stakes: Stakes) -> Stakes:
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


def _by_trying(stakes: Stakes) -> int | None:
    costs = costs_by_group(stakes)
    best, least = None, None
    for group in _in_order(stakes.edgings):
        cost = costs[group]
        if cost is not None and (least is None or cost < least):
            best, least = group, cost
    return best


@dataclass(slots=True)
class _Search:
    """Depth first over the edgings, those first whose two ways differ most.

    Where price breaks count over the whole order, each level is searched by itself, at its own prices, among the plans whose
    metres lie in it: then every edging's part of the invoice is known and the bound stays sharp.
    """

    stakes: Stakes
    best_cost: int | None = None
    best_sent: int | None = None

    def best(self) -> int | None:
        for start in self._good_starts():
            self._keep(start)
        for level in _levels(self.stakes):
            n, prices = self.stakes.edgings, level.stakes
            order = sorted(range(n), key=lambda i: -abs(prices.hand[i] - prices.sent[i] - prices.invoice[i]))
            self._decide(level, order, kept=0, sent=0)
        return self.best_sent

    def _good_starts(self) -> list[int]:
        """All by hand, all sent, each improved by changing one edging at a time: good plans found early prune more."""
        stakes = self.stakes
        starts = []
        for group in (stakes.must_send, stakes.everything & ~stakes.must_keep):
            cost, better = cost_of(stakes, group), True
            while better:
                better = False
                for i in range(stakes.edgings):
                    other = group ^ 1 << i
                    if stakes.possible(other) and (other_cost := cost_of(stakes, other)) < cost:
                        group, cost, better = other, other_cost, True
            starts.append(group)
        return starts

    def _keep(self, sent: int) -> None:
        if self.stakes.possible(sent):
            cost = cost_of(self.stakes, sent)
            if self.best_cost is None or cost < self.best_cost:
                self.best_cost, self.best_sent = cost, sent

    def _decide(self, level: "_Level", order: list[int], *, kept: int, sent: int) -> None:
        stakes = level.stakes
        if not order:
            self._keep(sent)
            return
        if level.is_missed(kept=kept, sent=sent):
            return
        if self.best_cost is not None and lower_bound(stakes, kept=kept, sent=sent) >= self.best_cost:
            return
        first, rest = order[0], order[1:]
        bit = 1 << first
        hand_first = stakes.hand[first] <= stakes.sent[first] + stakes.invoice[first]
        for by_hand in (hand_first, not hand_first):
            if by_hand and not stakes.must_send & bit:
                self._decide(level, rest, kept=kept | bit, sent=sent)
            if not by_hand and not stakes.must_keep & bit:
                self._decide(level, rest, kept=kept, sent=sent | bit)


@dataclass(frozen=True, slots=True)
class _Level:
    """The plans whose order lies between two price breaks, with the prices that hold there in each edging's invoice."""

    stakes: Stakes
    metres: tuple[int, ...]
    from_order: int
    to_order: int | None

    def is_missed(self, *, kept: int, sent: int) -> bool:
        """No completion of a half-decided plan can lie in this level."""
        if self.to_order is not None and sum_of(sent, self.metres, {}) >= self.to_order:
            return True
        return sum_of(self.stakes.everything & ~kept, self.metres, {}) < self.from_order


def _levels(stakes: Stakes) -> list[_Level]:
    order = stakes.order
    if order is None:
        return [_Level(stakes, (0,) * stakes.edgings, 0, None)]
    ends = [*order.levels[1:], None]
    return [
        _Level(
            replace(stakes, order=None, invoice=tuple(own + more for own, more in zip(stakes.invoice, amounts, strict=True))),
            order.metres,
            start,
            end,
        )
        for start, end, amounts in zip(order.levels, ends, order.amounts, strict=True)
    ]


def lower_bound(stakes: Stakes, *, kept: int, sent: int) -> int:
    """No completion of a half-decided plan costs less than this.

    What is decided costs what it costs alone: shared costs, packs and the minimum only grow with more edgings. Each open edging
    adds at least the cheaper of its two ways. What it adds to the invoice may vanish below the minimum charge, so the bound
    is the better of two: the invoice at the minimum and open edgings free of it, or open edgings paying and no minimum.
    """
    nothing_sent = None if sent or stakes.must_send else cost_of(stakes, 0)
    open_ = stakes.everything & ~kept & ~sent
    hand_part, _ = _open_parts(stakes.hand_shared, decided=kept, open_=open_, some_come=False)
    sent_part, sent_sure = _open_parts(stakes.sent_shared, decided=sent, open_=open_, some_come=not sent)
    invoice_part, invoice_sure = _open_parts(stakes.invoice_shared, decided=sent, open_=open_, some_come=not sent)
    cost = stakes.always + sum_of(kept, stakes.hand, stakes.hand_shared) + sum_of(sent, stakes.sent, stakes.sent_shared) + sent_sure
    cost += sum(tin.cost(sum_of(kept, tin.areas, {})) for tin in stakes.tins)
    invoice = sum_of(sent, stakes.invoice, stakes.invoice_shared) + invoice_sure
    free = paying = 0
    for i in range(stakes.edgings):
        if not open_ >> i & 1:
            continue
        ways = [(stakes.hand[i] + hand_part.get(i, 0),) * 2] if not stakes.must_send >> i & 1 else []
        if not stakes.must_keep >> i & 1:
            away = stakes.sent[i] + sent_part.get(i, 0)
            ways.append((away, away + stakes.invoice[i] + invoice_part.get(i, 0)))
        free += min(way[0] for way in ways)
        paying += min(way[1] for way in ways)
    something_sent = cost + max(free + max(stakes.minimum, invoice), paying + invoice)
    return something_sent if nothing_sent is None else min(something_sent, nothing_sent)


def _open_parts(shared: Mapping[int, int], *, decided: int, open_: int, some_come: bool) -> tuple[dict[int, int], int]:
    """What open edgings must still bring about of shared costs that no decided one does: each one's part, and what is sure.

    A cost is split evenly over its open sharers: when k of them come, the parts counted are at most the whole. When some
    open edging must come and all of them share the cost, the whole of it is sure.
    """
    parts: dict[int, int] = {}
    sure = 0
    for sharers, cost in shared.items():
        waiting = sharers & open_
        if sharers & decided or not waiting:
            continue
        if some_come and waiting == open_:
            sure += cost
            continue
        each = cost // waiting.bit_count()
        while waiting:
            low = waiting & -waiting
            i = low.bit_length() - 1
            parts[i] = parts.get(i, 0) + each
            waiting ^= low
    return parts, sure
