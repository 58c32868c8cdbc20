"""The sheet names of a user's book in, names that our sheets can take out.

Our sheets are known by a mark: a hidden name that belongs to the sheet and says, as text, what the sheet was called when
we wrote it. A copy of our sheet, or one that the user has renamed, carries a mark that no longer fits its name: it has
become the user's own, and is left alone like any other of theirs.
"""

import re
from collections.abc import Collection, Iterable, Mapping

MARK = "estimator_result_sheet"        # the hidden name that a result sheet of ours carries
COMMENT = "written by the estimator"   # what a name of ours for the whole book carries
LONGEST_SHEET_NAME = 31                # letters; every spreadsheet program that keeps to this format counts so


def free_name(wanted: str, taken: Iterable[str], *, form: str = "{} ({})", longest: int = LONGEST_SHEET_NAME) -> str:
    """The name itself, or with the lowest number from 2 that makes it differ from all taken (capitals do not count).

    >>> free_name("Price", ["Shop"])
    'Price'
    >>> free_name("Price", ["PRICE", "Price (2)"])
    'Price (3)'
    >>> free_name("net_total", ["net_total"], form="{}_{}", longest=255)
    'net_total_2'
    """
    known = {name.casefold() for name in taken}
    name, number = wanted, 1
    while name.casefold() in known:
        number += 1
        room = longest - len(form.format("", number))
        name = form.format(wanted[:room], number)
    return name


def quoted(sheet: str) -> str:
    """A sheet's name as a formula writes it; always in quotes, which every spreadsheet program reads.

    >>> quoted("Joe's shop")
    "'Joe''s shop'"
    """
    return "'" + sheet.replace("'", "''") + "'"


def mark_text(sheet: str) -> str:
    """What the mark of a sheet says: its name as a text.

    >>> mark_text('The "best" way')
    '"The ""best"" way"'
    """
    return '"' + sheet.replace('"', '""') + '"'


def refers_to(formula: str, sheet: str) -> bool:
    """Whether a formula points at cells of a sheet.

    >>> refers_to("Price!$A$1", "price"), refers_to("'Price'!$A$1", "Price"), refers_to("OldPrice!$A$1", "Price")
    (True, True, False)
    """
    return _reference(sheet).search(formula) is not None


def is_ours(name: Mapping[str, str], formula: str, *, replaced: Iterable[str], wanted: Collection[str]) -> bool:
    """Whether a name for the whole book comes from an earlier pricing: it points at a sheet that is now replaced, and says
    that we wrote it (some programs forget that when they save) or is called as a name that we write now.
    """
    ours = name.get("comment") == COMMENT or name.get("name", "").casefold() in {word.casefold() for word in wanted}
    return ours and any(refers_to(formula, sheet) for sheet in replaced)


def cut_off(formula: str, sheet: str) -> str:
    """A formula after a sheet has gone, as spreadsheet programs write it.

    >>> cut_off("Price!$A$1", "Price")
    '#REF!$A$1'
    """
    return _reference(sheet).sub("#REF!", formula)


def _reference(sheet: str) -> re.Pattern[str]:
    return re.compile(rf"(?<![\w.'])(?:{re.escape(sheet)}|{re.escape(quoted(sheet))})!", re.IGNORECASE)
