"""Is a rule a plain number that a formula can follow?"""

from __future__ import annotations

import re
from fractions import Fraction

_PLAIN = re.compile(r"\d+(\.\d+)?")


def plain_number(rule: str) -> Fraction | None:
    """The number that a rule is, or None where it is more than a number.

    >>> plain_number(" 2 "), plain_number("2 + (length > 900)")
    (Fraction(2, 1), None)
    """
    typed = rule.strip()
    return Fraction(typed) if _PLAIN.fullmatch(typed) else None
