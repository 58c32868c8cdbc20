"""How little a half-decided plan can still come to: what is decided and what is open in, proven lower bounds out.

Every completion pays what is decided, and for each open edging at least the cheaper of its two ways. A shared cost that no decided
edging brings about yet is laid upon its open sharers: whatever parts of it they carry, no more than the whole is counted when some
of them come. It is laid where it raises the cheaper way, which is worth the most.
"""

from collections.abc import Iterator
from dataclasses import replace

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


def bounds_of(stakes: Stakes, now: Open, toll: Toll = NO_TOLL) -> Iterator[int]:
    """No completion that sends something costs less than any of these.

    The invoice is the greater of two, so it is held once at the minimum, open edgings adding nothing to it, and once at what the
    edgings ask. Packs are held once at those that the kept edgings fill, and once by the litre, which no whole packs undercut.
    """
    by_litre = bool(stakes.tins) and now.undecided
    for paying in (True, False):
        yield _bound(stakes, now, toll, paying=paying, by_litre=False)
        if by_litre:
            yield _bound(stakes, now, toll, paying=paying, by_litre=True)


def _bound(stakes: Stakes, now: Open, toll: Toll, *, paying: bool, by_litre: bool) -> int:
    open_ = [i for i in range(stakes.edgings) if now.undecided >> i & 1]
    hand, away = [stakes.hand[i] for i in open_], [stakes.sent[i] for i in open_]
    cost, asked = now.decided, now.invoice
    shared_away = now.sent_shared
    if paying:
        away = [one + stakes.invoice[i] for one, i in zip(away, open_, strict=True)]
        shared_away = now.sent_shared + now.invoice_shared
    for tin, area in zip(stakes.tins, now.areas, strict=True):
        if by_litre:
            filled = area + tin.small_area
            cost += filled * tin.price // tin.pack_area
            hand = [one + tin.areas[i] * tin.price // tin.pack_area for one, i in zip(hand, open_, strict=True)]
        else:
            cost += tin.cost(area)
    if toll.a_metre:
        cost += toll.a_metre * (toll.metres_due - sum_of(now.sent, toll.metres, {}))
        away = [one - toll.a_metre * toll.metres[i] for one, i in zip(away, open_, strict=True)]
    if not now.sent:
        cost += sum(sure for sharers, sure in shared_away if sharers & now.undecided == now.undecided)
        shared_away = [one for one in shared_away if one[0] & now.undecided != now.undecided]
        if not paying:
            asked += sum(sure for sharers, sure in now.invoice_shared if sharers & now.undecided == now.undecided)
    cost += asked if paying else max(stakes.minimum, asked)
    for place, i in enumerate(open_):
        if stakes.must_send >> i & 1:
            hand[place] = _NEVER
        if stakes.must_keep >> i & 1:
            away[place] = _NEVER
    return cost + _cheapest(open_, hand, away, now.hand_shared, shared_away)


_NEVER = 1 << 4000
"""More than any plan costs: the way is barred."""


def _cheapest(open_: list[int], hand: list[int], away: list[int], hand_shared: Shared, away_shared: Shared) -> int:
    """The sum of the cheaper ways once shared costs are laid where they raise them."""
    place_of = {i: place for place, i in enumerate(open_)}
    left_hand = _laid(place_of, hand, away, hand_shared)
    left_away = _laid(place_of, away, hand, away_shared)
    for place, i in enumerate(open_):
        more = min(_left_for(i, left_hand), _left_for(i, left_away))
        if more:
            hand[place] += more
            away[place] += more
            left_hand, left_away = _taken(left_hand, i, more), _taken(left_away, i, more)
    return sum(map(min, hand, away))


def _left_for(i: int, shared: Shared) -> int:
    return sum(cost for sharers, cost in shared if sharers >> i & 1)


def _laid(place_of: dict[int, int], mine: list[int], other: list[int], shared: Shared) -> Shared:
    """Each shared cost laid upon those for whom this way is the cheaper, up to the other way; what is left of each."""
    left: Shared = []
    for sharers, cost in shared:
        waiting = sharers
        for i, place in place_of.items():
            if waiting >> i & 1 and (gap := other[place] - mine[place]) > 0:
                part = min(gap, cost)
                mine[place] += part
                cost -= part
                if not cost:
                    break
        if cost:
            left.append((sharers, cost))
    return left


def _taken(shared: Shared, i: int, amount: int) -> Shared:
    """What is left of shared costs when an edging carries an amount of those that it shares."""
    left: Shared = []
    for sharers, cost in shared:
        part = min(cost, amount) if sharers >> i & 1 else 0
        amount -= part
        if cost > part:
            left.append((sharers, cost - part))
    return left
