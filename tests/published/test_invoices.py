"""Totals, tax by rate and rounding against worked invoices that the European Commission publishes with its EN 16931 artefacts.

Figures only, retyped from the UBL example invoices and the positive and negative pair; recomputed by hand. No tolerance.
"""

import pytest

from estimator.costing.pricing import PrimeCost, instalments_of, price_of, tax_lines
from estimator.model.exact import Fraction
from estimator.model.records import Terms
from estimator.model.results import Line, Price
from estimator.model.shop_records import Instalment, Money
from estimator.model.units import money_text, to_money
from tests.building import extra, job, terms


def lines_at(nets: dict[str, list[str]]) -> list[Line]:
    rows = [(rate, net) for rate, theirs in nets.items() for net in theirs]
    return [
        Line(str(i), "", "", Fraction(1), Fraction(0), Fraction(net), Fraction(net), Fraction(rate) / 100, extra(net))
        for i, (rate, net) in enumerate(rows)
    ]


def priced(rows: list[tuple[str, str, str | None]], **other: object) -> Price:
    extras = tuple(extra(price, qty=qty, rate=rate, ref=str(i)) for i, (qty, price, rate) in enumerate(rows))
    return price_of(Fraction(0), [PrimeCost(row, row.words, Fraction(0)) for row in extras], job(terms=terms(**other)))


def shown(amount: Fraction) -> str:
    return money_text(amount, currency="EUR")


EXAMPLE_8 = ["140.80", "16.16", "167.64", "88.74", "36.75", "56.50", "83.34", "190.31", "64.21", "64.46"]


def test_tax_is_reckoned_by_rate_and_not_by_line() -> None:
    """Example 8: 908.91 at 21 % is 190.87; line by line it would be 190.88."""
    price = priced([("1", net, "21") for net in EXAMPLE_8])
    assert (shown(price.net), shown(price.tax_total), shown(price.gross)) == ("908.91", "190.87", "1099.78")
    by_line = sum(to_money(Fraction(net) * Fraction(21, 100), currency="EUR") for net in EXAMPLE_8)
    assert shown(Fraction(by_line)) == "190.88"


def test_a_half_goes_up() -> None:
    """Example 2: 1460.50 at 25 %, 1.00 at 15 % and an exempt -25.00; 1,000 of the total is paid already."""
    tax = tax_lines(
        lines_at({"25": ["1273.00", "187.50"], "15": ["-3.96", "4.96"], "0": ["-25.00"]}),
        discount=Fraction(0), delivery=Fraction(0), terms=terms(),
    )  # fmt: skip
    assert [(shown(line.base), shown(line.tax)) for line in tax] == [("-25.00", "0.00"), ("1.00", "0.15"), ("1460.50", "365.13")]
    gross = sum(line.base + line.tax for line in tax)
    assert shown(Fraction(gross)) == "1801.78"
    assert shown(gross - 1000) == "801.78"


def test_a_negative_half_goes_away_from_zero() -> None:
    """The credit note of the pair: -625,743.54 at 25 %; its invoice: 156,435.89."""
    assert shown(to_money(Fraction("-625743.54") * Fraction(25, 100), currency="EUR")) == "-156435.89"
    assert shown(to_money(Fraction("625743.54") * Fraction(25, 100), currency="EUR")) == "156435.89"


def test_two_rates() -> None:
    """Example 1: 183.23 at 6 % and 46.37 at 21 %."""
    low = ["19.90", "9.85", "8.29", "14.46", "35.00", "35.00", "10.65", "1.55", "14.37", "8.29", "16.58", "9.95", "3.30", "3.90",
           "102.12", "-109.98"]  # fmt: skip
    tax = tax_lines(
        lines_at({"6": low, "21": ["10.80", "7.60", "9.34", "18.63"]}), discount=Fraction(0), delivery=Fraction(0), terms=terms()
    )
    assert [(shown(line.base), shown(line.tax)) for line in tax] == [("183.23", "10.99"), ("46.37", "9.74")]
    assert shown(Fraction(sum(line.base + line.tax for line in tax))) == "250.33"


def test_a_deposit_of_half() -> None:
    """Example 5: 1,500 at 25 % and 2,500 at 12 %: 4,675.00, of which half is paid before."""
    price = priced([("1", "1500", "25"), ("1", "2500", "12")])
    assert [shown(line.tax) for line in price.tax] == ["300.00", "375.00"]
    assert shown(price.gross) == "4675.00"
    halves = (Instalment(Fraction(1, 2), "deposit"), Instalment(Fraction(1, 2), "rest"))
    assert [shown(step.amount) for step in instalments_of(price.gross, halves, currency="EUR")] == ["2337.50", "2337.50"]


def test_a_price_of_four_decimals() -> None:
    """100 x (0.1234 - 0.0022) at 25 %: 12.12, 3.03, 15.15."""
    price = priced([("100", str(Fraction("0.1234") - Fraction("0.0022")), "25")])
    assert (shown(price.net), shown(price.tax_total), shown(price.gross)) == ("12.12", "3.03", "15.15")


@pytest.mark.parametrize("rate", [21])
def test_some_gross_amounts_have_no_net_in_cents(rate: int) -> None:
    """At 21 %, 21 of every 121 gross cents (17.36 %) can be reached by no net in cents: so totals are rounded by a line."""
    reached = {int(to_money(Fraction(net * (100 + rate), 10000), currency="EUR") * 100) for net in range(100_000)}
    missing = [gross for gross in range(12_100) if gross not in reached]
    assert len(missing) / 12_100 == pytest.approx(0.1736, abs=0.0001)


def test_a_discount_splits_over_the_rates_to_the_cent() -> None:
    """Arithmetic: 10.00 over 200.00 at 5 % and 100.00 at 20 % is 6.67 and 3.33."""
    tax = tax_lines(lines_at({"20": ["100.00"], "5": ["200.00"]}), discount=Fraction(10), delivery=Fraction(0), terms=terms())
    assert [shown(line.discount) for line in tax] == ["6.67", "3.33"]


def test_a_round_total_is_reached_by_a_line_of_its_own() -> None:
    """Arithmetic: 179.65 to the nearest 5 is 180.00, by a rounding line of 0.35; the tax stays as it is."""
    price = priced([("1", "149.71", "20")], round_total_to=Fraction(5))
    assert (shown(price.tax_total), shown(price.rounding), shown(price.gross)) == ("29.94", "0.35", "180.00")


def test_a_discount_in_money_is_taken_as_it_is() -> None:
    amount: Terms = terms(discount=Money(Fraction("12.345")))
    price = priced([("1", "100", None)], discount=amount.discount)
    assert shown(price.discount) == "12.35"
