"""What decides the way to band and how far it holds: break-even metres, sizes of the job, a tornado and flips.

Everything is chosen anew by the same exact search, on the same figures with one input multiplied.
"""

from collections.abc import Callable, Sequence
from dataclasses import replace
from itertools import pairwise

from estimator.costing.banding.changing import Chosen, Sized, choose, names_of, sized_at, stakes_at
from estimator.costing.banding.question import (
    ADHESIVE,
    EDGING,
    INPUTS,
    METRES,
    MINIMUM,
    ONE,
    PER_PART,
    PIECES,
    PRICES,
    SETUPS,
    Glue,
    Question,
)
from estimator.costing.banding.stakes import cost_of
from estimator.model.decision import Flip, SizePoint, SizeStep, Swing
from estimator.model.exact import Fraction

SWING = Fraction(1, 5)
SIZES_PERCENT = (1, *range(10, 310, 10))
"""Sizes that are looked at; between two with different best plans the change is found to the whole percent."""
CURVE_PERCENT = (10, 25, 50, 75, 100, 125, 150, 175, 200, 250, 300)
DOWN_PERCENT = (90, 80, 65, 50, 35, 20, 10)
UP_PERCENT = (110, 125, 150, 200, 300, 500, 1000)


def tornado(question: Question, best: int | None = None) -> tuple[Swing, ...]:
    """Each input that this job has, 20 % lower and higher, the best plan chosen anew at each end; widest first."""
    swings, as_it_is = [], sized_at(question, longer_share=ONE, more_share=ONE)
    for what in INPUTS:
        if not _matters(question, what):
            continue
        low, high = (choose(question, {what: share}, as_it_is=as_it_is, near=best) for share in (1 - SWING, 1 + SWING))
        if low and high:
            swings.append(Swing(what, low.cost, names_of(question, low.group), high.cost, names_of(question, high.group)))
    return tuple(sorted(swings, key=lambda swing: -swing.width))


def size_steps(question: Question, *, by: str) -> tuple[SizeStep, ...]:
    """From which size of the job on which plan is best, to the whole percent.

    `by` is METRES (the same parts with longer edges) or PIECES (so many times the job). A plan that is best only between two of
    the sizes looked at is missed.
    """
    found: dict[int, Chosen] = {}

    def at(percent: int) -> Chosen:
        if percent not in found:
            chosen = choose(question, {by: Fraction(percent, 100)}, near=found[max(found)].group if found else None)
            assert chosen is not None, "what is possible does not depend on the size"
            found[percent] = chosen
        return found[percent]

    steps = [SizeStep(Fraction(SIZES_PERCENT[0], 100), names_of(question, at(1).group), at(1).cost)]
    for low, high in pairwise(SIZES_PERCENT):
        while at(low).group != at(high).group:
            first, last = low, high
            while last - first > 1:
                middle = (first + last) // 2
                first, last = (middle, last) if at(middle).group == at(low).group else (first, middle)
            steps.append(SizeStep(Fraction(last, 100), names_of(question, at(last).group), at(last).cost))
            low = last
    return tuple(steps)


def size_curve(question: Question) -> tuple[SizePoint, ...]:
    """Relevant cost of by hand, send out and the best against the size of the job, every edge that much longer."""
    points = []
    best: Chosen | None = None
    for percent in CURVE_PERCENT:
        share = Fraction(percent, 100)
        stakes, best = stakes_at(question, {METRES: share}), choose(question, {METRES: share}, near=best.group if best else None)
        assert best is not None, "what is possible does not depend on the size"
        both = [Fraction(cost_of(stakes, group), stakes.scale) if stakes.possible(group) else None for group in (0, stakes.everything)]
        points.append(SizePoint(share, both[0], both[1], best.cost))
    return tuple(points)


def flips(question: Question, best: int) -> tuple[Flip, ...]:
    """How far each input may move, alone, before another plan is best: to the whole percent, from a tenth to tenfold."""
    as_it_is = sized_at(question, longer_share=ONE, more_share=ONE)
    moving = [what for what in INPUTS if _matters(question, what)]
    found = []
    for what in moving:
        runs: tuple[Sequence[int], Sequence[int]] = (DOWN_PERCENT, UP_PERCENT)
        if _runs_straight(question, what):
            runs = (DOWN_PERCENT[-1:], UP_PERCENT[-1:])
        down, up = (_edge_of(question, what, best, percents, as_it_is) for percents in runs)
        found.append(Flip(what, *down, *up))
    return tuple(found)


def _runs_straight(question: Question, what: str) -> bool:
    """Whether every plan's cost is a straight line in an input: then a plan that is best at two values is best between them.

    The size of the job brings rolls, packs and breaks; what the contractor asks bends at the minimum charge.
    """
    return what not in (METRES, PIECES) and not (question.minimum and what in (PRICES, SETUPS, PER_PART, MINIMUM))


def _matters(question: Question, what: str) -> bool:
    """Whether anything at all is proportional to an input in this job."""
    return (
        any(what in item.grows_with for item in question.items)
        or (what in (EDGING, METRES) and bool(question.rolls))
        or (what in (ADHESIVE, METRES) and bool(question.glues))
        or (what in (PRICES, METRES) and any(question.offers))
        or (what == MINIMUM and bool(question.minimum))
    )


def _edge_of(
    question: Question, what: str, best: int, percents: Sequence[int], as_it_is: Sized
) -> tuple[Fraction | None, tuple[str, ...]]:
    """The last whole percent where the plan still holds, and the plan just beyond; None when it holds to the end."""

    def best_at(percent: int) -> int:
        chosen = choose(question, {what: Fraction(percent, 100)}, as_it_is=as_it_is, near=best)
        return best if chosen is None else chosen.group

    holds = 100
    for percent in percents:
        beyond = best_at(percent)
        if beyond == best:
            holds = percent
            continue
        fails = percent
        while abs(fails - holds) > 1:
            middle = (fails + holds) // 2
            now = best_at(middle)
            if now == best:
                holds = middle
            else:
                fails, beyond = middle, now
        return Fraction(holds, 100), names_of(question, beyond)
    return None, ()


# --- one edging alone -------------------------------------------------------------------------------------------------


def break_even_m(question: Question, edging: int) -> Fraction | None:
    """Metres of one edging at which the two routes cost the same, were it the only one (A29).

    Both routes are priced by the same functions with every edge so much longer or shorter. Where the prices run straight the
    crossing is exact; with rolls, packs and breaks it is where the cheaper route changes, to a millionth. None where one
    route is cheaper at every size, or not possible.

    Source: relevant-cost.
    """
    alone = _alone(question, edging)
    net_m = alone.charged[0][0]
    if alone.must_send or alone.must_keep or not net_m:
        return None

    def more_by_hand(size_share: Fraction) -> Fraction:
        stakes = stakes_at(alone, {METRES: size_share})
        return Fraction(cost_of(stakes, 0) - cost_of(stakes, 1), stakes.scale)

    size = _crossing(more_by_hand)
    return None if size is None else size * net_m


_CROSSING_SIZES = tuple(Fraction(1 << k, 64) for k in range(13))
"""A sixty-fourth of the job to sixty-four times it."""


def _crossing(difference: Callable[[Fraction], Fraction]) -> Fraction | None:
    """The least size above 0 at which a difference changes its sign: by straight lines first, then by halving."""
    low, at_low = Fraction(0), difference(Fraction(0))
    for size in _CROSSING_SIZES:
        high, at_high = size, difference(size)
        if at_high == 0:
            return high
        if at_low != 0 and (at_low > 0) != (at_high > 0):
            return _between(difference, low, high, at_low, at_high)
        low, at_low = high, at_high
    return None


def _between(difference: Callable[[Fraction], Fraction], low: Fraction, high: Fraction, at_low: Fraction, at_high: Fraction) -> Fraction:
    while high - low >= Fraction(1, 10**9):
        line = low + (high - low) * at_low / (at_low - at_high)
        if difference(line) == 0:
            return line
        middle = (low + high) / 2
        at_middle = difference(middle)
        if at_middle == 0:
            return middle
        if (at_middle > 0) == (at_low > 0):
            low, at_low = middle, at_middle
        else:
            high, at_high = middle, at_middle
    return high


def _alone(question: Question, edging: int) -> Question:
    """The same question with one edging only: what it shared it now carries alone."""
    bit = 1 << edging
    return replace(
        question,
        names=(question.names[edging],),
        items=tuple(replace(item, group=1) for item in question.items if item.group & bit),
        amounts=tuple(one for item, one in zip(question.items, question.amounts, strict=True) if item.group & bit),
        rolls=tuple(replace(roll, edging=0) for roll in question.rolls if roll.edging == edging),
        glues=tuple(_glue_alone(glue, edging) for glue in question.glues),
        offers=(question.offers[edging],),
        charged=(question.charged[edging],),
        must_send=question.must_send >> edging & 1,
        must_keep=question.must_keep >> edging & 1,
    )


def _glue_alone(glue: Glue, edging: int) -> Glue:
    return replace(
        glue,
        net_m2=(glue.net_m2[edging],),
        over_m2=(glue.over_m2[edging],),
        small_net_m2=(glue.small_net_m2[edging],),
        small_over_m2=(glue.small_over_m2[edging],),
    )
