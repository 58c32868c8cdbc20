"""Which columns may be changed without a fresh run: those that the formulas follow, and those that move no number."""

from __future__ import annotations

_TALK = "Priced on, Low price, High price, Note"
_JOB = (
    "Job name, Quote number, Revision, Quote date, Prepared by, Client, Client address, Site address, Client "
    "e-mail, Tax name, Tax rate, Prices shown, Tax words, Quote shows, Status, Lead time words, Not included, "
    "Discount, Delivery charge, Delivery tax rate, Margin, Markup, Contingency, Least price, Round total to, "
    "Deposit cap, Valid for, Working days available, Bench temperature, Bench humidity, Logo, Language, Paper, Show fractions"
)
_SHOP = (
    "Shop name, Shop address, Licence number, Tax number, Bank, E-mail, Telephone, Colour, Direct rate, Overhead "
    "rate, Wage, Paid hours, On-cost, Productive hours, Workers, Overhead a year, Allowance, Value of a freed hour, "
    "Workers at the bench, Start of day, End of day, Breaks, Label columns, Label rows, Label side margin, Label top margin, "
    "Prices stale after"
)
_CONTRACT = (
    "Contractor, Minimum charge, Charge per part, Trips, Distance per trip, Cost per distance, Lead time, Added length per edge"
)
_WORDS: dict[str, str] = {
    "Job": _JOB,
    "Shop": f"{_SHOP}, {_JOB}",
    "Contract": _CONTRACT,
    "Cabinets": "Ref, Room, Tax rate, Note",
    "Loose parts": "Ref, Room, Part, Tax rate, Note",
    "Finishes": "Words for the quote, Note",
    "Kinds": "Words for the quote, Stands, Note",
    "Options": "Words for the quote, Note",
    "Extras": "Ref, Room, Words for the quote, Qty, Cost each, Minutes each, Price each, Tax rate, Note",
    "Boards": f"Price, Density, E modulus, {_TALK}",
    "Edgings": f"Price, Spare, On hand, {_TALK}",
    "Adhesives": f"Coverage, Spare, Pack, Price, On hand, {_TALK}",
    "Fittings": f"Price, Pack, On hand, {_TALK}",
    "Work": "Step, Stage, Minutes, Rating, Allowance, Low, High, Timed, Note",
    "Construction": "Note",
    "Offcuts": "Note",
    "Contract prices": f"From metres, Price, Set-up, {_TALK}",
}


def free_columns(sheet: str) -> frozenset[str]:
    """The free columns or items of a sheet of the form.

    >>> "Price" in free_columns("Boards"), "Thickness" in free_columns("Boards")
    (True, False)
    """
    return frozenset(_WORDS.get(sheet, "").split(", "))
