"""Cost of a metre against metres a year: the machine and today's ways at any volume in, their curve and its crossings out.

A year's banding is priced as one question: so many times the job as it is, with its set-ups, trips and minimum once.
"""

from collections.abc import Callable, Iterator, Mapping
from itertools import combinations, pairwise

from estimator.costing.machine import Volumes, annual_cost
from estimator.model.decision import MachineCrossing, MachinePoint
from estimator.model.exact import Fraction
from estimator.model.shop_records import Machine

TENTHS = (1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30)
"""Of the typed metres a year: a tenth to three times."""
NEAR_M = Fraction(1, 4)
"""A crossing is found to this many metres a year."""
BY_HAND, SENT_OUT, MACHINE, TODAY = "by hand", "sent out", "on the machine", "today's cheapest way"
Costs = Mapping[str, Fraction | None]
"""Cost of a metre of each way, edging apart; None where it is not possible."""
Today = Callable[[Fraction], Costs]
"""Metres a year in, what a metre costs by hand, sent out, and by the cheapest of all of today's ways."""


def volumes_of(machine: Machine, today: Today) -> Volumes:
    """The three ways at a tenth to three times the typed metres, where they cross, and from where the machine pays.

    A metre on the machine costs  its running cost + annual cost / metres a year.
    """
    if not machine.metres_a_year:
        return Volumes()
    a_year = annual_cost(machine)

    def at(metres: Fraction) -> Costs:
        return {**today(metres), MACHINE: machine.cost_per_m + a_year / metres}

    looked_at = [machine.metres_a_year * tenths / 10 for tenths in TENTHS]
    costs = {metres: at(metres) for metres in looked_at}
    curve = tuple(_point(metres, costs[metres]) for metres in looked_at)
    crossings = [one for pair in combinations((BY_HAND, SENT_OUT, MACHINE), 2) for one in _crossings(costs, at, *pair)]
    return Volumes(curve, tuple(sorted(crossings, key=lambda one: one.metres_a_year)), _pays_from(costs, at))


def _point(metres: Fraction, costs: Costs) -> MachinePoint:
    machine = costs[MACHINE]
    assert machine is not None, "a machine bands every edging"
    return MachinePoint(metres, costs[BY_HAND], costs[SENT_OUT], costs[TODAY], machine)


def _crossings(costs: Mapping[Fraction, Costs], at: Today, one: str, other: str) -> Iterator[MachineCrossing]:
    """Where two ways change places between two of the volumes looked at."""
    for low, high in pairwise(costs):
        below, above = _gap(costs[low], one, other), _gap(costs[high], one, other)
        if below is None or above is None or below == 0 or below * above > 0:
            continue
        while high - low > NEAR_M:
            middle = (low + high) / 2
            now = _gap(at(middle), one, other)
            low, high = (middle, high) if now is not None and now * below > 0 else (low, middle)
        cheap, dear = (other, one) if below > 0 else (one, other)
        cost = at(high)[dear]
        assert cost is not None, "a way that is possible is so at every volume"
        yield MachineCrossing(high, cost, cheap, dear)


def _gap(costs: Costs, one: str, other: str) -> Fraction | None:
    """How much dearer a metre is the one way than the other."""
    first, second = costs[one], costs[other]
    return None if first is None or second is None else first - second


def _pays_from(costs: Mapping[Fraction, Costs], at: Today) -> Fraction | None:
    """The least volume from which on the machine is no dearer than the cheapest of today's ways; None when at no volume seen."""
    first = next(iter(costs))
    gap = _gap(costs[first], MACHINE, TODAY)
    if gap is None:
        return None
    if gap <= 0:
        return first
    return next((one.metres_a_year for one in _crossings(costs, at, MACHINE, TODAY) if one.above == MACHINE), None)
