"""Parts from the board merchant: what a job takes and the Merchant sheet in, the comparison with making them here out.

The merchant delivers parts cut, or cut and banded. For those boards the shop's own steps of the stage cutting fall away, and for
banded parts those of the stage banding and every way of banding too; what is left is banded the best way, found anew.
"""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import combinations

from estimator.costing.banding.best_plan import best_group
from estimator.costing.banding.changing import stakes_at
from estimator.costing.banding.question import question_of
from estimator.costing.banding.stakes import cost_of
from estimator.costing.counts import Counted, tally
from estimator.costing.limits import Limit, limit_of
from estimator.costing.sheets import boards_of_job
from estimator.costing.takings import Takings, takings_of
from estimator.costing.work import StepTally, money_for
from estimator.model.dataclass import dataclass
from estimator.model.decision import MerchantAnswer, MerchantWay
from estimator.model.exact import Fraction
from estimator.model.records import Job
from estimator.model.shop_records import MerchantRow
from estimator.model.taken import BoardUse
from estimator.model.units import MM_PER_M, money_text

NONE = Fraction(0)
MOST_BOARDS, MOST_BANDED = 6, 4
"""Up to so many boards, of them so many that come banded, every mix is priced."""
ALL = Limit(part=lambda part: True, band=lambda part, band: True)
"""Every part that is there: with none, a job or a cabinet counts nothing."""


@dataclass(frozen=True, slots=True)
class _Order:
    """What the merchant asks for the parts of one board, its minimum apart."""

    row: MerchantRow
    sheets: Fraction
    cuts: Fraction
    parts: Fraction
    banding: Fraction


def merchant_answer(job: Job, takings: Takings) -> MerchantAnswer | None:
    """All made here, all boards with a row of Merchant bought, each alone, and the best mix; None without such a board."""
    rows = {use.board: row for use in takings.boards if (row := _row_of(job, use.board)) is not None}
    if not rows:
        return None
    boards = tuple(rows)
    orders = {use.board: _order(job, takings, use, rows[use.board]) for use in takings.boards if use.board in rows}
    every_mix = len(boards) <= MOST_BOARDS and sum(row.delivers == "cut and banded" for row in rows.values()) <= MOST_BANDED
    sizes = range(len(boards) + 1) if every_mix else sorted({0, 1, len(boards)})
    known: dict[tuple[frozenset[str], int], _Left] = {}
    ways = [_way(job, takings, orders, group, known) for size in sizes for group in combinations(boards, size)]
    here, whole = ways[0], ways[-1]
    possible = [(way.cost, i) for i, way in enumerate(ways) if way.cost is not None]
    best = ways[min(possible)[1]] if possible else here
    return MerchantAnswer(
        sentence=_sentence(job, here, best, rows),
        here=here,
        whole=whole,
        by_board=tuple(way for way in ways if len(way.boards) == 1),
        best=best,
        every_mix=every_mix,
        lead_time_days=max(row.lead_time_days for row in rows.values()),
    )


def _row_of(job: Job, board: str) -> MerchantRow | None:
    """The board's own row, else the row that stands for every other board."""
    named = next((row for row in job.merchant if row.board == board), None)
    return named or next((row for row in job.merchant if not row.board), None)


# --- what the merchant asks -------------------------------------------------------------------------------------------


def _order(job: Job, takings: Takings, use: BoardUse, row: MerchantRow) -> _Order:
    """Sheets, cuts, parts and edges of one board at the merchant's prices. The merchant cuts none of the shop's own offcuts.

    asked  =  sheets x price  +  cuts of the cutting plan x price  +  parts x price
              +  (banded)  metres x price  +  set-up x edgings

    Source: common-practice.
    """
    mine = tuple(part for part in takings.parts if part.board == use.board)
    if any(not use.plan_stock[pattern.sheet].buyable for pattern in (use.plan.patterns if use.plan else ())):
        anew = boards_of_job(replace(job, offcuts=()), mine)[0]
        use = anew if isinstance(anew, BoardUse) else use
    at_home = sum((one.sheets * one.board.price for one in use.by_size), start=NONE)
    cuts = sum(pattern.count * len(pattern.cuts) for pattern in use.plan.patterns) if use.plan else 0
    bands = [(part, band) for part in mine for band in part.bands] if row.delivers == "cut and banded" else []
    metres = sum((part.count * band.length_mm for part, band in bands), start=NONE) / MM_PER_M
    return _Order(
        row=row,
        sheets=at_home if row.price_per_sheet is None else use.sheets * row.price_per_sheet,
        cuts=cuts * row.price_per_cut,
        parts=use.parts * row.price_per_part,
        banding=metres * row.price_per_m + row.setup * len({band.edging.edging for _, band in bands}),
    )


def _top_up(orders: Sequence[_Order]) -> Fraction:
    """Up to each merchant's minimum, which is for one order: the highest of the rows holds."""
    asked: dict[str, Fraction] = {}
    least: dict[str, Fraction] = {}
    for one in orders:
        name = one.row.merchant
        asked[name] = asked.get(name, NONE) + one.sheets + one.cuts + one.parts + one.banding
        least[name] = max(least.get(name, NONE), one.row.minimum_charge)
    return sum((max(NONE, least[name] - asked[name]) for name in asked), start=NONE)


# --- one way ----------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Left:
    """What is left to band: its edgings, the relevant cost of the best way, what that sends; or why there is no way."""

    edgings: tuple[str, ...]
    cost: Fraction
    sent: tuple[str, ...]
    why: str


def _way(
    job: Job, takings: Takings, orders: Mapping[str, _Order], group: Sequence[str], known: dict[tuple[frozenset[str], int], _Left]
) -> MerchantWay:
    """The parts of these boards from the merchant, all else made here; `known` spares banding the same rest twice."""
    theirs = [orders[board] for board in group]
    banded = frozenset(board for board in group if orders[board].row.delivers == "cut and banded")
    late_days = max((one.row.lead_time_days for one in theirs), default=0)
    key = (banded, late_days if job.terms.working_days_available is not None else 0)
    left = known.get(key) or known.setdefault(key, _best_banding(job, _left_to_band(job, takings, banded, key[1]), key[1]))
    sums = [sum((getattr(one, name) for one in theirs), start=NONE) for name in ("sheets", "cuts", "parts", "banding")]
    top_up = _top_up(theirs)
    boards_here = sum((use.cost for use in takings.boards if use.board not in group), start=NONE)
    minutes = _stage_min(takings, "cutting", without=group) + _stage_min(takings, "banding", without=banded)
    work = money_for(minutes, rate=takings.rates.freed)
    banding, why = left.cost, left.why
    return MerchantWay(
        boards=tuple(group),
        why=why,
        sheets=sums[0],
        cuts=sums[1],
        parts=sums[2],
        banding=sums[3],
        top_up=top_up,
        boards_here=boards_here,
        work_here=work,
        banding_here=banding,
        edgings=left.edgings,
        sent=left.sent,
        cost=None if why else sum(sums, start=top_up + boards_here + work + banding),
    )


def _left_to_band(job: Job, takings: Takings, banded: frozenset[str], late_days: int) -> Takings:
    """The job without the edges that the merchant bands, in the days that are left when it has delivered."""
    days = job.terms.working_days_available
    if not banded and not (late_days and days is not None):
        return takings
    sooner = replace(job, terms=replace(job.terms, working_days_available=None if days is None else days - late_days))
    parts = tuple(replace(part, bands=()) if part.board in banded else part for part in takings.parts)
    left = takings_of(sooner, parts, takings.boards)
    assert isinstance(left, Takings), "fewer edges bring no new problem"
    return left


def _best_banding(job: Job, left: Takings, late_days: int) -> _Left:
    """The best way to band what is left when the merchant has delivered."""
    days, names = job.terms.working_days_available, left.ways.names(left.ways.everything)
    if days is not None and late_days > days:
        return _Left(names, NONE, (), f"the merchant takes {late_days} working days and the job has {days}")
    if not names:
        return _Left((), NONE, (), "")
    stakes = stakes_at(question_of(left.ways), {})
    group = best_group(stakes)
    if group is None:
        return _Left(names, NONE, (), "no way of banding what is left is possible")
    return _Left(names, Fraction(cost_of(stakes, group), stakes.scale), left.ways.names(group), "")


def _stage_min(takings: Takings, stage: str, *, without: Collection[str]) -> Fraction:
    """Minutes of a stage's steps that have no route, for the boards that are still worked here."""
    parts = tuple(part for part in takings.parts if part.board not in without)
    counted = replace(takings.counted, parts=parts, boards=tuple(use for use in takings.boards if use.board not in without))
    return sum((_step_min(takings, counted, one) for one in _steps_of(takings.steps, stage)), start=NONE)


def _steps_of(steps: Sequence[StepTally], stage: str) -> Iterator[StepTally]:
    return (one for one in steps if not one.step.route and one.step.stage.strip().casefold() == stage)


def _step_min(takings: Takings, counted: Counted, one: StepTally) -> Fraction:
    limit = limit_of(one.step.of, known=takings.known) if one.step.of else ALL
    return one.each_min * tally(counted, route="", per=one.step.per, limit=limit).always


def _sentence(job: Job, here: MerchantWay, best: MerchantWay, rows: Mapping[str, MerchantRow]) -> str:
    """What the comparison comes to, in one sentence."""
    currency = job.terms.currency
    if not best.boards or best.cost is None:
        return "Parts from the board merchant: nothing is gained; cut and band here"
    chosen = [rows[board] for board in best.boards]
    by_kind = {kind: [board for board in best.boards if rows[board].delivers == kind] for kind in ("cut and banded", "cut")}
    doing = "; ".join(f"{', '.join(boards)} {kind}" for kind, boards in by_kind.items() if boards)
    days = f"; there in {max(row.lead_time_days for row in chosen)} working days" if any(row.lead_time_days for row in chosen) else ""
    cost = money_text(best.cost, currency=currency)
    assert here.cost is not None, "a job is priced on a way that is possible here"
    saved = money_text(here.cost - best.cost, currency=currency)
    return f"Parts from the board merchant: {doing} for {cost} in all, saves {saved} against making them here{days}"

