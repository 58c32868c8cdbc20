"""Hardware and sundries: the rows of Fittings in, how many of each and what they cost on a way of banding out."""

from collections.abc import Mapping, Sequence

from estimator.costing.cabinet_parts import front_heights_mm, rule_names, unit_mm
from estimator.costing.counts import Counted, Tally, Weight, per_piece, tally
from estimator.costing.limits import limit_of
from estimator.costing.rules import Trouble, work_out
from estimator.costing.stock import Stock, stock_of
from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.problems import Problem
from estimator.model.quantities import plain_number
from estimator.model.records import Cabinet, Job, LoosePart
from estimator.model.results import FittingUse
from estimator.model.shop_records import Fitting
from estimator.model.taken import Part

_PER_LENGTH = ("door", "drawer", "shelf", "part")
_IN_A_LINE = ("part", "cabinet", "door", "drawer", "shelf", "m2")
"""What the prime cost of a line counts (A31): not what is counted per job, site trip or sheet."""


class _Trouble(Exception):
    """Carries a Problem out of a count; it never leaves this file."""

    def __init__(self, problem: Problem) -> None:
        super().__init__(str(problem))
        self.problem = problem


@dataclass(frozen=True, slots=True)
class FittingTally:
    fitting: Fitting
    tally: Tally
    weight: Weight

    def use(self, *, by_hand: int, sent: int) -> FittingUse:
        number = self.tally.of(sent if self.fitting.route == "send out" else by_hand)
        return FittingUse(self.fitting, number, number * self.fitting.price)


def fitting_tallies(counted: Counted, stock: Stock, known: Mapping[str, frozenset[str]]) -> tuple[FittingTally, ...] | tuple[Problem, ...]:
    """Every row of Fittings with its tally, in the order of the sheet; or the rules that give no number."""
    tallies: list[FittingTally] = []
    problems: list[Problem] = []
    for fitting in counted.job.fittings:
        weight = _weight(fitting, counted.job, stock)
        try:
            counts = tally(counted, route=fitting.route, per=fitting.per, limit=limit_of(fitting.of, known=known), weight=weight)
            tallies.append(FittingTally(fitting, counts, weight))
        except _Trouble as trouble:
            problems.append(trouble.problem)
    return tuple(problems) or tuple(tallies)


def number_problems(job: Job, parts: Sequence[Part], known: Mapping[str, frozenset[str]]) -> tuple[Problem, ...]:
    """The rules of Fittings that give no number for a part or cabinet of a job that cannot be counted yet, for want of others."""
    stock = stock_of(job)
    problems: list[Problem] = []
    for fitting in job.fittings:
        weight, limit = _weight(fitting, job, stock), limit_of(fitting.of, known=known)
        matching = [part for part in parts if limit.part(part)]
        things: Sequence[Part | Cabinet | None] = (None,)
        if fitting.per in _PER_LENGTH:
            things = [part for part in matching if per_piece(part, per=fitting.per)]
        elif fitting.per == "cabinet":
            things = [one for one in job.cabinets if any(part.owner is one for part in matching)]
        try:
            for thing in things:
                weight(thing)
        except _Trouble as trouble:
            problems.append(trouble.problem)
    return tuple(problems)


def _weight(fitting: Fitting, job: Job, stock: Stock) -> Weight:
    """How many of a fitting one counted thing takes, by its Number: a plain number or a rule."""
    plain = plain_number(fitting.number)
    if plain is not None:
        return lambda thing: plain
    unit = unit_mm(fitting.units)
    shop = {name: length / unit for name, length in job.shop.lengths_mm.items()}

    def number_for(thing: Part | Cabinet | None) -> Fraction:
        names: Mapping[str, Fraction] = shop
        who = ""
        if isinstance(thing, Part) and fitting.per in _PER_LENGTH:
            names = {**shop, "length": thing.length_mm / unit, "width": thing.width_mm / unit}
            who = f": {thing.part} of {thing.ref}"
        elif isinstance(thing, Cabinet):
            finish = stock.finishes[thing.finish]
            fronts = front_heights_mm(cabinet=thing, lengths_mm=job.shop.lengths_mm)
            heights = () if isinstance(fronts, Problem) else fronts
            names = rule_names(thing, finish, job, stock, heights, unit_mm=unit)
            who = f": cabinet {thing.ref}"
        number = work_out(fitting.number, names=names, unit_mm=unit)
        if isinstance(number, Trouble):
            raise _Trouble(_problem(fitting, f"{number.words}{who}", number.mend))
        if number < 0:
            raise _Trouble(_problem(fitting, f"a rule that comes out below 0{who}", "write it as max(0, ...), which is never below 0"))
        return number

    return number_for


def _problem(fitting: Fitting, found: str, mend: str) -> Problem:
    return Problem(fitting.at.place("Number"), found, "Number: a number or a rule that gives one, 0 or more", mend)


def fittings_on(tallies: Sequence[FittingTally], *, by_hand: int, sent: int) -> tuple[FittingUse, ...]:
    """Every fitting on one way of banding."""
    return tuple(one.use(by_hand=by_hand, sent=sent) for one in tallies)


def line_fittings(
    owner: Cabinet | LoosePart, parts: Sequence[Part], tallies: Sequence[FittingTally], known: Mapping[str, frozenset[str]]
) -> Fraction:
    """Money of the fittings that one cabinet or loose part takes whatever way it is banded (A31)."""
    money = Fraction(0)
    for one in tallies:
        fitting = one.fitting
        if fitting.route or fitting.per not in _IN_A_LINE:
            continue
        limit = limit_of(fitting.of, known=known)
        matching = [part for part in parts if limit.part(part)]
        if fitting.per == "cabinet":
            number = one.weight(owner) if isinstance(owner, Cabinet) and (matching or not fitting.of) else Fraction(0)
        else:
            number = sum((per_piece(part, per=fitting.per) * one.weight(part) for part in matching), start=Fraction(0))
        money += number * fitting.price
    return money
