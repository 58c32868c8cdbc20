"""What others offer, and machines that might be bought: the sheets Contract, Contract prices and Machine."""

from __future__ import annotations

from estimator.model.form import CONTRACT, CONTRACT_PRICES, MACHINE, Sheet
from estimator.model.problems import Place
from estimator.model.shop_records import Contract, Machine
from estimator.reading import agreement
from estimator.reading.books import Sheets
from estimator.reading.item_sheets import ItemSheet, ReadItems, item_key, read_values, tell_misspelt
from estimator.reading.references import Known, refer

_EDGING = next(column for column in CONTRACT_PRICES.columns if column.field == "edging")


def check_contract(sheets: Sheets, known: dict[str, Known]) -> Contract | None:
    """The contract bander's terms; None when the sheet has no value at all, for there is no default price."""
    prices = sheets.rows("Contract prices")
    for row in prices:
        if row.values["edging"] and sheets.need("Edgings", "the edgings that Contract prices name"):
            refer(row, _EDGING, known["Edgings"], sheets)
    breaks = agreement.name_key("edging", "from_m")
    agreement.tell_twice(prices, breaks, "From metres", sheets, what="a price of {edging} from these metres")
    agreement.setups_agree(prices, sheets)
    own = sheets.items.get("Contract")
    values = _values(CONTRACT, own, sheets, meant=_misspelt(CONTRACT, own, sheets)) if own else None
    if values is None:
        return None
    agreement.breaks_can_be_counted(values, sheets)
    return Contract(**values.values, at=values.at) if not values.bad else None


def read_machines(sheets: Sheets) -> tuple[Machine, ...]:
    """The machine of the Value column first, then those of the further columns, by their headers."""
    first = sheets.items.get("Machine")
    if first is None:
        return ()
    machines, meant = [], _misspelt(MACHINE, first, sheets)
    for name, own in (("", first), *sheets.more_machines):
        values = _values(MACHINE, own, sheets, meant=meant)
        if values and not values.bad:
            machines.append(Machine(**values.values, at=values.at, name=name))
    return tuple(machines)


def _misspelt(sheet: Sheet, own: ItemSheet, sheets: Sheets) -> set[str]:
    return tell_misspelt(own, [column.header for column in sheet.columns], sheets.findings)


def _values(sheet: Sheet, own: ItemSheet, sheets: Sheets, *, meant: set[str]) -> ReadItems | None:
    """The values of a sheet; None when it has none at all."""
    known = {item_key(column.header) for column in sheet.columns}
    if not any(item.value for key, item in own.items.items() if key in known):
        return None
    return read_values(sheet.columns, (own,), home=Place(own.book, own.name), findings=sheets.findings, meant=meant)
