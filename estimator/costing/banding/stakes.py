"""What is at stake in the choice of a plan, as whole numbers: each edging's own cost each way, and what edgings share.

Group bits: bit i of a group stands for edging i. All money is in whole parts of 1/`scale`, so that sums over thousands of plans
are sums of whole numbers and still exact.
"""

from collections.abc import Mapping, Sequence

from estimator.model.dataclass import dataclass


@dataclass(frozen=True, slots=True)
class Tin:
    """An adhesive that is charged by the whole pack; its edgings share the packs."""

    areas: tuple[int, ...]
    """Glued area of each edging."""
    pack_area: int
    """Area that one pack covers, in the same unit."""
    price: int
    small_area: int = 0
    """Area on parts that stay at the bench whatever is sent."""

    def cost(self, area: int) -> int:
        return -(-(area + self.small_area) // self.pack_area) * self.price


@dataclass(frozen=True, slots=True)
class WholeOrder:
    """Price breaks that count over the whole order: the metres of all sent edgings decide the price of each."""

    metres: tuple[int, ...]
    levels: tuple[int, ...]
    """Every metre figure at which some price changes, ascending from 0, in the unit of `metres`."""
    amounts: tuple[tuple[int, ...], ...]
    """amounts[level][edging]: money for the edging when the order has reached that level."""

    def amounts_at(self, order: int) -> tuple[int, ...]:
        reached = [row for level, row in zip(self.levels, self.amounts, strict=True) if level <= order]
        return reached[-1]


@dataclass(frozen=True, slots=True)
class Stakes:
    """Everything that the relevant cost of a plan depends on."""

    scale: int
    hand: tuple[int, ...]
    """Each edging's own cost when it is banded by hand."""
    sent: tuple[int, ...]
    """Each edging's own cost when it is sent, apart from the invoice."""
    invoice: tuple[int, ...]
    """Each edging's own part of the invoice."""
    hand_shared: Mapping[int, int]
    """By group: counted once when any edging of the group is banded by hand."""
    sent_shared: Mapping[int, int]
    invoice_shared: Mapping[int, int]
    minimum: int
    tins: tuple[Tin, ...]
    order: WholeOrder | None
    must_send: int
    """Edgings that cannot be banded by hand."""
    must_keep: int
    """Edgings that cannot be sent."""
    always: int = 0
    """What every plan costs: small parts that stay at the bench whatever is sent."""

    @property
    def edgings(self) -> int:
        return len(self.hand)

    @property
    def everything(self) -> int:
        return (1 << len(self.hand)) - 1

    def possible(self, sent: int) -> bool:
        return not (sent & self.must_keep or ~sent & self.must_send & self.everything)


def sum_of(group: int, alone: Sequence[int], shared: Mapping[int, int]) -> int:
    """What a group of edgings costs: each one's own, and once what any of them brings about."""
    own = sum(cost for i, cost in enumerate(alone) if group >> i & 1)
    return own + sum(cost for sharers, cost in shared.items() if sharers & group)


def cost_of(stakes: Stakes, sent: int) -> int:
    """The relevant cost of one plan (A27), in parts of 1/scale."""
    kept = stakes.everything & ~sent
    cost = stakes.always + sum_of(kept, stakes.hand, stakes.hand_shared) + sum_of(sent, stakes.sent, stakes.sent_shared)
    cost += sum(tin.cost(sum_of(kept, tin.areas, {})) for tin in stakes.tins)
    if sent:
        asked = sum_of(sent, stakes.invoice, stakes.invoice_shared)
        if stakes.order:
            asked += sum_of(sent, stakes.order.amounts_at(sum_of(sent, stakes.order.metres, {})), {})
        cost += max(stakes.minimum, asked)
    return cost


# --- every group at once ----------------------------------------------------------------------------------------------


def sums_by_group(alone: Sequence[int], shared: Mapping[int, int]) -> list[int]:
    """`sum_of` for every group of the edgings at once.

    Own costs add up edging by edging. A shared cost is missed only by the groups that hold none of its sharers, so the costs
    whose sharers lie wholly outside a group are taken off the total; these are summed one edging at a time.

    >>> sums_by_group([1, 10], {0b11: 100})
    [0, 101, 110, 111]
    """
    size = 1 << len(alone)
    sums = [0] * size
    for group in range(1, size):
        rest = group & (group - 1)
        sums[group] = sums[rest] + alone[(group ^ rest).bit_length() - 1]
    if shared:
        inside = [0] * size
        for sharers, cost in shared.items():
            inside[sharers] += cost
        for i in range(len(alone)):
            bit = 1 << i
            for group in range(size):
                if group & bit:
                    inside[group] += inside[group ^ bit]
        total = inside[size - 1]
        for group in range(size):
            sums[group] += total - inside[size - 1 - group]
    return sums


def costs_by_group(stakes: Stakes) -> list[int | None]:
    """The relevant cost of every plan, indexed by the group that is sent; None where the plan is not possible."""
    kept = sums_by_group(stakes.hand, stakes.hand_shared)
    for tin in stakes.tins:
        kept = [cost + tin.cost(area) for cost, area in zip(kept, sums_by_group(tin.areas, {}), strict=True)]
    sent = sums_by_group(stakes.sent, stakes.sent_shared)
    invoices = invoices_by_group(stakes)
    top, always, keep, send = stakes.everything, stakes.always, stakes.must_keep, stakes.must_send
    return [
        None if group & keep or (top ^ group) & send else always + kept[top ^ group] + sent[group] + invoices[group]
        for group in range(top + 1)
    ]


def invoices_by_group(stakes: Stakes) -> list[int]:
    """The contract bander's invoice for every group that is sent; 0 for none."""
    asked = sums_by_group(stakes.invoice, stakes.invoice_shared)
    if stakes.order:
        metres = sums_by_group(stakes.order.metres, {})
        by_level = [sums_by_group(row, {}) for row in stakes.order.amounts]
        reached = [max(k for k, level in enumerate(stakes.order.levels) if level <= order) for order in metres]
        asked = [cost + by_level[level][group] for group, (cost, level) in enumerate(zip(asked, reached, strict=True))]
    return [max(stakes.minimum, cost) if group else 0 for group, cost in enumerate(asked)]
