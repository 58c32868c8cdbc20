"""Names as people type them: which two are the same, and which one was meant."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

_BRACKETED = re.compile(r"\s*[\(\[][^()\[\]]*[\)\]]\s*$")


def fold(text: str) -> str:
    """A name without what does not matter: capitals, blanks at either end, double blanks.

    >>> fold("  White   Oak "), fold("m²")
    ('white oak', 'm2')
    """
    if not text.isascii():
        import unicodedata

        text = unicodedata.normalize("NFKC", text)
    return " ".join(text.casefold().split())


def fold_header(text: str) -> str:
    """A header or item without a unit in brackets after it.

    >>> fold_header("Width (mm)"), fold_header("Lead time [working days]")
    ('width', 'lead time')
    """
    return fold(_BRACKETED.sub("", text))


def unit_in_brackets(text: str) -> str:
    """What stands in brackets after a header, folded; blank when nothing does."""
    match = _BRACKETED.search(text)
    return fold(match[0].strip().strip("()[]")) if match else ""


def rule_name(text: str) -> str:
    """The name by which rules know a column, an item or a role.

    >>> rule_name("Plinth height (mm)"), rule_name("gap-side")
    ('plinth_height', 'gap_side')
    """
    return re.sub(r"[\s_-]+", "_", fold_header(text))


def close_to(typed: str, known: Iterable[str]) -> str | None:
    """The one known name that was probably meant; None when none is close.

    >>> close_to("Cabinet", ("Job", "Cabinets")), close_to("Glue shelf", ("Boards",))
    ('Cabinets', None)
    """
    wanted = fold(typed)[:80]
    signs = set(wanted)
    best, least = None, 99
    for name in known:
        there = fold(name)[:80]
        most = _may_differ(min(len(wanted), len(there)))
        # One step changes the length by one sign at most, and the set of signs by two.
        if abs(len(there) - len(wanted)) > most or len(signs ^ set(there)) > 2 * most:
            continue
        steps = _steps_between(wanted, there)
        if steps < least and steps <= most:
            best, least = name, steps
    return best


def meant(typed: str, known: Sequence[str]) -> str | None:
    """The known name that was meant where names are referred to: one that is close, or that shares whole words as no other does.

    >>> meant("Base cabinet", ("base", "wall")), meant("white", ("white 1 mm", "oak 1 mm")), meant("white", ("white 18", "white 8"))
    ('base', 'white 1 mm', None)
    """
    near = close_to(typed, known)
    if near is not None:
        return near
    words, names = set(fold(typed).split()), {name: set(fold(name).split()) for name in known}
    most = max((len(there) for there in names.values() if there <= words), default=0)
    within = [name for name, there in names.items() if there <= words and len(there) == most]
    around = [name for name, there in names.items() if words <= there]
    found = within if most else around
    return found[0] if len(found) == 1 else None


def _may_differ(length: int) -> int:
    return 0 if length < 3 else 1 if length < 6 else 2 if length < 11 else 3


def _steps_between(one: str, other: str) -> int:
    """How many signs must be added, taken out, changed or swapped with their neighbour to make one name from the other."""
    before_last: list[int] = []
    last = list(range(len(other) + 1))
    for i, sign in enumerate(one, start=1):
        row = [i]
        for j, there in enumerate(other, start=1):
            cost = min(last[j] + 1, row[j - 1] + 1, last[j - 1] + (sign != there))
            if i > 1 and j > 1 and sign == other[j - 2] and one[i - 2] == there:
                cost = min(cost, before_last[j - 2] + 1)
            row.append(cost)
        before_last, last = last, row
    return last[-1]
