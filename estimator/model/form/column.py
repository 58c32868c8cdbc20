"""What a column of the form is, and the words for what may stand in it."""

from typing import Literal

from estimator.model.dataclass import dataclass

_LENGTHS = ("157, 253, 317", "6 1/4, 10, 12 1/2")

What = Literal[
    "text", "name", "choice", "yes no", "date", "rule", "mark",
    "number", "whole", "percent", "money", "percent or money",
    "length", "lengths", "roll length", "money a metre", "rating",
    "schedule", "freed hour", "banding", "currency",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Column:
    """One column, or one item of a name-and-value sheet."""

    header: str
    field: str
    what: What
    hint: str
    default: str = ""
    """What a blank cell means, as a person would type it; blank stays blank."""
    needed: bool = False
    above_0: bool = False
    at_most: str = ""
    below: str = ""
    at_least: str = "0"
    choices: tuple[str, ...] = ()
    names_in: str = ""
    """Sheet whose names this column refers to."""
    inch_hint: str = ""
    """The hint in the form of a shop that measures in inches, where it is another one."""

    def hint_in(self, units: str) -> str:
        """The hint in the words of a shop that measures in mm or in inches."""
        return self.inch_hint if units == "inch" and self.inch_hint else self.hint


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet of the form."""

    name: str
    shape: Literal["rows", "items"]
    home: Literal["job", "shop"]
    hint: str
    columns: tuple[Column, ...]
    may_be_absent: bool = False
    own_columns: str = ""
    """What further columns of the user's mean to the program; blank: nothing."""
    everyday: bool = True
    """False: stands behind "leave alone until you need it"."""


def unit_words(what: What, *, units: str) -> str:
    """The unit that a bare number stands in, for headers, notes and messages."""
    inch = units == "inch"
    match what:
        case "length" | "lengths":
            return "inches" if inch else "mm"
        case "roll length":
            return "feet" if inch else "m"
        case "money a metre":
            return "money a foot" if inch else "money a metre"
        case "money":
            return "money"
        case "percent":
            return "%"
        case _:
            return ""


def _range_words(column: Column) -> str:
    if column.above_0 and column.at_most:
        return f"above 0 and at most {column.at_most}"
    if column.above_0:
        return "above 0"
    if column.below:
        return f"from {column.at_least} to below {column.below}"
    return f"{column.at_least} or more"


def expected(column: Column, *, units: str) -> str:
    """What may stand in a cell of this column, in words: `Width in mm: a number above 0`."""
    name, bounds = column.header, _range_words(column)
    match column.what:
        case "text":
            words = f"{name}: a few words"
        case "name":
            words = f"{name}: a name that stands in the sheet {column.names_in}"
        case "choice":
            words = f"{name}: one of {', '.join(column.choices)}"
        case "yes no":
            words = f"{name}: yes or no"
        case "date":
            words = f"{name}: a date, such as 2031-02-03"
        case "rule":
            words = f"{name}: a number or a small rule, such as width - 2 * carcass thickness"
        case "mark":
            words = f"{name}: x for the row's Edging, or the name of another one"
        case "whole":
            words = f"{name}: a whole number, {bounds}"
        case "percent":
            words = f"{name}: a percentage {bounds}, such as 15 %"
        case "percent or money":
            words = f"{name}: an amount of money, or a percentage with its % sign"
        case "length" | "roll length" | "money a metre" | "money":
            words = f"{name} in {unit_words(column.what, units=units)}: a number {bounds}"
        case "lengths":
            words = f"{name} in {unit_words(column.what, units=units)}: numbers above 0 with commas, such as {_LENGTHS[units == 'inch']}"
        case "number" | "rating":
            words = f"{name}: a number {bounds}"
        case "schedule":
            words = f"{name}: shares with their words that add up to 100 %, such as 50 % deposit, 50 % on completion"
        case "freed hour":
            words = f"{name}: idle, wage, full rate or an amount of money"
        case "banding":
            words = f"{name}: best, by hand, send out, or edgings of the sheet Edgings with commas"
        case "currency":
            words = f"{name}: the three letters of a currency, such as EUR"
    return words
