"""Drying and open time on the day: an adhesive's own table and the bench's temperature and humidity in, the two times out.

No curve is drawn through the table. Where the day lies between rows, the longest drying and the shortest open time of the rows
around it hold; outside the table the times of Adhesives hold, and it is said.
"""

from collections.abc import Callable, Sequence

from estimator.model.exact import Fraction
from estimator.model.records import Job
from estimator.model.shop_records import Adhesive, DryingRow

TimesOf = Callable[[Adhesive], tuple[Fraction, Fraction]]
"""An adhesive's drying and open time, in minutes."""


def times_on_the_day(job: Job) -> tuple[TimesOf, tuple[str, ...]]:
    """The times of every adhesive on the day that the shop described, and what is worth saying about them."""
    words: list[str] = []
    found: dict[str, tuple[Fraction, Fraction]] = {}
    temperature = job.terms.bench_temperature
    for glue in job.adhesives:
        rows = [row for row in job.drying if row.adhesive == glue.adhesive]
        if not rows or temperature is None:
            continue
        around = _around(rows, temperature, job.terms.bench_humidity)
        if around:
            found[glue.adhesive] = (max(row.drying_min for row in around), min(row.open_min for row in around))
        else:
            words.append(f"the day lies outside the drying table of {glue.adhesive}: its times in Adhesives are used")

    def times(glue: Adhesive) -> tuple[Fraction, Fraction]:
        return found.get(glue.adhesive, (glue.drying_min, glue.open_min))

    return times, tuple(words)


def _around(rows: Sequence[DryingRow], temperature: Fraction, humidity: Fraction | None) -> list[DryingRow]:
    """The rows at the nearest temperatures on either side, and of those at the nearest humidities; none outside the table."""
    near = _bracket([row.temperature for row in rows], temperature)
    rows = [row for row in rows if row.temperature in near]
    humid = [row for row in rows if row.humidity is not None]
    if humidity is None or not humid:
        return rows
    damp = _bracket([row.humidity for row in humid if row.humidity is not None], humidity)
    return [row for row in humid if row.humidity in damp]


def _bracket(values: Sequence[Fraction], wanted: Fraction) -> tuple[Fraction, ...]:
    below, above = [one for one in values if one <= wanted], [one for one in values if one >= wanted]
    return (max(below), min(above)) if below and above else ()
