"""The figures in use: every price, rate, minute and percentage that was typed in, one cell each that follows it out.

The user's cell may be blank, may say 15 as a number, as 15 % or as text, and may be in feet. So each figure has one cell here
that takes the typed number in the engine's unit, takes the default where the cell is blank, and keeps the figure that was read
where text stands that a formula cannot read, and says so. All other formulas point at these cells.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.form import What
from estimator.model.problems import Place
from estimator.model.records import Terms
from estimator.papers.priced.other_unit import folded
from estimator.papers.priced.page import FIRST_TABLE_ROW, Page
from estimator.papers.priced.sources import Source, Sources
from estimator.papers.priced.terms import Term, choose, term

HEADS = ("Cell", "Row", "Figure", "As typed", "In use", "When priced", "Unit", "What to know")
_TYPED, _USED, _PRICED, _UNIT, _NOTE, _LOST = 3, 4, 5, 6, 7, 8
_UNITS: dict[What, str] = {
    "length": "mm",
    "roll length": "m",
    "money a metre": "money a metre",
    "money": "money",
    "percent": "share",
}


@dataclass(frozen=True, slots=True)
class Maybe:
    """A figure that may be blank: the cell holds a number or nothing."""

    ref: str
    value: Fraction | None

    @property
    def asks(self) -> str:
        return f"ISNUMBER({self.ref})"

    @property
    def term(self) -> Term:
        return Term(self.ref, self.value or Fraction(0))

    def otherwise(self, default: Term) -> Term:
        """The figure, or what a blank cell takes."""
        return choose(self.asks, self.value is not None, self.term, default)

    @property
    def or_0(self) -> Term:
        return self.otherwise(term(0))


class Figures:
    """The sheet of figures while it is written; figures are found again by their record and header."""

    def __init__(self, page: Page, sources: Sources, *, shop: str) -> None:
        self.page, self.sources = page, sources
        self._items = [sources.items(name) for wanted in ("Job", shop) for name in sources.cells if folded(name) == folded(wanted)]
        self.row = FIRST_TABLE_ROW + 1
        self.first = self.row
        self.direct = self.overhead = self.freed = term(0)
        """An hour in money: at the bench, for the shop, and what one saved is worth."""
        self._taken: dict[tuple[int, str], Maybe] = {}
        page.text(0, 0, "Figures in use", "title", fit=False)
        page.text(
            1,
            0,
            "Each figure follows the cell in which you typed it. Change it there; this sheet only shows what is taken.",
            "note",
            fit=False,
        )
        page.heads(FIRST_TABLE_ROW, HEADS[:_UNIT], left=4)
        page.heads(FIRST_TABLE_ROW, HEADS[_UNIT:], column=_UNIT, left=2)

    def take(
        self,
        record: Any,
        header: str,
        what: What,
        read: Fraction | int | None,
        *,
        name: str,
        default: Fraction | int | None = None,
    ) -> None:
        """One more figure: its row here, ready to be asked for. Blank takes the default, or stays blank."""
        place: Place = record.at.place(header)
        exact = None if read is None else Fraction(read)
        chain = self._chain(record, header)
        self._write(chain, place, what, exact, name=name, header=header, blank="" if default is None else str(float(default)))
        self._taken[id(record), header] = Maybe(self.page.ref(self.row, _USED), exact)
        self.row += 1

    def _chain(self, record: Any, header: str) -> list[Source]:
        """The cells that may say a figure, the one that wins first: an item of the job, then the shop's default for it."""
        source = self.sources.at(record.at.place(header))
        if not isinstance(record, Terms):
            return [source] if source else []
        found = (items[folded(header)] for items in self._items if folded(header) in items)
        return list(found) or ([source] if source else [])

    def _write(
        self, chain: list[Source], place: Place, what: What, read: Fraction | None, *, name: str, header: str, blank: str
    ) -> None:
        page, row = self.page, self.row
        source = next((one for one in chain if one.typed is not None), chain[0] if chain else None)
        page.link(row, 0, source.short if source else place.sheet, self.sources.link(place))
        page.text(row, 1, name)
        page.text(row, 2, header)
        self._typed(row, source)
        shown: float | str = "" if read is None else float(read)
        priced = page.ref(row, _PRICED)
        look = _look(what)
        if read is not None:
            page.sheet.write_number(row, _PRICED, float(read), page.looks[look])
        else:
            page.text(row, _PRICED, "")
        page.text(row, _UNIT, _UNITS.get(what, ""), "unit")
        if source is None:
            page.raw(row, _USED, priced if read is not None else '""', shown, look)
            page.text(row, _NOTE, "not in your sheet: the usual value")
            return
        words = blank or '""'
        for one in reversed(chain):
            words = f'IF(ISNUMBER({one.ref}),{self.sources.follow(what, one, read)},IF({one.ref}="",{words},{priced}))'
        page.raw(row, _USED, words, shown, look)
        self.note(row, source, [one for one in chain if one is not source])

    def _typed(self, row: int, source: Source | None) -> None:
        cell = source.typed if source else None
        if cell is None:
            self.page.text(row, _TYPED, "", "typed")
        elif isinstance(cell.value, float):
            looks = self.page.looks
            self.page.sheet.write_number(row, _TYPED, cell.value, looks["percent" if cell.shows == "percent" else "typed"])
        else:
            self.page.text(row, _TYPED, str(cell.value), "typed")

    def note(self, row: int, source: Source, others: Sequence[Source] = ()) -> None:
        """Whether the figure has changed since, and whether the cell holds text that cannot be followed."""
        page, used, priced = self.page, self.page.ref(row, _USED), self.page.ref(row, _PRICED)
        typed = page.ref(row, _TYPED)
        lost = page.ref(row, _LOST)
        known = isinstance(source.typed.value, str) if source.typed else False
        text = f'IF(ISNUMBER({source.ref}),0,IF({source.ref}="",0,IF(EXACT({source.ref},{typed}),0,1)))'
        for one in (one for one in others if one.typed is None):
            text = f'IF(ISNUMBER({one.ref}),0,IF({one.ref}="",{text},1))'
        page.raw(row, _LOST, text, 0, "fact")
        kept = "text: the figure that was read"
        same = f'IF(ISNUMBER({source.ref}),"","{kept if known else ""}")'
        moved = (
            f'IF(ISNUMBER({used})*ISNUMBER({priced})=1,IF(ABS({used}-{priced})<0.000000001,"","changed since"),"changed since")'
        )
        lost_words = "a formula cannot read this text: run it again"
        words = f'IF({lost}=1,"{lost_words}",IF(EXACT({used},{priced}),{same},{moved}))'
        page.words(row, _NOTE, words, kept if known else "")

    # --- asking -------------------------------------------------------------------------------------------------------

    def maybe(self, record: Any, header: str) -> Maybe:
        return self._taken[id(record), header]

    def __call__(self, record: Any, header: str) -> Term:
        """A figure that always is a number."""
        found = self._taken[id(record), header]
        assert found.value is not None, f"{header} may be blank: ask maybe"
        return found.term

    def inline(self, record: Any, header: str, what: What, read: Fraction | None, *, default: Term) -> Term:
        """A figure of a job's row that needs no cell here: it follows the typed cell, else it is the default."""
        source = self.sources.at(record.at.place(header))
        if source is None:
            return term(read) if read is not None else default
        if source.typed is not None and source.typed.number is None:
            return Term(repr(float(read)), read) if read is not None else default
        value = default.value if read is None else read
        return Term(f"IF(ISNUMBER({source.ref}),{self.sources.follow(what, source, read)},{default.words})", value)

    def group(self, words: str) -> None:
        """A heading over the figures of one sheet."""
        self.page.text(self.row, 0, words, "strong", fit=False)
        self.row += 1

    def own(self, name: str, words: str, one: Term, look: str = "money") -> Term:
        """A figure that is worked out from others, such as the hour."""
        self.page.text(self.row, 1, name)
        self.page.text(self.row, 2, words)
        found = self.page.live(self.row, _USED, one, look)  # type: ignore[arg-type]
        self.page.sheet.write_number(self.row, _PRICED, float(one.value), self.page.looks[look])  # type: ignore[index]
        self.row += 1
        return found

    def freed_hour(self, record: Any, read: Fraction, *, direct: Term, overhead: Term) -> Term:
        """Value of a freed hour: idle, wage, full rate, or an amount."""
        place = record.at.place("Value of a freed hour")
        source = self.sources.at(place)
        page, row = self.page, self.row
        page.link(row, 0, source.short if source else place.sheet, self.sources.link(place))
        page.text(row, 1, "Hour")
        page.text(row, 2, "Value of a freed hour")
        self._typed(row, source)
        page.sheet.write_number(row, _PRICED, float(read), page.looks["money"])
        self.row += 1
        if source is None:
            return page.live(row, _USED, direct)
        told, priced = f"TRIM({source.ref})", page.ref(row, _PRICED)
        words = (
            f'IF(ISNUMBER({source.ref}),{source.ref},IF({told}="",{direct.words},IF({told}="wage",{direct.words},IF({told}="idle",0,'
            f'IF({told}="full rate",{(direct + overhead).words},{priced})))))'
        )
        return page.live(row, _USED, Term(words, read))

    def lost(self) -> str:
        """How many cells hold text that the formulas cannot follow."""
        return f"SUM({self.page.ref(self.first, _LOST)}:{self.page.ref(max(self.row, self.first), _LOST).split('!')[1]})"

    def finish(self) -> None:
        self.page.finish(freeze_row=FIRST_TABLE_ROW + 1, freeze_column=3)
        self.page.sheet.set_column(_LOST, _LOST, None, None, {"hidden": True})
        self.page.sheet.print_area(0, 0, self.page.last_row, _NOTE)


def _look(what: What) -> Any:
    looks = {"money": "money each", "money a metre": "money each", "percent": "percent", "whole": "whole", "rating": "factor"}
    return looks.get(what, "quantity")
