"""A job's boards, edgings, finishes and construction rows by name, so that a part finds its own."""

from collections.abc import Mapping

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.records import Finish, Job
from estimator.model.shop_records import ConstructionRow, Edging

COVER_MM = 2
"""A strip is at least this much wider than the board is thick, to be trimmed flush on both faces (common practice)."""


@dataclass(frozen=True, slots=True)
class Stock:
    """The boards and edgings of a job by name, so that a part finds its own."""

    units: str
    """In which the shop is told of lengths."""
    thickness_mm: Mapping[str, Fraction]
    widths: Mapping[str, tuple[Edging, ...]]
    """Rows of each edging, narrowest first."""
    finishes: Mapping[str, Finish]
    construction: Mapping[str, tuple[ConstructionRow, ...]]


def stock_of(job: Job) -> Stock:
    """The job's boards, edgings, finishes and construction rows by name."""
    widths: dict[str, list[Edging]] = {}
    for edging in job.edgings:
        widths.setdefault(edging.edging, []).append(edging)
    construction: dict[str, list[ConstructionRow]] = {}
    for row in job.construction:
        construction.setdefault(row.kind.casefold(), []).append(row)
    return Stock(
        units=job.terms.units,
        thickness_mm={board.board: board.thickness_mm for board in job.boards},
        widths={name: tuple(sorted(rows, key=lambda row: row.width_mm)) for name, rows in widths.items()},
        finishes={finish.finish: finish for finish in job.finishes},
        construction={kind: tuple(rows) for kind, rows in construction.items()},
    )


def covering_width(widths: tuple[Edging, ...], *, thickness_mm: Fraction) -> Edging | None:
    """The narrowest stocked width of an edging that covers a board: at least the board and 2 mm. None when none does."""
    return next((row for row in widths if row.width_mm >= thickness_mm + COVER_MM), None)
