"""The rows of one sheet in two jobs: which row of the one is which of the other, and the order in which all of them stand.

A row is known by its key (a Ref, a board and its size); where rows came or went and the Refs were numbered by the program, a
row that says the same keeps its identity though its number moved.
"""

from collections import defaultdict
from collections.abc import Callable, Hashable, Sequence
from typing import Any

from estimator.model.dataclass import dataclass

KEYS: dict[str, tuple[str, ...]] = {
    "cabinets": ("ref",), "loose_parts": ("ref",), "extras": ("ref",), "options": ("option", "replace_finish"),
    "finishes": ("finish",), "kinds": ("kind",), "construction": ("kind", "part"),
    "boards": ("board", "sheet_length_mm", "sheet_width_mm"), "edgings": ("edging", "width_mm"), "adhesives": ("adhesive",),
    "fittings": ("item", "route", "per", "of"), "work": ("step",), "contract_prices": ("edging", "from_m"),
    "offcuts": ("board", "length_mm", "width_mm"), "roll_ends": ("edging", "width_mm", "length_m"),
    "drying": ("adhesive", "temperature", "humidity"), "merchant": ("merchant", "board"), "more_machines": ("name",),
}  # fmt: skip
"""What a row is known by, by the field of Job that holds its sheet."""


@dataclass(frozen=True, slots=True)
class Slot:
    """One row in the old job, in the new one, or in both."""

    old: Any | None
    new: Any | None


def slots_of(old: Sequence[Any], new: Sequence[Any], *, field: str) -> tuple[Slot, ...]:
    """Every row of both, in the new order; a row that went stands behind the one that it stood behind."""
    partner = _partners(old, new, keys=KEYS[field])
    new_of = {before: after for after, before in partner.items()}
    slots: list[Slot] = [Slot(old[partner[at]] if at in partner else None, row) for at, row in enumerate(new)]
    place = {id(slot.old): slot for slot in slots if slot.old is not None}
    behind: Slot | None = None
    for at, row in enumerate(old):
        if at in new_of:
            behind = place[id(row)]
            continue
        gone = Slot(row, None)
        slots.insert(next(spot for spot, one in enumerate(slots) if one is behind) + 1 if behind else 0, gone)
        behind = gone
    return tuple(slots)


def fields_of(row: Any, *, besides: tuple[str, ...] = ("at",)) -> tuple[str, ...]:
    return tuple(name for name in row.__dataclass_fields__ if name not in besides)


def content(row: Any, *, besides: tuple[str, ...] = ("at",)) -> tuple[Hashable, ...]:
    """What a row says, wherever it stands."""
    return tuple(_frozen(getattr(row, name)) for name in fields_of(row, besides=besides))


def _frozen(value: Any) -> Hashable:
    return tuple(sorted(value.items())) if isinstance(value, dict) else value


def _partners(old: Sequence[Any], new: Sequence[Any], *, keys: tuple[str, ...]) -> dict[int, int]:
    """The old row of each new one that has one, by their places: the surest likeness first."""

    def key(row: Any) -> Hashable:
        return tuple(getattr(row, name) for name in keys)

    found: dict[int, int] = {}
    _pair(old, new, found, lambda row: (key(row), content(row)))
    if keys == ("ref",) and len(old) != len(new):
        _pair(old, new, found, lambda row: content(row, besides=("at", "ref")))
    _pair(old, new, found, key)
    if keys == ("ref",):  # a loose part is numbered after the cabinets of its room: its number moves when one of those comes
        _pair(old, new, found, lambda row: content(row, besides=("at", "ref")))
    _pair(old, new, found, lambda row: getattr(row, keys[0]), only_one=True)
    return found


def _pair(
    old: Sequence[Any], new: Sequence[Any], found: dict[int, int], likeness: Callable[[Any], Hashable], *, only_one: bool = False
) -> None:
    """Pair what is left and alike, in order; `only_one`: where each side has just one such row left."""
    taken = set(found.values())
    left_old: dict[Hashable, list[int]] = defaultdict(list)
    left_new: dict[Hashable, list[int]] = defaultdict(list)
    for at, row in enumerate(old):
        if at not in taken:
            left_old[likeness(row)].append(at)
    for at, row in enumerate(new):
        if at not in found:
            left_new[likeness(row)].append(at)
    for like, places in left_new.items():
        others = left_old.get(like, [])
        if not only_one or len(places) == len(others) == 1:
            found.update(zip(places, others, strict=False))
