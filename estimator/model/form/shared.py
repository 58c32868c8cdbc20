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
