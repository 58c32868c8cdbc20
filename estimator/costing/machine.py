"""Is buying a banding machine worth it: its price, life and interest in, what it costs a year and saves out (A36)."""

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from estimator.model.dataclass import dataclass
from estimator.model.decision import MachineCase, MachineCrossing, MachinePoint
from estimator.model.exact import Fraction
from estimator.model.results import MachineAnswer
from estimator.model.shop_records import Machine

RATE_STEPS = 70
"""Halvings of the internal rate: its last step is far below 1e-12."""
INTEREST_AROUND = (Fraction(-3, 100), Fraction(0), Fraction(3, 100))
YEARS_AROUND = (-2, 0, 2)


@dataclass(frozen=True, slots=True)
class Volumes:
    """What volume a year does to the cost of a metre (machine_volumes.py)."""

    curve: tuple[MachinePoint, ...] = ()
    crossings: tuple[MachineCrossing, ...] = ()
    pays_from_metres: Fraction | None = None


NO_VOLUMES = Volumes()


def recovery_share(*, interest_share: Fraction, years: int) -> Fraction:
    """Share of an amount that pays it back with interest in equal sums at the end of each year: the CRF.

        share  =  i (1 + i)^n / ((1 + i)^n - 1);  without interest  1 / n

    By hand: 10 % over 1 year is 1.1; nothing over 4 years is a quarter.

    >>> recovery_share(interest_share=Fraction(1, 10), years=1), recovery_share(interest_share=Fraction(0), years=4)
    (Fraction(11, 10), Fraction(1, 4))

    Holds for: whole years, an interest of 0 or more.
    Error: none.
    Source: machine-finance.
    """
    if not interest_share:
        return Fraction(1, years)
    grown = (1 + interest_share) ** years
    return interest_share * grown / (grown - 1)


def present_value(flows: Sequence[Fraction], *, interest_share: Fraction) -> Fraction:
    """What flows at the end of year 0, 1, 2 ... are worth today. The first is today's and is not discounted.

    >>> present_value((Fraction(-100), Fraction(110)), interest_share=Fraction(1, 10))
    Fraction(0, 1)

    Source: machine-finance.
    """
    return sum((flow / (1 + interest_share) ** year for year, flow in enumerate(flows)), start=Fraction(0))


def internal_rate(flows: Sequence[Fraction]) -> Fraction | None:
    """The interest at which flows are worth nothing today; None without exactly one change of sign.

    Halved between -1 and a rate high enough, in exact fractions, to below 1e-12.

    >>> internal_rate((Fraction(-100), Fraction(-10))) is None
    True
    >>> abs(internal_rate((Fraction(-100), Fraction(110))) - Fraction(1, 10)) < Fraction(1, 10**12)
    True

    Source: machine-finance.
    """
    signs = [flow > 0 for flow in flows if flow]
    if sum(one != other for one, other in pairwise(signs)) != 1:
        return None
    falls = not signs[0]
    low, high = Fraction(-1), Fraction(1)
    while (present_value(flows, interest_share=high) > 0) == falls:
        low, high = high, 2 * high
    for _ in range(RATE_STEPS):
        middle = (low + high) / 2
        if (present_value(flows, interest_share=middle) > 0) == falls:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def payback_years(flows: Sequence[Fraction], *, interest_share: Fraction = Fraction(0)) -> Fraction | None:
    """Years until the flows after today, discounted, have paid for today's; even within a year; None when they never do.

    By hand: 100 paid back by 40 a year takes 2.5 years.

    >>> payback_years((Fraction(-100), Fraction(40), Fraction(40), Fraction(40)))
    Fraction(5, 2)

    Holds for: flows without the resale value, which never counts in a payback.
    Error: none; money is taken to come evenly within a year.
    Source: machine-finance.
    """
    left = -flows[0]
    for year, flow in enumerate(flows[1:], start=1):
        worth = flow / (1 + interest_share) ** year
        if worth >= left and worth > 0:
            return year - 1 + left / worth
        left -= worth
    return None


def annual_cost(machine: Machine) -> Fraction:
    """What owning the machine costs in equal sums a year.

    equivalent annual cost  =  (price + installation - resale / (1 + i)^n) x CRF + fixed cost a year

    Source: machine-finance.
    """
    i, n = machine.interest_share, machine.life_years
    spent = machine.price + machine.installation - machine.resale_value / (1 + i) ** n
    return spent * recovery_share(interest_share=i, years=n) + machine.fixed_cost_a_year


def machine_flows(machine: Machine, *, saving_a_year: Fraction, with_resale: bool) -> tuple[Fraction, ...]:
    """Money out today, the saving at the end of each year, and at the end of the life the resale value."""
    years = [saving_a_year] * machine.life_years
    if with_resale:
        years[-1] += machine.resale_value
    return (-(machine.price + machine.installation), *years)


def machine_answer(machine: Machine, *, alternative_per_m: Fraction | None, volumes: Volumes = NO_VOLUMES) -> MachineAnswer:
    """The whole answer for one machine against what a metre costs today; a typed alternative wins (A36).

    saving a year = (alternative - machine) x metres - fixed;  break-even metres = annual cost / (alternative - machine)
    """
    alternative = machine.alternative_per_m if machine.alternative_per_m is not None else alternative_per_m
    crf = recovery_share(interest_share=machine.interest_share, years=machine.life_years)
    a_year = annual_cost(machine)
    if alternative is None:
        return MachineAnswer(None, crf, a_year, None, None, None, None, None, None, machine.name, (), volumes.curve)
    a_metre = alternative - machine.cost_per_m
    saving = a_metre * machine.metres_a_year - machine.fixed_cost_a_year
    flows = machine_flows(machine, saving_a_year=saving, with_resale=True)
    plain = machine_flows(machine, saving_a_year=saving, with_resale=False)
    return MachineAnswer(
        alternative_per_m=alternative,
        crf=crf,
        equivalent_annual_cost=a_year,
        saving_a_year=saving,
        npv=present_value(flows, interest_share=machine.interest_share),
        irr=internal_rate(flows),
        payback_years=payback_years(plain),
        discounted_payback_years=payback_years(plain, interest_share=machine.interest_share),
        break_even_metres=a_year / a_metre if a_metre > 0 else None,
        name=machine.name,
        cases=_cases(machine, saving=saving, a_metre=a_metre),
        curve=volumes.curve,
        crossings=volumes.crossings,
        pays_from_metres=volumes.pays_from_metres,
    )


def _cases(machine: Machine, *, saving: Fraction, a_metre: Fraction) -> tuple[MachineCase, ...]:
    """The same machine at interests and lives around the typed ones."""
    cases = []
    for more_interest in INTEREST_AROUND:
        for more_years in YEARS_AROUND:
            interest, years = machine.interest_share + more_interest, machine.life_years + more_years
            if interest < 0 or years < 1:
                continue
            other = replace(machine, interest_share=interest, life_years=years)
            flows = machine_flows(other, saving_a_year=saving, with_resale=True)
            a_year = annual_cost(other)
            cases.append(
                MachineCase(
                    interest,
                    years,
                    a_year,
                    present_value(flows, interest_share=interest),
                    a_year / a_metre if a_metre > 0 else None,
                )
            )
    return tuple(cases)
