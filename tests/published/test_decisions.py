"""Make or buy: only costs that differ decide, and a small change flips the answer (OpenStax, Managerial Accounting, short-term decisions).

The book's part is made for 0.87 + 0.45 + 0.36 = 1.68 a piece, 120,000 pieces, and bought for 1.75; at 1.80 buying wins.
"""

from estimator.costing.contractor import Break, whole_quantity_amount
from estimator.costing.routes import best_plan
from estimator.costing.work import money_for
from estimator.model.exact import Fraction
from estimator.model.results import BandingPlan

PIECES = Fraction(120_000)


def plans(*, made_each: str) -> tuple[BandingPlan, BandingPlan]:
    """Made: each piece a minute at 60 times its cost an hour. Bought: 1.75 a piece, as a contractor's one price."""
    made = money_for(PIECES, rate=60 * Fraction(made_each))
    breaks = (Break(Fraction(0), Fraction("1.75")),)
    bought = whole_quantity_amount(metres=PIECES, reached_m=PIECES, breaks=breaks, buy_up=False)
    none = Fraction(0)
    return (
        BandingPlan((), True, "", made, none, none, none, none, none, PIECES, none),
        BandingPlan(("part",), True, "", bought, none, none, bought, none, none, none, none),
    )


def test_make_by_8400() -> None:
    make, buy = plans(made_each="1.68")
    assert best_plan((make, buy)) is make
    assert make.relevant_cost is not None
    assert buy.relevant_cost is not None
    assert (make.relevant_cost, buy.relevant_cost) == (201_600, 210_000)
    assert buy.relevant_cost - make.relevant_cost == 8_400


def test_buy_by_6000_when_making_costs_a_little_more() -> None:
    make, buy = plans(made_each="1.80")
    assert best_plan((make, buy)) is buy
    assert make.relevant_cost is not None
    assert buy.relevant_cost is not None
    assert make.relevant_cost - buy.relevant_cost == 6_000
