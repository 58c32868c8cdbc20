"""Cost to price: the cost of the chosen plan in, target, lines, discount, tax by rate and instalments out (A30 to A34)."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from estimator.costing.shown import price_shown
from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.records import Cabinet, Extra, Job, LoosePart, Terms
from estimator.model.results import InstalmentAmount, Line, Price, TaxLine
from estimator.model.shop_records import Instalment, Share
from estimator.model.units import minor_decimals, to_money, to_multiple, whole_up

NONE = Fraction(0)


@dataclass(frozen=True, slots=True)
class PrimeCost:
    """What one of a row costs in material and its own work, for splitting the target over the lines (A31)."""

    owner: Cabinet | LoosePart | Extra
    words: str
    each: Fraction


def price_with_margin(*, cost: Fraction, margin_share: Fraction) -> Fraction:
    """Price of which a given share is left after the cost (A30).

        price  =  cost / (1 - margin)

    By hand: 80,000 at a margin of 20 % is 100,000.

    >>> price_with_margin(cost=Fraction(80000), margin_share=Fraction(20, 100))
    Fraction(100000, 1)

    Holds for: a margin below 100 %.
    Error: none.
    Source: markup-and-margin.
    """
    return cost / (1 - margin_share)


def price_with_markup(*, cost: Fraction, markup_share: Fraction) -> Fraction:
    """Price that adds a given share of the cost to it (A30).

        price  =  cost x (1 + markup)

    By hand: 80,000 at a markup of 20 % is 96,000, a margin of only 16.7 %.

    >>> price_with_markup(cost=Fraction(80000), markup_share=Fraction(20, 100))
    Fraction(96000, 1)

    Holds for: any markup.
    Error: none.
    Source: markup-and-margin.
    """
    return cost * (1 + markup_share)


def target_price(base: Fraction, terms: Terms) -> tuple[Fraction, bool]:
    """The price before tax that the cost asks for, never below the shop's least price; and whether that one holds."""
    if terms.margin_share is not None:
        target = price_with_margin(cost=base, margin_share=terms.margin_share)
    else:
        target = price_with_markup(cost=base, markup_share=terms.markup_share or NONE)
    least = terms.least_price or NONE
    return max(target, least), least > target


def largest_remainder(total: Fraction, *, weights: Sequence[Fraction], currency: str) -> tuple[Fraction, ...]:
    """An amount split by weights into whole minor units that add up to it exactly (A32, A33).

        each gets the whole minor units of its share; what is left goes one by one to the largest remainders (the earlier)

    By hand: 179.65 in two halves is 89.83 and 89.82.

    >>> [str(part) for part in largest_remainder(Fraction("179.65"), weights=(Fraction(1), Fraction(1)), currency="EUR")]
    ['8983/100', '4491/50']

    Holds for: amounts of 0 or more that are whole minor units; weights that are not all 0.
    Error: each part is less than one minor unit from its exact share.
    Source: common-practice.
    """
    unit = Fraction(1, 10 ** minor_decimals(currency))
    whole = sum(weights, start=NONE)
    exact = [total * weight / whole / unit for weight in weights]
    floors = [-whole_up(-share) for share in exact]
    left = int(total / unit) - sum(floors)
    order = sorted(range(len(exact)), key=lambda i: (floors[i] - exact[i], i))
    extra = set(order[:left])
    return tuple((floor + (i in extra)) * unit for i, floor in enumerate(floors))


def price_of(base: Fraction, primes: Sequence[PrimeCost], job: Job) -> Price:
    """The whole price of a job from its base cost and the prime cost of its rows."""
    terms = job.terms
    target, least_holds = target_price(base, terms)
    lines = _lines(target, primes, terms)
    sum_lines = sum((line.net for line in lines), start=NONE)
    discount = discount_on(sum_lines, terms)
    delivery = to_money(terms.delivery_charge, currency=terms.currency)
    tax = tax_lines(lines, discount=discount, delivery=delivery, terms=terms)
    net = sum_lines - discount + delivery
    tax_total = sum((line.tax for line in tax), start=NONE)
    with_tax = net + tax_total
    gross = with_tax
    if terms.round_total_to:
        gross = to_money(to_multiple(with_tax, step=terms.round_total_to), currency=terms.currency)
    price = Price(
        target=target,
        least_price_holds=least_holds,
        lines=lines,
        sum_lines=sum_lines,
        discount=discount,
        delivery=delivery,
        net=net,
        tax=tax,
        tax_total=tax_total,
        rounding=gross - with_tax,
        gross=gross,
        instalments=instalments_of(gross, terms.payment_schedule, currency=terms.currency),
    )
    return replace(price, shown=price_shown(price, currency=terms.currency))


def _lines(target: Fraction, primes: Sequence[PrimeCost], terms: Terms) -> tuple[Line, ...]:
    """The target spread over the rows by their prime cost; an extra with a price of its own stands at that price (A31).

    unit price  =  target x prime / sum of (qty x prime), to the minor unit;  line  =  qty x unit price
    """
    shared = sum((prime.owner.qty * prime.each for prime in primes if _own_price(prime.owner) is None), start=NONE)
    lines = []
    for prime in primes:
        owner, each = prime.owner, prime.each
        own = _own_price(owner)
        if own is not None:
            each, unit = NONE, own
        else:
            unit = to_money(target * each / shared, currency=terms.currency) if shared else NONE
        rate = terms.tax_rate_share if owner.tax_rate_share is None else owner.tax_rate_share
        net = to_money(owner.qty * unit, currency=terms.currency)
        lines.append(Line(owner.ref, owner.room, prime.words, Fraction(owner.qty), each, unit, net, rate, owner))
    return tuple(lines)


def _own_price(owner: Cabinet | LoosePart | Extra) -> Fraction | None:
    return owner.price_each if isinstance(owner, Extra) else None


def discount_on(sum_lines: Fraction, terms: Terms) -> Fraction:
    """Discount on the sum of lines, never on delivery: a share of it or an amount, rounded once (A32)."""
    match terms.discount:
        case Share(of_one):
            return to_money(sum_lines * of_one, currency=terms.currency)
        case money:
            return to_money(money.amount, currency=terms.currency)


def tax_lines(lines: Sequence[Line], *, discount: Fraction, delivery: Fraction, terms: Terms) -> tuple[TaxLine, ...]:
    """Tax by rate, each rate rounded once; the discount split over the rates of the lines, ascending (A32).

        base  =  lines of the rate - its share of the discount + delivery of the rate;  tax  =  base x rate, to the minor unit

    Holds for: any number of rates; delivery has a rate of its own.
    Error: none; by line it would be up to half a cent a line.
    Source: en-16931 (BR-CO-10 to BR-CO-17, without tolerance).
    """
    by_rate: dict[Fraction, Fraction] = {}
    for line in lines:
        by_rate[line.tax_rate_share] = by_rate.get(line.tax_rate_share, NONE) + line.net
    rates = sorted(by_rate)
    split = dict.fromkeys(rates, NONE)
    if discount and any(by_rate.values()):
        parts = largest_remainder(discount, weights=[by_rate[rate] for rate in rates], currency=terms.currency)
        split = dict(zip(rates, parts, strict=True))
    delivery_rate = terms.tax_rate_share if terms.delivery_tax_rate_share is None else terms.delivery_tax_rate_share
    carried = {delivery_rate: delivery} if delivery else {}
    return tuple(
        _tax_line(rate, by_rate.get(rate, NONE), split.get(rate, NONE), carried.get(rate, NONE), terms.currency)
        for rate in sorted({*by_rate, *carried})
    )


def _tax_line(rate: Fraction, lines: Fraction, discount: Fraction, delivery: Fraction, currency: str) -> TaxLine:
    base = lines - discount + delivery
    return TaxLine(rate, lines, discount, delivery, base, to_money(base * rate, currency=currency))


def instalments_of(gross: Fraction, schedule: Sequence[Instalment], *, currency: str) -> tuple[InstalmentAmount, ...]:
    """The total with tax split by the payment schedule, adding up exactly; ties go to the earlier (A33)."""
    amounts = largest_remainder(gross, weights=[step.share for step in schedule], currency=currency)
    return tuple(InstalmentAmount(step.words, step.share, amount) for step, amount in zip(schedule, amounts, strict=True))


def owners_words(kinds: Mapping[str, str], owner: Cabinet | LoosePart | Extra) -> str:
    """What a line is called: the kind's words for the quote, the loose part's name, the extra's words."""
    match owner:
        case Cabinet():
            return kinds.get(owner.kind.casefold()) or owner.kind
        case LoosePart():
            return owner.part
        case Extra():  # pragma: no branch - the last of the three owners
            return owner.words
