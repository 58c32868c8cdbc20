"""What every section of the shop papers is given: an estimate in; the look, numbers as text and edges in words out.

All that is printed stands in the Estimate, or is listed, multiplied by a count or added up from it.
"""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.records import Terms
from estimator.model.results import Estimate
from estimator.model.shop_records import Board
from estimator.model.taken import Band, SmallParts
from estimator.model.units import KG_PER_LB, LITRES_PER_GALLON, M_PER_FOOT, MM_PER_M, OUNCES_PER_GALLON, half_away
from estimator.papers.page.clock import clock
from estimator.papers.page.language import Language
from estimator.papers.page.look import Look, look_of
from estimator.papers.page.phrases import Phrases, phrases

NONE = Fraction(0)
_A_QUART = Fraction(1, 4)


@dataclass(frozen=True, slots=True)
class ShopPaper:
    """The estimate and all that is needed to print it for the bench."""

    estimate: Estimate
    look: Look
    language: Language
    say: Phrases

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
        """What sizes are in, in words."""
        return self.say(f"sizes in {self.terms.units}", finest=self.language.finest_inch)

    def long(self, metres: Fraction, *, decimals: int = 1) -> str:
        """A run of edging in the job's long unit, with its name."""
        in_unit = metres if self.terms.units == "mm" else metres / M_PER_FOOT
        return self.say(f"run in {self.terms.units}", run=self.language.fixed(in_unit, decimals=decimals))

    def area(self, area_m2: Fraction) -> str:
        """An area in the job's own unit, with its name."""
        if self.terms.units == "mm":
            return self.say("area in mm", area=self.language.fixed(area_m2, decimals=1))
        return self.say("area in inch", area=self.language.fixed(area_m2 / M_PER_FOOT**2, decimals=0))

    def mass(self, kg: Fraction, *, decimals: int = 1) -> str:
        """A mass in kg; in an inch job in whole pounds, with the kg behind them."""
        lb = self.language.fixed(kg / KG_PER_LB, decimals=0)
        return self.say(f"mass in {self.terms.units}", kg=self.language.fixed(kg, decimals=decimals), lb=lb)

    def volume(self, litres: Fraction, *, most_decimals: int = 3) -> str:
        """A volume in litres; in an inch job in US gallons, or fluid ounces below a quart, with the litres behind them."""
        number, gallons = self.language.number, litres / LITRES_PER_GALLON
        said = number(litres, most_decimals=most_decimals)
        if self.terms.units == "mm":
            return self.say.counted("volume in litres", litres, litres=said)
        if Fraction(half_away(gallons * 100), 100) >= _A_QUART:
            return self.say("volume in gallons", gallons=number(gallons, most_decimals=2), litres=said)
        return self.say("volume in ounces", ounces=number(gallons * OUNCES_PER_GALLON, most_decimals=1), litres=said)

    def clock(self, minute: Fraction) -> str:
        """A time of day, from the second glue day on with its day before it."""
        return clock(minute, day_words=self.say("day"), of_twelve=self.language.clock_of_twelve)

    def side(self, side: str) -> str:
        """Front, back, left or right."""
        return self.say(f"side {side}")

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

    def edges(self, bands: Iterable[Band]) -> str:
        """Banded edges by their names, those with one edging together.

        front, back: oak 1 mm; left: walnut 2 mm
        """
        sides: dict[str, list[str]] = {}
        for band in bands:
            sides.setdefault(band.edging.edging, []).append(self.side(band.side))
        if len(sides) == 1 and sum(len(names) for names in sides.values()) == 4:
            return self.say("all round", edging=next(iter(sides)))
        return "; ".join(f"{', '.join(names)}: {edging}" for edging, names in sides.items())


def shop_paper(estimate: Estimate, *, words: Path | None = None) -> ShopPaper:
    """Everything that the sections share, black on white. `words` is a folder of the shop's own words. Raises: BadWords."""
    terms = estimate.job.terms
    return ShopPaper(
        estimate=estimate,
        look=look_of(paper=terms.paper, colour="#000000"),
        language=Language(code=terms.language, currency=terms.currency, units=terms.units, finest_inch=int(terms.show_fractions)),
        say=phrases("common", "shop", language_code=terms.language, folder=words),
    )


def strip_mm(band: Band) -> Fraction:
    """An edge and its overhang at both ends."""
    return band.length_mm + 2 * band.edging.overhang_mm


def metres(length_mm: Fraction) -> Fraction:
    return length_mm / MM_PER_M
