"""The cheapest plan of many edgings by branch and bound: the stakes in, the group to send out.

Each edging is decided in turn, and a half-decided plan is dropped when a proven lower bound on all its completions is not below
the best plan found. All sums are of whole numbers, so nothing is lost to rounding.
"""

from collections.abc import Callable, Iterator
from dataclasses import replace

from estimator.costing.banding.bounds import NO_TOLL, Open, Toll, bounds_of, nothing_decided
from estimator.costing.banding.stakes import Stakes, cost_of, sum_of
from estimator.model.dataclass import dataclass


def search(stakes: Stakes, *, near: int | None = None) -> int | None:
    """The group whose plan costs least, or None when no plan is possible. Of equal plans it gives any: `with_tie_grains` leaves none.

    The search begins with a good plan: `near`, where one is known.
    """
    if stakes.must_send & stakes.must_keep:
        return None
    found = _Found(stakes)
    for start in _good_starts(stakes) if near is None else (near,):
        found.keep(start)
    for level in _levels(stakes):
        if not _Search(level, found, most=None if level.from_order or not level.stakes.tins else _SPLIT_AFTER).run():
            for part in _by_packs(level):
                _Search(part, found).run()
    return found.sent


@dataclass(slots=True)
class _Found:
    """The best plan so far."""

    stakes: Stakes
    cost: int | None = None
    sent: int | None = None

    def keep(self, sent: int) -> None:
        if self.stakes.possible(sent):
            cost = cost_of(self.stakes, sent)
            if self.cost is None or cost < self.cost:
                self.cost, self.sent = cost, sent


def _good_starts(stakes: Stakes) -> list[int]:
    """All by hand, all sent, each improved by changing one edging at a time: good plans found early prune more."""
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


# --- price breaks over the whole order --------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Level:
    """The plans whose order lies between two price breaks, with the prices that hold there in each edging's invoice."""

    stakes: Stakes
    metres: tuple[int, ...]
    from_order: int
    to_order: int | None


def _levels(stakes: Stakes) -> Iterator[_Level]:
    """One level where breaks count per edging; then every edging's part of the invoice is known and bounds stay sharp."""
    order = stakes.order
    if order is None:
        yield _Level(stakes, (0,) * stakes.edgings, 0, None)
        return
    for start, end, amounts in zip(order.levels, [*order.levels[1:], None], order.amounts, strict=True):
        invoice = tuple(own + more for own, more in zip(stakes.invoice, amounts, strict=True))
        yield _Level(replace(stakes, order=None, invoice=invoice), order.metres, start, end)


def _by_packs(level: _Level) -> Iterator[_Level]:
    """The same plans split by how many packs of the dearest adhesive they fill: then its cost is known, and what is kept has a limit.

    A kept area of at most so many packs is a sent area of at least the rest, which is held like metres between price breaks. A plan
    is looked at with its own number of packs; with more of them it is only thought dearer than it is.
    """
    stakes = level.stakes
    place = max(range(len(stakes.tins)), key=lambda i: stakes.tins[i].price)
    tin, others = stakes.tins[place], stakes.tins[:place] + stakes.tins[place + 1 :]
    whole = sum(tin.areas)
    fewest = -(-tin.small_area // tin.pack_area)
    for packs in range(fewest, -(-(whole + tin.small_area) // tin.pack_area) + 1):
        room = packs * tin.pack_area - tin.small_area
        known = replace(stakes, tins=others, always=stakes.always + packs * tin.price)
        yield _Level(known, tin.areas, max(0, whole - room), None)


# --- depth first ------------------------------------------------------------------------------------------------------

_SPLIT_AFTER = 1000
"""So many plans are looked at before the search is split by the packs of an adhesive."""
_TOLLS_AFTER = 300
"""So many plans are looked at before tolls are worked out: a search that is soon over is quicker without."""


@dataclass(slots=True)
class _Search:
    """The plans of one level."""

    level: _Level
    found: _Found
    order: tuple[int, ...] = ()
    tolls: tuple[Toll, ...] = (NO_TOLL,)
    seen: int = 0
    """Half-decided plans that were looked at."""
    most: int | None = None
    """After so many the search gives up."""

    def run(self) -> bool:
        """Whether it came to its end."""
        stakes = self.level.stakes
        self.order = tuple(sorted(range(stakes.edgings), key=lambda i: -abs(stakes.hand[i] - stakes.sent[i] - stakes.invoice[i])))
        if not stakes.must_send:
            self.found.keep(0)  # the bounds below are of plans that send something
        self._decide(nothing_decided(stakes), 0)
        return self.most is None or self.seen < self.most

    def _decide(self, now: Open, depth: int) -> None:
        stakes = self.level.stakes
        if depth == len(self.order):
            self.found.keep(now.sent)
            return
        if self.seen == self.most or self._is_missed(now) or self._is_dear(now):
            return
        i = self.order[depth]
        bit = 1 << i
        hand_first = stakes.hand[i] <= stakes.sent[i] + stakes.invoice[i]
        for by_hand in (hand_first, not hand_first):
            if by_hand and not stakes.must_send & bit:
                self._decide(now.keeping(stakes, i), depth + 1)
            if not by_hand and not stakes.must_keep & bit:
                self._decide(now.sending(stakes, i), depth + 1)

    def _is_missed(self, now: Open) -> bool:
        """No completion of a half-decided plan can lie in this level."""
        level = self.level
        if level.to_order is None and not level.from_order:
            return False
        if level.to_order is not None and sum_of(now.sent, level.metres, {}) >= level.to_order:
            return True
        return sum_of(level.stakes.everything & ~now.kept, level.metres, {}) < level.from_order

    def _is_dear(self, now: Open) -> bool:
        """No completion is cheaper than the best plan found."""
        best = self.found.cost
        self.seen += 1
        if self.seen == _TOLLS_AFTER:
            self.tolls = (NO_TOLL, *_tolls(self.level))
        return best is not None and any(bound >= best for toll in self.tolls for bound in bounds_of(self.level.stakes, now, toll))


_MOST_TOLL = 1 << 300
"""A toll so high means that no plan keeps to the break; the bound is then above every plan."""


def _tolls(level: _Level) -> Iterator[Toll]:
    """The toll at either end of a level that lifts the bound of the undecided plan most; none where none lifts it."""
    start = nothing_decided(level.stakes)
    plain = max(bounds_of(level.stakes, start))
    ends = [(1, level.from_order)] if level.from_order else []
    ends += [(-1, level.to_order - 1)] if level.to_order is not None else []
    for sign, due in ends:

        def bound_at(a_metre: int, sign: int = sign, due: int = due) -> int:
            return max(bounds_of(level.stakes, start, Toll(sign * a_metre, due, level.metres)))

        best = _highest(bound_at)
        if best and bound_at(best) > plain:
            yield Toll(sign * best, due, level.metres)


def _highest(bound_at: Callable[[int], int]) -> int:
    """Where a bound that rises and then falls is about highest: doubled until it falls, then cut in three."""
    low, high = 0, 1
    while high < _MOST_TOLL and bound_at(2 * high) > bound_at(high):
        low, high = high, 2 * high
    high *= 2
    while high - low > max(3, high >> 5):
        first, second = low + (high - low) // 3, high - (high - low) // 3
        if bound_at(first) < bound_at(second):
            low = first
        else:
            high = second
    return (low + high) // 2
