"""What a comparison of two jobs says: which cells differ, and the bridge of steps from the old price to the new one.

A step holds one change (or the few that can only be priced together) and both prices, so that the differences add up by themselves.
"""

from __future__ import annotations

from typing import Literal

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.problems import Place
from estimator.model.records import Cabinet, Extra, Finish, LoosePart
from estimator.model.results import Price


@dataclass(frozen=True, slots=True)
class CellChange:
    """One cell that says something else; texts as a person would type them, blank for an empty cell."""

    place: Place
    header: str
    before: str
    after: str


@dataclass(frozen=True, slots=True)
class RowChange:
    """One row (or one item of a name-and-value sheet) that came, went, or says something else."""

    sheet: str
    name: str
    kind: Literal["added", "taken out", "changed", "moved"]
    place: Place
    cells: tuple[CellChange, ...] = ()

    @property
    def words(self) -> str:
        """The change as one phrase: `Kitchen 3: Drawers 4 instead of 2`."""
        where = self.name if self.sheet in ("Cabinets", "Loose parts", "Extras", "Job", "Shop") else f"{self.sheet}: {self.name}"
        if self.kind == "moved":
            return f"{self.sheet}: rows in another order"
        if self.kind != "changed":
            qty, what, *sizes = [*(cell.after for cell in self.cells), "", ""][: max(len(self.cells), 2)]
            said = " ".join(part for part in (qty, what, " x ".join(sizes)) if part)
            return f"{where} {self.kind}: {said}" if said else f"{where} {self.kind}"
        cells = ", ".join(
            f"{'' if cell.header == self.name else f'{cell.header} '}{cell.after or 'blank'} instead of {cell.before or 'blank'}"
            for cell in self.cells
        )
        return f"{where}: {cells}"


@dataclass(frozen=True, slots=True)
class BridgeStep:
    """From one price to the next."""

    changes: tuple[RowChange, ...]
    before: Price
    after: Price

    @property
    def gross(self) -> Fraction:
        return self.after.gross - self.before.gross

    @property
    def net(self) -> Fraction:
        return self.after.net - self.before.net

    @property
    def words(self) -> str:
        return "; ".join(change.words for change in self.changes)


@dataclass(frozen=True, slots=True)
class Bridge:
    """From the old price to the new one; every change in `steps` or in `listed`."""

    currency: str
    old: Price
    new: Price
    steps: tuple[BridgeStep, ...]
    listed: tuple[RowChange, ...]
    """Changes that no price rests on: words, and what is only compared."""

    @property
    def changes(self) -> tuple[RowChange, ...]:
        return (*(change for step in self.steps for change in step.changes), *self.listed)


Ordered = Cabinet | LoosePart | Extra | Finish


@dataclass(frozen=True, slots=True)
class OrderedChange:
    """One line of a change order: what stood in the job, what stands there now, and what it adds to the price before tax.

    `term` is the item of Job for a change of delivery or site trips, which have no row.
    """

    before: Ordered | None
    after: Ordered | None
    before_words: str
    after_words: str
    """What the quote calls the row: the words of its kind, its part or its extra."""
    net: Fraction
    term: Literal["", "delivery", "site trips"] = ""


@dataclass(frozen=True, slots=True)
class OrderedTax:
    rate_share: Fraction
    base: Fraction
    tax: Fraction


@dataclass(frozen=True, slots=True)
class ChangeOrder:
    """What a change to a job that is won adds to its price; the accepted price stands as it is."""

    currency: str
    accepted: Fraction
    """The accepted total with tax."""
    lines: tuple[tuple[OrderedChange, ...], ...]
    """Lines that share one amount stand together; the first carries it."""
    least_added: Fraction
    """What brings the added work up to the shop's least fee."""
    net: Fraction
    tax: tuple[OrderedTax, ...]
    tax_total: Fraction
    gross: Fraction
    left_out: tuple[BridgeStep, ...]
    """Price moves since then that are no change of the work: they stay with the shop."""

    @property
    def new_total(self) -> Fraction:
        return self.accepted + self.gross
