"""The pieces of a job go in; area, sheets, proven bound and cost of every board come out (A8 to A11)."""

from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from tests.oracle.cells import blank, number, share, text
from tests.oracle.jobs import RefusedError, item_length
from tests.oracle.parts import along_and_across, fits, sheets_of, turns, usable_mm


@dataclass
class BoardAnswer:
    """What one board takes."""

    parts: int
    area_m2: Fraction
    sheets: int
    bound: int
    cost: Fraction
    a_m2: Fraction  # what a square metre of part costs, for the lines (A31)
    by_rule: bool  # False where the sheets come from a cutting plan, which is the program's to find
    sizes: int


def boards_of(job, lines, given=None):
    """Every board that the job uses, by its name. `given` holds the program's sheets of boards without a yield."""
    pieces = {}
    for line in lines:
        for piece in line.pieces:
            pieces.setdefault(piece.board, []).append((piece, piece.count * line.qty))
    return {board: _board(job, board, counted, given or {}) for board, counted in pieces.items()}


def _board(job, board, counted, given):
    sizes = sheets_of(job, board)
    area = sum(piece.cut_area_m2 * n for piece, n in counted)
    total = sum(n for _, n in counted)
    whole = [s for s in sizes if all(fits(job, piece, s) for piece, _ in counted)]
    if not whole:
        raise RefusedError("no single size of sheet takes every part: leave it to the plan")
    if blank(sizes[0].get("Expected yield")):
        bound = min(_bound(job, size, counted) for size in sizes)
        sheets = given.get(board, bound)
        price = number(sizes[0]["Price"])
        return BoardAnswer(total, area, sheets, bound, sheets * price, sheets * price / area, False, len(sizes))
    if text(sizes[0].get("Charge")).lower() == "area":
        size = min(whole, key=lambda s: _a_m2(job, s))
        cost = area * _a_m2(job, size)
        sheets = _by_yield(job, size, counted)
    else:
        size = min(whole, key=lambda s: _to_buy(s, _by_yield(job, s, counted)) * number(s["Price"]))
        sheets = _by_yield(job, size, counted)
        cost = sheets * number(size["Price"])
    a_m2 = _a_m2(job, size) if len(sizes) == 1 else cost / area
    bound = min(_bound(job, one, counted) for one in sizes)
    return BoardAnswer(total, area, sheets, bound, cost, a_m2, True, len(sizes))


def _usable_m2(job, size):
    long, wide = usable_mm(job, size)
    return long * wide / 1_000_000


def _a_m2(job, size):
    return number(size["Price"]) / (_usable_m2(job, size) * share(size["Expected yield"]))


def _to_buy(size, sheets):
    """Sheets on hand count 0 in choosing (A10)."""
    on_hand = 0 if blank(size.get("On hand")) else number(size["On hand"])
    return max(0, sheets - on_hand)


def _by_yield(job, size, counted):
    area = sum(piece.cut_area_m2 * n for piece, n in counted)
    return max(ceil(area / (_usable_m2(job, size) * share(size["Expected yield"]))), _bound(job, size, counted))


def _bound(job, size, counted):
    """A10: the area with a kerf on two sides of each piece, and the pieces no two of which can share a sheet."""
    kerf, (long, wide) = item_length(job, "Saw kerf"), usable_mm(job, size)
    grown = sum((piece.cut_length_mm + kerf) * (piece.cut_width_mm + kerf) * n for piece, n in counted)
    large = 0
    for piece, n in counted:
        along, across = along_and_across(piece)
        if turns(piece, size):
            alone = min(along, across) > Fraction(max(long, wide), 2)
        else:
            alone = along > Fraction(long, 2) and across > Fraction(wide, 2)
        large += n if alone else 0
    return max(ceil(grown / ((long + kerf) * (wide + kerf))), large)
