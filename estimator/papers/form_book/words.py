"""The words around a cell of the form: its header with the unit, its note, and what a blank cell means."""

from estimator.model.form import Column, expected, unit_words

_UNIT_OF_ENDING = {
    "_min": "minutes",
    "_days": "days",
    "_kg_m3": "kg/m³",
    "_n_mm2": "N/mm²",
    "_m2_per_litre": "m²/l",
    "_litres": "litres",
    "_years": "years",
}
_UNIT_OF_FIELD = {
    "lead_time_days": "working days",
    "working_days_available": "",
    "minutes": "",
    "direct_rate": "money an hour",
    "overhead_rate": "money an hour",
    "wage": "money an hour",
    "paid_hours": "hours a year and worker",
    "productive_hours": "hours a year and worker",
    "overhead_a_year": "money a year",
    "fixed_cost_a_year": "money a year",
    "interest_share": "% a year",
}


def unit_of(column: Column, *, units: str, currency: str) -> str:
    """The unit of a bare number in a column, in words; blank where it has none."""
    unit = _UNIT_OF_FIELD.get(column.field)
    if unit is None:
        unit = unit_words(column.what, units=units) or next(
            (words for ending, words in _UNIT_OF_ENDING.items() if column.field.endswith(ending)), ""
        )
    return unit.replace("money", currency) if currency else unit


def header_of(column: Column, *, units: str, currency: str) -> str:
    """A header as it is drawn: `Width (mm)`. The unit in brackets does not matter to the reader of the workbook."""
    unit = unit_of(column, units=units, currency=currency)
    return f"{column.header} ({unit})" if unit and not column.header.endswith(" each") else column.header


def blank_means(column: Column, *, units: str) -> str:
    """What a blank cell means, in words."""
    if column.needed:
        return "needed"
    if "blank" in column.hint_in(units):
        return ""
    if column.what in ("text", "name", "mark", "date") and not column.default:
        return "may stay blank"
    return f"blank: {column.default}" if column.default else "blank: none"


def note_of(column: Column, *, units: str) -> str:
    """The note that hangs at a header: the hint, what may stand there, what blank means."""
    what_stands = expected(column, units=units).removeprefix(f"{column.header}: ").removeprefix(f"{column.header} ")
    lines = (column.hint_in(units), "" if column.what == "text" else what_stands, blank_means(column, units=units))
    return "\n".join(line for line in lines if line)


def hint_of(column: Column, *, units: str, from_shop: bool = False) -> str:
    """The hint of an item and what blank means, on one line, for the Note column of a name-and-value sheet.

    A job whose shop has a default for the item says so: blank is then never missing.
    """
    blank = "blank: as in the shop's workbook" if from_shop else blank_means(column, units=units)
    return "; ".join(words for words in (column.hint_in(units), blank) if words and words != "may stay blank")
