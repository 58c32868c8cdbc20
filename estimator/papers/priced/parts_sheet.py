"""Parts of a job in, the list of parts out: sizes, boards and banded edges, each linked to the row that made it."""

from __future__ import annotations

from estimator.model.shop_records import SIDES
from estimator.model.taken import Part
from estimator.model.units import MM2_PER_M2
from estimator.papers.priced.page import Page
from estimator.papers.priced.sources import Sources

HEADS = (
    "Ref",
    "Room",
    "Part",
    "Board",
    "Front",
    "Back",
    "Left",
    "Right",
    "Pieces",
    "Length mm",
    "Width mm",
    "Cut length mm",
    "Cut width mm",
    "Cut area m2",
)


def write_parts(page: Page, row: int, parts: tuple[Part, ...], sources: Sources) -> None:
    """A row for parts alike; facts of the engine, so plain numbers."""
    page.heads(row, [head.replace(" mm", f" {page.size_unit}") for head in HEADS], left=8)
    first = row = row + 1
    areas, pieces = [], []
    for part in parts:
        page.link(row, 0, part.ref or "-", sources.link(part.owner.at.place("Qty")))
        page.text(row, 1, part.room)
        page.link(row, 2, part.part, sources.link(part.made_by.at.place("Length")))
        page.text(row, 3, part.board)
        bands = {band.side: band.edging.edging for band in part.bands}
        for column, side in enumerate(SIDES, start=4):
            page.text(row, column, bands.get(side, ""))
        pieces.append(page.fact(row, 8, part.count, "whole").value)
        for column, size in enumerate((part.length_mm, part.width_mm, part.cut_length_mm, part.cut_width_mm), start=9):
            page.size(row, column, size)
        areas.append(page.fact(row, 13, part.count * part.cut_length_mm * part.cut_width_mm / MM2_PER_M2).value)
        row += 1
    page.text(row, 0, "Parts together", "total label")
    for column in range(1, 13):
        page.text(row, column, "", "total label")
    page.live(row, 8, page.span(first, 8, pieces).sum(), "total quantity")
    page.live(row, 13, page.span(first, 13, areas).sum(), "total quantity")
    page.sheet.autofilter(first - 1, 0, row - 1, len(HEADS) - 1)
