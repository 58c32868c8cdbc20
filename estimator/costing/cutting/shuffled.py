"""A fixed row of numbers that looks shuffled: the same on every machine and in every run, and no lot is drawn."""

from __future__ import annotations

_MULTIPLIER, _STEP, _MASK = 6364136223846793005, 1442695040888963407, (1 << 64) - 1


class ShuffledNumbers:
    """Whole numbers in a fixed order that hits every choice about as often as any other.

    >>> one, same = ShuffledNumbers(7), ShuffledNumbers(7)
    >>> [one.below(6) for _ in range(9)] == [same.below(6) for _ in range(9)]
    True

    Source: the multiplier and step are Knuth's, for a linear congruential sequence of 64 bits (MMIX).
    """

    __slots__ = ("_state",)

    def __init__(self, start: int) -> None:
        self._state = (start * _MULTIPLIER + _STEP) & _MASK

    def below(self, choices: int) -> int:
        """The next number from 0 up to, and not reaching, `choices`; only its upper half is well mixed, so that is used."""
        self._state = (self._state * _MULTIPLIER + _STEP) & _MASK
        return ((self._state >> 32) * choices) >> 32
