"""What each way of banding counts, as the engine counted it; above the counts, what one of each costs now.

A way is a row of 1 (sent out) and 0 (banded by hand) for the edgings, and of counts for the steps and fittings that have a route.
The sums over a way are then products of its row with the rows of money and minutes above.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.shop_records import Adhesive, Contract
from estimator.papers.priced.contractor_sheet import OfferTerms
from estimator.papers.priced.edging_sheet import EdgingTerms
from estimator.papers.priced.figures import Figures
from estimator.papers.priced.page import Page
from estimator.papers.priced.quantities import Quantities
from estimator.papers.priced.spoilt_sheet import AnewPrices, write_anew
from estimator.papers.priced.terms import Span, Term, products, term

ALWAYS, ONE = Fraction(0), Fraction(1)


@dataclass(frozen=True, slots=True)
class Block:
    """Columns side by side: what stands above them, and the row of each way below."""

    page: Page
    column: int
    first_row: int
    rows: tuple[tuple[Fraction, ...], ...]

    def row(self, way: int) -> Span:
        return self.page.span(self.first_row + way, self.column, self.rows[way], down=False)

    def one(self, way: int, place: int) -> Term:
        return Term(self.page.ref(self.first_row + way, self.column + place), self.rows[way][place])

    def down(self, place: int) -> Span:
        return self.page.span(self.first_row, self.column + place, [row[place] for row in self.rows])


@dataclass(frozen=True, slots=True)
class CountTerms:
    """The sheet of counts, ready for the sums of each way."""

    edgings: tuple[str, ...]
    sent: Block
    by_hand: Block
    send_out: Block
    fittings: Block
    parts: Block
    batches: Block
    edging_cost: Span
    asked: Span
    """Amount and set-up of each edging alone."""
    offers: tuple[OfferTerms | None, ...]
    no_send: Span
    no_hand: Span
    glued: tuple[tuple[Adhesive, Span], ...]
    small_glued: tuple[Span | None, ...]
    """Of parts that stay at the bench though their edging is sent; None where there are none."""
    small_edging_cost: Span | None
    spoilt: tuple[Span, Span] | None
    """Cost of making the parts anew: of those that go when an edging is sent, of those that stay."""
    hand_min: Span
    send_min: Span
    fitting_money: Span
    chosen_row: int
    """Where the chosen way will stand, once it is known."""
    next_row: int


class _Counts:
    """The sheet while it is written."""

    def __init__(self, page: Page, row: int, live: Quantities) -> None:
        self.page, self.row, self.live = page, row, live
        self.glued = [glue for glue in live.estimate.job.adhesives if live.glued_m2.get(glue.adhesive)]
        self.has_small = bool(live.estimate.banding.small_parts)
        small = 1 + len(self.glued) if self.has_small else 0
        self.first_way = row + 7 + len(self.glued) + small + (2 if live.spoilt else 0)
        self.column = 1

    def block(self, heads: Sequence[str], rows: Sequence[Sequence[Fraction]]) -> Block:
        """Heads and counts of some columns."""
        page, column = self.page, self.column
        page.upright_heads(self.row, heads, column=column)
        for place in range(len(heads)):
            for way, counts in enumerate(rows):
                page.fact(self.first_way + way, column + place, counts[place], "factor")
        self.column += len(heads)
        return Block(page, column, self.first_way, tuple(tuple(counts) for counts in rows))

    def above(self, line: int, block: Block, terms: Sequence[Term], look: str = "money each") -> Span:
        """A row of money or minutes above a block."""
        written = [self.page.live(self.row + line, block.column + i, one, look) for i, one in enumerate(terms)]  # type: ignore[arg-type]
        return self.page.span(self.row + line, block.column, [one.value for one in written], down=False)

    def areas(
        self, line: int, block: Block, of: Mapping[str, Mapping[str, Fraction]], glue: Adhesive, names: Sequence[str]
    ) -> Span:
        """Glued areas above a block, edging by edging."""
        return self.facts(line, block, [of.get(glue.adhesive, {}).get(name, ALWAYS) for name in names], "quantity")

    @property
    def below(self) -> int:
        """The first row below the ways and a blank one."""
        return self.first_way + len(self.live.ways) + 1

    def spoilt(self, block: Block, prices: AnewPrices) -> tuple[tuple[Span, Span], int]:
        """What it costs to make the parts anew, from a table below the ways; and the next free row."""
        goes, stays, row = write_anew(self.page, self.below, self.live, prices)
        line = self.first_way - self.row - 3
        return (self.above(line, block, goes, "money"), self.above(line + 1, block, stays, "money")), row

    def facts(self, line: int, block: Block, values: Sequence[Fraction], look: str = "factor") -> Span:
        for i, value in enumerate(values):
            self.page.fact(self.row + line, block.column + i, value, look)  # type: ignore[arg-type]
        return self.page.span(self.row + line, block.column, values, down=False)


def _words(counts: _Counts) -> Iterator[str]:
    """What stands in the rows above the ways."""
    yield from ("Now, for one", "Contract bander asks", "Cannot be sent out", "Cannot be banded by hand", "Sent on the chosen way")
    yield from (f"Glued m2: {glue.adhesive}" for glue in counts.glued)
    if counts.has_small:
        yield "Edging for small parts that stay"
        yield from (f"Glued m2 on small parts: {glue.adhesive}" for glue in counts.glued)
    if counts.live.spoilt:
        yield from ("Parts anew, of those that go", "Parts anew, of small ones")


def write_counts(
    page: Page,
    row: int,
    live: Quantities,
    *,
    edging: EdgingTerms,
    offers: Mapping[str, OfferTerms],
    steps: Sequence[Term],
    fittings: Sequence[Term],
    anew: AnewPrices,
    figures: Figures,
) -> CountTerms:
    """The whole sheet; `steps` and `fittings` are minutes and money of one count, for each row of Work and Fittings."""
    counts, job = _Counts(page, row, live), live.estimate.job
    names = tuple(use.edging for use in live.estimate.edgings)
    page.text(row, 0, "Way", "head")
    for line, words in enumerate(_words(counts), start=1):
        page.text(row + line, 0, words)
    for way in range(len(live.ways)):
        page.fact(counts.first_way + way, 0, way + 1, "whole")
    sent = counts.block(
        [f"sent: {name}" for name in names], [[ONE if name in way.sent else ALWAYS for name in names] for way in live.ways]
    )
    routed = [(step, one) for step, one in zip(job.work, steps, strict=True) if step.route]
    hand = [i for i, (step, _) in enumerate(routed) if step.route == "by hand"]
    out = [i for i, (step, _) in enumerate(routed) if step.route == "send out"]
    by_hand = counts.block([routed[i][0].step for i in hand], [[way.steps[i] for i in hand] for way in live.ways])
    send_out = counts.block([routed[i][0].step for i in out], [[way.steps[i] for i in out] for way in live.ways])
    fitted = [(fitting, one) for fitting, one in zip(job.fittings, fittings, strict=True) if fitting.route]
    fitting_block = counts.block([fitting.item for fitting, _ in fitted], [way.fittings for way in live.ways])
    parts = counts.block(["parts sent"], [[Fraction(way.parts_sent)] for way in live.ways])
    batches = counts.block(["glue batches"], [[Fraction(way.batches)] for way in live.ways])
    asked = [offers[name].amount + offers[name].setup if name in offers else term(0) for name in names]
    spoilt, next_row = counts.spoilt(sent, anew) if live.spoilt else (None, counts.below)
    return CountTerms(
        edgings=names,
        sent=sent,
        by_hand=by_hand,
        send_out=send_out,
        fittings=fitting_block,
        parts=parts,
        batches=batches,
        edging_cost=counts.above(1, sent, [edging.cost_of[name] for name in names]),
        asked=counts.above(2, sent, asked),
        offers=tuple(offers.get(name) for name in names),
        no_send=counts.facts(3, sent, [ONE if name in live.never_sent else ALWAYS for name in names]),
        no_hand=counts.facts(4, sent, [ONE if name in live.never_by_hand else ALWAYS for name in names]),
        glued=tuple((glue, counts.areas(6 + i, sent, live.glued_m2, glue, names)) for i, glue in enumerate(counts.glued)),
        small_glued=tuple(
            counts.areas(7 + len(counts.glued) + i, sent, live.small_glued_m2, glue, names) if counts.has_small else None
            for i, glue in enumerate(counts.glued)
        ),
        small_edging_cost=counts.above(6 + len(counts.glued), sent, [edging.small_cost_of.get(name, term(0)) for name in names])
        if counts.has_small
        else None,
        spoilt=spoilt,
        hand_min=counts.above(1, by_hand, [_each(routed[i], job.contract, figures) for i in hand], "quantity"),
        send_min=counts.above(1, send_out, [_each(routed[i], job.contract, figures) for i in out], "quantity"),
        fitting_money=counts.above(1, fitting_block, [_each(one, job.contract, figures) for one in fitted]),
        chosen_row=row + 5,
        next_row=next_row,
    )


def _each(counted: tuple[object, Term], contract: Contract | None, figures: Figures) -> Term:
    """Minutes or money of one count; what is counted per trip is counted for one trip, times the trips."""
    row, one = counted
    if getattr(row, "per", "") == "trip" and contract is not None:
        return one * figures(contract, "Trips")
    return one


def write_chosen(counts: CountTerms, sent: Sequence[Term]) -> tuple[Mapping[str, Term], Span]:
    """The chosen way above the others: which edgings are sent on it."""
    page, column = counts.sent.page, counts.sent.column
    written = [page.live(counts.chosen_row, column + i, one, "factor") for i, one in enumerate(sent)]
    span = page.span(counts.chosen_row, column, [one.value for one in written], down=False)
    return dict(zip(counts.edgings, written, strict=True)), span


def order_metres(counts: CountTerms, way: int) -> Term:
    """Metres that the whole order of a way is charged."""
    charged = [offer.charged if offer else term(0) for offer in counts.offers]
    sent = [counts.sent.one(way, i) * one for i, one in enumerate(charged)]
    words = "+".join(one.words for one in sent)
    return Term(words, sum((one.value for one in sent), start=Fraction(0)), 1)


def by_hand_m2(glued: Span, sent: Span, small: Span | None = None) -> Term:
    """Glued area of the edgings that stay at the bench, and of the small parts of those that are sent."""
    kept = kept_of(glued, sent)
    return kept + products(small, sent) if small else kept


def kept_of(figures: Span, sent: Span) -> Term:
    """Sum over the edgings that are not sent."""
    value = sum((one * (1 - gone) for one, gone in zip(figures.values, sent.values, strict=True)), start=Fraction(0))
    return Term(f"SUMPRODUCT({figures.words},1-{sent.words})", value)


def dot(one: Span, other: Span) -> Term:
    """Sum of products; nothing is 0."""
    return products(one, other) if one.values else term(0)
