"""Every item and every column changed by itself: told by its own header, as a step with a price or as words that no price rests on."""

from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction
from typing import Any

import pytest

from estimator.costing.bridge_changes import Change, difference_of, fields_of
from estimator.costing.bridge_rows import KEYS
from estimator.model.form import SHEETS
from estimator.model.records import Job
from tests.samples import sample

PRICED = {
    "Job": "Currency, Tax rate, Discount, Delivery charge, Delivery tax rate, Margin, Markup, Contingency, Least price, Round total to, Site trips, Working days available, Banding",
    "Shop": "Direct rate, Overhead rate, Wage, Paid hours, On-cost, Productive hours, Workers, Overhead a year, Allowance, Value of a freed hour, Saw kerf, Sheet trim, Bench length, "
    "Edges in a batch, Workers at the bench, Start of day, End of day, Breaks, Spoilt by hand",
    "Contract": "Contractor, Minimum charge, Charge per part, Trips, Distance per trip, Cost per distance, Lead time, Supplies edging, Added length per edge, Breaks count, "
    "Breaks apply to, Buy up, Smallest length, Smallest width, Spoilt",
    "Machine": "",
}  # fmt: skip
ONLY_SAID = {
    "Job": "Job name, Quote number, Revision, Quote date, Prepared by, Client, Client address, Site address, Client e-mail, Units, Tax name, Prices shown, Tax words, Quote shows, "
    "Status, Lead time words, Not included, Payment schedule, Deposit cap, Valid for, Finish, Logo, Language, Paper, Bench temperature, Bench humidity, Show fractions",
    "Shop": "Shop name, Shop address, Licence number, Tax number, Bank, E-mail, Telephone, Colour, Prices stale after, Units, Learning, Learning percent, Learning floor, "
    "Label columns, Label rows, Label side margin, Label top margin, Least change fee",
    "Contract": "",
    "Machine": "Name, Price, Installation, Resale value, Life, Interest, Fixed cost a year, Cost per metre, Metres a year, Alternative per metre",
}  # fmt: skip
"""Written down from what the sheets mean: names, dates, wishes of the printer; and the machine, which the job does not have."""


def other(value: Any) -> Any:
    """Another value of the same kind."""
    match value:
        case bool():
            return not value
        case int() | Fraction():
            return value + 1
        case date():
            return value + timedelta(1)
        case _:
            return f"{value} other"


def changes_of(job: Job, **changed: Any) -> tuple[Change, ...]:
    return difference_of(job, replace(job, **changed)).changes


@pytest.mark.parametrize(("field", "sheet"), [("terms", "Job"), ("shop", "Shop"), ("contract", "Contract"), ("machine", "Machine")])
def test_every_item_is_a_step_or_only_said(field: str, sheet: str) -> None:
    job = sample("kitchen")
    items: Any = getattr(job, field)
    found: dict[bool, set[str]] = {True: set(), False: set()}
    for name in fields_of(items, besides=("at", "lengths_mm")):
        (change,) = changes_of(job, **{field: replace(items, **{name: other(getattr(items, name))})})
        (cell,) = change.said.cells
        assert change.said.sheet == sheet
        assert change.said.name == cell.header
        found[change.is_only_said].add(cell.header)
    assert found == {False: set(PRICED[sheet].split(", ")) - {""}, True: set(ONLY_SAID[sheet].split(", ")) - {""}}


SHEET_OF_ROWS = {
    "cabinets": "Cabinets", "loose_parts": "Loose parts", "extras": "Extras", "options": "Options", "finishes": "Finishes", "kinds": "Kinds", "construction": "Construction",
    "boards": "Boards", "edgings": "Edgings", "adhesives": "Adhesives", "fittings": "Fittings", "work": "Work", "contract_prices": "Contract prices", "offcuts": "Offcuts",
    "roll_ends": "Roll ends", "drying": "Drying", "merchant": "Merchant", "more_machines": "Machine",
}  # fmt: skip
LATE = {"options", "drying", "merchant", "more_machines"}
"""No price of the job rests on them: what else it might have cost, how long it dries, what is bought elsewhere."""
WORDS = {"Note", "Ref", "Priced on", "Low price", "High price", "Low", "High", "Timed"}


@pytest.mark.parametrize("field", [field for field in KEYS if getattr(sample("kitchen"), field)])
def test_every_column_is_a_step_or_only_said(field: str) -> None:
    job = sample("kitchen")
    rows: Any = getattr(job, field)
    headers = {column.header for sheet in SHEETS if sheet.name == SHEET_OF_ROWS[field] for column in sheet.columns}
    told: set[str] = set()
    for name in fields_of(rows[-1]):
        if name in KEYS[field] or isinstance(getattr(rows[-1], name), dict | frozenset | tuple):
            continue
        (change,) = changes_of(job, **{field: (*rows[:-1], replace(rows[-1], **{name: other(getattr(rows[-1], name))}))})
        (cell,) = change.said.cells
        assert change.said.sheet == SHEET_OF_ROWS[field]
        assert change.is_only_said == (field in LATE or (cell.header in WORDS and field != "construction")), cell.header
        told.add(cell.header)
    assert told
    assert told - {"Units"} <= headers  # a row of rules keeps the unit of its book, in which its numbers are read


@pytest.mark.parametrize("field", [field for field in KEYS if getattr(sample("kitchen"), field)])
def test_a_row_that_went_and_one_that_came_are_told_by_their_sheet(field: str) -> None:
    job = sample("kitchen")
    rows: Any = getattr(job, field)
    (went,) = changes_of(job, **{field: rows[:-1]})
    (came,) = difference_of(replace(job, **{field: rows[:-1]}), job).changes
    assert (went.said.sheet, went.said.kind, went.is_only_said) == (SHEET_OF_ROWS[field], "taken out", field in LATE)
    assert (came.said.sheet, came.said.kind, came.is_only_said) == (SHEET_OF_ROWS[field], "added", field in LATE)
    assert went.said.name == came.said.name


def test_a_whole_sheet_comes_first_among_its_items() -> None:
    job = sample("kitchen")
    (went,) = changes_of(job, contract=None)
    (came,) = difference_of(replace(job, contract=None), job).changes
    assert (went.said.name, went.said.kind, went.rank[2], came.said.kind, came.rank[2]) == ("the whole sheet", "taken out", 0, "added", 0)
