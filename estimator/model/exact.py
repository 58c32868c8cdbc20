"""The house's number: an exact fraction, as quickly as the machine can work with it.

`cfractions` is the standard library's `fractions.Fraction` compiled: the same names, signs and answers, eight times as fast.
Where it cannot be had the standard one gives the same figures; `tests/laws/test_exact.py` holds the two against each other.
"""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from fractions import Fraction
else:
    try:
        from cfractions import Fraction
    except ImportError:
        from fractions import Fraction

__all__ = ["Fraction"]
