"""Small jobs built by hand for tests: the least that a record needs, with what a test wants otherwise."""

from dataclasses import replace
from datetime import date
from typing import Any

from estimator.model.exact import Fraction
from estimator.model.problems import Items, Row
from estimator.model.records import Extra, Job, Terms
from estimator.model.shop_records import Instalment, Money, Shop

AT = Row("book.xlsx", "Sheet", 2, {})
ITEMS = Items("book.xlsx", "Job", {})
CELLS = Row(
    "book.xlsx", "Sheet", 2,
    {"Price": "B", "Minutes": "C", "Cost each": "D", "Minutes each": "E", "Number": "F", "Step": "G", "Count": "H", "Length": "I", "Width": "J", "Priced on": "K"},
)  # fmt: skip
"""A row that knows its columns: a place with a wrong header is another place."""


def terms(**other: Any) -> Terms:
    """The Job sheet of a plain job in euro at 20 % tax with a margin of 25 %."""
    plain = Terms(
        job_name="Plain", quote_number="1", revision="1", quote_date=date(2031, 2, 3), prepared_by="", client="",
        client_address="", site_address="",
        client_email="", units="mm", currency="EUR", tax_name="Tax", tax_rate_share=Fraction(20, 100),
        prices_shown="without tax", tax_words="", quote_shows="by room", status="asked", lead_time_words="", not_included="",
        discount=Money(Fraction(0)), delivery_charge=Fraction(0), delivery_tax_rate_share=None, margin_share=Fraction(25, 100),
        markup_share=None, contingency_share=Fraction(0), least_price=None, round_total_to=None, site_trips=0,
        payment_schedule=(Instalment(Fraction(1), "on completion"),), deposit_cap=None, valid_for_days=30,
        working_days_available=None, banding="best", finish="", logo="", language="en", paper="A4", at=ITEMS,
    )  # fmt: skip
    return replace(plain, **other)


def shop(**other: Any) -> Shop:
    """A shop with typed rates and nothing else."""
    plain = Shop(
        direct_rate=Fraction(30), overhead_rate=Fraction(24), wage=None, paid_hours=None, on_cost_share=Fraction(0),
        productive_hours=None, workers=None, overhead_a_year=None, allowance_share=Fraction(0), value_of_a_freed_hour="wage",
        shop_name="", shop_address="", licence_number="", tax_number="", bank="", email="", telephone="", colour="",
        kerf_mm=Fraction(4), trim_mm=Fraction(10), bench_length_m=None, edges_in_a_batch=None, prices_stale_after_days=365,
        lengths_mm={}, units="mm", at=ITEMS,
    )  # fmt: skip
    return replace(plain, **other)


def job(**other: Any) -> Job:
    """A job with nothing in it."""
    plain = Job(
        workbook="book.xlsx", terms=terms(), cabinets=(), loose_parts=(), finishes=(), kinds=(), extras=(), options=(),
        shop=shop(), boards=(), edgings=(), adhesives=(), fittings=(), work=(), contract=None, contract_prices=(),
        machine=None, construction=(),
    )  # fmt: skip
    return replace(plain, **other)


def extra(price: str, *, qty: str = "1", rate: str | None = None, ref: str = "1") -> Extra:
    """A line at a price of its own."""
    share = None if rate is None else Fraction(rate) / 100
    return Extra(ref, "", f"line {ref}", Fraction(qty), None, None, Fraction(price), share, AT)
