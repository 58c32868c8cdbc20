"""Columns that stand in more than one sheet."""

from estimator.model.form.column import Column


def sizes(*, doors: str, shelves: str, drawers: str) -> tuple[Column, ...]:
    return (
        Column("Shelves", "shelves", "whole", shelves),
        Column("Doors", "doors", "whole", doors),
        Column("Drawers", "drawers", "whole", drawers),
    )


TAX = Column("Tax rate", "tax_rate_share", "percent", "only where it differs from the job's; 0 % must be written")
NOTE = Column("Note", "note", "text", "for the shop")
PRICED_ON = Column("Priced on", "priced_on", "date", "when this price was asked for")
LOW_PRICE = Column("Low price", "low_price", "money", "when all goes well; for the risk of the price, blank: no doubt")
HIGH_PRICE = Column("High price", "high_price", "money", "when it does not; blank: no doubt")
LOW_PRICE_M = Column("Low price", "low_price_per_m", "money a metre", "when all goes well; for the risk of the price")
HIGH_PRICE_M = Column("High price", "high_price_per_m", "money a metre", "when it does not; blank: no doubt")
ON_HAND = "what is in stock: it shortens the buy list, the job still pays for it"
COUNTS_AS = Column("Counts as", "counts_as", "choice", "a loose door gets its hinges", choices=("door", "drawer", "shelf"))
GRAIN = Column(
    "Grain", "grain", "choice", "which side of the part lies along the sheet's grain", "length",
    choices=("length", "width", "any"),
)  # fmt: skip
MARKS = tuple(
    Column(side.title(), side, "mark", f"x: the {side} edge is banded with the row's Edging; or another edging's name")
    for side in ("front", "back", "left", "right")
)
