"""What work and fittings are counted by (A16): parts, bands and sheets in, counts that follow the way of banding out.

A count of the bench or of the contract bander depends on which edgings go that way. It is kept as a Tally, which gives its
number for any group of edgings, so that every way of banding is counted by the same figures.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import field, replace

from estimator.costing.limits import EVERYTHING, Limit
from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.form import PER_OF_ROUTE
from estimator.model.records import Cabinet, Job
from estimator.model.shop_records import Side
from estimator.model.taken import Band, BoardUse, Part
from estimator.model.units import MM2_PER_M2, MM_PER_M

NONE = Fraction(0)
EVERY_EDGING = -1
"""The group of all edgings, however many: every bit is set."""


@dataclass(slots=True)
class Tally:
    """A count that follows the group of edgings that go one way; bit i of a group stands for edging i."""

    always: Fraction = NONE
    once: Fraction = NONE
    """Counted when any edging of `once_group` goes this way: an order, a trip, the bench job."""
    once_group: int = 0
    by_edging: dict[int, Fraction] = field(default_factory=dict)
    by_group: dict[int, Fraction] = field(default_factory=dict)
    """Pieces by the group of their edgings: a piece counts once when any of its edgings goes this way."""
    staying: "Tally | None" = None
    """What counts at the bench whatever is sent: small parts, and what they bring about."""

    def of(self, group: int) -> Fraction:
        """The count when the edgings of `group` go this way."""
        number = self.always + (self.once if group & self.once_group else NONE)
        number += self.staying.of(EVERY_EDGING) if self.staying else NONE
        number += sum((count for i, count in self.by_edging.items() if group >> i & 1), start=NONE)
        return number + sum((count for pieces, count in self.by_group.items() if group & pieces), start=NONE)


@dataclass(frozen=True, slots=True)
class Counted:
    """What counting needs to know of a job."""

    job: Job
    parts: tuple[Part, ...]
    boards: tuple[BoardUse, ...]
    edging_bit: Mapping[str, int]
    batches: Mapping[str, tuple[frozenset[tuple[int, Side]], ...]]
    """The bands (part and side) in each glue batch of each edging, were it banded by hand; those that cannot are left out."""
    small: frozenset[int] = frozenset()
    """Ids of the parts that stay at the bench whatever is sent."""
    small_batches: Mapping[str, tuple[frozenset[tuple[int, Side]], ...]] = field(default_factory=dict)
    """The same as `batches` for the small parts alone, as they are banded when the edging is sent."""


Weight = Callable[[Part | Cabinet | None], Fraction]
"""How many of a fitting one counted thing takes; 1 for work."""


def one_each(thing: Part | Cabinet | None) -> Fraction:
    return Fraction(1)


def tally(
    counted: Counted, *, route: str, per: str, limit: Limit = EVERYTHING, glued_only: bool = False, weight: Weight = one_each
) -> Tally:
    """How often a row of Work or Fittings counts, by its Route, Per and Of; `glued_only` for steps of coating."""
    if not route:
        return Tally(always=_always(counted, per=per, limit=limit, weight=weight))
    bands = [(part, band) for part in counted.parts for band in part.bands if limit.band(part, band)]
    if glued_only:
        bands = [(part, band) for part, band in bands if band.edging.adhesive]
    if not counted.small:
        return _of_bands(counted, bands, per=per, weight=weight)
    going = [(part, band) for part, band in bands if id(part) not in counted.small]
    if route == "send out":
        return _of_bands(counted, going, per=per, weight=weight)
    alone = replace(counted, batches=counted.small_batches)
    staying = _of_bands(alone, [(part, band) for part, band in bands if id(part) in counted.small], per=per, weight=weight)
    result = _of_bands(counted, bands if per == "batch" else going, per=per, weight=weight)
    if per == "batch":
        result.by_edging = {
            i: result.by_edging.get(i, NONE) - staying.by_edging.get(i, NONE) for i in {**result.by_edging, **staying.by_edging}
        }
    elif staying.once_group:
        result.once = NONE  # the bench has its work whatever is sent
    result.staying = staying
    return result


def _of_bands(counted: Counted, bands: Sequence[tuple[Part, Band]], *, per: str, weight: Weight) -> Tally:
    if per in ("part", "edge", "metre"):
        return _by_band(counted, bands, per=per, weight=weight)
    group = _group(counted, (band for _, band in bands))
    if per == "batch":
        return Tally(by_edging=_in_batches(counted, bands, group, weight))
    trips = counted.job.contract.trips if per == "trip" and counted.job.contract else 1
    return Tally(once=trips * weight(None), once_group=group)


def _in_batches(counted: Counted, bands: Sequence[tuple[Part, Band]], group: int, weight: Weight) -> dict[int, Fraction]:
    """For each edging the batches that hold any of the bands."""
    held = {(id(part), band.side) for part, band in bands}
    return {
        counted.edging_bit[edging]: sum(not held.isdisjoint(batch) for batch in batches) * weight(None)
        for edging, batches in counted.batches.items()
        if group >> counted.edging_bit[edging] & 1
    }


def _group(counted: Counted, bands: Iterable[Band]) -> int:
    group = 0
    for band in bands:
        group |= 1 << counted.edging_bit[band.edging.edging]
    return group


def _by_band(counted: Counted, bands: Sequence[tuple[Part, Band]], *, per: str, weight: Weight) -> Tally:
    result = Tally()
    if per == "part":
        groups: dict[int, tuple[Part, int]] = {}
        for part, band in bands:
            before = groups.get(id(part), (part, 0))[1]
            groups[id(part)] = (part, before | 1 << counted.edging_bit[band.edging.edging])
        for part, group in groups.values():
            result.by_group[group] = result.by_group.get(group, NONE) + part.count * weight(part)
        return result
    for part, band in bands:
        bit = counted.edging_bit[band.edging.edging]
        each = Fraction(1) if per == "edge" else band.length_mm / MM_PER_M
        result.by_edging[bit] = result.by_edging.get(bit, NONE) + part.count * each * weight(None)
    return result


def _always(counted: Counted, *, per: str, limit: Limit, weight: Weight) -> Fraction:
    if per in ("cabinet", "sheet"):
        return (_cabinets if per == "cabinet" else _sheets)(counted, limit, weight)
    parts = [part for part in counted.parts if limit.part(part)]
    if per in ("job", "site trip"):
        times = Fraction(1 if per == "job" else counted.job.terms.site_trips)
        return times * weight(None) if parts or limit is EVERYTHING else NONE
    return sum((part.qty * per_piece(part, per=per) * weight(part) for part in parts), start=NONE)


def per_piece(part: Part, *, per: str) -> Fraction:
    """How often one cabinet's pieces of a part count: pieces, doors, drawers, shelves, or m2 of cut area."""
    if per == "m2":
        return part.count_each * part.cut_length_mm * part.cut_width_mm / MM2_PER_M2
    return Fraction(part.count_each) if per in ("part", part.counts_as) else NONE


def _cabinets(counted: Counted, limit: Limit, weight: Weight) -> Fraction:
    matching = {id(part.owner) for part in counted.parts if limit.part(part)}
    return sum(
        (cabinet.qty * weight(cabinet) for cabinet in counted.job.cabinets if limit is EVERYTHING or id(cabinet) in matching),
        start=NONE,
    )


def _sheets(counted: Counted, limit: Limit, weight: Weight) -> Fraction:
    holding = {part.board for part in counted.parts if limit.part(part)}
    return sum((use.sheets * weight(None) for use in counted.boards if use.board in holding), start=NONE)


def named_counts(counted: Counted, *, by_hand: int, sent: int) -> dict[str, Fraction]:
    """Every count by name, as on one way of banding: for the answer and the papers."""
    counts = {per: tally(counted, route="", per=per).always for per in PER_OF_ROUTE[""]}
    counts |= {f"by hand {per}": tally(counted, route="by hand", per=per).of(by_hand) for per in PER_OF_ROUTE["by hand"]}
    return counts | {f"send out {per}": tally(counted, route="send out", per=per).of(sent) for per in PER_OF_ROUTE["send out"]}
