"""What every section of the shop papers is given: an estimate in; the look, numbers as text and edges in words out.

All that is printed stands in the Estimate, or is listed, multiplied by a count or added up from it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.records import Terms
from estimator.model.results import Estimate
from estimator.model.shop_records import Board
from estimator.model.taken import Band, SmallParts
from estimator.model.units import M_PER_FOOT, MM_PER_M
from estimator.papers.page.language import Language
from estimator.papers.page.look import Look, look_of

NONE = Fraction(0)


@dataclass(frozen=True, slots=True)
class ShopPaper:
    """The estimate and all that is needed to print it for the bench."""

    estimate: Estimate
    look: Look
    language: Language

    @property
    def terms(self) -> Terms:
        return self.estimate.job.terms

    @property
    def sent(self) -> frozenset[str]:
        """The edgings that go to the contract bander."""
        return frozenset(self.estimate.banding.chosen.sent)

    @property
    def staying(self) -> tuple[SmallParts, ...]:
        """What stays at the bench of the edgings that are sent: parts too small for the contract bander's machine."""
        return tuple(one for one in self.estimate.banding.small_parts if one.edging in self.sent)

    @property
    def unit(self) -> str:
        finest = self.language.finest_inch
        return "mm" if self.terms.units == "mm" else f"inches to the nearest 1/{finest} (+ a little more, − a little less)"

    @property
    def long_unit(self) -> str:
        """What runs of edging are counted in."""
        return "m" if self.terms.units == "mm" else "ft"

    def long(self, metres: Fraction, *, decimals: int = 1) -> str:
        """A run of edging in the job's long unit, with its name."""
        in_unit = metres if self.terms.units == "mm" else metres / M_PER_FOOT
        return f"{self.language.fixed(in_unit, decimals=decimals)} {self.long_unit}"

    def area(self, area_m2: Fraction) -> str:
        """An area in the job's own unit, with its name."""
        if self.terms.units == "mm":
            return f"{self.language.fixed(area_m2, decimals=1)} m²"
        return f"{self.language.fixed(area_m2 / M_PER_FOOT**2, decimals=0)} sq ft"

    def minutes(self, minutes: Fraction) -> str:
        return self.language.fixed(minutes, decimals=0)

    def grain_of(self, board: str) -> bool:
        """Whether a board has grain."""
        return any(row.grain for row in self.estimate.job.boards if row.board == board)

    def sizes_of(self, board: str) -> tuple[Board, ...]:
        return tuple(row for row in self.estimate.job.boards if row.board == board)

    def strip(self, band: Band) -> str:
        """Length of the strip for one edge."""
        return self.language.length(strip_mm(band))


def shop_paper(estimate: Estimate) -> ShopPaper:
    """Everything that the sections share. The shop papers are English and black, whatever the quote is."""
    terms = estimate.job.terms
    return ShopPaper(
        estimate=estimate,
        look=look_of(paper=terms.paper, colour="#000000"),
        language=Language(code="en", currency=terms.currency, units=terms.units, finest_inch=int(terms.show_fractions)),
    )


def strip_mm(band: Band) -> Fraction:
    """An edge and its overhang at both ends."""
    return band.length_mm + 2 * band.edging.overhang_mm


def edging_and_width(paper: ShopPaper, band: Band) -> str:
    """The edging, with its width where the shop stocks it in several."""
    rows = [row for row in paper.estimate.job.edgings if row.edging == band.edging.edging]
    return band.edging.edging + (f", {paper.language.length(band.edging.width_mm)} wide" if len(rows) > 1 else "")


def edges_in_words(bands: Iterable[Band]) -> str:
    """Banded edges by their names, those with one edging together.

    front, back: oak 1 mm; left: walnut 2 mm
    """
    sides: dict[str, list[str]] = {}
    for band in bands:
        sides.setdefault(band.edging.edging, []).append(band.side)
    if len(sides) == 1 and sum(len(names) for names in sides.values()) == 4:
        return f"all round: {next(iter(sides))}"
    return "; ".join(f"{', '.join(names)}: {edging}" for edging, names in sides.items())


def counted(number: int, one: str, many: str = "") -> str:
    """A count with its noun.

    >>> counted(1, "sheet"), counted(9, "sheet"), counted(2, "batch", "batches")
    ('1 sheet', '9 sheets', '2 batches')
    """
    return f"{number} {one if number == 1 else many or one + 's'}"


def listed(names: Sequence[str]) -> str:
    """Names as a person lists them.

    >>> listed(["white", "oak", "birch"])
    'white, oak and birch'
    """
    return f"{', '.join(names[:-1])} and {names[-1]}" if len(names) > 1 else "".join(names)


def metres(length_mm: Fraction) -> Fraction:
    return length_mm / MM_PER_M
