"""A whole job in, its sheets from boards to total out, in the order in which each builds on the one before.

The job itself has a sheet for each of them; an option stands on one sheet, one table below the other, by the same functions.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from estimator.model.dataclass import dataclass
from estimator.model.records import Extra
from estimator.model.shop_records import Adhesive
from estimator.papers.priced.adhesive_sheet import write_adhesives
from estimator.papers.priced.boards_sheet import BoardTerms, write_boards
from estimator.papers.priced.contractor_sheet import write_contractor
from estimator.papers.priced.edging_sheet import EdgingTerms, write_edging_cost, write_edgings
from estimator.papers.priced.figures import Figures
from estimator.papers.priced.fittings_sheet import FittingTerms, write_fitting_cost, write_fittings
from estimator.papers.priced.line_counts_sheet import write_line_counts
from estimator.papers.priced.page import Page
from estimator.papers.priced.price_sheet import PriceTerms, PriceWriter
from estimator.papers.priced.quantities import Quantities
from estimator.papers.priced.spoilt_sheet import AnewPrices
from estimator.papers.priced.terms import Term, term, total
from estimator.papers.priced.ways_counts_sheet import Block, CountTerms, by_hand_m2, write_chosen, write_counts
from estimator.papers.priced.ways_sheet import Choosing, WayTerms, write_ways
from estimator.papers.priced.work_sheet import MinuteTerms, WorkTerms, write_minutes, write_steps

SECTIONS = ("boards", "edging", "work", "fittings", "contractor", "counts", "ways", "adhesive", "lines", "price")
WAYS_ABOVE = 4
"""Rows above the table of ways: the numbers of the best and of the chosen way."""
COST_PARTS = ("Boards", "Edging", "Adhesive", "Fittings", "Contract bander", "Trips", "Extras", "Labour", "Overhead")


class Paper:
    """Where each section stands: on a sheet of its own, or below the one before."""

    def __init__(self, pages: Mapping[str, Page], row: Callable[[str], int], *, stacked: bool) -> None:
        self.pages, self._row, self.stacked = pages, row, stacked
        self.next = {page.name: row("") for page in pages.values()}
        self.page = ""

    def start(self, section: str) -> tuple[Page, int]:
        above, page = WAYS_ABOVE if section == "ways" else 0, self.pages[section]
        self.page = page.name
        return page, self.next[page.name] + above if self.stacked else self._row(section)

    def end(self, row: int) -> None:
        """The next free row of the sheet of the section that was started last."""
        self.next[self.page] = max(self.next[self.page], row + 1)


@dataclass(frozen=True, slots=True)
class JobTerms:
    """What the other sheets show of a job."""

    boards: BoardTerms
    edging: EdgingTerms
    edging_sent: Mapping[str, Term]
    ways: WayTerms
    counts: CountTerms
    each: tuple[Term, ...]
    """Standard minutes of one, for each row of Work."""
    litres: tuple[tuple[Adhesive, Term], ...]
    fitting_numbers: tuple[Term, ...]
    minutes: MinuteTerms
    cost_parts: tuple[Term, ...]
    cost: Term
    contingency: Term
    base: Term
    price: PriceTerms
    cost_page: Page
    cost_row: int


@dataclass(frozen=True, slots=True)
class _Takings:
    """What is written before a way is chosen; the rest of these sheets waits for it."""

    boards: BoardTerms
    edging_page: Page
    edging: EdgingTerms
    work_page: Page
    work: WorkTerms
    fitting_page: Page
    fittings: FittingTerms
    counts: CountTerms
    ways: WayTerms


def _before_the_choice(paper: Paper, live: Quantities, figures: Figures, choosing: Choosing) -> _Takings:
    """Boards, edging, steps, fittings and the offer as they are on any way; then every way, the best and the chosen one."""
    estimate, job = live.estimate, live.estimate.job
    page, row = paper.start("boards")
    boards = write_boards(page, row, estimate.boards, job, figures, told=estimate.cost.boards)
    paper.end(boards.next_row)
    edging_page, row = paper.start("edging")
    edging = write_edgings(edging_page, row, estimate.edgings, estimate.banding.small_parts, figures)
    paper.end(edging.next_row + 1)
    work_page, row = paper.start("work")
    work = write_steps(work_page, row, estimate.minutes.steps, job.shop, figures)
    paper.end(work.next_row)
    fitting_page, row = paper.start("fittings")
    fittings = write_fittings(fitting_page, row, estimate.fittings, figures)
    paper.end(fittings.next_row)
    page, row = paper.start("contractor")
    going = {one.edging: one.goes for one in estimate.banding.small_parts}
    sendable = tuple(going.get(use.edging) or use for use in estimate.edgings)
    offers, row = write_contractor(page, row, sendable, job.contract, job.contract_prices, figures)
    paper.end(row)
    page, row = paper.start("counts")
    counts = write_counts(
        page, row, live, edging=edging, offers=offers, steps=work.each, fittings=fittings.money_each, figures=figures,
        anew=AnewPrices(
            tuple(boards.per_m2.values()),
            edging.prices,
            tuple(one for step, one in zip(job.work, work.each, strict=True) if not step.route),
            figures.direct,
        ),
    )  # fmt: skip
    paper.end(counts.next_row)
    page, row = paper.start("ways")
    best_at = (row - WAYS_ABOVE + 1, 1)
    ways = write_ways(page, row, live, counts, figures, figures.freed, choosing=choosing, best_at=best_at)
    paper.end(ways.next_row)
    return _Takings(boards, edging_page, edging, work_page, work, fitting_page, fittings, counts, ways)


def write_job(paper: Paper, live: Quantities, figures: Figures, choosing: Choosing) -> JobTerms:
    """All sections of one job or option."""
    estimate, job = live.estimate, live.estimate.job
    took = _before_the_choice(paper, live, figures, choosing)
    counts, ways = took.counts, took.ways
    sent, gone = write_chosen(counts, [ways.at_chosen(counts.sent.down(i)) for i in range(len(counts.edgings))])
    supplied = job.contract is not None and job.contract.supplies_edging
    edging_cost = write_edging_cost(
        took.edging_page, took.edging, estimate.edgings, estimate.banding.small_parts, sent,
        supplied=supplied, told=estimate.cost.edging,
    )  # fmt: skip
    page, row = paper.start("adhesive")
    glued = [(glue, by_hand_m2(span, gone, small)) for (glue, span), small in zip(counts.glued, counts.small_glued, strict=True)]
    glue_cost, litres, row = write_adhesives(page, row, glued, estimate.banding.adhesives, figures, told=estimate.cost.adhesive)
    paper.end(row)
    fitted = _fitting_counts(live, counts, ways, figures)
    fitting_cost, numbers = write_fitting_cost(
        took.fitting_page, took.fittings, estimate.fittings, fitted, figures, told=estimate.cost.fittings
    )
    minutes = _minutes(live, took, figures)
    primes = _primes(paper, live, took, figures)
    page, row = paper.start("price")
    extras = total([figures(extra, "Qty") * figures.maybe(extra, "Cost each").or_0 for extra in _shared(job.extras)])
    parts = (
        *(took.boards.cost, edging_cost, glue_cost, fitting_cost),
        *(ways.at_chosen(ways.contractor), ways.at_chosen(ways.trips), extras),
        *(minutes.total / 60 * figures.direct, minutes.total / 60 * figures.overhead),
    )
    costs, cost, contingency, base, next_row = _write_cost(page, row, live, parts, figures)
    price = PriceWriter(page, next_row + 1, live, figures).write(base, primes)
    paper.end(price.next_row)
    return JobTerms(
        took.boards,
        took.edging,
        sent,
        ways,
        counts,
        took.work.each,
        litres,
        numbers,
        minutes,
        costs,
        cost,
        contingency,
        base,
        price,
        page,
        row,
    )


def _minutes(live: Quantities, took: _Takings, figures: Figures) -> MinuteTerms:
    """Minutes by step on the chosen way."""
    estimate = live.estimate
    shared = _shared(estimate.job.extras)
    extras = total([figures(extra, "Qty") * figures.maybe(extra, "Minutes each").or_0 for extra in shared])
    counted = _step_counts(live, took.counts, took.ways, figures)
    rate = figures.direct + figures.overhead
    return write_minutes(
        took.work_page, took.work, estimate.minutes.steps, counted, extras=extras, rate=rate, told=estimate.minutes.total
    )


def _primes(paper: Paper, live: Quantities, took: _Takings, figures: Figures) -> tuple[Term, ...]:
    """The prime cost of one of each line."""
    job = live.estimate.job
    page, row = paper.start("lines")
    primes, row = write_line_counts(
        page,
        row,
        live,
        per_m2=tuple(took.boards.per_m2.values()),
        prices=took.edging.prices,
        direct=figures.direct,
        fittings=[one for fitting, one in zip(job.fittings, took.fittings.money_each, strict=True) if not fitting.route],
        minutes=[one for step, one in zip(job.work, took.work.each, strict=True) if not step.route],
    )
    paper.end(row)
    return primes


def _write_cost(
    page: Page, row: int, live: Quantities, parts: Sequence[Term], figures: Figures
) -> tuple[tuple[Term, ...], Term, Term, Term, int]:
    """The cost, part by part, contingency and base."""
    told = live.estimate.cost
    page.heads(row, ("Cost of the job", "Amount"), left=1)
    amounts = (
        told.boards,
        told.edging,
        told.adhesive,
        told.fittings,
        told.contractor,
        told.trips,
        told.extras,
        told.labour,
        told.overhead,
    )
    first = row = row + 1
    written = []
    for words, part, amount in zip(COST_PARTS, parts, amounts, strict=True):
        page.text(row, 0, words, "label")
        written.append(page.live(row, 1, part, told=amount))
        row += 1
    page.text(row, 0, "Cost", "total label")
    cost = page.live(row, 1, page.span(first, 1, amounts).sum(), "total", told=told.total)
    page.text(row + 1, 0, "Contingency", "label")
    contingency = page.live(row + 1, 1, cost * figures(live.estimate.job.terms, "Contingency"), told=told.contingency)
    page.text(row + 2, 0, "Base of the price", "total label")
    base = page.live(row + 2, 1, cost + contingency, "total", told=told.base)
    return tuple(written), cost, contingency, base, row + 3


def _shared(extras: Sequence[Extra]) -> list[Extra]:
    """Extras that are priced with the job."""
    return [extra for extra in extras if extra.price_each is None]


def _step_counts(live: Quantities, counts: CountTerms, ways: WayTerms, figures: Figures) -> tuple[Term, ...]:
    job, always = live.estimate.job, iter(live.steps)
    blocks = {"by hand": (counts.by_hand, iter(range(10**6))), "send out": (counts.send_out, iter(range(10**6)))}
    found = []
    for step in job.work:
        if not step.route:
            found.append(term(next(always)))
            continue
        block, places = blocks[step.route]
        found.append(_at_chosen(step.per, block, next(places), live, ways, figures))
    return tuple(found)


def _fitting_counts(live: Quantities, counts: CountTerms, ways: WayTerms, figures: Figures) -> tuple[Term, ...]:
    always, routed = iter(live.fittings), iter(range(10**6))
    return tuple(
        _at_chosen(fitting.per, counts.fittings, next(routed), live, ways, figures) if fitting.route else term(next(always))
        for fitting in live.estimate.job.fittings
    )


def _at_chosen(per: str, block: Block, place: int, live: Quantities, ways: WayTerms, figures: Figures) -> Term:
    count = ways.at_chosen(block.down(place))
    contract = live.estimate.job.contract
    return count * figures(contract, "Trips") if per == "trip" and contract is not None else count
