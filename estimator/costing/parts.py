"""Cabinets to parts: each row of Cabinets and Loose parts in, its parts with sizes, boards and banded edges out, or problems.

Parts keep the order of the workbook (A3): cabinet by cabinet, each one's parts in the order of its Construction rows, loose
parts last.
"""

from collections.abc import Iterator, Mapping

from estimator.costing.rules import Trouble, names_in, rule_name, work_out
from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.problems import Problem
from estimator.model.records import SIDES, Board, Cabinet, ConstructionRow, Edging, Finish, Job, LoosePart, Side
from estimator.model.results import Band, Part
from estimator.model.units import MM_PER_INCH, decimal_text

COVER_MM = 2
"""A strip is at least this much wider than the board is thick, to be trimmed flush on both faces (common practice)."""


@dataclass(frozen=True, slots=True)
class Stock:
    """The boards and edgings of a job by name, so that a part finds its own."""

    thickness_mm: Mapping[str, Fraction]
    widths: Mapping[str, tuple[Edging, ...]]
    """Rows of each edging, narrowest first."""
    finishes: Mapping[str, Finish]
    construction: Mapping[str, tuple[ConstructionRow, ...]]


@dataclass(frozen=True, slots=True)
class PartsOfJob:
    parts: tuple[Part, ...]
    problems: tuple[Problem, ...]


def parts_of_job(job: Job) -> PartsOfJob:
    """All parts of the job in workbook order, with every problem that stands in their way."""
    stock = stock_of(job)
    parts: list[Part] = []
    problems: dict[tuple[str, str], Problem] = {}
    for cabinet in job.cabinets:
        for made in _cabinet_parts(cabinet, job, stock):
            _sort_out(made, parts, problems)
    for loose in job.loose_parts:
        _sort_out(_loose_part(loose, stock), parts, problems)
    return PartsOfJob(tuple(parts), tuple(problems.values()))


def _sort_out(made: Part | Problem | None, parts: list[Part], problems: dict[tuple[str, str], Problem]) -> None:
    if isinstance(made, Part):
        parts.append(made)
    elif made is not None:
        problems.setdefault((str(made.place), made.expected), made)


def stock_of(job: Job) -> Stock:
    """The job's boards, edgings, finishes and construction rows by name."""
    widths: dict[str, list[Edging]] = {}
    for edging in job.edgings:
        widths.setdefault(edging.edging, []).append(edging)
    construction: dict[str, list[ConstructionRow]] = {}
    for row in job.construction:
        construction.setdefault(row.kind.casefold(), []).append(row)
    return Stock(
        thickness_mm={board.board: board.thickness_mm for board in job.boards},
        widths={name: tuple(sorted(rows, key=lambda row: row.width_mm)) for name, rows in widths.items()},
        finishes={finish.finish: finish for finish in job.finishes},
        construction={kind: tuple(rows) for kind, rows in construction.items()},
    )


# --- one cabinet ------------------------------------------------------------------------------------------------------


def _cabinet_parts(cabinet: Cabinet, job: Job, stock: Stock) -> Iterator[Part | Problem | None]:
    finish = stock.finishes.get(cabinet.finish)
    if finish is None:
        return
    fronts = front_heights_mm(cabinet=cabinet, lengths_mm=job.shop.lengths_mm)
    if isinstance(fronts, Problem):
        yield fronts
        return
    words = {unit: rule_names(cabinet, finish, job, stock, fronts, unit_mm=unit_mm(unit)) for unit in ("mm", "inch")}
    for row in stock.construction.get(cabinet.kind.casefold(), ()):
        yield from _row_parts(row, cabinet, finish, stock, words[row.units], fronts)


def unit_mm(units: str) -> Fraction:
    """Millimetres of one unit of a book: 1 or 25.4."""
    return MM_PER_INCH if units == "inch" else Fraction(1)


def front_heights_mm(*, cabinet: Cabinet, lengths_mm: Mapping[str, Fraction]) -> tuple[Fraction, ...] | Problem:
    """Height of each drawer front from top to bottom, in mm: as typed, or else alike (A7).

        without doors: each  =  (height - gap top - gap bottom - (n - 1) x gap mid) / n
        above doors:   each  =  the shop's drawer front

    By hand: three fronts in a 733 + 2 x 3 = 739 mm front with gaps of 3 are (739 - 6)/3 = 244.33 each.

    Holds for: fronts in one column.
    Error: none.
    Source: common-practice.
    """
    n, typed = cabinet.drawers, cabinet.front_heights_mm
    if typed and len(typed) != n:
        return Problem(
            cabinet.at.place("Front heights"),
            f"{len(typed)} front heights for {n} drawers",
            "Front heights: one number for each drawer, from top to bottom",
            "type as many heights as there are drawers, or leave the cell blank for equal fronts",
        )
    if typed or not n:
        return typed
    if cabinet.doors and "drawer_front" in lengths_mm:
        return (lengths_mm["drawer_front"],) * n
    gaps_mm = sum(lengths_mm.get(gap, Fraction(0)) for gap in ("gap_top", "gap_bottom"))
    gaps_mm += (n - 1) * lengths_mm.get("gap_mid", Fraction(0))
    return ((cabinet.height_mm - gaps_mm) / n,) * n


def rule_names(
    cabinet: Cabinet, finish: Finish, job: Job, stock: Stock, fronts: tuple[Fraction, ...], *, unit_mm: Fraction
) -> dict[str, Fraction]:
    """Every name that the rules of a cabinet may use, lengths in the unit of the book in which the rule stands."""
    lengths_mm = dict(job.shop.lengths_mm)
    lengths_mm |= {"width": cabinet.width_mm, "height": cabinet.height_mm, "depth": cabinet.depth_mm}
    lengths_mm["front_heights"] = sum(fronts, start=Fraction(0))
    lengths_mm |= {
        f"{rule_name(role)}_thickness": stock.thickness_mm[board]
        for role, board in finish.boards.items()
        if board in stock.thickness_mm
    }
    ends = {"none": 0, "left": 1, "right": 1, "both": 2}[cabinet.finished_ends]
    counts = {"shelves": cabinet.shelves, "doors": cabinet.doors, "drawers": cabinet.drawers, "ends": ends}
    own = {name: number / unit_mm if name in cabinet.own_lengths else number for name, number in cabinet.own_numbers.items()}
    return (
        {name: length / unit_mm for name, length in lengths_mm.items()}
        | own
        | {name: Fraction(count) for name, count in counts.items()}
    )


def _row_parts(
    row: ConstructionRow,
    cabinet: Cabinet,
    finish: Finish,
    stock: Stock,
    words: Mapping[str, Fraction],
    fronts: tuple[Fraction, ...],
) -> Iterator[Part | Problem | None]:
    each_drawer = any("front_height" in names_in(rule) for rule in (row.count, row.length, row.width))
    heights: tuple[Fraction | None, ...] = fronts if each_drawer else (None,)
    alike: list[tuple[int, Fraction, Fraction]] = []
    for height in heights:
        here = words if height is None else {**words, "front_height": height / unit_mm(row.units)}
        sizes = _sizes(row, cabinet, here, spread_over=len(heights))
        if isinstance(sizes, Problem):
            yield sizes
            return
        if alike and alike[-1][1:] == sizes[1:]:
            alike[-1] = (alike[-1][0] + sizes[0], *sizes[1:])
        else:
            alike.append(sizes)
    for count, length_mm, width_mm in alike:
        if count:
            yield _cabinet_part(row, cabinet, finish, stock, count=count, length_mm=length_mm, width_mm=width_mm)


def _sizes(
    row: ConstructionRow, cabinet: Cabinet, words: Mapping[str, Fraction], *, spread_over: int
) -> tuple[int, Fraction, Fraction] | Problem:
    """Count, length and width (mm) of a row's parts, worked out from its rules."""
    unit = unit_mm(row.units)
    who = f"{row.part} of cabinet {cabinet.ref}"
    count = work_out(row.count, names=words, unit_mm=unit)
    if isinstance(count, Trouble):
        return _rule_problem(row, "Count", count, who)
    count /= spread_over
    if count.denominator != 1 or count < 0:
        each = " for each drawer" if spread_over > 1 else ""
        return Problem(
            row.at.place("Count"),
            f"{decimal_text(count)} pieces{each}: {who}",
            "Count: a rule that comes out whole, 0 or more",
            "use round_up or round_down where a division may leave a rest",
        )
    if not count:
        return 0, Fraction(0), Fraction(0)
    lengths: list[Fraction] = []
    for header, rule in (("Length", row.length), ("Width", row.width)):
        length = work_out(rule, names=words, unit_mm=unit)
        if isinstance(length, Trouble):
            return _rule_problem(row, header, length, who)
        if length <= 0:
            return Problem(
                row.at.place(header),
                f"{decimal_text(length * unit, places=3)} mm: {who}",
                f"{header}: a rule that comes out above 0",
                "look at the cabinet's sizes first, then at the rule",
            )
        lengths.append(length * unit)
    return int(count), lengths[0], lengths[1]


def _rule_problem(row: ConstructionRow, header: str, trouble: Trouble, who: str) -> Problem:
    return Problem(row.at.place(header), f"{trouble.words}: {who}", f"{header}: a rule that gives a number", trouble.mend)


def _cabinet_part(
    row: ConstructionRow,
    cabinet: Cabinet,
    finish: Finish,
    stock: Stock,
    *,
    count: int,
    length_mm: Fraction,
    width_mm: Fraction,
) -> Part | Problem | None:
    board = _by_role(finish.boards, row.board)
    if board is None:
        return _no_role(finish, row.board, "board", f"{row.part} of cabinet {cabinet.ref}")
    bands: list[tuple[Side, str, str]] = []
    for side, mark in _marks(row):
        role = row.edging if mark == "x" else mark
        edging = _by_role(finish.edgings, role)
        if edging is None:
            return _no_role(finish, role, "edging", f"{row.part} of cabinet {cabinet.ref}")
        bands.append((side, edging, role))
    return _part(
        cabinet,
        row,
        stock,
        part=row.part,
        kind=cabinet.kind,
        count_each=count,
        length_mm=length_mm,
        width_mm=width_mm,
        board=board,
        board_role=row.board,
        bands=bands,
    )


# --- one loose part ---------------------------------------------------------------------------------------------------


def _loose_part(loose: LoosePart, stock: Stock) -> Part | Problem | None:
    """A loose part; with a finish its Board and Edging name roles first, else the sheets' own names."""
    finish = stock.finishes.get(loose.finish)
    boards = finish.boards if finish else {}
    edgings = finish.edgings if finish else {}
    role = next((role for role in boards if role.casefold() == loose.board.casefold()), "")
    bands: list[tuple[Side, str, str]] = []
    for side, mark in _marks(loose):
        name = loose.edging if mark == "x" else mark
        edging = _by_role(edgings, name)
        bands.append((side, name, "") if edging is None else (side, edging, name))
    return _part(
        loose,
        loose,
        stock,
        part=loose.part,
        kind="",
        count_each=1,
        length_mm=loose.length_mm,
        width_mm=loose.width_mm,
        board=boards[role] if role else loose.board,
        board_role=role,
        bands=bands,
    )


# --- what both share --------------------------------------------------------------------------------------------------


def _marks(row: ConstructionRow | LoosePart) -> Iterator[tuple[Side, str]]:
    for side, mark in zip(SIDES, (row.front, row.back, row.left, row.right), strict=True):
        if mark:
            yield side, mark


def _by_role(names: Mapping[str, str], role: str) -> str | None:
    if role in names:
        return names[role]
    return next((name for own, name in names.items() if own.casefold() == role.casefold()), None)


def _no_role(finish: Finish, role: str, what: str, who: str) -> Problem:
    return Problem(
        finish.at.place(f"{role} {what}"),
        f"no {what} for the role {role or '(blank)'} in the finish {finish.finish}: {who} needs it",
        f"{role} {what}: the name of one, in the row of {finish.finish}",
        f"fill in the cell, add a column {role} {what}, or correct the role in Construction",
    )


def banded_cut_mm(*, finished_mm: Fraction, bands_mm: tuple[Fraction, ...]) -> Fraction:
    """Size to which a part is cut before its edges are banded, in mm (A5).

        cut size  =  finished size - thickness of each band across it whose edging is deducted

    By hand: a 600 mm door with a 2 mm band at either end is cut at 596 mm.

    >>> banded_cut_mm(finished_mm=600, bands_mm=(2, 2))
    596

    Holds for: bands glued onto a square edge.
    Error: none; what a thin band adds stays in where the shop does not deduct it.
    Source: common-practice.
    """
    return finished_mm - sum(bands_mm)


def cut_area_mm2(*, cut_length_mm: Fraction, cut_width_mm: Fraction) -> Fraction:
    """Area of a part as it is cut, without kerf (A6): cut length x cut width.

    >>> cut_area_mm2(cut_length_mm=720, cut_width_mm=300)
    216000

    Source: common-practice.
    """
    return cut_length_mm * cut_width_mm


def covering_width(widths: tuple[Edging, ...], *, thickness_mm: Fraction) -> Edging | None:
    """The narrowest stocked width of an edging that covers a board: at least the board and 2 mm. None when none does."""
    return next((row for row in widths if row.width_mm >= thickness_mm + COVER_MM), None)


def _part(
    owner: Cabinet | LoosePart,
    made_by: ConstructionRow | LoosePart,
    stock: Stock,
    *,
    part: str,
    kind: str,
    count_each: int,
    length_mm: Fraction,
    width_mm: Fraction,
    board: str,
    board_role: str,
    bands: list[tuple[Side, str, str]],
) -> Part | Problem | None:
    """The part with its bands and cut size. None when its board or edging is a row that could not be read."""
    thickness_mm = stock.thickness_mm.get(board)
    if thickness_mm is None:
        return None
    banded: list[Band] = []
    for side, name, role in bands:
        widths = stock.widths.get(name)
        if widths is None:
            return None
        row = covering_width(widths, thickness_mm=thickness_mm)
        if row is None:
            return _too_narrow(widths[-1], board, thickness_mm, f"{part} of {owner.ref}")
        banded.append(Band(side, length_mm if side in ("front", "back") else width_mm, row, role))
    cut_length_mm = banded_cut_mm(finished_mm=length_mm, bands_mm=_deducted(banded, "left", "right"))
    cut_width_mm = banded_cut_mm(finished_mm=width_mm, bands_mm=_deducted(banded, "front", "back"))
    for header, cut_mm in (("Length", cut_length_mm), ("Width", cut_width_mm)):
        if cut_mm <= 0:
            return Problem(
                made_by.at.place(header),
                f"{decimal_text(cut_mm, places=3)} mm left to cut after its bands: {part} of {owner.ref}",
                f"{header}: more than its bands are thick",
                "make the part larger or leave a band off",
            )
    return Part(
        ref=owner.ref,
        room=owner.room,
        part=part,
        count_each=count_each,
        qty=owner.qty,
        length_mm=length_mm,
        width_mm=width_mm,
        cut_length_mm=cut_length_mm,
        cut_width_mm=cut_width_mm,
        board=board,
        board_role=board_role,
        thickness_mm=thickness_mm,
        grain=made_by.grain,
        finish=owner.finish,
        kind=kind,
        counts_as=made_by.counts_as,
        bands=tuple(banded),
        owner=owner,
        made_by=made_by,
    )


def _deducted(bands: list[Band], *sides: Side) -> tuple[Fraction, ...]:
    return tuple(band.edging.thickness_mm for band in bands if band.side in sides and band.edging.deduct)


def _too_narrow(widest: Edging, board: str, thickness_mm: Fraction, who: str) -> Problem:
    wanted_mm = thickness_mm + COVER_MM
    return Problem(
        widest.at.place("Width"),
        f"{decimal_text(widest.width_mm)} mm, the widest of {widest.edging}, on {board} of "
        f"{decimal_text(thickness_mm)} mm: {who}",
        f"Width: at least the board's thickness and {COVER_MM} mm, here {decimal_text(wanted_mm)} mm",
        "stock a wider strip of this edging, or choose another edging or board for the part",
    )


def board_rows(job: Job, board: str) -> tuple[Board, ...]:
    """The sheet sizes of one board, in workbook order."""
    return tuple(row for row in job.boards if row.board == board)
