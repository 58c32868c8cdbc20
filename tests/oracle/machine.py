"""The sheet Machine goes in; whether buying a banding machine is worth it comes out (A36)."""

from fractions import Fraction
from itertools import pairwise

from tests.oracle.cells import blank, metres, number, price_a_metre, share
from tests.oracle.jobs import unit_of


def annuity(rate, years):
    """CRF, the share of an amount that pays it back with interest in equal sums a year.

    >>> f"{float(annuity(Fraction(9, 100), 8)):.8f}"
    '0.18067438'
    """
    grown = (1 + rate) ** years
    return rate * grown / (grown - 1) if rate else Fraction(1, years)


def present_value(flows, rate):
    """What flows at the end of year 0, 1, 2 ... are worth now."""
    return sum(flow / (1 + rate) ** year for year, flow in enumerate(flows))


def internal_rate(flows):
    """The rate at which the flows are worth nothing now, halved down to 1e-12; None without exactly one change of sign."""
    signs = [flow > 0 for flow in flows if flow]
    if sum(one != other for one, other in pairwise(signs)) != 1:
        return None
    low, high = -1 + 1e-9, 1.0
    plain = [float(flow) for flow in flows]
    falls = plain[0] < 0
    while (present_value(plain, high) > 0) == falls:
        high *= 2
    for _ in range(200):
        middle = (low + high) / 2
        if (present_value(plain, middle) > 0) == falls:
            low = middle
        else:
            high = middle
    return Fraction(low)


def payback_years(flows, rate=Fraction(0)):
    """Years until the flows, discounted at the rate, have paid for year 0; within a year evenly; None when never."""
    left = -flows[0]
    for year, flow in enumerate(flows[1:], start=1):
        worth = flow / (1 + rate) ** year
        if worth >= left:
            return year - 1 + left / worth
        left -= worth
    return None


def machine(job):
    """The keys of `machine` in estimate.json; None where the job has no machine, or leaves the alternative to the program."""
    terms = {name: value for name, value in (job.get("Machine") or {}).items() if not blank(value)}
    if "Alternative per metre" not in terms:
        return None
    unit = unit_of(job, "Machine")
    paid = number(terms["Price"]) + number(terms.get("Installation", 0))
    resale, fixed = number(terms.get("Resale value", 0)), number(terms.get("Fixed cost a year", 0))
    years, rate = int(number(terms["Life"])), share(terms["Interest"])
    a_metre = price_a_metre(terms["Alternative per metre"], unit) - price_a_metre(terms["Cost per metre"], unit)
    saving = a_metre * metres(terms["Metres a year"], unit) - fixed
    crf = annuity(rate, years)
    a_year = (paid - resale / (1 + rate) ** years) * crf + fixed
    flows = [-paid] + [saving] * years
    with_resale = [*flows[:-1], flows[-1] + resale]
    return {
        "crf": crf,
        "equivalent_annual_cost": a_year,
        "saving_a_year": saving,
        "npv": present_value(with_resale, rate),
        "irr": internal_rate(with_resale),
        "payback_years": payback_years(flows),
        "discounted_payback_years": payback_years(flows, rate),
        "break_even_metres": a_year / a_metre if a_metre > 0 else None,
    }
