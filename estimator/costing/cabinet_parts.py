"""One cabinet to its parts: the rules of its kind worked out with its own words, in the order of the Construction rows."""

from collections.abc import Iterator, Mapping

from estimator.costing.cut_part import by_role, marks_of, part_of
from estimator.costing.rules import Trouble, names_in, rule_name, work_out
from estimator.costing.stock import Stock
from estimator.model.exact import Fraction
from estimator.model.problems import Problem
from estimator.model.records import Cabinet, Finish, Job
from estimator.model.shop_records import ConstructionRow, Side
from estimator.model.taken import Part
from estimator.model.units import MM_PER_INCH, decimal_text, length_words


def cabinet_parts(cabinet: Cabinet, job: Job, stock: Stock) -> Iterator[Part | Problem | None]:
    """The parts of one cabinet; None for one whose board or edging is a row that could not be read."""
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
            f"{decimal_text(count, places=3)} pieces{each}: {who}",
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
                f"{length_words(length * unit, units=row.units, places=3)}: {who}",
                f"{header}: a rule that comes out above 0",
                f"look at the cabinet's sizes first ({cabinet.at.sheet}, row {cabinet.at.number}), then at the rule",
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
    board = by_role(finish.boards, row.board)
    if board is None:
        return _no_role(finish, row.board, "board", f"{row.part} of cabinet {cabinet.ref}")
    bands: list[tuple[Side, str, str]] = []
    for side, mark in marks_of(row):
        role = row.edging if mark == "x" else mark
        edging = by_role(finish.edgings, role)
        if edging is None:
            return _no_role(finish, role, "edging", f"{row.part} of cabinet {cabinet.ref}")
        bands.append((side, edging, role))
    return part_of(
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


def _no_role(finish: Finish, role: str, what: str, who: str) -> Problem:
    return Problem(
        finish.at.place(f"{role} {what}"),
        f"no {what} for the role {role or '(blank)'} in the finish {finish.finish}: {who} needs it",
        f"{role} {what}: the name of one, in the row of {finish.finish}",
        f"fill in the cell, add a column {role} {what}, or correct the role in Construction",
    )
