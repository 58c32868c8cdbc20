"""Two jobs in, every change between them out, each of which can be made on its own; in the fixed order of the bridge.

The order: rows in another order; new rows that others may name; what is made (cabinets, loose parts, extras); finishes; how
it is built; what material and fittings cost; the contract bander; work and rates; the terms of the job; rows that went and
that others may have named; words. So a cabinet of a new finish can be priced when its turn comes.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any

from estimator.costing.bridge_rows import KEYS, Slot, content, fields_of, slots_of
from estimator.costing.bridge_words import cell_words, number_words
from estimator.model.comparison import CellChange, RowChange
from estimator.model.dataclass import dataclass
from estimator.model.form import SHEETS, Column, Sheet
from estimator.model.problems import Items, Place, Row
from estimator.model.records import Job

_SHEET_OF = {
    "cabinets": "Cabinets", "loose_parts": "Loose parts", "extras": "Extras", "options": "Options", "finishes": "Finishes",
    "kinds": "Kinds", "construction": "Construction", "boards": "Boards", "edgings": "Edgings", "adhesives": "Adhesives",
    "fittings": "Fittings", "work": "Work", "contract_prices": "Contract prices", "offcuts": "Offcuts",
    "roll_ends": "Roll ends", "drying": "Drying", "merchant": "Merchant", "more_machines": "Machine",
    "terms": "Job", "shop": "Shop", "contract": "Contract", "machine": "Machine",
}  # fmt: skip
_NAMED_BY_OTHERS = ("adhesives", "edgings", "boards", "finishes", "kinds", "construction")
_MADE = ("cabinets", "loose_parts", "extras")
_PHASES: tuple[tuple[str, ...], ...] = (
    _MADE, ("finishes",), ("kinds", "construction"), ("boards", "edgings", "adhesives", "fittings", "offcuts", "roll_ends"),
    ("contract", "contract_prices"), ("work", "shop"), ("terms",),
)  # fmt: skip
_MOVED, _NEW_NAMES, _FIRST, OLD_NAMES, _ONLY_SAID = 0, 1, 2, 20, 30
_ONLY_COMPARED = ("options", "drying", "merchant", "machine", "more_machines")
_TOGETHER = (("margin_share", "markup_share"),)
_NO_PRICE = frozenset((
    "job_name", "quote_number", "revision", "quote_date", "prepared_by", "client", "client_address", "site_address",
    "client_email", "units", "tax_name", "prices_shown", "tax_words", "quote_shows", "status", "lead_time_words",
    "not_included", "payment_schedule", "deposit_cap", "valid_for_days", "logo", "language", "paper", "show_fractions",
    "bench_temperature", "bench_humidity", "finish", "shop_name", "shop_address", "licence_number", "tax_number", "bank",
    "email", "telephone", "colour", "prices_stale_after_days", "learning", "learning_share", "learning_floor_share",
    "label_columns", "label_rows", "label_side_mm", "label_top_mm", "least_change_fee",
))  # fmt: skip
"""Items that no price of the job rests on; a finish of the job stands in its cabinets."""


_WORDS_OF_A_ROW = ("Note", "Ref", "Priced on", "Low price", "High price", "Low", "High", "Timed")
"""The same of the columns of rows: notes, dates, and what only the doubt about a price rests on."""


@dataclass(frozen=True, slots=True)
class Change:
    """One change, and where it stands in the order. `piece` is the slot of a row, or the field or length of an item."""

    rank: tuple[int, int, int]
    field: str
    piece: int | str
    said: RowChange

    @property
    def is_only_said(self) -> bool:
        return self.rank[0] == _ONLY_SAID


@dataclass(frozen=True, slots=True)
class Difference:
    """Two jobs with their rows laid side by side."""

    old: Job
    new: Job
    slots: Mapping[str, tuple[Slot, ...]]
    changes: tuple[Change, ...]

    def job_with(self, made: Sequence[Change]) -> Job:
        """The old job with some of the changes made."""
        pieces: dict[str, set[int | str]] = {}
        for change in made:
            pieces.setdefault(change.field, set()).add(change.piece)
        fields: dict[str, Any] = {}
        for field, some in pieces.items():
            fields[field] = self._rows(field, some) if field in KEYS else self._items(field, some)
        return replace(self.old, **fields)

    def _rows(self, field: str, some: set[int | str]) -> tuple[Any, ...]:
        slots = list(enumerate(self.slots[field]))
        if _order_moved(self.old, self.slots[field], field) and "order" not in some:
            place = {id(row): at for at, row in enumerate(getattr(self.old, field))}
            slots.sort(key=lambda one: place.get(id(one[1].old), len(place)))
        rows = (slot.new if at in some or slot.old is slot.new else slot.old for at, slot in slots)
        return tuple(row for row in rows if row is not None)

    def _items(self, field: str, some: set[int | str]) -> Any:
        before, after = getattr(self.old, field), getattr(self.new, field)
        if before is None or after is None or "all" in some:
            return after
        names = [name for piece in some if not str(piece).startswith("length ") for name in str(piece).split("+")]
        fields = {name: getattr(after, name) for name in names}
        lengths = [str(piece).removeprefix("length ") for piece in some if str(piece).startswith("length ")]
        if lengths:
            mixed = dict(before.lengths_mm)
            for name in lengths:
                mixed.pop(name, None)
                if name in after.lengths_mm:
                    mixed[name] = after.lengths_mm[name]
            fields["lengths_mm"] = mixed
        return replace(before, **fields)


def difference_of(old: Job, new: Job) -> Difference:
    """Every change between two jobs, in the order in which the bridge makes them."""
    slots = {field: slots_of(getattr(old, field), getattr(new, field), field=field) for field in KEYS}
    changes = [change for field in KEYS for change in _row_changes(old, new, field, slots[field])]
    for field in ("terms", "shop", "contract", "machine"):
        changes += _item_changes(old, new, field)
    return Difference(old, new, slots, tuple(sorted(changes, key=lambda change: change.rank)))


def _rank(field: str, at: int, *, came: bool = False, went: bool = False, said_only: bool = False) -> tuple[int, int, int]:
    order = list(_SHEET_OF).index(field)
    if said_only or field in _ONLY_COMPARED:
        return (_ONLY_SAID, order, at)
    if came and field in _NAMED_BY_OTHERS:
        return (_NEW_NAMES, _NAMED_BY_OTHERS.index(field), at)
    if went and field in _NAMED_BY_OTHERS:
        return (OLD_NAMES, -_NAMED_BY_OTHERS.index(field), at)
    phase = next(number for number, fields in enumerate(_PHASES) if field in fields)
    return (_FIRST + phase, _PHASES[phase].index(field), at)


def _row_changes(old: Job, new: Job, field: str, slots: Sequence[Slot]) -> Iterator[Change]:
    sheet = _sheet(field)
    if _order_moved(old, slots, field):
        first = getattr(new, field)[0].at
        rank = (_ONLY_SAID if field in _ONLY_COMPARED else _MOVED, 0, 0)
        yield Change(rank, field, "order", RowChange(sheet.name, "", "moved", _place(first)))
    for at, slot in enumerate(slots):
        units = _units(old if slot.new is None else new, sheet)
        yield from _row_change(slot.old, slot.new, at, field=field, sheet=sheet, units=units)


def _row_change(before: Any, after: Any, at: int, *, field: str, sheet: Sheet, units: str) -> Iterator[Change]:
    """The change of one row, where there is one."""
    if before is None:
        cells = _cells_of(after, sheet, units, field)
        said = RowChange(sheet.name, row_name(after, field, units), "added", _place(after.at), cells)
        yield Change(_rank(field, at, came=True), field, at, said)
    elif after is None:
        said = RowChange(sheet.name, row_name(before, field, units), "taken out", _place(before.at))
        yield Change(_rank(field, at, went=True), field, at, said)
    elif content(before) != content(after):
        cells = tuple(_cell_changes(before, after, sheet, units))
        only_words = field != "construction" and all(cell.header in _WORDS_OF_A_ROW for cell in cells)
        said = RowChange(sheet.name, row_name(after, field, units), "changed", _place(after.at), cells)
        yield Change(_rank(field, at, said_only=only_words), field, at, said)


def _item_changes(old: Job, new: Job, field: str) -> Iterator[Change]:
    before: Any = getattr(old, field)
    after: Any = getattr(new, field)
    sheet = _sheet(field)
    if before is None or after is None:
        kinds: tuple[tuple[Any, Any], ...] = ((before, "taken out"), (after, "added"))
        for there, kind in kinds:
            if there is not None:
                yield Change(_rank(field, 0), field, "all", RowChange(sheet.name, "the whole sheet", kind, _place(there.at)))
        return
    together = {names[0]: names for names in _TOGETHER}
    later = {name for names in _TOGETHER for name in names[1:]}
    units = _units(new, sheet)
    for at, name in enumerate(fields_of(after, besides=("at", "lengths_mm"))):
        names = () if name in later else together.get(name, (name,))
        cells = tuple(
            _cell(after.at, one, _column(sheet, one), getattr(before, one), getattr(after, one), units)
            for one in names
            if getattr(before, one, None) != getattr(after, one)
        )
        if cells:
            said = RowChange(sheet.name, cells[0].header, "changed", cells[0].place, cells)
            yield Change(_rank(field, at, said_only=name in _NO_PRICE), field, "+".join(names), said)
    if field == "shop":
        yield from _length_changes(old, new, units)


def _length_changes(old: Job, new: Job, units: str) -> Iterator[Change]:
    """Lengths of the box: a new one may be named by a new rule, one that went by an old rule."""
    before, after = old.shop.lengths_mm, new.shop.lengths_mm
    length = Column("", "", "length", "")
    for at, name in enumerate(sorted({*before, *after})):
        was, now = before.get(name), after.get(name)
        if was == now:
            continue
        words = name.replace("_", " ")
        place = (new if now is not None else old).shop.at.place(words)
        cell = CellChange(place, words, cell_words(was, length, units=units), cell_words(now, length, units=units))
        rank = (_NEW_NAMES, -1, at) if was is None else (OLD_NAMES, 1, at) if now is None else (*_rank("construction", 0)[:1], 2, at)
        yield Change(rank, "shop", f"length {name}", RowChange("Shop", words, "changed", place, (cell,)))


def _order_moved(old: Job, slots: Sequence[Slot], field: str) -> bool:
    """Whether the rows that stay stand in another order."""
    place = {id(row): at for at, row in enumerate(getattr(old, field))}
    stay = [place[id(slot.old)] for slot in slots if slot.old is not None and slot.new is not None]
    return stay != sorted(stay)


def row_name(row: Any, field: str, units: str) -> str:
    """What a row is called: its Ref, its board and sheet size, its edging, its step."""
    if field == "boards":
        sizes = (number_words(one, "length", units=units) for one in (row.sheet_length_mm, row.sheet_width_mm))
        return f"{row.board}, {' x '.join(sizes)}"
    names = KEYS[field]
    found = [getattr(row, name) for name in names[: 2 if field in ("options", "construction", "merchant") else 1]]
    return " ".join(str(name) for name in found if name) or f"row {row.at.number}"


def _cells_of(row: Any, sheet: Sheet, units: str, field: str) -> tuple[CellChange, ...]:
    """What a new cabinet, part or extra is, in its few telling cells."""
    telling = {
        "cabinets": ("qty", "kind", "width_mm", "height_mm", "depth_mm"),
        "loose_parts": ("qty", "part", "length_mm", "width_mm"),
        "extras": ("qty", "words"),
    }
    return tuple(_cell(row.at, name, _column(sheet, name), None, getattr(row, name), units) for name in telling.get(field, ()))


def _cell_changes(before: Any, after: Any, sheet: Sheet, units: str) -> Iterator[CellChange]:
    for name in fields_of(after):
        was, now = getattr(before, name), getattr(after, name)
        if was == now or (isinstance(was, (Mapping, frozenset)) and name == "own_lengths"):
            continue
        column = _column(sheet, name)
        if isinstance(was, Mapping):
            ending = {"boards": " board", "edgings": " edging"}.get(name, "")
            for key in sorted({*was, *now}):
                if was.get(key) != now.get(key):
                    header = f"{key.replace('_', ' ')}{ending}"
                    said = (cell_words(one.get(key), column, units=units) for one in (was, now))
                    yield CellChange(after.at.place(header), header, *said)
        else:
            yield _cell(after.at, name, column, was, now, units)


def _cell(at: Row | Items, name: str, column: Column | None, was: Any, now: Any, units: str) -> CellChange:
    header = column.header if column else name.replace("_", " ").capitalize()
    return CellChange(at.place(header), header, cell_words(was, column, units=units), cell_words(now, column, units=units))


def _sheet(field: str) -> Sheet:
    return next(sheet for sheet in SHEETS if sheet.name == _SHEET_OF[field])


def _column(sheet: Sheet, name: str) -> Column | None:
    return next((column for column in sheet.columns if column.field == name), None)


def _units(job: Job, sheet: Sheet) -> str:
    return job.terms.units if sheet.home == "job" else job.shop.units


def _place(at: Row | Items) -> Place:
    if isinstance(at, Row):
        return Place(at.workbook, at.sheet, f"row {at.number}")
    return Place(at.workbook, at.sheet)
