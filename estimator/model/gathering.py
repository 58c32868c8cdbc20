"""Remarks alike, said once: the remarks of a job go in; those of one kind on one sheet come out as one that names them all.

`estimate.json` keeps every remark by itself, with its own cell.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import replace

from estimator.model.problems import Place, Remark

_FROM = 3
"""So many alike are gathered; two are told each by itself."""
_NUMBERED = re.compile(r"(?P<room>.*\S) (?P<number>\d+)")
_CELL = re.compile(r"(?P<letter>[A-Z]+)(?P<number>\d+)")


def gathered(remarks: Iterable[Remark]) -> tuple[Remark, ...]:
    """The remarks in their order; where many are alike, one for all of them stands at the place of the first."""
    groups: dict[object, list[Remark]] = {}
    for number, remark in enumerate(remarks):
        alike, place = remark.alike, remark.place
        key = (alike.together, place.workbook, place.sheet) if alike else number
        groups.setdefault(key, []).append(remark)
    return tuple(one for group in groups.values() for one in (group if len(group) < _FROM else [_together(group)]))


def first_cell(place: Place) -> Place:
    """The place to go to first where a place names several cells."""
    cell = _CELL.match(place.cell)
    return replace(place, cell=cell[0]) if cell else place


def listed(names: Iterable[str]) -> str:
    """Names in a row.

    >>> listed(["oak", "white", "walnut"])
    'oak, white and walnut'
    """
    *most, last = names
    return f"{', '.join(most)} and {last}" if most else last


def _short_refs(names: Iterable[str]) -> list[str]:
    """Refs that number the same room one after the other: the room is said once."""
    said: list[str] = []
    before = ""
    for name in names:
        numbered = _NUMBERED.fullmatch(name)
        room = numbered["room"] if numbered else ""
        said.append(numbered["number"] if numbered and room == before else name)
        before = room
    return said


def _together(group: Sequence[Remark]) -> Remark:
    told = [remark.alike for remark in group if remark.alike]
    worst = max(told, key=lambda one: one.weight)
    names = list(dict.fromkeys(one.name for one in told))
    words = worst.together.format(names=listed(names), refs=listed(_short_refs(names)), worst=f"{worst.name}, {worst.own}")
    place = group[0].place
    return Remark(replace(place, cell=_listed_cells([one.place.cell for one in group])), words)


def _listed_cells(cells: Sequence[str]) -> str:
    """Cells in a row; three and more below one another by the first and the last of them: A3, A8 to A11."""
    runs: list[list[str]] = []
    for cell in dict.fromkeys(cells):
        if runs and _below(runs[-1][-1]) == cell:
            runs[-1].append(cell)
        else:
            runs.append([cell])
    return ", ".join(f"{run[0]} to {run[-1]}" if len(run) > 2 else ", ".join(run) for run in runs)


def _below(cell: str) -> str:
    found = _CELL.fullmatch(cell)
    return f"{found['letter']}{int(found['number']) + 1}" if found else ""
