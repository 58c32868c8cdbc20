"""What is worth a look about the price and its terms: an Estimate in, remarks with their places out."""

from collections.abc import Iterator

from estimator.model.exact import Fraction
from estimator.model.problems import Remark
from estimator.model.results import Estimate
from estimator.model.shop_records import Money, Share
from estimator.model.units import decimal_text, money_text

MOST_ROUNDED_SHARE = Fraction(1, 20)


def percent(share: Fraction) -> str:
    """A share in words: 0.175 is 17.5 %."""
    return f"{decimal_text(share * 100, places=1)} %"


def deposit_over_cap(estimate: Estimate) -> Iterator[Remark]:
    cap, price = estimate.job.terms.deposit_cap, estimate.price
    if cap is None or not price.instalments:
        return
    most = price.gross * cap.of_one if isinstance(cap, Share) else cap.amount
    first = price.instalments[0]
    if first.amount > most:
        currency = estimate.job.terms.currency
        paid, cap_words = money_text(first.amount, currency=currency), money_text(most, currency=currency)
        if cap_words == paid:  # half a cent: rounded, the two would read the same
            cap_words = decimal_text(most)
        yield Remark(
            estimate.job.terms.at.place("Deposit cap"),
            f"the first payment, {paid}, is above the cap of {cap_words}; "
            "local law decides, and the first share of Payment schedule can be lowered",
        )


def shares_typed_as_money(estimate: Estimate) -> Iterator[Remark]:
    """An amount below one of a currency where a share may stand as well: 0.05 is 5 cents, and 5 % was meant, most likely."""
    terms = estimate.job.terms
    for header, typed in (("Discount", terms.discount), ("Deposit cap", terms.deposit_cap)):
        if isinstance(typed, Money) and 0 < typed.amount < 1:
            amount = decimal_text(typed.amount)
            words = f"{header} is {amount} {terms.currency}, an amount of money: where a share is meant, type {percent(typed.amount)}"
            yield Remark(terms.at.place(header), words)


def least_price_kept(estimate: Estimate) -> Iterator[Remark]:
    terms, price = estimate.job.terms, estimate.price
    place = terms.at.place("Least price")
    if price.least_price_holds:
        yield Remark(place, "the least price holds: cost and margin alone would ask for less")
    before_delivery = price.net - price.delivery
    if not terms.least_price or before_delivery >= terms.least_price:
        return
    if price.discount:
        yield Remark(place, "after the discount the job is priced below the least price: change Discount or Least price")
    else:
        comes_to = f"the job comes to {money_text(before_delivery, currency=terms.currency)}, below the least price"
        yield Remark(place, f"with the price of each line rounded, {comes_to}: make it a little higher")


def rounded_too_far(estimate: Estimate) -> Iterator[Remark]:
    """A step of the rounding so wide that it moves the total by more than a twentieth: a nought too many, most likely."""
    terms, price = estimate.job.terms, estimate.price
    before = price.gross - price.rounding
    if terms.round_total_to and abs(price.rounding) > before * MOST_ROUNDED_SHARE:
        moved, was, now = (money_text(amount, currency=terms.currency) for amount in (abs(price.rounding), before, price.gross))
        words = f"rounding the total to {decimal_text(terms.round_total_to)} moves it by {moved}, from {was} to {now}"
        yield Remark(terms.at.place("Round total to"), f"{words}: look whether a smaller step is meant")


def sold_at_a_loss(estimate: Estimate) -> Iterator[Remark]:
    """A price before tax that does not bring the cost back, what was bought to be sold at its own price included."""
    terms, price = estimate.job.terms, estimate.price
    own = sum((one.qty * (one.cost_each or 0) for one in estimate.job.extras if one.price_each is not None), start=Fraction(0))
    cost = estimate.cost.base + own
    if price.net < cost:
        net, spent, lost = (money_text(amount, currency=terms.currency) for amount in (price.net, cost, cost - price.net))
        place = terms.at.place("Discount" if price.discount else "Margin" if terms.margin_share is not None else "Markup")
        yield Remark(place, f"the job loses {lost}: it brings {net} before tax and costs {spent} with its contingency")


def target_on_no_line(estimate: Estimate) -> Iterator[Remark]:
    """Lines share the target by what each costs on its own: where none costs anything, none can carry it."""
    price = estimate.price
    if price.target and not any(line.prime for line in price.lines):
        target = money_text(price.target, currency=estimate.job.terms.currency)
        words = f"no line of the quote costs anything by itself, so none carries its share of the {target} that the job must bring"
        used = [row for row in estimate.job.boards if row.board in {use.board for use in estimate.boards}]
        if used:
            yield Remark(used[0].at.place("Price"), f"{words}: give boards, fittings or steps their price and minutes")
        elif estimate.job.extras:
            where = estimate.job.extras[0].at.place("Price each")
            yield Remark(where, f"{words}: every line has a price of its own, which does not rise with the work")
        else:
            where = estimate.job.cabinets[0].at.place("Kind")
            yield Remark(where, f"{words}: the kinds of its cabinets have no parts. Look at their Count in Construction")
