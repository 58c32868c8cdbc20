"""Times of day: minutes from midnight before the first day go in; what a clock shows comes out."""

from estimator.model.exact import Fraction
from estimator.model.units import MINUTES_PER_HOUR, half_away

DAY_MIN = 1440


def clock(minute: Fraction, *, day_words: str) -> str:
    """A time of day, to the minute; from the second day on with the day before it.

    >>> clock(Fraction(480), day_words="day {n}"), clock(Fraction(1440 + 555), day_words="day {n}")
    ('8:00', 'day 2, 9:15')
    """
    days, rest = divmod(half_away(minute), DAY_MIN)
    hours, minutes = divmod(rest, MINUTES_PER_HOUR)
    day = f"{day_words.replace('{n}', str(days + 1))}, " if days else ""
    return f"{day}{hours}:{minutes:02d}"
