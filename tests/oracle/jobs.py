"""A job as plain dicts of sheets as they are typed, and the few questions that every rule asks of it.

job["Job"], job["Shop"], job["Contract"] map an item to its value; every other sheet is a list of rows, each a dict of
header to cell. job["shop book"] lists the sheets that stand in shop.xlsx; none of them: one workbook holds all.
"""

from tests.oracle.cells import blank, length_mm, metres, number, same, share, text

ITEM_SHEETS = ("Job", "Shop", "Contract", "Machine")
LENGTHS_OF_SHOP = (
    "Saw kerf",
    "Sheet trim",
    "joint",
    "gap side",
    "gap mid",
    "gap top",
    "gap bottom",
    "groove",
    "back inset",
    "rail",
    "shelf play",
    "shelf setback",
    "drawer front",
    "slide play",
    "scribe",
    "runner room",
)


class RefusedError(Exception):
    """The workbook asks for what cannot be made, so the program refuses it too."""


def rows(job, sheet):
    """The rows of a sheet; a sheet that is not there has none."""
    return job.get(sheet) or []


def item(job, name):
    """A value of Job, or the shop's default for it in Shop."""
    for sheet in ("Job", "Shop"):
        for key, value in (job.get(sheet) or {}).items():
            if same(key, name) and not blank(value):
                return value
    return None


def contract(job, name):
    """A value of Contract."""
    return next((value for key, value in (job.get("Contract") or {}).items() if same(key, name)), None)


def unit_of(job, sheet):
    """The unit of a bare number in a sheet: that of the book in which it stands."""
    if sheet in (job.get("shop book") or ()):
        return text((job.get("Shop") or {}).get("Units")).lower() or "mm"
    return text(item(job, "Units")).lower() or "mm"


def length(job, sheet, cell, default=0):
    """A length of a sheet in mm, the default where it is blank."""
    return length_mm(cell, unit_of(job, sheet)) if not blank(cell) else default


def item_length(job, name):
    """A length of Shop in mm, 0 where it is blank."""
    return length(job, "Shop", (job.get("Shop") or {}).get(name))


def bench_m(job):
    """Metres of strip that can lie out at once, or None for no limit."""
    cell = item(job, "Bench length")
    return None if blank(cell) else metres(cell, unit_of(job, "Shop"))


def edges_in_a_batch(job):
    """The most edges at once, or None for no limit."""
    cell = item(job, "Edges in a batch")
    return None if blank(cell) else number(cell)


def rates(job):
    """(direct, overhead) money an hour: as typed, or built up from wage, hours and cost (A17)."""
    direct, overhead = item(job, "Direct rate"), item(job, "Overhead rate")
    if blank(direct):
        paid = number(item(job, "Wage")) * number(item(job, "Paid hours")) * (1 + share(item(job, "On-cost")))
        direct = paid / number(item(job, "Productive hours"))
    if blank(overhead):
        hours = number(item(job, "Productive hours")) * number(item(job, "Workers"))
        overhead = number(item(job, "Overhead a year")) / hours
    return number(direct), number(overhead)


def freed_hour(job):
    """What an hour saved at the bench is worth in the decision."""
    direct, overhead = rates(job)
    words = text(item(job, "Value of a freed hour")).lower()
    named = {"": direct, "wage": direct, "idle": 0, "full rate": direct + overhead}
    return named[words] if words in named else number(item(job, "Value of a freed hour"))


def one_of(table, column, name):
    """The first row of a table that bears a name."""
    for row in table:
        if same(row.get(column), name):
            return row
    raise RefusedError(f"{column} {name!r} is not there")
