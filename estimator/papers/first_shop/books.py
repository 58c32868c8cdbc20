"""The first price book and the first job of a shop: its answers in, the rows of every sheet out, each with where it comes from.

Nobody knows a new shop's prices. The form's sample prices go with the wage: a shop that pays in another money, or far less or
more than the sample's wage, starts from prices of a like size; each says that it is a sample.
"""

from __future__ import annotations

from collections.abc import Mapping

from estimator.model.exact import Fraction
from estimator.model.form import SHEETS, Sheet
from estimator.model.units import decimal_text, minor_decimals, money_text
from estimator.papers.first_shop.answers import Answers
from estimator.papers.form_book import starter_rows

Row = dict[str, str]
Rows = tuple[Row, ...]
_SAMPLES = ("Boards", "Edgings", "Adhesives", "Fittings")
FIRST_WIDTH = {"mm": "600", "inch": "24"}


def shop_sheets(answers: Answers) -> dict[str, Rows]:
    """Every sheet of the price book, in the order of the form; those that the shop may fill in later stand empty."""
    started = starter_rows(answers.units)
    made: dict[str, Rows] = {name: _in_proportion(started[name], answers) for name in _SAMPLES}
    made["Shop"] = _shop(started["Shop"], answers)
    made["Boards"] = tuple(_with_sheet_size(row, answers) for row in made["Boards"])
    made["Edgings"] = tuple(row for row in made["Edgings"] if row["Edging"] in answers.edgings)
    made["Finishes"] = tuple(_with_chosen_edgings(row, answers) for row in started["Finishes"])
    return {sheet.name: made.get(sheet.name, started.get(sheet.name, ())) for sheet in SHEETS if _of_the_shop(sheet)}


def job_sheets(answers: Answers) -> dict[str, Rows]:
    """The first job: one cabinet that is priced at once, to be written over."""
    job = {
        "Job name": ("First job", "sample: write your own over it"),
        "Quote number": ("1", "sample: your own numbering"),
        "Revision": ("1", ""),
        "Quote date": (answers.day.isoformat(), "the day on which this form was made; it is printed on the quote"),
        "Client": ("A. Sample", "sample: write your client over it"),
        "Site address": ("1 Sample Lane", "sample"),
    }
    cabinet = {"Ref": "Kitchen 1", "Room": "Kitchen", "Kind": "base", "Qty": "1", "Width": FIRST_WIDTH[answers.units]}
    cabinet["Note"] = "sample: write over it, and add one row for each further cabinet"
    rows = tuple({"Item": item, "Value": value, "Note": note} for item, (value, note) in job.items())
    return {"Job": rows, "Cabinets": (cabinet,), "Loose parts": (), "Time log": ()}


def _of_the_shop(sheet: Sheet) -> bool:
    return sheet.home == "shop" and sheet.name not in ("Machine", "Merchant", "Offcuts", "Roll ends", "Drying")


def _shop(started: Rows, answers: Answers) -> Rows:
    """The shop's own items with what was answered; then what every job of this shop starts from."""
    given = {
        "Shop name": answers.shop_name,
        "Wage": decimal_text(answers.wage),
        "Workers": decimal_text(answers.workers),
        "Overhead a year": decimal_text(answers.overhead_a_year),
        "Paid hours": decimal_text(answers.paid_hours) if answers.paid_hours else "",
        "Productive hours": decimal_text(answers.bench_hours) if answers.bench_hours else "",
    }
    own = [
        {**row, "Value": given[row["Item"]], "Note": answers.note} if given.get(row["Item"]) else row for row in started
    ]
    for_every_job = {
        "Units": (answers.units, answers.note),
        "Currency": (answers.currency, answers.note),
        "Paper": (answers.paper, answers.note),
        "Tax name": (answers.tax_name, answers.note),
        "Tax rate": (f"{decimal_text(answers.tax_rate_share * 100)} %", answers.note),
        "Margin": ("25 %", "sample: share of the price that is left after cost"),
        "Finish": ("white", "sample: for cabinets whose own Finish is blank"),
    }
    further = [{"Item": item, "Value": value, "Unit": "for every job", "Note": note} for item, (value, note) in for_every_job.items()]
    return (*own, *further)


def sample_wage() -> Fraction:
    """The wage that the form's sample prices were written beside."""
    return next(Fraction(row["Value"]) for row in starter_rows()["Shop"] if row["Item"] == "Wage")


def sample_price(price: str, *, wage: Fraction, currency: str, a_length: bool) -> str:
    """A sample price in proportion to the shop's wage; prices of a length keep two more places.

        price  =  the form's sample price  x  the shop's wage  /  the form's sample wage

    By hand: a sheet of 58.00 beside a wage of 24 is 29.00 beside a wage of 12.

    >>> sample_price("58.00", wage=Fraction(12), currency="EUR", a_length=False)
    '29.00'
    >>> sample_price("58.00", wage=Fraction(1500), currency="JPY", a_length=False)
    '3625'

    Holds for: a start. It is no price of anybody's.
    Error: unknown; each row says sample.
    Source: common-practice.
    """
    amount = Fraction(price) * wage / sample_wage()
    return decimal_text(amount, places=minor_decimals(currency) + 2) if a_length else money_text(amount, currency=currency)


def _in_proportion(rows: Rows, answers: Answers) -> Rows:
    made: list[Row] = []
    for row in rows:
        a_length = "Edging" in row
        price = sample_price(row["Price"], wage=answers.wage, currency=answers.currency, a_length=a_length)
        note = row["Note"] if answers.wage == sample_wage() else f"{row['Note']}; the sample price goes with your wage"
        made.append({**row, "Price": price, "Note": note})
    return tuple(made)


def _with_sheet_size(row: Row, answers: Answers) -> Row:
    """The shop's own sheet for the faced boards; plywood for drawers keeps its sample size."""
    if answers.sheet is None or "plywood" in row["Board"]:
        return row
    length, width = answers.sheet
    return {**row, "Sheet length": length, "Sheet width": width, "Note": f"{row['Note']}; sheet size: {answers.note}"}


def _with_chosen_edgings(row: Row, answers: Answers) -> Row:
    """A finish whose edging the shop does not use takes the one that it named first."""
    swap: Mapping[str, str] = {
        header: answers.edgings[0]
        for header, name in row.items()
        if header.endswith(" edging") and name and name not in answers.edgings
    }
    return {**row, **swap, "Note": f"{row['Note']}; {answers.edgings[0]} in place of an edging that you do not use"} if swap else row
