"""What the Of column limits a count to: the name in the cell in, a question that a part and its bands can answer out."""

from collections.abc import Callable, Collection, Mapping

from estimator.model.dataclass import dataclass
from estimator.model.records import Job
from estimator.model.taken import Band, Part


@dataclass(frozen=True, slots=True)
class Limit:
    """A question about a part, and one about a single band of it."""

    part: Callable[[Part], bool]
    band: Callable[[Part, Band], bool]


EVERYTHING = Limit(part=lambda part: True, band=lambda part, band: True)


def limit_of(name: str, *, known: Mapping[str, Collection[str]]) -> Limit:
    """The limit that a name stands for: a kind, finish, role, board, edging, adhesive or material, in this order."""
    if not name:
        return EVERYTHING
    wanted = name.casefold()
    meaning = next((meaning for meaning, names in known.items() if wanted in names), "material")
    if meaning in _OF_PART:
        about = _OF_PART[meaning]
        return Limit(part=lambda part: about(part).casefold() == wanted, band=lambda part, band: about(part).casefold() == wanted)
    about_band = _OF_BAND[meaning]
    return Limit(
        part=lambda part: any(about_band(band).casefold() == wanted for band in part.bands),
        band=lambda part, band: about_band(band).casefold() == wanted,
    )


_OF_PART: dict[str, Callable[[Part], str]] = {
    "kind": lambda part: part.kind,
    "finish": lambda part: part.finish,
    "role": lambda part: part.board_role,
    "board": lambda part: part.board,
}
_OF_BAND: dict[str, Callable[[Band], str]] = {
    "edging": lambda band: band.edging.edging,
    "adhesive": lambda band: band.edging.adhesive,
    "material": lambda band: band.edging.material,
}


def names_known(job: Job) -> dict[str, frozenset[str]]:
    """Every name that Of may hold, by what it means."""
    roles = {role for finish in job.finishes for role in (*finish.boards, *finish.edgings)}
    names = {
        "kind": {row.kind for row in job.construction},
        "finish": {row.finish for row in job.finishes},
        "role": roles,
        "board": {row.board for row in job.boards},
        "edging": {row.edging for row in job.edgings},
        "adhesive": {row.adhesive for row in job.adhesives},
        "material": {row.material for row in job.edgings},
    }
    return {meaning: frozenset(name.casefold() for name in theirs if name) for meaning, theirs in names.items()}
