"""One line of the quote followed back to its cells: an Estimate and a line in; what it takes and how its price comes about, out.

Everything is for one cabinet (or one loose part) of its row. The figures are the estimate's own: the takings add up to the
line's prime cost, the shares of all lines to the cost of the job (A30, A31).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from estimator.costing.banding.small_parts import small_ids
from estimator.costing.counts import Counted, per_piece, tally
from estimator.costing.limits import limit_of, names_known
from estimator.costing.work import money_for
from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.problems import Place
from estimator.model.quantities import plain_number
from estimator.model.records import Extra
from estimator.model.results import Estimate, Line, StepMinutes
from estimator.model.taken import Part

NONE = Fraction(0)
_OF_A_LINE = ("part", "edge", "metre")


@dataclass(frozen=True, slots=True)
class Taken:
    """So much of something for one of the line, what one of it costs, and the cell that says so."""

    what: str
    number: Fraction
    each: Fraction
    money: Fraction
    place: Place


@dataclass(frozen=True, slots=True)
class OwnMinutes:
    """A step of Work as often as one of the line needs it."""

    step: str
    per: str
    """What it is counted by; blank for the work on something bought in."""
    count: Fraction
    each_min: Fraction
    minutes: Fraction
    money: Fraction
    """At the direct rate; part of the prime cost only where `in_prime`."""
    in_prime: bool
    place: Place


@dataclass(frozen=True, slots=True)
class CostShare:
    """A cost of the whole job, and what one of the line carries of it."""

    what: str
    whole: Fraction
    share: Fraction


@dataclass(frozen=True, slots=True)
class Followed:
    """One line, followed. All but `line` and `all_primes` is for one of it."""

    line: Line
    parts: tuple[Part, ...]
    boards: tuple[Taken, ...]
    edgings: tuple[Taken, ...]
    fittings: tuple[Taken, ...]
    bought: tuple[Taken, ...]
    """An extra's own cost."""
    minutes: tuple[OwnMinutes, ...]
    prime: Fraction
    all_primes: Fraction
    """Of every line that shares the target, times how many."""
    share: Fraction
    """Of the job's cost and target that one carries; 0 for an extra with a price of its own."""
    costs: tuple[CostShare, ...]
    target: Fraction
    """What one carries of the target: the unit price before it is rounded."""


def follow(estimate: Estimate, line: Line) -> Followed:
    """Everything that one of a line takes, and its share of each cost."""
    owner = line.owner
    parts = tuple(part for part in estimate.parts if part.owner is owner)
    boards, edgings, fittings = tuple(_boards(estimate, line)), tuple(_edgings(estimate, line)), tuple(_fittings(estimate, line))
    bought = tuple(_bought(line))
    minutes = (*_steps_in_the_prime(estimate, line), *_steps_beside(estimate, parts))
    sharing = [one for one in estimate.price.lines if not _own_price(one)]
    all_primes = sum((one.qty * one.prime for one in sharing), start=NONE)
    share = line.prime / all_primes if all_primes and not _own_price(line) else NONE
    return Followed(
        line=line,
        parts=parts,
        boards=boards,
        edgings=edgings,
        fittings=fittings,
        bought=bought,
        minutes=minutes,
        prime=sum((one.money for one in (*boards, *edgings, *fittings, *bought)), start=NONE)
        + sum((one.money for one in minutes if one.in_prime), start=NONE),
        all_primes=all_primes,
        share=share,
        costs=tuple(CostShare(what, whole, whole * share) for what, whole in costs_of_the_job(estimate)),
        target=estimate.price.target * share,
    )


def _own_price(line: Line) -> bool:
    return isinstance(line.owner, Extra) and line.owner.price_each is not None


def costs_of_the_job(estimate: Estimate) -> tuple[tuple[str, Fraction], ...]:
    """The costs of the whole job and what is put on them; together they are the target (A30)."""
    cost = estimate.cost
    named = (
        ("boards", cost.boards),
        ("edging", cost.edging),
        ("adhesive", cost.adhesive),
        ("fittings", cost.fittings),
        ("contract bander", cost.contractor),
        ("trips to the bander", cost.trips),
        ("extras", cost.extras),
        ("work", cost.labour),
        ("overhead", cost.overhead),
        ("contingency", cost.contingency),
    )
    on_top = "up to the least price" if estimate.price.least_price_holds else _on_top(estimate)
    return (*((what, money) for what, money in named if money), (on_top, estimate.price.target - cost.base))


def _on_top(estimate: Estimate) -> str:
    return "margin" if estimate.job.terms.margin_share is not None else "markup"


def _index(estimate: Estimate, line: Line) -> int | None:
    """The place of a cabinet or loose part among the counted lines; None for an extra."""
    owners = [*estimate.job.cabinets, *estimate.job.loose_parts]
    return next((i for i, owner in enumerate(owners) if owner is line.owner), None)


def _boards(estimate: Estimate, line: Line) -> Iterator[Taken]:
    """Cut area by board, at the board's cost a square metre of part."""
    i = _index(estimate, line)
    rows = {row.board: row for row in reversed(estimate.job.boards)}
    uses = {use.board: use for use in estimate.boards}
    for board, area_m2 in (estimate.counted.lines[i].area_m2 if i is not None else {}).items():
        each = uses[board].cost_per_m2
        yield Taken(board, area_m2, each, area_m2 * each, rows[board].at.place("Price"))


def _edgings(estimate: Estimate, line: Line) -> Iterator[Taken]:
    """Metres of strip by edging and width, at its price; no spare, whoever bands it."""
    i = _index(estimate, line)
    widths = [width.edging for use in estimate.edgings for width in use.widths]
    for edging, strip_m in zip(widths, estimate.counted.lines[i].strip_m if i is not None else (), strict=i is not None):
        if strip_m:
            yield Taken(edging.edging, strip_m, edging.price_per_m, strip_m * edging.price_per_m, edging.at.place("Price"))


def _fittings(estimate: Estimate, line: Line) -> Iterator[Taken]:
    i = _index(estimate, line)
    always = [row for row in estimate.job.fittings if not row.route]
    for row, count in zip(always, estimate.counted.lines[i].fittings if i is not None else (), strict=i is not None):
        plain = plain_number(row.number)
        number = count if plain is None else count * plain
        if number:
            yield Taken(row.item, number, row.price, number * row.price, row.at.place("Price"))


def _bought(line: Line) -> Iterator[Taken]:
    """What an extra costs the shop, where the job's target carries it."""
    owner = line.owner
    if isinstance(owner, Extra) and owner.cost_each and not _own_price(line):
        yield Taken("bought in", Fraction(1), owner.cost_each, owner.cost_each, owner.at.place("Cost each"))


def _own(row: StepMinutes, count: Fraction, *, estimate: Estimate, in_prime: bool) -> OwnMinutes:
    minutes = count * row.each_min
    money = money_for(minutes, rate=estimate.rates.direct)
    return OwnMinutes(row.step.step, row.step.per, count, row.each_min, minutes, money, in_prime, row.step.at.place("Minutes"))


def _steps_in_the_prime(estimate: Estimate, line: Line) -> Iterator[OwnMinutes]:
    i = _index(estimate, line)
    if isinstance(line.owner, Extra):
        minutes = line.owner.minutes_each or NONE
        if minutes and not _own_price(line):
            money = money_for(minutes, rate=estimate.rates.direct)
            yield OwnMinutes("own work", "", Fraction(1), minutes, minutes, money, True, line.owner.at.place("Minutes each"))
    if i is None:
        return
    always = [row for row in estimate.minutes.steps if not row.step.route]
    for row, count in zip(always, estimate.counted.lines[i].steps, strict=True):
        if count:
            yield _own(row, count, estimate=estimate, in_prime=True)


def _steps_beside(estimate: Estimate, parts: tuple[Part, ...]) -> Iterator[OwnMinutes]:
    """The work on its own edges as the job is banded, and its square metres: paid with the job's work, not in the prime cost."""
    bits = {use.edging: i for i, use in enumerate(estimate.edgings)}
    sent = sum(1 << bits[name] for name in estimate.banding.chosen.sent)
    group = {"by hand": (1 << len(bits)) - 1 & ~sent, "send out": sent}
    alone = tuple(replace(part, qty=1) for part in parts)
    small = small_ids(estimate.job, alone)
    counted = Counted(job=estimate.job, parts=alone, boards=(), edging_bit=bits, batches={}, small=small)
    known = names_known(estimate.job)
    for row in estimate.minutes.steps:
        step, limit = row.step, limit_of(row.step.of, known=known)
        if step.route and step.per in _OF_A_LINE:
            count = tally(counted, route=step.route, per=step.per, limit=limit, glued_only=step.during == "coating").of(group[step.route])
        elif not step.route and step.per == "m2":
            count = sum((per_piece(part, per="m2") for part in alone if limit.part(part)), start=NONE)
        else:
            continue
        if count:
            yield _own(row, count, estimate=estimate, in_prime=False)
