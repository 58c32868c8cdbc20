"""Does our own answer add up: an Estimate in, every law that it breaks out. A breach is a Fault: no paper is written."""

from collections.abc import Callable, Iterator

from estimator.costing.cut_part import cut_area_mm2
from estimator.model.exact import Fraction
from estimator.model.problems import Fault
from estimator.model.results import Estimate
from estimator.model.taken import Part
from estimator.model.units import MM2_PER_M2, MM_PER_M, to_money

NONE = Fraction(0)


def hold_the_laws(estimate: Estimate) -> Estimate:
    """The estimate itself when it keeps every law; a Fault that names the broken ones when it does not."""
    broken = [words for law in LAWS for words in law(estimate)]
    if broken:
        raise Fault("; ".join(broken))
    return estimate


def _part_area_m2(part: Part) -> Fraction:
    area = cut_area_mm2(cut_length_mm=part.cut_length_mm, cut_width_mm=part.cut_width_mm)
    return part.count * area / MM2_PER_M2


def area_is_kept(estimate: Estimate) -> Iterator[str]:
    """Parts' area = boards' area, and the pieces too."""
    parts = sum((_part_area_m2(part) for part in estimate.parts), start=NONE)
    boards = sum((use.area_m2 for use in estimate.boards), start=NONE)
    if parts != boards:
        yield f"parts have {parts} m2 and boards {boards}"
    pieces, on_boards = sum(part.count for part in estimate.parts), sum(use.parts for use in estimate.boards)
    if pieces != on_boards:
        yield f"there are {pieces} parts and {on_boards} on boards"


def sheets_are_kept(estimate: Estimate) -> Iterator[str]:
    """Sheet area = parts + kerf + trim + offcuts, and no fewer sheets than the proven bound."""
    for use in estimate.boards:
        if use.sheets < use.bound:
            yield f"{use.board} takes {use.sheets} sheets, below its bound of {use.bound}"
        if use.plan is None:
            continue
        raw = [use.plan_stock[pattern.sheet] for pattern in use.plan.patterns]
        counts = [pattern.count for pattern in use.plan.patterns]
        sheets = sum((n * one.length_mm * one.width_mm for n, one in zip(counts, raw, strict=True)), start=NONE)
        if sheets != use.plan.parts_mm2 + use.plan.kerf_mm2 + use.plan.trim_mm2 + use.plan.offcut_mm2:
            yield f"the sheets of {use.board} are not the sum of parts, kerf, trim and offcuts"


def edges_are_kept(estimate: Estimate) -> Iterator[str]:
    """Edges by edging = the parts' banded edges; metres too; batches hold every edge that stays at the bench."""
    for use in estimate.edgings:
        bands = [(part, band) for part in estimate.parts for band in part.bands if band.edging.edging == use.edging]
        edges = sum(part.count for part, _ in bands)
        net_m = sum((part.count * band.length_mm for part, band in bands), start=NONE) / MM_PER_M
        if edges != use.edges or net_m != use.net_m:
            yield f"{use.edging} counts {use.edges} edges, {use.net_m} m; its parts have {edges}, {net_m} m"
        in_batches = sum(batch.edges for batch in estimate.batches if batch.edging == use.edging)
        small = next((one.stays.edges for one in estimate.banding.small_parts if one.edging == use.edging), 0)
        if in_batches != (small if use.edging in estimate.banding.chosen.sent else edges):
            yield f"the batches of {use.edging} hold {in_batches} of {edges} edges"


def minutes_add_up(estimate: Estimate) -> Iterator[str]:
    """Steps add up to the minutes."""
    minutes = estimate.minutes
    steps = sum((step.minutes for step in minutes.steps), start=minutes.extras)
    if steps != minutes.total or minutes.always + minutes.by_hand + minutes.send_out != minutes.total:
        yield f"steps add up to {steps} minutes, not {minutes.total}"


def money_adds_up(estimate: Estimate) -> Iterator[str]:
    """Cost, lines, bases, tax and instalments add up exactly (EN 16931 BR-CO-10 to BR-CO-17, without tolerance)."""
    cost, price, currency = estimate.cost, estimate.price, estimate.job.terms.currency
    parts = (cost.boards, cost.edging, cost.adhesive, cost.fittings, cost.contractor, cost.trips, cost.extras)
    if sum(parts, start=cost.labour + cost.overhead) != cost.total or cost.total + cost.contingency != cost.base:
        yield "the cost does not add up"
    if sum((line.net for line in price.lines), start=NONE) != price.sum_lines:
        yield "lines do not add up to the sum"
    if price.sum_lines - price.discount + price.delivery != price.net:
        yield "sum, discount and delivery do not add up to the net"
    if sum((line.base for line in price.tax), start=NONE) != price.net:
        yield "the bases of the tax do not add up to the net"
    if any(to_money(line.base * line.rate_share, currency=currency) != line.tax for line in price.tax):
        yield "a tax is not its base times its rate"
    if price.net + price.tax_total + price.rounding != price.gross:
        yield "net, tax and rounding do not add up to the total"
    if sum((step.amount for step in price.instalments), start=NONE) != price.gross:
        yield "instalments do not add up to the total"
    if any(to_money(amount, currency=currency) != amount for amount in (price.net, price.gross, price.tax_total)):
        yield "an amount on the quote is not a whole number of minor units"


def best_is_best(estimate: Estimate) -> Iterator[str]:
    """No possible plan has a lower relevant cost than the best."""
    best = estimate.banding.best.relevant_cost
    costs = [plan.relevant_cost for plan in estimate.banding.plans if plan.relevant_cost is not None]
    if best is None or best != min(costs):
        yield "the best way of banding is not the cheapest"


LAWS: tuple[Callable[[Estimate], Iterator[str]], ...] = (
    area_is_kept,
    sheets_are_kept,
    edges_are_kept,
    minutes_add_up,
    money_adds_up,
    best_is_best,
)
