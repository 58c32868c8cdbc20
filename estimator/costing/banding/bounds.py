"""How little a half-decided plan can still come to: what is decided and what is open in, proven lower bounds out.

Every completion pays what is decided, and for each open edging at least the cheaper of its two ways. A shared cost that no decided
edging brings about yet is laid upon its open sharers: whatever parts of it they carry, no more than the whole is counted when some
of them come. It is laid where it raises the cheaper way, which is worth the most.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from operator import add

from estimator.costing.banding.stakes import Stakes, sum_of
from estimator.model.dataclass import dataclass

Shared = list[tuple[int, int]]
"""Costs that no decided edging brings about yet: who shares each, and how much it is."""


@dataclass(frozen=True, slots=True)
class Open:
    """A plan of which some edgings are decided."""

    kept: int
    sent: int
    undecided: int
    decided: int
    """What the decided edgings cost, packs and invoice apart."""
    invoice: int
    """What they make of the invoice."""
    areas: tuple[int, ...]
    """Glued area of the kept edgings, for each adhesive by the pack."""
    hand_shared: Shared
    sent_shared: Shared
    invoice_shared: Shared

    def keeping(self, stakes: Stakes, i: int) -> "Open":
        """The same with edging i banded by hand."""
        now, waiting = _come(self.hand_shared, 1 << i)
        return replace(
            self,
            kept=self.kept | 1 << i,
            undecided=self.undecided & ~(1 << i),
            decided=self.decided + stakes.hand[i] + now,
            areas=tuple(area + tin.areas[i] for area, tin in zip(self.areas, stakes.tins, strict=True)),
            hand_shared=waiting,
        )

    def sending(self, stakes: Stakes, i: int) -> "Open":
        """The same with edging i sent out."""
        now, waiting = _come(self.sent_shared, 1 << i)
        asked, asked_later = _come(self.invoice_shared, 1 << i)
        return replace(
            self,
            sent=self.sent | 1 << i,
            undecided=self.undecided & ~(1 << i),
            decided=self.decided + stakes.sent[i] + now,
            invoice=self.invoice + stakes.invoice[i] + asked,
            sent_shared=waiting,
            invoice_shared=asked_later,
        )


def nothing_decided(stakes: Stakes) -> Open:
    """Every edging is still open."""
    return Open(
        kept=0,
        sent=0,
        undecided=stakes.everything,
        decided=stakes.always,
        invoice=0,
        areas=(0,) * len(stakes.tins),
        hand_shared=list(stakes.hand_shared.items()),
        sent_shared=list(stakes.sent_shared.items()),
        invoice_shared=list(stakes.invoice_shared.items()),
    )


def _come(shared: Shared, bit: int) -> tuple[int, Shared]:
    """Costs that an edging brings about now, and those that still wait."""
    now = sum(cost for sharers, cost in shared if sharers & bit)
    return now, [one for one in shared if not one[0] & bit]


@dataclass(frozen=True, slots=True)
class Toll:
    """A price on keeping the metres of an order between two price breaks: what falls short of a break pays, what passes it gains.

    Within the breaks nobody pays, so a bound with the toll holds for every plan there.
    """

    a_metre: int
    """Above 0 a premium on each sent metre, with `metres_due` the break below; below 0 a charge, with the last metre allowed."""
    metres_due: int
    metres: tuple[int, ...]


NO_TOLL = Toll(0, 0, ())


_LITRE_EIGHTHS = (0, 8, 4)


def bounds_of(stakes: Stakes, now: Open, toll: Toll = NO_TOLL) -> Iterator[int]:
    """No completion that sends something costs less than any of these.

    The invoice is the greater of two, so it is held once at the minimum, open edgings adding nothing to it, and once at what the
    edgings ask. Packs are held once at those that the kept edgings fill, and once by the litre, which no whole packs undercut.
    """
    by_litre = bool(stakes.tins) and now.undecided
    for paying in (True, False):
        for eighths in _LITRE_EIGHTHS if by_litre else (0,):
            yield _bound(stakes, now, toll, paying=paying, litre_eighths=eighths)


def _bound(stakes: Stakes, now: Open, toll: Toll, *, paying: bool, litre_eighths: int) -> int:
    hand, away = list(stakes.hand), list(stakes.sent)
    cost, asked = now.decided, now.invoice
    shared_away = now.sent_shared
    if paying:
        away = list(map(add, away, stakes.invoice))
        shared_away = now.sent_shared + now.invoice_shared
    for tin, area in zip(stakes.tins, now.areas, strict=True):
        cost += tin.cost(area)
        if litre_eighths:
            a_part, whole = tin.price * litre_eighths, 8 * tin.pack_area
            room = -(area + tin.small_area) % tin.pack_area
            cost -= -(-room * a_part // whole)
            hand = [one + more * a_part // whole for one, more in zip(hand, tin.areas, strict=True)]
    if toll.a_metre:
        cost += toll.a_metre * (toll.metres_due - sum_of(now.sent, toll.metres, {}))
        away = [one - toll.a_metre * metres for one, metres in zip(away, toll.metres, strict=True)]
    if not now.sent:
        cost += sum(sure for sharers, sure in shared_away if sharers & now.undecided == now.undecided)
        shared_away = [one for one in shared_away if one[0] & now.undecided != now.undecided]
        if not paying:
            asked += sum(sure for sharers, sure in now.invoice_shared if sharers & now.undecided == now.undecided)
    cost += asked if paying else max(stakes.minimum, asked)
    for i in _bits(stakes.must_send & now.undecided):
        hand[i] = _NEVER
    for i in _bits(stakes.must_keep & now.undecided):
        away[i] = _NEVER
    return cost + _cheapest(now.undecided, hand, away, now.hand_shared, shared_away)


_NEVER = 1 << 4000
"""More than any plan costs: the way is barred."""


def _bits(group: int) -> Iterator[int]:
    while group:
        low = group & -group
        yield low.bit_length() - 1
        group ^= low


def _cheapest(undecided: int, hand: list[int], away: list[int], hand_shared: Shared, away_shared: Shared) -> int:
    """The sum of the open edgings' cheaper ways once shared costs are laid where they raise them."""
    left_hand = _laid(undecided, hand, away, hand_shared)
    left_away = _laid(undecided, away, hand, away_shared)
    by_hand, by_away = _by_sharer(undecided, left_hand), _by_sharer(undecided, left_away)
    for i, costs in by_hand.items():
        others = by_away.get(i, ())
        more = min(sum(one[0] for one in costs), sum(one[0] for one in others))
        if more:  # an edging whose ways both have something left carries as much of each
            hand[i] += more
            away[i] += more
            _take(costs, more)
            _take(others, more)
    return sum(min(hand[i], away[i]) for i in _bits(undecided))


def _laid(undecided: int, mine: list[int], other: list[int], shared: Shared) -> Shared:
    """Each shared cost laid upon those for whom this way is the cheaper, up to the other way; what is left of each."""
    left: Shared = []
    for sharers, cost in shared:
        for i in _bits(sharers & undecided):
            gap = other[i] - mine[i]
            if gap > 0:
                part = min(gap, cost)
                mine[i] += part
                cost -= part
                if not cost:
                    break
        else:
            left.append((sharers, cost))
    return left


def _by_sharer(undecided: int, left: Shared) -> dict[int, list[list[int]]]:
    """What is left of shared costs, for each open edging; a cost is one box, whoever takes from it."""
    found: dict[int, list[list[int]]] = {}
    for sharers, cost in left:
        box = [cost]
        for i in _bits(sharers & undecided):
            found.setdefault(i, []).append(box)
    return found


def _take(boxes: Sequence[list[int]], amount: int) -> None:
    for box in boxes:
        part = min(box[0], amount)
        box[0] -= part
        amount -= part
