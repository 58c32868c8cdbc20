"""Cabinets to parts: each row of Cabinets and Loose parts in, its parts with sizes, boards and banded edges out, or problems.

Parts keep the order of the workbook (A3): cabinet by cabinet, each one's parts in the order of its Construction rows, loose
parts last.
"""

from collections.abc import Sequence
from itertools import chain

from estimator.costing.cabinet_parts import cabinet_parts
from estimator.costing.cut_part import by_role, marks_of, part_of
from estimator.costing.stock import Stock, stock_of
from estimator.model.dataclass import dataclass
from estimator.model.problems import Problem
from estimator.model.records import Job, LoosePart
from estimator.model.shop_records import Side
from estimator.model.taken import Part

MOST_PIECES = 50_000
"""Ten thousand cabinets of five parts: more than such a shop makes in its life, and as much as is cut, printed and added up in seconds."""


@dataclass(frozen=True, slots=True)
class PartsOfJob:
    parts: tuple[Part, ...]
    problems: tuple[Problem, ...]


def parts_of_job(job: Job) -> PartsOfJob:
    """All parts of the job in workbook order, with every problem that stands in their way."""
    stock = stock_of(job)
    parts: list[Part] = []
    problems: dict[tuple[str, str], Problem] = {}
    made = chain(
        (part for cabinet in job.cabinets for part in cabinet_parts(cabinet, job, stock)),
        (_loose_part(loose, stock) for loose in job.loose_parts),
    )
    pieces = 0
    for one in made:
        _sort_out(one, parts, problems)
        pieces += one.count if isinstance(one, Part) else 0
        if pieces > MOST_PIECES:  # nothing more is made: the next rule may ask for as many again
            problem = _too_many(parts)
            problems[str(problem.place), problem.expected] = problem
            break
    return PartsOfJob(tuple(parts), tuple(problems.values()))


def _too_many(parts: Sequence[Part]) -> Problem:
    """A slip in a Qty or in a rule of Count, told at the part of which there is most."""
    most = max(parts, key=lambda part: part.count)
    by_rule = most.count_each > most.qty
    return Problem(
        most.made_by.at.place("Count") if by_rule else most.owner.at.place("Qty"),
        f"{most.count:,} pieces of {most.part} of {most.ref}, and more than {MOST_PIECES:,} in the whole job",
        f"{'Count' if by_rule else 'Qty'}: so many that the job has at most {MOST_PIECES:,} pieces",
        "look for a slip here; a job that is truly so large is split into several workbooks",
    )


def _sort_out(made: Part | Problem | None, parts: list[Part], problems: dict[tuple[str, str], Problem]) -> None:
    if isinstance(made, Part):
        parts.append(made)
    elif made is not None:
        problems.setdefault((str(made.place), made.expected), made)


def _loose_part(loose: LoosePart, stock: Stock) -> Part | Problem | None:
    """A loose part; with a finish its Board and Edging name roles first, else the sheets' own names."""
    finish = stock.finishes.get(loose.finish)
    boards = finish.boards if finish else {}
    edgings = finish.edgings if finish else {}
    role = next((role for role in boards if role.casefold() == loose.board.casefold()), "")
    bands: list[tuple[Side, str, str]] = []
    for side, mark in marks_of(loose):
        name = loose.edging if mark == "x" else mark
        edging = by_role(edgings, name)
        bands.append((side, name, "") if edging is None else (side, edging, name))
    return part_of(
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
