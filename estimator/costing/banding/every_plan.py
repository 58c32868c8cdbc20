"""The plans that are shown: all of them up to twelve edgings, worked out together; beyond, the best and its nearest rivals.

Each figure of a plan is a sum of own and shared counts, so all plans are added up in whole numbers at once. `plan_of` in
routes.py prices a single plan by the rules as they are written; the tests hold the two against each other.
"""

from collections.abc import Iterable, Iterator, Sequence
from math import lcm

from estimator.costing.adhesive import adhesive_use
from estimator.costing.banding.best_plan import best_group
from estimator.costing.banding.changing import stakes_at
from estimator.costing.banding.question import question_of
from estimator.costing.banding.stakes import invoices_by_group, sums_by_group
from estimator.costing.contractor import trip_cost
from estimator.costing.counts import Tally
from estimator.costing.routes import MOST_FOR_ALL_PLANS, Ways, groups_in_order, plan_of, spoilt_on, why_not_by_hand, why_not_sent
from estimator.costing.work import money_for
from estimator.model.exact import Fraction
from estimator.model.results import BandingPlan

NONE = Fraction(0)
FEW = 4
"""Up to this many edgings pricing plans one by one is as quick."""


def plans_of(ways: Ways) -> tuple[BandingPlan, ...]:
    """Every plan, fewer sent first, then in the order of the Edgings sheet; of more than twelve edgings those worth a look."""
    if len(ways.edgings) <= FEW:
        return _one_by_one(ways, groups_in_order(len(ways.edgings)))
    if len(ways.edgings) <= MOST_FOR_ALL_PLANS:
        return _all_at_once(ways)
    return _one_by_one(ways, _worth_a_look(ways))


def _one_by_one(ways: Ways, groups: Iterable[int]) -> tuple[BandingPlan, ...]:
    no_send, no_hand = why_not_sent(ways), why_not_by_hand(ways)
    return tuple(plan_of(ways, group, no_send, no_hand) for group in groups)


def _worth_a_look(ways: Ways) -> list[int]:
    """The best plan, all by hand, all sent, and the best with each single edging changed over; in the order of all plans."""
    n = len(ways.edgings)
    groups = {0, ways.everything}
    best = best_group(stakes_at(question_of(ways), {}))
    if best is not None:
        groups |= {best, *(best ^ 1 << i for i in range(n))}
    return sorted(groups, key=lambda group: (group.bit_count(), [i for i in range(n) if group >> i & 1]))


def _all_at_once(ways: Ways) -> tuple[BandingPlan, ...]:
    no_send, no_hand = why_not_sent(ways), why_not_by_hand(ways)
    barred, must_send = ways.group(tuple(no_send)), ways.group(tuple(no_hand))
    question = question_of(ways)
    stakes = stakes_at(question, {})
    contract, top = ways.job.contract, ways.everything
    supplied = contract is not None and contract.supplies_edging
    n = len(ways.edgings)
    small = [staying.cost if supplied and (staying := ways.staying(use)) else NONE for use in ways.edgings]
    going = {i: use.cost - small[i] for i, use in enumerate(ways.edgings)}
    bought = _by_group([Tally(always=sum(small, start=NONE), by_edging=going)], [Fraction(1)], n)
    adhesive = _adhesive_by_group(ways)
    steps = {route: [one for one in ways.steps if one.step.route == route] for route in ("by hand", "send out")}
    sundries = {route: [one for one in ways.fittings if one.fitting.route == route] for route in ("by hand", "send out")}
    minutes = {route: _by_group([one.tally for one in theirs], [one.each_min for one in theirs], n) for route, theirs in steps.items()}
    fittings = {
        route: _by_group([one.tally for one in theirs], [one.fitting.price for one in theirs], n) for route, theirs in sundries.items()
    }
    invoices = invoices_by_group(stakes)
    driving = trip_cost(contract) if contract else NONE
    plans = []
    for group in groups_in_order(n):
        kept = top ^ group
        if group & barred or kept & must_send:
            plans.append(plan_of(ways, group, no_send, no_hand))
            continue
        edging = bought[kept if supplied else top]
        contractor = Fraction(invoices[group], stakes.scale)
        trips = driving if group else NONE
        sundry = fittings["by hand"][kept] + fittings["send out"][group]
        by_hand_min, send_out_min = minutes["by hand"][kept], minutes["send out"][group]
        work = money_for(by_hand_min + send_out_min, rate=ways.freed_rate)
        spoilt = sum(spoilt_on(ways, group), start=NONE)
        plans.append(
            BandingPlan(
                sent=ways.names(group),
                possible=True,
                why="",
                relevant_cost=edging + adhesive[kept] + contractor + trips + sundry + work + spoilt,
                edging=edging,
                adhesive=adhesive[kept],
                contractor=contractor,
                trips=trips,
                fittings=sundry,
                by_hand_min=by_hand_min,
                send_out_min=send_out_min,
                spoilt=spoilt,
            )
        )
    return tuple(plans)


def _by_group(tallies: Sequence[Tally], each: Sequence[Fraction], edgings: int) -> list[Fraction]:
    """Counts times what one is worth, added up, for every group of edgings that goes that way."""
    alone, shared, always = [NONE] * edgings, dict[int, Fraction](), NONE
    for tally, worth in zip(tallies, each, strict=True):
        always += tally.of(0) * worth  # small parts count at the bench whatever is sent
        for i, count in tally.by_edging.items():
            alone[i] += count * worth
        for group, count in _shared(tally):
            shared[group] = shared.get(group, NONE) + count * worth
    scale = lcm(always.denominator, *(one.denominator for one in (*alone, *shared.values())))
    sums = sums_by_group([int(one * scale) for one in alone], {group: int(one * scale) for group, one in shared.items()})
    start = int(always * scale)
    return [Fraction(start + one, scale) for one in sums]


def _shared(tally: Tally) -> Iterator[tuple[int, Fraction]]:
    yield from tally.by_group.items()
    if tally.once and tally.once_group:
        yield tally.once_group, tally.once


def _adhesive_by_group(ways: Ways) -> list[Fraction]:
    """Cost of the adhesives for every group that is banded by hand; packs are shared by the edgings of one adhesive."""
    size = 1 << len(ways.edgings)
    costs = [NONE] * size
    for glue in ways.job.adhesives:
        by_edging = ways.glued.get(glue.adhesive, {})
        if not by_edging:
            continue
        stays = ways.small.glued.get(glue.adhesive, {})
        small = sum(stays.values(), start=NONE)
        areas = [by_edging.get(use.edging, NONE) - stays.get(use.edging, NONE) for use in ways.edgings]
        scale = lcm(small.denominator, *(area.denominator for area in areas))
        known: dict[int, Fraction] = {}
        for group, area in enumerate(sums_by_group([int(area * scale) for area in areas], {})):
            if area not in known:
                glued_m2 = Fraction(area, scale) + small
                known[area] = adhesive_use(glue, glued_m2=glued_m2).cost if glued_m2 else NONE
            costs[group] += known[area]
    return costs
