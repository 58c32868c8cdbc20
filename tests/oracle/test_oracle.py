"""The second opinion is itself held against worked cases and published examples before it judges the program."""

from fractions import Fraction

import pytest

from tests.oracle import price
from tests.oracle.answer import answer
from tests.oracle.worked import four_edgings, one_cabinet


def exactly(text):
    return Fraction(text)


@pytest.fixture(scope="module")
def cabinet():
    return answer(one_cabinet())


def test_one_cabinet_boards_and_edges(cabinet):
    """One cabinet on paper, points 1 and 2: arithmetic that anyone can redo."""
    board, edging = cabinet["boards"]["white 18"], cabinet["edgings"]["white thin"]
    assert cabinet["parts"]["area_m2"] == board["area_m2"] == exactly("0.92776")
    assert (cabinet["parts"]["count"], board["sheets"], board["bound"], board["cost"]) == (5, 1, 1, exactly("61.5"))
    assert (edging["edges"], edging["net_m"], edging["strip_m"]) == (5, exactly("3.13"), exactly("3.33"))
    assert edging["cost"] == exactly("0.5994")


def test_one_cabinet_adhesive_and_minutes(cabinet):
    """One cabinet on paper, points 3 and 4."""
    glue, minutes = cabinet["adhesives"]["contact"], cabinet["minutes"]
    assert glue["litres"] == exactly("0.02592")
    assert (glue["packs"], glue["cost"]) == (1, exactly("0.383616"))
    assert (minutes["steps"]["cut"], minutes["steps"]["assemble"]) == (11, 22)
    by_hand = [minutes["steps"][step] for step in ("set-up", "coat", "apply", "trim")]
    assert by_hand == [exactly(m) for m in ("5.5", "2.2", "2.75", "6.886")]
    assert (minutes["by_hand"], minutes["total"]) == (exactly("17.336"), exactly("50.336"))
    assert minutes["steps"]["driving"] == 0


def test_one_cabinet_by_hand_against_sent(cabinet):
    """One cabinet on paper, point 5."""
    by_hand, sent = cabinet["plans"]
    assert (by_hand["relevant_cost"], sent["relevant_cost"]) == (exactly("9.651016"), 50)
    assert (cabinet["best"], cabinet["chosen"]) == ([], [])
    assert (sent["contractor"], sent["trips"], sent["send_out_min"]) == (20, 10, 40)


def test_one_cabinet_price(cabinet):
    """One cabinet on paper, point 6."""
    quote = cabinet["price"]
    assert cabinet["cost"]["fittings"] == exactly("4.5")
    assert cabinet["cost"]["total"] == exactly("112.285416")
    assert quote["target"] == exactly("149.713888")
    assert quote["net"].amount == exactly("149.71")
    assert quote["tax_total"].amount == exactly("29.94")
    assert quote["gross"].amount == exactly("179.65")
    assert [part["amount"].amount for part in quote["instalments"]] == [exactly("89.83"), exactly("89.82")]


def test_one_cabinet_batch(cabinet):
    """One cabinet on paper, point 7."""
    [batch] = cabinet["batches"]
    start, wait, elapsed = (batch[name] for name in ("start_min", "wait_min", "elapsed_min"))
    assert (start, wait, elapsed) == (exactly("30.44"), exactly("28.24"), exactly("33.19"))


ALL_SIXTEEN = {
    "": "413.55",
    "white": "423.80",
    "oak": "518.35",
    "blue": "483.95",
    "birch": "545.95",
    "white oak": "450.60",
    "white blue": "404.10",
    "white birch": "426.50",
    "oak blue": "462.65",
    "oak birch": "487.55",
    "blue birch": "454.35",
    "white oak blue": "430.90",
    "white oak birch": "451.20",
    "white blue birch": "406.80",
    "oak blue birch": "466.75",
    "white oak blue birch": "431.50",
}


def test_the_worked_case_of_shared_trips():
    """A28's worked case: white 165 m, oak 26, blue 34, birch 18; all sixteen plans, checked by a linear program too."""
    found = answer(four_edgings())
    costs = {" ".join(plan["sent"]): plan["relevant_cost"] for plan in found["plans"]}
    assert costs == {sent: exactly(cost) for sent, cost in ALL_SIXTEEN.items()}
    assert list(costs) == list(ALL_SIXTEEN)
    assert found["best"] == ["white", "blue"]
    metres = {name: edging["net_m"] for name, edging in found["edgings"].items()}
    assert metres == {"white": 165, "oak": 26, "blue": 34, "birch": 18}


EN16931 = "European Commission, EN 16931 validation artefacts, UBL examples"


def totals(lines, discount="0", delivery=None):
    nets = [(Fraction(net), Fraction(rate)) for net, rate in lines]
    return price.document(nets, Fraction(discount), delivery, 2)


def test_tax_by_rate_not_by_line():
    """EN 16931, example 8: tax is worked out once for each rate (by line it would be 190.88)."""
    nets = ["140.80", "16.16", "167.64", "88.74", "36.75", "56.50", "83.34", "190.31", "64.21", "64.46"]
    found = totals([(net, "21") for net in nets])
    assert (found["net"], found["tax_total"], found["gross"]) == tuple(map(exactly, ("908.91", "190.87", "1099.78")))
    by_line = sum(price.rounded(exactly(net) * 21 / 100, 2) for net in nets)
    assert by_line == exactly("190.88")


def test_a_half_goes_up():
    """EN 16931, example 2: 1460.50 at 25 %; a charge and an allowance of 100 each cancel out."""
    lines = [("1273.00", "25"), ("187.50", "25"), ("-3.96", "15"), ("4.96", "15"), ("-25.00", "0")]
    found = totals(lines)
    assert found["tax"] == [
        (0, -25, 0),
        (15, 1, exactly("0.15")),
        (25, exactly("1460.50"), exactly("365.13")),
    ]
    assert (found["net"], found["gross"]) == (exactly("1436.50"), exactly("1801.78"))
    assert found["gross"] - 1000 == exactly("801.78")


def test_a_negative_half_goes_away_from_zero():
    """EN 16931, the credit note pair: -625,743.54 at 25 %."""
    assert totals([("-625743.54", "25")])["tax_total"] == exactly("-156435.89")
    assert totals([("625743.54", "25")])["gross"] == exactly("782179.43")
    assert price.rounded(exactly("-0.125"), 2) == exactly("-0.13")


def test_two_rates():
    """EN 16931, example 1: bases 183.23 at 6 % and 46.37 at 21 %."""
    found = totals([("183.23", "6"), ("46.37", "21")])
    assert [tax for _, _, tax in found["tax"]] == [exactly("10.99"), exactly("9.74")]
    assert found["gross"] == exactly("250.33")


def test_deposit():
    """EN 16931, example 5: 1,500 at 25 % and 2,500 at 12 %; half is paid before."""
    found = totals([("1500", "25"), ("2500", "12")])
    assert (found["net"], found["gross"]) == (4000, 4675)
    assert price.largest_remainder(found["gross"], [50, 50], 2) == [exactly("2337.50")] * 2


def test_a_price_of_four_decimals():
    """EN 16931, example with a four-decimal unit price: 100 x (0.1234 - 0.0022) at 25 %."""
    net = price.rounded(100 * (exactly("0.1234") - exactly("0.0022")), 2)
    found = totals([(net, "25")])
    assert (net, found["tax_total"], found["gross"]) == (exactly("12.12"), exactly("3.03"), exactly("15.15"))


def test_delivery_and_discount_by_rate():
    """By hand: 10 off 100 at 10 % and 50 at 20 % is 6.67 and 3.33; delivery 8 at 0 % has its own base."""
    found = totals([("100", "10"), ("50", "20")], "10", (Fraction(8), Fraction(0)))
    assert found["tax"] == [
        (0, 8, 0),
        (10, exactly("93.33"), exactly("9.33")),
        (20, exactly("46.67"), exactly("9.33")),
    ]
    assert found["gross"] == exactly("148") + exactly("18.66")


def test_markup_is_not_margin():
    """80,000 at 20 % markup is 96,000, at 20 % margin 100,000 (contractor finance article, 2026)."""
    fifth = Fraction(1, 5)
    assert price.target(Fraction(80_000), 0, None, fifth, 0)[2] == 96_000
    assert price.target(Fraction(80_000), 0, fifth, None, 0)[2] == 100_000
