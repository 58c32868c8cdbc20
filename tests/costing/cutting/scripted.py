"""A row of numbers that is typed: each is asked for out of so many choices, and both are told beforehand."""

from __future__ import annotations


class Scripted:
    """Stands where the fixed row of numbers stands: pairs of the choices that must be asked for and the number that is then given."""

    def __init__(self, *pairs: tuple[int, int]) -> None:
        self.pairs = list(pairs)

    def below(self, choices: int) -> int:
        expected, answer = self.pairs.pop(0)
        assert choices == expected, f"one of {choices} was asked for where one of {expected} should be; then {self.pairs}"
        return answer
