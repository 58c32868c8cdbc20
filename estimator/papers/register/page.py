"""index.html: the rows in, one page out that needs no network: tables, charts, links to the papers, sorted and filtered in the browser.

Everything from outside passes through jinja2's escaping; the page lets no script run but its own, by its hash.
"""

from __future__ import annotations

import os
from base64 import b64encode
from collections.abc import Iterator, Sequence
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING
from urllib.parse import quote

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.units import decimal_text, half_away, minor_decimals, money_text
from estimator.papers.register.charts import charts_of
from estimator.papers.register.figures import long_unit
from estimator.papers.register.money import currencies, months, totals
from estimator.papers.register.rows import RefusedRow, RegisterRow, repeated_quotes

if TYPE_CHECKING:
    from jinja2 import Environment

_HERE = Path(__file__).resolve().parent
_PIECES = 400
"""Bits of the template in one piece of the page: some ten jobs."""
_STATUSES = ("asked", "sent", "won", "lost")
PAPERS = (
    ("quote.pdf", "quote"), ("owner.pdf", "owner"), ("shop.pdf", "shop"), ("change-order.pdf", "change order"),
    ("priced.xlsx", "workbook"), ("priced.xlsm", "workbook"), ("compare.xlsx", "comparison"),
)  # fmt: skip
"""Papers that the page links to, where they are there, in this order."""


@dataclass(frozen=True, slots=True)
class Link:
    """A link of a row: its few words, the same said in full, and where it goes."""

    words: str
    said: str
    target: str


def register_page(rows: Sequence[RegisterRow], refused: Sequence[RefusedRow], *, book: str = "register.xlsx") -> Iterator[bytes]:
    """The page in pieces; the same rows give the same bytes. `book` is the table's file name beside it."""
    style, script = _part("page.css"), _part("page.js")
    page = _environment().get_template("page.html").stream(
        rows=rows,
        refused=refused,
        totals=totals(rows),
        months=sorted({row.month for row in rows}, reverse=True),
        currencies=currencies(rows),
        statuses=[one for one in _STATUSES if any(row.status == one for row in rows)],
        charts=charts_of(rows, months(rows)),
        repeated=repeated_quotes(rows),
        long=long_unit(row.shown_in for row in rows),
        won=sum(row.status == "won" for row in rows),
        book=quote(book, safe=""),
        style=style,
        script=script,
        allowed=f"default-src 'none'; style-src '{_hash(style)}'; script-src '{_hash(script)}'; img-src data:",
    )  # fmt: skip
    page.enable_buffering(_PIECES)
    return (piece.encode("utf-8") for piece in page)


def _part(name: str) -> str:
    return (_HERE / name).read_text(encoding="utf-8").replace("\r\n", "\n")


def _hash(text: str) -> str:
    return f"sha256-{b64encode(sha256(text.encode('utf-8')).digest()).decode('ascii')}"


def _environment() -> Environment:
    from jinja2 import Environment, FileSystemLoader, StrictUndefined
    from markupsafe import Markup

    made = Environment(
        loader=FileSystemLoader(str(_HERE)), autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True
    )
    made.filters |= {
        "money": _money, "percent": _percent, "tenth": _tenth, "whole": lambda value: f"{value:,}", "plain": Markup,
        "minor": _minor, "exact": lambda value: "" if value is None else decimal_text(value, places=6),
        "links": links, "earlier": earlier_links, "shown": shown,
    }  # fmt: skip
    return made


def address(*names: str) -> str:
    """Names of folders and a file as a relative address: every letter that could mean something else is written by its bytes.

    >>> address('50 % "off" #1?', "quote.pdf")
    '50%20%25%20%22off%22%20%231%3F/quote.pdf'
    """
    return "/".join(quote(os.fsencode(name), safe="") for name in names)


def shown(name: str) -> str:
    """A name that can be printed: what is no text in it stands as a question mark."""
    return name.encode("utf-8", "replace").decode("utf-8")


def links(row: RegisterRow) -> list[Link]:
    """The papers of a row that are there."""
    who = row.job_name or shown(row.name)
    return [
        Link(words, f"{words} of {who}", address(row.name, row.revision_folder, file))
        for file, words in PAPERS
        if file in row.papers
    ]


def earlier_links(row: RegisterRow) -> list[Link]:
    """The quotes of earlier revisions."""
    who = row.job_name or shown(row.name)
    return [
        Link(shown(folder), f"quote of {who}, revision {shown(folder)}", address(row.name, folder, "quote.pdf"))
        for folder in row.earlier
    ]


def _money(value: Fraction, currency: str) -> str:
    text = money_text(abs(value), currency=currency)
    whole, point, rest = text.partition(".")
    return f"{'−' if value < 0 and text.strip('0.') else ''}{int(whole):,}{point}{rest}"


def _minor(value: Fraction, currency: str) -> int:
    return half_away(value * 10 ** minor_decimals(currency))


def _percent(share: Fraction | None) -> str:
    return "" if share is None else f"{_tenth(share * 100)} %"


def _tenth(value: Fraction) -> str:
    tenths = half_away(abs(value) * 10)
    return f"{'−' if value < 0 and tenths else ''}{tenths // 10:,}.{tenths % 10}"
