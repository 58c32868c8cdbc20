"""What a cell shows, in words: for text columns and for the messages about any column."""

from __future__ import annotations

from datetime import date, timedelta

from estimator.model.units import decimal_text, half_away
from estimator.reading.raw_cells import Cell
from estimator.reading.typed_numbers import Wrong, said, shortened, stored_number

NO_ANSWER = Wrong("a formula whose answer was not saved", "open the workbook in your spreadsheet program, save it there, and run again")
MEND_AN_ERROR = "mend the formula in this cell, or type its answer"


def as_text(cell: Cell, starts_1904: bool = False) -> str:
    """What a cell shows, as text: a number as its decimal text, a percentage with its sign, a date as 2031-02-03."""
    if cell.holds == "yes or no":
        return "true" if cell.text == "1" else "false"
    if cell.holds == "iso date":
        return cell.text[:10]
    if cell.holds != "number":
        return cell.text.strip()
    if cell.shows in ("date", "time"):
        day = day_of_serial(cell, starts_1904)
        return _time_of_day(cell.text) if cell.shows == "time" else day.isoformat() if day else cell.text
    if cell.shows == "" and len(cell.text) <= 12 and cell.text.isdigit() and cell.text[0] != "0":
        return cell.text
    value = stored_number(cell.text)
    if isinstance(value, Wrong):
        return cell.text
    return f"{decimal_text(value * 100)} %" if cell.shows == "percent" else decimal_text(value)


def found(cell: Cell, starts_1904: bool = False) -> str:
    """A cell's content as a message names it."""
    text = shortened(as_text(cell, starts_1904))
    match cell.holds:
        case "text":
            return said(text)
        case "yes or no":
            return f"{text.upper()}, which is a yes or a no"
        case "iso date":
            return f"the date {text}"
        case "no answer":
            return NO_ANSWER.found
        case "error":
            return f"the error {text}"
    return {"percent": "the percentage ", "date": "the date ", "time": "a time of day: "}.get(cell.shows, "the number ") + text


def _time_of_day(text: str) -> str:
    """A fraction of a day as hours and minutes: 0.3125 is 7:30."""
    share = stored_number(text)
    if isinstance(share, Wrong) or share < 0:
        return text
    hours, minutes = divmod(half_away(share * 24 * 60), 60)
    return f"{hours}:{minutes:02}"


def day_of_serial(cell: Cell, starts_1904: bool) -> date | None:
    try:
        days = int(float(cell.text))
        return (date(1904, 1, 1) if starts_1904 else date(1899, 12, 30)) + timedelta(days=days)
    except (ValueError, OverflowError):
        return None
