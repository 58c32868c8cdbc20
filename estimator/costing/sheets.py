"""Parts to sheets: the parts of each board in, how many sheets of which size they take and what those cost out."""

from collections.abc import Sequence
from functools import lru_cache
from typing import Literal

from estimator.costing.cut_part import cut_area_mm2
from estimator.costing.cutting import area_bound, big_part_bound, name_patterns, plan_board, sheets_by_yield
from estimator.model.cutting_plan import CuttingPlan, NamedPattern, StockSheet, Unplaceable, WantedPart
from estimator.model.exact import Fraction
from estimator.model.problems import Problem
from estimator.model.records import Job
from estimator.model.shop_records import Board
from estimator.model.taken import BoardUse, Part, SheetsOfSize
from estimator.model.units import MM2_PER_M2, length_words


def boards_of_job(job: Job, parts: Sequence[Part]) -> tuple[BoardUse, ...] | tuple[Problem, ...]:
    """What the job takes of every board it uses, in the order of the Boards sheet; or the parts that fit no sheet."""
    used = _used_boards(job, parts)
    problems = parts_too_large(job, parts)
    if problems:
        return problems
    return tuple(
        _by_yield(sizes, theirs, kerf_mm=job.shop.kerf_mm)
        if sizes[0].expected_yield_share is not None
        else _by_plan(sizes, theirs, job)
        for sizes, theirs in used
    )


def parts_too_large(job: Job, parts: Sequence[Part]) -> tuple[Problem, ...]:
    """A problem for each part that fits no sheet of its board."""
    return tuple(problem for sizes, theirs in _used_boards(job, parts) for problem in too_large(sizes, theirs, units=job.terms.units))


def _used_boards(job: Job, parts: Sequence[Part]) -> list[tuple[tuple[Board, ...], tuple[Part, ...]]]:
    """The sizes of each board that is used, and its parts."""
    rows: dict[str, list[Board]] = {}
    for board in job.boards:
        rows.setdefault(board.board, []).append(board)
    by_board: dict[str, list[Part]] = {}
    for part in parts:
        by_board.setdefault(part.board, []).append(part)
    return [(tuple(rows[name]), tuple(by_board[name])) for name in rows if name in by_board]


def way_on_sheet(part: Part, *, grain: bool) -> Literal["along", "across", "either"]:
    """How a part may lie on its sheet: on a board with grain as the part's own Grain says, else either way (A9)."""
    if not grain or part.grain == "any":
        return "either"
    return "along" if part.grain == "length" else "across"


def usable_mm(board: Board) -> tuple[Fraction, Fraction]:
    """Length and width of the trimmed sheet in mm (A8): each less the trim at both sides."""
    return board.sheet_length_mm - 2 * board.trim_mm, board.sheet_width_mm - 2 * board.trim_mm


def usable_m2(board: Board) -> Fraction:
    """Area of the trimmed sheet in m2.

        usable  =  (sheet length - 2 trim) x (sheet width - 2 trim)

    By hand: 2800 x 2070 with 10 mm trim is 2.78 x 2.05 = 5.699 m2.

    Holds for: a sheet trimmed on all four sides.
    Error: none.
    Source: common-practice.
    """
    length_mm, width_mm = usable_mm(board)
    return length_mm * width_mm / MM2_PER_M2


# --- parts that fit no sheet ------------------------------------------------------------------------------------------


def too_large(sizes: Sequence[Board], parts: Sequence[Part], *, units: str = "mm") -> list[Problem]:
    """A problem for each kind of part that is larger than every sheet of its board, at the cell that gives its size."""
    problems: dict[tuple[str, str], Problem] = {}
    for part in parts:
        way = way_on_sheet(part, grain=sizes[0].grain)
        turned_or_not = {"along": (False,), "across": (True,), "either": (False, True)}[way]
        lying = [_lying(part, turned) for turned in turned_or_not]
        usable = [usable_mm(board) for board in sizes]
        if any(long <= length and wide <= width for long, wide in lying for length, width in usable):
            continue
        length_fits = any(
            part.cut_length_mm <= (width if turned else length) for turned in turned_or_not for length, width in usable
        )
        header = "Width" if length_fits else "Length"
        problem = _too_large(part, header, sizes, units=units)
        problems.setdefault((str(problem.place), part.ref), problem)
    return list(problems.values())


def _lying(part: Part, turned: bool) -> tuple[Fraction, Fraction]:
    return (part.cut_width_mm, part.cut_length_mm) if turned else (part.cut_length_mm, part.cut_width_mm)


def _too_large(part: Part, header: str, sizes: Sequence[Board], *, units: str) -> Problem:
    largest = max(sizes, key=usable_m2)
    length_mm, width_mm = usable_mm(largest)
    grain = ", and its grain must not be turned" if largest.grain and part.grain != "any" else ""
    return Problem(
        part.made_by.at.place(header),
        f"{_size_words(part.cut_length_mm, part.cut_width_mm, units=units)}: {part.part} of {part.ref}{grain}",
        f"{header}: a part that fits a trimmed sheet of {part.board}, {_size_words(length_mm, width_mm, units=units)}",
        _cure(part),
    )


def _cure(part: Part) -> str:
    """What can be done; where a rule made the part, the sizes typed for its cabinet come first: a slip there is the likeliest."""
    cure = "make the part smaller, join it from two, or stock a larger sheet of this board"
    if part.made_by is part.owner:
        return cure
    at = part.owner.at
    return f"look at the sizes of {part.ref} ({at.sheet}, row {at.number}); if they are meant so, {cure}"


def _size_words(length_mm: Fraction, width_mm: Fraction, *, units: str) -> str:
    """A size with its unit once: 2964 x 559 mm."""
    length, width = (length_words(size_mm, units=units, finest=32) for size_mm in (length_mm, width_mm))
    return f"{length.rpartition(' ')[0]} x {width}"


# --- sheets -----------------------------------------------------------------------------------------------------------


def _area_m2(parts: Sequence[Part]) -> Fraction:
    area_mm2 = sum(
        (part.count * cut_area_mm2(cut_length_mm=part.cut_length_mm, cut_width_mm=part.cut_width_mm) for part in parts),
        start=Fraction(0),
    )
    return area_mm2 / MM2_PER_M2


def _wanted(parts: Sequence[Part], *, grain: bool) -> tuple[WantedPart, ...]:
    return tuple(WantedPart(part.cut_length_mm, part.cut_width_mm, part.count, way_on_sheet(part, grain=grain)) for part in parts)


def _stock(board: Board) -> StockSheet:
    return StockSheet(
        board.sheet_length_mm, board.sheet_width_mm, board.trim_mm, board.price, on_hand=board.on_hand, buyable=True
    )


def area_charge(*, area_m2: Fraction, usable_m2: Fraction, yield_share: Fraction, price: Fraction) -> Fraction:
    """What the parts of a board cost when it is charged by area (A11).

        cost  =  area / (usable x yield) x price

    By hand: 0.92776 m2 on a usable 5.699 m2 at 80 % is 0.2035 of a sheet; at 61.50 that is 12.51.

    Holds for: one sheet size; of several, the cheapest usable m2 is taken.
    Error: none.
    Source: waste-by-division (waste is a division, not an addition).
    """
    return area_m2 / (usable_m2 * yield_share) * price


def _by_yield(sizes: Sequence[Board], parts: tuple[Part, ...], *, kerf_mm: Fraction) -> BoardUse:
    """Sheets by the shop's expected yield (A10), all of one size: the one that costs least, stock counting nothing."""
    wanted = _wanted(parts, grain=sizes[0].grain)
    area_m2 = _area_m2(parts)
    holding = [size for size in sizes if not too_large((size,), parts)] or list(sizes)
    counted = [
        (size, sheets_by_yield(wanted=wanted, sheet=_stock(size), kerf_mm=kerf_mm, yield_share=_expected(size)))
        for size in holding
    ]
    if sizes[0].charge == "area":
        board, sheets = min(counted, key=lambda one: _expected_price_per_m2(one[0]))
        cost = area_charge(area_m2=area_m2, usable_m2=usable_m2(board), yield_share=_expected(board), price=board.price)
    else:
        board, sheets = min(counted, key=lambda one: max(0, one[1] - one[0].on_hand) * one[0].price)
        cost = sheets * board.price
    stock = (_stock(board),)
    made = _plan(wanted, stock, kerf_mm, with_care=False)
    plan = None if isinstance(made, Unplaceable) else made
    return BoardUse(
        board=board.board,
        parts=sum(part.count for part in parts),
        area_m2=area_m2,
        sheets=sheets,
        bound=min(_simple_bound(wanted, size, kerf_mm=kerf_mm) for size in sizes),
        by_size=(SheetsOfSize(board, sheets),),
        yield_share=_expected(board),
        cost=cost,
        cost_per_m2=_expected_price_per_m2(board) if len(sizes) == 1 else cost / area_m2,
        plan=plan,
        plan_parts=parts,
        plan_stock=stock if plan else (),
        plan_entries=_named(plan, parts) if plan else (),
        by_yield=True,
        plan_yield_share=area_m2 / plan_usable_m2(plan, stock) if plan else None,
    )


def _expected(board: Board) -> Fraction:
    return board.expected_yield_share or Fraction(1)


def _expected_price_per_m2(board: Board) -> Fraction:
    """Price of a usable square metre that becomes parts."""
    return board.price / (usable_m2(board) * _expected(board))


def _simple_bound(wanted: Sequence[WantedPart], board: Board, *, kerf_mm: Fraction) -> int:
    """Sheets of one size that no plan can do with less than, by area and by parts over half a sheet (A10).

    A board that is bought by its yield keeps to these two; the better bounds, which mind the kerf between halves, are for plans.
    """
    sheet = _stock(board)
    by_area = area_bound(wanted=wanted, sheet=sheet, kerf_mm=kerf_mm)
    return max(by_area, big_part_bound(wanted=wanted, sheet=sheet, kerf_mm=Fraction(0)))


def _by_plan(sizes: Sequence[Board], parts: tuple[Part, ...], job: Job) -> BoardUse:
    """Sheets from a cutting plan (A10): the cheapest set of sheets that holds every part, offcuts on hand among them."""
    stock = (*(_stock(board) for board in sizes), *_offcuts(job, sizes[0].board))
    plan = _plan(_wanted(parts, grain=sizes[0].grain), stock, job.shop.kerf_mm, with_care=True)
    assert not isinstance(plan, Unplaceable), "parts that fit no sheet were told before"
    sheets = [sum(pattern.count for pattern in plan.patterns if pattern.sheet == i) for i in range(len(sizes))]
    area_m2 = _area_m2(parts)
    used_m2 = plan_usable_m2(plan, stock)
    cost = sum((count * board.price for count, board in zip(sheets, sizes, strict=True)), start=Fraction(0))
    return BoardUse(
        board=sizes[0].board,
        parts=sum(part.count for part in parts),
        area_m2=area_m2,
        sheets=sum(sheets),
        bound=min(plan.bound, sum(sheets)),
        by_size=tuple(SheetsOfSize(board, count) for count, board in zip(sheets, sizes, strict=True) if count),
        yield_share=area_m2 / used_m2,
        cost=cost,
        cost_per_m2=cost / area_m2,
        plan=plan,
        plan_parts=parts,
        plan_stock=stock,
        plan_entries=_named(plan, parts),
        by_yield=False,
        plan_yield_share=area_m2 / used_m2,
    )


def _named(plan: CuttingPlan, parts: Sequence[Part]) -> tuple[NamedPattern, ...]:
    return name_patterns(plan, [((part.ref, part.part),) * part.count for part in parts])


@lru_cache(maxsize=64)
def _plan(
    wanted: tuple[WantedPart, ...], stock: tuple[StockSheet, ...], kerf_mm: Fraction, *, with_care: bool
) -> CuttingPlan | Unplaceable:
    """The cutting plan, searched once for the job and for every option that leaves the board as it is."""
    return plan_board(wanted=wanted, stock=stock, kerf_mm=kerf_mm, with_care=with_care)


def _offcuts(job: Job, board: str) -> tuple[StockSheet, ...]:
    """Pieces on hand: already cut, so without trim, and paid for by the job that left them."""
    return tuple(
        StockSheet(row.length_mm, row.width_mm, Fraction(0), Fraction(0), on_hand=row.count, buyable=False)
        for row in job.offcuts
        if row.board == board
    )


def plan_usable_m2(plan: CuttingPlan, stock: Sequence[StockSheet]) -> Fraction:
    """Area of all the trimmed sheets of a plan, in m2: what its yield is a share of (A11)."""
    area_mm2 = sum(
        (
            pattern.count * (sheet.length_mm - 2 * sheet.trim_mm) * (sheet.width_mm - 2 * sheet.trim_mm)
            for pattern in plan.patterns
            for sheet in (stock[pattern.sheet],)
        ),
        start=Fraction(0),
    )
    return area_mm2 / MM2_PER_M2
