"""A cell of a date in, the day out."""

from __future__ import annotations

import re
from datetime import date

from estimator.model.form import Column
from estimator.reading.cell_words import day_of_serial, found
from estimator.reading.raw_cells import Cell
from estimator.reading.typed_numbers import Units, Wrong, tidy

FIRST_YEAR, LAST_YEAR = 1990, 2199
_ISO = re.compile(r"(\d{4})-(\d{1,2})-(\d{1,2})(?:[T ].*)?")


def read_date(cell: Cell, _column: Column, _units: Units, starts_1904: bool) -> date | Wrong:
    day: date | None = None
    mend = "type the date as year-month-day, such as 2031-02-03"
    if cell.holds in ("text", "iso date"):
        match = _ISO.fullmatch(tidy(cell.text))
        if match is None:
            if sum(sign.isdigit() for sign in cell.text) >= 3:
                mend += ": other orders are read differently in different countries"
            return Wrong(found(cell, starts_1904), mend)
        try:
            day = date(int(match[1]), int(match[2]), int(match[3]))
        except ValueError:
            return Wrong(found(cell, starts_1904), f"no calendar has this day: {mend}")
    elif cell.holds == "number" and cell.shows == "date":
        day = day_of_serial(cell, starts_1904)
    elif cell.holds == "number" and cell.shows == "":
        day = day_of_serial(cell, starts_1904)
        if day and FIRST_YEAR <= day.year <= LAST_YEAR:
            mend = f"if {day.isoformat()} is meant, format the cell as a date or type {day.isoformat()}"
        return Wrong(found(cell, starts_1904), mend)
    if day is None:
        return Wrong(found(cell, starts_1904), mend)
    if not FIRST_YEAR <= day.year <= LAST_YEAR:
        return Wrong(found(cell, starts_1904), f"type a date from {FIRST_YEAR} to {LAST_YEAR}")
    return day
