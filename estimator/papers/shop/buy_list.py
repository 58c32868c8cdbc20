"""The buy list: an estimate in; what to buy out, by supplier, less what is on hand, in whole sheets, rolls and packs.

    to buy  =  needed, spare included  -  on hand;  never less than nothing;  up to whole rolls or packs where there are some
    mass of a sheet  =  length x width x thickness x density

By hand: a sheet of 2800 x 2070 x 18 mm at 650 kg a cubic metre is 67.8 kg.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.results import bought_together
from estimator.model.shop_records import Board, Edging
from estimator.model.taken import EdgingWidthUse
from estimator.model.units import whole_up
from estimator.papers.page.pieces import heading, paragraph, tick_box, title
from estimator.papers.page.tables import Column, table
from estimator.papers.shop.paper import NONE, ShopPaper

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable

TWO_PEOPLE_ABOVE_KG = 25
_MM3_PER_M3 = 10**9


@dataclass(frozen=True, slots=True)
class BuyRow:
    """One thing to buy, all of it as text but the numbers."""

    what: str
    needed: str
    on_hand: str
    to_buy: str
    remark: str = ""


def sheet_kg(board: Board) -> Fraction | None:
    """Mass of one sheet; None where the shop gave no density.

        mass  =  length x width x thickness (in m3)  x  density

    By hand: 2.8 x 2.07 x 0.018 m3 at 650 kg a m3 is 67.8 kg.
    """
    if board.density_kg_m3 is None:
        return None
    volume = board.sheet_length_mm * board.sheet_width_mm * board.thickness_mm
    return volume / _MM3_PER_M3 * board.density_kg_m3


def to_buy(*, needed: Fraction, on_hand: Fraction) -> Fraction:
    """What is missing; what is left over of the stock is never negative."""
    return max(NONE, needed - on_hand)


def board_rows(paper: ShopPaper) -> tuple[BuyRow, ...]:
    """Sheets by board and size, and the offcuts on hand that the plan takes."""
    rows: list[BuyRow] = []
    say = paper.say
    for use in paper.estimate.boards:
        for size in use.by_size:
            board = size.board
            needed, held = Fraction(size.sheets), Fraction(board.on_hand)
            rows.append(
                BuyRow(
                    f"{board.board}, {paper.language.sizes(board.sheet_length_mm, board.sheet_width_mm)}",
                    say.counted("sheets", size.sheets),
                    say("used of on hand", n=size.sheets, of=board.on_hand) if board.on_hand > size.sheets else str(board.on_hand),
                    say.counted("sheets", int(to_buy(needed=needed, on_hand=held))),
                    _mass_words(paper, board),
                )
            )
        own = len(paper.sizes_of(use.board))
        for at in range(own, len(use.plan_stock)):
            count = sum(entry.count for entry in use.plan_entries if entry.pattern.sheet == at)
            if count:
                piece = paper.language.sizes(use.plan_stock[at].length_mm, use.plan_stock[at].width_mm)
                what = say("board offcut", board=use.board, size=piece)
                rows.append(BuyRow(what, say.counted("offcuts", count), str(count), say("from the rack")))
    return tuple(rows)


def _mass_words(paper: ShopPaper, board: Board) -> str:
    mass = sheet_kg(board)
    if mass is None:
        return paper.say("mass unknown")
    heavy = mass > TWO_PEOPLE_ABOVE_KG
    return paper.say("mass for two" if heavy else "mass of each", mass=paper.mass(mass))


def edging_rows(paper: ShopPaper) -> tuple[BuyRow, ...]:
    """Edging by width; what the contract bander supplies is not bought."""
    contract = paper.estimate.job.contract
    supplied = paper.sent if contract and contract.supplies_edging else frozenset()
    rows: list[BuyRow] = []
    bought = {id(width.edging): width for use in paper.estimate.banding.bought for width in use.widths}
    for use in paper.estimate.edgings:
        for width in use.widths:
            if use.edging in supplied:
                rows.append(_supplied(paper, width))
            if id(width.edging) in bought:
                rows.append(_edging_row(paper, bought[id(width.edging)]))
    return tuple(rows)


def _edging_words(paper: ShopPaper, width: EdgingWidthUse) -> str:
    return paper.say("edging wide", edging=width.edging.edging, width=paper.language.length(width.edging.width_mm))


def _supplied(paper: ShopPaper, width: EdgingWidthUse) -> BuyRow:
    """All of it, or what is left when small parts stay at the bench."""
    small = [one for staying in paper.staying for one in staying.stays.widths if one.edging is width.edging]
    strip_m = width.strip_m - sum((one.strip_m for one in small), start=Fraction(0))
    return BuyRow(_edging_words(paper, width), paper.long(strip_m), "", paper.say("none to buy"), paper.say("supplied"))


def _edging_row(paper: ShopPaper, width: EdgingWidthUse) -> BuyRow:
    row = width.edging
    needed = width.strip_m * (1 + row.spare_share)
    missing = to_buy(needed=needed, on_hand=row.on_hand_m)
    words = paper.long(missing) if missing else paper.say("none to buy")
    if row.roll_length_m is not None and missing:
        rolls = whole_up(missing / row.roll_length_m)
        words = paper.say.counted("rolls of", rolls, length=paper.long(row.roll_length_m, decimals=0))
    return BuyRow(_edging_words(paper, width), paper.long(needed), paper.long(row.on_hand_m), words, rolls_words(paper, row))


def rolls_words(paper: ShopPaper, row: Edging) -> str:
    """What the roll ends give and how many full rolls the strips take; blank where that says no more than the metres do."""
    use = next((one for one in paper.estimate.rolls if one.edging is row), None)
    if use is None or not (use.ends or use.new_rolls > 1):
        return ""
    from_ends = sum(roll.count * len(roll.strips_mm) for roll in use.rolls if not roll.new)
    words = [paper.say.counted("roll ends give", use.strips, given=from_ends)] if use.ends else []
    if row.roll_length_m is not None:
        words.append(paper.say.counted("uncut strips take", use.new_rolls))
    return "; ".join(words)


def adhesive_rows(paper: ShopPaper) -> tuple[BuyRow, ...]:
    rows: list[BuyRow] = []
    say = paper.say
    for use in paper.estimate.banding.adhesives:
        row = use.adhesive
        missing = to_buy(needed=use.litres, on_hand=row.on_hand_litres)
        packs = whole_up(missing / row.pack_litres)
        pack = say.counted("packs of adhesive", packs, volume=paper.volume(row.pack_litres)) if packs else say("none to buy")
        needed, on_hand = (paper.volume(litres, most_decimals=2) for litres in (use.litres, row.on_hand_litres))
        rows.append(BuyRow(row.adhesive, needed, on_hand, pack))
    return tuple(rows)


def fitting_rows(paper: ShopPaper) -> tuple[BuyRow, ...]:
    """Fittings and sundries that the job takes at all; rows of one item together."""
    rows: list[BuyRow] = []
    number = paper.language.number
    for same in bought_together(paper.estimate.fittings):
        row = same[0].fitting
        needed = sum((use.number for use in same), start=NONE)
        on_hand = sum((use.fitting.on_hand for use in same), start=NONE)
        if not needed:
            continue
        missing = to_buy(needed=needed, on_hand=on_hand)
        words = number(missing) if missing else paper.say("none to buy")
        if row.pack and missing:
            words = paper.say.counted("packs of", whole_up(missing / row.pack), many=number(row.pack))
        rows.append(BuyRow(row.item, number(needed), number(on_hand), words))
    return tuple(rows)


_SUPPLIERS: tuple[tuple[str, str, Callable[[ShopPaper], tuple[BuyRow, ...]]], ...] = (
    ("board merchant", "board", board_rows),
    ("edging", "edging", edging_rows),
    ("adhesive", "adhesive", adhesive_rows),
    ("fittings and sundries", "item", fitting_rows),
)


def buy_list_story(paper: ShopPaper) -> list[Flowable]:
    look, say = paper.look, paper.say
    heavy = paper.mass(Fraction(TWO_PEOPLE_ABOVE_KG), decimals=0)
    story = [title(say("buy list"), look), paragraph(say("buy list lead", unit=paper.unit, mass=heavy), look)]
    for supplier, what, rows_of in _SUPPLIERS:
        rows = rows_of(paper)
        if rows:
            story += [*heading(say(supplier), look, level=1), _table(paper, what, rows)]
    return story


def _widths_mm(paper: ShopPaper, what: str, *, remarks: bool) -> tuple[int, int, int, int]:
    """Of needed, on hand, to buy and the remarks: in inch jobs a mass and a volume are said in two units."""
    inch = paper.terms.units == "inch"
    if remarks:
        return 18, 16, 28, 52 if inch else 46
    return (36, 32, 50, 0) if inch and what == "adhesive" else (24, 22, 36, 0)


def _table(paper: ShopPaper, what: str, rows: tuple[BuyRow, ...]) -> Flowable:
    say, remarks = paper.say, any(row.remark for row in rows)
    needed_mm, on_hand_mm, to_buy_mm, remark_mm = _widths_mm(paper, what, remarks=remarks)
    columns = [
        Column(say("tick got"), width_mm=9),
        Column(say(what)),
        Column(say("needed"), width_mm=needed_mm, align="right"),
        Column(say("on hand"), width_mm=on_hand_mm, align="right"),
        Column(say("to buy"), width_mm=to_buy_mm, align="right"),
        *([Column("", width_mm=remark_mm)] if remarks else []),
    ]
    cells: list[list[str | Flowable]] = [
        [tick_box(), row.what, row.needed, row.on_hand, row.to_buy, *([row.remark] if remarks else [])] for row in rows
    ]
    return table(columns, cells, look=paper.look)
