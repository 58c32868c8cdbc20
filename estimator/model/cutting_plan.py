"""The nouns of a cutting plan: what is wanted, the sheets to cut it from, and the plan a person can saw from.

All lengths are exact millimetres. x runs along the sheet's length and y along its width, from the raw corner of the sheet.
"""

from __future__ import annotations

from typing import Literal

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction

Lie = Literal["along", "across", "either"]
"""How a part may lie: its length along the sheet's length, across it (turned by 90 degrees), or either."""


@dataclass(frozen=True, slots=True)
class WantedPart:
    """Parts alike to be cut: their cut size, how many, and how they may lie."""

    length_mm: Fraction
    width_mm: Fraction
    count: int
    way: Lie


@dataclass(frozen=True, slots=True)
class StockSheet:
    """Sheets alike to cut from; trim is taken off each side. An offcut on hand is a sheet that cannot be bought."""

    length_mm: Fraction
    width_mm: Fraction
    trim_mm: Fraction
    price: Fraction
    on_hand: int
    buyable: bool


@dataclass(frozen=True, slots=True)
class Placement:
    """One piece on a sheet: the corner nearest to the raw corner, and whether its length lies across the sheet."""

    part: int
    """Index into the wanted parts."""
    x_mm: Fraction
    y_mm: Fraction
    turned: bool


@dataclass(frozen=True, slots=True)
class Cut:
    """One cut, edge to edge of the piece in hand, in the order of the saw. The trimmed sheet is the first piece in hand.

    A rip runs along the sheet's length and a cross cut along its width. `at_mm` is where the kerf begins: y of a rip, x of
    a cross cut, from the raw corner of the sheet like all positions. `length_mm` and `width_mm` are of the piece in hand.
    """

    direction: Literal["rip", "cross"]
    at_mm: Fraction
    x_mm: Fraction
    y_mm: Fraction
    length_mm: Fraction
    width_mm: Fraction


@dataclass(frozen=True, slots=True)
class Offcut:
    """What is left over in one piece; its kerfs are already off."""

    x_mm: Fraction
    y_mm: Fraction
    length_mm: Fraction
    width_mm: Fraction

    @property
    def area_mm2(self) -> Fraction:
        return self.length_mm * self.width_mm


@dataclass(frozen=True, slots=True)
class Pattern:
    """Sheets cut alike."""

    sheet: int
    """Index into the stock."""
    count: int
    placements: tuple[Placement, ...]
    cuts: tuple[Cut, ...]
    offcuts: tuple[Offcut, ...]


@dataclass(frozen=True, slots=True)
class CuttingPlan:
    """Every sheet of one board. Areas are of all sheets together: sheets = parts + kerf + trim + offcuts."""

    patterns: tuple[Pattern, ...]
    sheets: int
    bound: int
    """No plan needs fewer sheets than this."""
    money: Fraction
    """What must be bought; sheets on hand count 0 in choosing."""
    bound_money: Fraction
    """No plan costs less to buy than this."""
    parts_mm2: Fraction
    kerf_mm2: Fraction
    trim_mm2: Fraction
    offcut_mm2: Fraction

    @property
    def gap(self) -> int:
        """Sheets that a better plan might still save; 0 when the plan is proven best."""
        return self.sheets - self.bound


@dataclass(frozen=True, slots=True)
class Unplaceable:
    """There is no plan: parts larger than every sheet, or too few sheets and none to be bought."""

    too_large: tuple[int, ...]
    """Wanted parts that fit on no sheet at all."""
    left_over: tuple[int, ...]
    """Wanted parts that would fit, but the sheets on hand run out."""


@dataclass(frozen=True, slots=True)
class NamedPlacement:
    """A placement with the labels of its piece."""

    ref: str
    part: str
    placement: Placement


@dataclass(frozen=True, slots=True)
class NamedPattern:
    """Sheets cut alike whose pieces have the same labels too."""

    pattern: Pattern
    """The geometry; its own count may be of more sheets than this entry's."""
    count: int
    pieces: tuple[NamedPlacement, ...]


@dataclass(frozen=True, slots=True)
class CutRoll:
    """Rolls of edging cut alike: a remainder on hand or a new roll, and its strips in the order they are cut."""

    length_mm: Fraction
    new: bool
    count: int
    strips_mm: tuple[Fraction, ...]


@dataclass(frozen=True, slots=True)
class RollPlan:
    """Which strips come from which roll, so that no strip is joined."""

    rolls: tuple[CutRoll, ...]
    new_rolls: int
    bound: int
    """No plan opens fewer new rolls than this."""
