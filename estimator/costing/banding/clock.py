"""The bench's day: the clock times that a shop typed in, minutes of work a day and working days out."""

import re
from datetime import date, timedelta

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.problems import Problem
from estimator.model.shop_records import Shop
from estimator.model.units import MINUTES_PER_HOUR

_CLOCK = re.compile(r"\s*(\d{1,2})[:.](\d{2})(?::00)?\s*")
_OF_TWELVE = re.compile(r"\s*(\d{1,2})(?:[:.](\d{2})(?::00)?)?\s*([ap])\.?\s?m\.?\s*", re.IGNORECASE)
_SATURDAY = 5
DAY_MIN = 1440
NONE = Fraction(0)


@dataclass(frozen=True, slots=True)
class Day:
    """Minutes from midnight at which the bench starts and stops, and the breaks between, in order."""

    start_min: int
    end_min: int
    breaks: tuple[tuple[int, int], ...]

    @property
    def work_min(self) -> int:
        return self.end_min - self.start_min - sum(end - start for start, end in self.breaks)

    @property
    def stretches(self) -> tuple[tuple[int, int], ...]:
        """The times of work between start, breaks and end."""
        starts = (self.start_min, *(end for _, end in self.breaks))
        ends = (*(start for start, _ in self.breaks), self.end_min)
        return tuple((start, end) for start, end in zip(starts, ends, strict=True) if start < end)

    def slot_min(self, from_min: Fraction, *, lasting_min: Fraction) -> Fraction | None:
        """The earliest start, not before a time, of work that no break interrupts, on that day; None when there is none."""
        for start, end in self.stretches:
            begun = max(from_min, Fraction(start))
            if begun + lasting_min <= end:
                return begun
        return None

    def next_slot_min(self, from_min: Fraction, *, lasting_min: Fraction) -> Fraction | None:
        """The same over the days that follow; None for work longer than every stretch. Times run on from day to day."""
        days = int(from_min // DAY_MIN)
        for day in (days, days + 1):
            begun = self.slot_min(max(from_min - day * DAY_MIN, NONE), lasting_min=lasting_min)
            if begun is not None:
                return begun + day * DAY_MIN
        return None

    def stretch_end_min(self, at_min: Fraction) -> Fraction:
        """When the work that goes on at a time must stop for a break or the night; the time itself outside work."""
        day = at_min // DAY_MIN * DAY_MIN
        return next((Fraction(end) + day for start, end in self.stretches if start <= at_min - day < end), at_min)


def day_of(shop: Shop) -> Day | Problem:
    """The day as the shop typed it; a problem of the first cell that is not one."""
    start, end = minute_of(shop.start_of_day), minute_of(shop.end_of_day)
    if start is None:
        return _problem(shop, "Start of day", shop.start_of_day, "a time such as 7:30")
    if end is None or end <= start:
        return _problem(shop, "End of day", shop.end_of_day, "a time after the start of day, such as 16:30")
    breaks: list[tuple[int, int]] = []
    for words in (one for one in re.split(r"[,;]", shop.breaks) if one.strip()):
        ends = [minute_of(one) for one in re.split(r"[-–]|\bto\b", words)]
        first, last = (ends[0], ends[1]) if len(ends) == 2 else (None, None)
        if first is None or last is None or first >= last or first < (breaks[-1][1] if breaks else start) or last > end:
            return _problem(shop, "Breaks", words.strip(), "times within the day, in order, such as 9:30-9:45, 12:00-12:30")
        breaks.append((first, last))
    day = Day(start, end, tuple(breaks))
    return day if day.work_min > 0 else _problem(shop, "Breaks", shop.breaks, "breaks that leave time to work")


def _problem(shop: Shop, item: str, found: str, expected: str) -> Problem:
    return Problem(shop.at.place(item), f"the text {found}", f"{item}: {expected}", "type hours and minutes with a colon")


def minute_of(words: str) -> int | None:
    """Minutes from midnight of a clock time; None when the words are not one.

    >>> minute_of("7:30"), minute_of("16.05"), minute_of("08:00:00"), minute_of("25:00")
    (450, 965, 480, None)
    >>> minute_of("3:30 PM"), minute_of("7 a.m."), minute_of("12:15 am"), minute_of("13 pm")
    (930, 420, 15, None)
    """
    if half := _OF_TWELVE.fullmatch(words):
        hours, minutes = int(half[1]), int(half[2] or 0)
        after_noon = 12 if half[3] in "pP" else 0
        return (hours % 12 + after_noon) * MINUTES_PER_HOUR + minutes if 1 <= hours <= 12 and minutes < MINUTES_PER_HOUR else None
    match = _CLOCK.fullmatch(words)
    if match is None:
        return None
    hours, minutes = int(match[1]), int(match[2])
    return hours * MINUTES_PER_HOUR + minutes if hours < 24 and minutes < MINUTES_PER_HOUR else None


def clock_text(minute: Fraction | int) -> str:
    """Minutes from midnight as a clock time, to the minute begun.

    >>> clock_text(450), clock_text(Fraction(9655, 10))
    ('7:30', '16:05')
    """
    whole = int(minute)
    return f"{whole // MINUTES_PER_HOUR}:{whole % MINUTES_PER_HOUR:02d}"


def working_day(first: date, *, days: int) -> date:
    """The date so many working days, Monday to Friday, after a date. Public holidays are the shop's to know.

    >>> working_day(date(2031, 2, 3), days=5).isoformat()
    '2031-02-10'
    """
    day = first
    while days > 0:
        day += timedelta(days=1)
        if day.weekday() < _SATURDAY:
            days -= 1
    return day
