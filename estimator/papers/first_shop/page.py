"""The page that says what to do next: the rows of a new price book in, a plain HTML page out.

It counts where the starting numbers come from by the notes that stand beside them, so that page and book cannot differ.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from estimator.model.dataclass import dataclass
from estimator.papers.first_shop.launchers import PRICE, WATCH, Machine
from estimator.papers.form_book.tables import Rows

_STARTER = Path(__file__).parent.parent / "starter"
_ENDING = {"windows": ".cmd", "macos": ".command", "linux": ".desktop"}
_ORIGINS = {
    "your answer": "your answer",
    "sample": "sample",
    "from memory": "from memory",
    "common practice": "common practice",
    "board data": "board data pages",
    "starting value": "starting value",
}
_MEND = {
    ("Shop", "sample"): "put your own year in: hours, on-cost, margin",
    ("Boards", "sample"): "ask your supplier; type the price and the day under Priced on",
    ("Edgings", "sample"): "ask your supplier; type the price and the day under Priced on",
    ("Adhesives", "sample"): "take price, coverage, drying and open time from your product and its data sheet",
    ("Fittings", "sample"): "ask your supplier; type the price and the day under Priced on",
    ("Finishes", "sample"): "write your own finishes, and the words that your client reads",
    ("Work", "from memory"): "time a job, type your minutes and set Timed to yes: nobody in your shop has timed any of them",
    ("Shop", "from memory"): "time your breaks and small delays over a week",
}


@dataclass(frozen=True, slots=True)
class Origin:
    """So many rows of a sheet rest on numbers of one origin."""

    sheet: str
    rows: int
    origin: str
    mend: str


def origins(shop: Mapping[str, Rows]) -> tuple[Origin, ...]:
    """Where the numbers of a new price book come from, sheet by sheet: by what the Note of each row says of it."""
    counted: dict[tuple[str, str], int] = {}
    for sheet, rows in shop.items():
        for row in rows:
            if sheet != "Construction" and (sheet != "Shop" or row.get("Value")):
                origin = origin_of(row.get("Note", ""))
                counted[sheet, origin] = counted.get((sheet, origin), 0) + 1
    return tuple(
        Origin(sheet, rows, origin, _MEND.get((sheet, origin), "")) for (sheet, origin), rows in counted.items()
    )


def origin_of(note: str) -> str:
    """Where a number comes from, by its note.

    >>> origin_of("sample: your board, your price"), origin_of("beside a front (common practice)"), origin_of("")
    ('sample', 'common practice', 'starting value')
    """
    found = {note.find(mark): origin for mark, origin in _ORIGINS.items() if mark in note}
    return found[min(found)] if found else "starting value"


def next_steps(shop: Mapping[str, Rows], *, machine: Machine) -> bytes:
    """The page, as it is opened in a browser."""
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    house = Environment(loader=FileSystemLoader(str(_STARTER)), autoescape=True, undefined=StrictUndefined, trim_blocks=True)
    page = house.get_template("next_steps.html").render(
        origins=origins(shop),
        untimed=sum(row.get("Timed") == "no" for row in shop["Work"]),
        price=f"{PRICE}{_ENDING[machine]}",
        watch=f"{WATCH}{_ENDING[machine]}",
        machine=machine,
    )
    return page.encode("utf-8")
