"""Times of day: minutes from midnight before the first day go in; what a clock shows comes out."""

from estimator.model.exact import Fraction
from estimator.model.units import MINUTES_PER_HOUR, half_away

DAY_MIN = 1440


_NOON_HOURS = 12
_SPACE = "\N{NO-BREAK SPACE}"


def clock(minute: Fraction, *, day_words: str, of_twelve: bool = False) -> str:
    """A time of day, to the minute; from the second day on with the day before it; of twelve hours with am or pm behind it.

    >>> clock(Fraction(480), day_words="day {n}"), clock(Fraction(1440 + 555), day_words="day {n}")
    ('8:00', 'day 2, 9:15')
    >>> clock(Fraction(816), day_words="day {n}", of_twelve=True).replace("\N{NO-BREAK SPACE}", " ")
    '1:36 pm'
    """
    days, rest = divmod(half_away(minute), DAY_MIN)
    hours, minutes = divmod(rest, MINUTES_PER_HOUR)
    day = f"{day_words.replace('{n}', str(days + 1))}, " if days else ""
    if not of_twelve:
        return f"{day}{hours}:{minutes:02d}"
    half = "am" if hours < _NOON_HOURS else "pm"
    return f"{day}{hours % _NOON_HOURS or _NOON_HOURS}:{minutes:02d}{_SPACE}{half}"
