"""A new time or a waste in, the sentence for it out: the same in the workbook and on the terminal."""

from estimator.model.exact import Fraction
from estimator.model.times import MaterialUse, StepTime
from estimator.model.units import decimal_text


def percent(share: Fraction, *, places: int = 0) -> str:
    return f"{decimal_text(share * 100, places=places)} %"


def minutes(value: Fraction) -> str:
    """Minutes with as many decimals as a short step needs.

    >>> minutes(Fraction(12345, 1000)), minutes(Fraction(12345, 100000))
    ('12.3', '0.123')
    """
    return decimal_text(value, places=1 if value >= 10 else 2 if value >= 1 else 3)


def time_words(time: StepTime) -> str:
    """How sure a time is, in words."""
    told = f"; never told apart from {' and '.join(time.together)}, so they share one correction" if time.together else ""
    aside = f", {time.wild} left aside" if time.wild else ""
    rows = f"{time.rows} row{'' if time.rows == 1 else 's'}{aside}"
    if time.state == "never timed":
        return "never timed"
    if time.state == "too few":
        return f"{rows}: at least 5 are needed for a new time{told}"
    if time.state == "at odds":
        return f"{rows} that contradict one another too much for a new time{told}"
    if time.shared and time.shared_within_share is not None:
        apart = f"within {percent(time.within_share)} apart from" if time.within_share else "not told apart from"
        both = "both get" if len(time.shared) == 1 else "all get"
        with_others = f"{' and '.join(time.shared)}; together within {percent(time.shared_within_share)}, so {both} one correction"
        return f"{apart} {with_others}, from {rows}{told}"
    if time.within_share is None:
        return rows
    return f"within {percent(time.within_share)}, nine times in ten, from {rows}{told}"


def material_words(use: MaterialUse) -> str:
    """What a shop's own use of a board or an edging suggests."""
    column = "Expected yield" if use.kind == "board" else "Spare"
    jobs = f"{use.jobs} job{'' if use.jobs == 1 else 's'}"
    aside = f"; left aside: {', '.join(use.wild)}" if use.wild else ""
    if use.from_share is None or use.to_share is None:
        return f"{jobs}: at least 5 are needed to suggest a figure for {column}{aside}"
    if use.kind == "edging" and use.share < 0:
        return f"less was taken than the strips are long: count again; no Spare is needed{aside}"
    by_plan = ", now from a cutting plan" if use.kind == "board" else ""
    now = by_plan if use.now_share is None else f", now {percent(use.now_share, places=1)}"
    ends = f"{decimal_text(use.from_share * 100, places=1)} and {percent(use.to_share, places=1)}"
    return f"suggests {column} {percent(use.share, places=1)}{now}; nine times in ten between {ends}, from {jobs}{aside}"
