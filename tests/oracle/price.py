"""The cost of a job and the prime cost of its lines go in; what stands on the quote comes out (A30 to A34)."""

from fractions import Fraction
from math import floor

MINOR_PLACES = {"JPY": 0, "KRW": 0, "ISK": 0, "BHD": 3, "KWD": 3, "TND": 3}


def places_of(currency):
    """Decimal places of a currency's minor unit (ISO 4217): none, three, else two."""
    return MINOR_PLACES.get(currency.upper(), 2)


def rounded(amount, places):
    """Half away from zero, to so many decimal places.

    >>> rounded(Fraction("365.125"), 2) == Fraction("365.13")
    True
    >>> rounded(Fraction("-0.5"), 0)
    Fraction(-1, 1)
    """
    scaled = abs(Fraction(amount)) * 10**places
    whole = floor(scaled + Fraction(1, 2))
    return Fraction(whole if amount >= 0 else -whole, 10**places)


def largest_remainder(total, weights, places):
    """A total of whole minor units split by weights, adding up exactly; on a tie the earlier gets the unit.

    >>> [str(share) for share in largest_remainder(Fraction("179.65"), [1, 1], 2)]
    ['8983/100', '4491/50']
    """
    units, everything = Fraction(total) * 10**places, sum(weights)
    shares = [units * weight / everything for weight in weights]
    floors = [floor(share) for share in shares]
    left = int(units - sum(floors))
    by_remainder = sorted(range(len(shares)), key=lambda at: (floors[at] - shares[at], at))
    for at in by_remainder[:left]:
        floors[at] += 1
    return [Fraction(one, 10**places) for one in floors]


def target(cost, contingency, margin, markup, least):
    """A30: (contingency, base, target) of a cost; margin or markup is None."""
    extra = cost * contingency
    base = cost + extra
    wanted = base / (1 - margin) if margin is not None else base * (1 + markup)
    return extra, base, max(wanted, least)


def unit_prices(wanted, primes, places):
    """A31: each line's price for one, from (qty, prime cost for one) of every line."""
    everything = sum(qty * prime for qty, prime in primes)
    return [rounded(wanted * prime / everything, places) for _, prime in primes]


def document(lines, discount, delivery, places):
    """A32: the totals of a quote.

    lines: [(net, rate in percent)]; discount: the amount; delivery: (amount, rate) or None.
    """
    by_rate = {}
    for net, rate in lines:
        by_rate[rate] = by_rate.get(rate, 0) + net
    total = sum(by_rate.values())
    rates = sorted(by_rate)
    if discount:
        shares = largest_remainder(discount, [by_rate[rate] for rate in rates], places)
        for rate, part in zip(rates, shares, strict=True):
            by_rate[rate] -= part
    if delivery:
        amount, rate = delivery
        by_rate[rate] = by_rate.get(rate, 0) + amount
    tax = [(rate, by_rate[rate], rounded(by_rate[rate] * rate / 100, places)) for rate in sorted(by_rate)]
    net = sum(base for _, base, _ in tax)
    tax_total = sum(amount for _, _, amount in tax)
    return {"sum_lines": total, "net": net, "tax": tax, "tax_total": tax_total, "gross": net + tax_total}


def to_a_multiple(gross, multiple):
    """The rounding line that brings a gross price to the nearest multiple, halves away from zero.

    >>> to_a_multiple(Fraction("179.65"), Fraction(5))
    Fraction(7, 20)
    """
    return rounded(gross / multiple, 0) * multiple - gross
