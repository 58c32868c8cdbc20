"""Every way of banding in, its relevant cost, the best and the chosen one out: live, with a drop-down (A26 to A28)."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.problems import Fault
from estimator.model.results import BandingPlan
from estimator.model.units import half_away
from estimator.papers.priced.figures import Figures
from estimator.papers.priced.page import Page
from estimator.papers.priced.quantities import Quantities
from estimator.papers.priced.terms import Span, Term, greater, term, total, whole_up
from estimator.papers.priced.ways_counts_sheet import CountTerms, by_hand_m2, dot, kept_of, order_metres

HEADS = (
    "Way",
    "Number",
    "Possible",
    "Relevant cost",
    "Dearer than the best",
    "Edging",
    "Adhesive",
    "Contract bander",
    "Trips",
    "Fittings",
    "Minutes by hand",
    "Minutes of sending out",
    "Their worth",
    "Spoilt edges",
    "Key",
    "Key of the list",
    "Why not",
)
_WAY, _NO, _POSSIBLE, _COST, _DEARER, _EDGING, _GLUE, _ASKED, _TRIPS, _FITTINGS, _HAND, _SEND, _WORTH, _SPOILT, _KEY, _LIST, _WHY = range(
    17
)
BEST = "best"
WAY, NUMBER, POSSIBLE = _WAY, _NO, _POSSIBLE
KEYS = (_KEY, _LIST)
"""Columns that are for the formulas only."""


def words_of(sent: Sequence[str], everything: int) -> str:
    """A way in the words of the drop-down.

    >>> words_of((), 2), words_of(("white", "oak"), 2), words_of(("oak",), 2)
    ('by hand', 'send out', 'send out: oak')
    """
    if not sent:
        return "by hand"
    return "send out" if len(sent) == everything else f"send out: {', '.join(sent)}"


@dataclass(frozen=True, slots=True)
class WayTerms:
    """The ways, the best and the chosen; `at_chosen` picks a figure of the chosen way out of a column."""

    page: Page
    first_row: int
    words: tuple[str, ...]
    best: Term
    chosen: Term
    columns: dict[int, tuple[Fraction, ...]]
    keys: tuple[Fraction | None, ...]
    next_row: int

    def column(self, place: int) -> Span:
        return self.page.span(self.first_row, place, self.columns[place])

    def at_chosen(self, column: Span) -> Term:
        return Term(f"INDEX({column.words},{self.chosen.words})", column.values[int(self.chosen.value) - 1])

    def span(self, place: int) -> str:
        """The cells of a column, whatever they hold."""
        return self.page.span(self.first_row, place, [Fraction(0)] * len(self.words)).words

    def cost_at(self, way: int) -> str:
        """The cell of a way's relevant cost."""
        return self.page.ref(self.first_row + way, _COST)

    @property
    def list_span(self) -> str:
        return self.span(_LIST)

    @property
    def words_span(self) -> str:
        return self.span(_WAY)

    def cheapest(self) -> list[int]:
        """The possible ways by their key of the list."""
        cost = self.columns[_COST]
        known = [(half_away(cost[way] * 100), way) for way, key in enumerate(self.keys) if key is not None]
        return [way for _, way in sorted(known)]

    def words_at(self, number: Term) -> tuple[str, str]:
        """The formula for the words of a way by its number, and the words now."""
        return f"INDEX({self.span(_WAY)},{number.words})", self.words[int(number.value) - 1]

    @property
    def edging(self) -> Span:
        return self.column(_EDGING)

    @property
    def adhesive(self) -> Span:
        return self.column(_GLUE)

    @property
    def contractor(self) -> Span:
        return self.column(_ASKED)

    @property
    def trips(self) -> Span:
        return self.column(_TRIPS)

    @property
    def relevant_cost(self) -> Span:
        return self.column(_COST)


class _Ways:
    """The table while it is written."""

    def __init__(self, page: Page, row: int, live: Quantities, counts: CountTerms, figures: Figures, freed: Term) -> None:
        self.page, self.live, self.counts, self.figures, self.freed = page, live, counts, figures, freed
        self.job, self.head_row, self.first = live.estimate.job, row, row + 1
        self.plans = {plan.sent: plan for plan in live.estimate.banding.plans}
        self.columns: dict[int, list[Fraction]] = {}
        self.keys: list[Fraction | None] = []
        self.words = tuple(words_of(way.sent, len(counts.edgings)) for way in live.ways)

    def write(self) -> None:
        self.page.heads(self.head_row, HEADS[:_WHY], left=1)
        self.page.heads(self.head_row, HEADS[_WHY:], column=_WHY)
        self.page.widths[_LIST] = 15.0  # money in minor units, and four digits more
        for way in range(len(self.live.ways)):
            self._way(way)

    def _way(self, way: int) -> None:
        page, row = self.page, self.first + way
        page.fact(row, _NO, way + 1, "whole")
        page.text(row, _WAY, self.words[way])
        possible = page.live(row, _POSSIBLE, self._possible(way), "yes no")
        plan = self.plans.get(self.live.ways[way].sent)
        told = plan if plan and plan.possible else None
        figures = {
            _EDGING: self._edging(way),
            _GLUE: self._adhesive(way),
            _ASKED: self._asked(way),
            _TRIPS: self._trips(way),
            _FITTINGS: dot(self.counts.fittings.row(way), self.counts.fitting_money),
            _HAND: dot(self.counts.by_hand.row(way), self.counts.hand_min),
            _SEND: dot(self.counts.send_out.row(way), self.counts.send_min),
        }
        written = {column: self._if_possible(row, column, one, possible, _told(told, column)) for column, one in figures.items()}
        worth = (written[_HAND] + written[_SEND]) / 60 * self.freed
        written[_WORTH] = self._if_possible(row, _WORTH, worth, possible, None)
        spoilt = self._if_possible(row, _SPOILT, self._spoilt(way), possible, told.spoilt if told else None)
        cost = total([*(written[column] for column in (_EDGING, _GLUE, _ASKED, _TRIPS, _FITTINGS, _WORTH)), spoilt])
        self._if_possible(row, _COST, cost, possible, told.relevant_cost if told else None)
        self._key(row, way, possible)
        self._why(row, way, possible)

    def _if_possible(self, row: int, column: int, one: Term, possible: Term, told: Fraction | None) -> Term:
        """A figure of a way; blank where the way is not possible."""
        look = "minutes" if column in (_HAND, _SEND) else "money"
        value = one.value if possible.value else Fraction(0)
        self.columns.setdefault(column, []).append(value)
        if possible.value:
            self.page.live(row, column, Term(f'IF({possible.words}=1,{one.words},"")', one.value), look, told=told)  # type: ignore[arg-type]
        else:
            self.page.raw(row, column, f'IF({possible.words}=1,{one.words},"")', "", look)  # type: ignore[arg-type]
        return Term(self.page.ref(row, column), value)

    def _possible(self, way: int) -> Term:
        sent, counts = self.counts.sent.row(way), self.counts
        stopped = dot(sent, counts.no_send).value + sum(
            ((1 - gone) * no for gone, no in zip(sent.values, counts.no_hand.values, strict=True)), start=Fraction(0)
        )
        words = f"SUMPRODUCT({sent.words},{counts.no_send.words})+SUMPRODUCT(1-{sent.words},{counts.no_hand.words})"
        if not any(sent.values) or self.job.contract is None:
            return Term(f"IF({words}=0,1,0)" if sent.values else "1", Fraction(stopped == 0))
        lead, days = self.figures(self.job.contract, "Lead time"), self.figures.maybe(self.job.terms, "Working days available")
        late = days.value is not None and lead.value > days.value
        return Term(f"IF({words}+IF({days.asks},IF({lead.words}>{days.ref},1,0),0)=0,1,0)", Fraction(stopped == 0 and not late))

    def _edging(self, way: int) -> Term:
        cost, contract = self.counts.edging_cost, self.job.contract
        if not cost.values:
            return term(0)
        if contract is not None and contract.supplies_edging:
            sent, small = self.counts.sent.row(way), self.counts.small_edging_cost
            kept = kept_of(cost, sent)
            return kept + dot(small, sent) if small else kept
        return cost.sum()

    def _spoilt(self, way: int) -> Term:
        """Edges spoilt here and away, each its part anew; what stays at the bench is spoilt here."""
        if self.counts.spoilt is None:
            return term(0)
        (goes, stays), sent = self.counts.spoilt, self.counts.sent.row(way)
        here = (kept_of(goes, sent) + stays.sum()) * self.figures(self.job.shop, "Spoilt by hand")
        return here + dot(goes, sent) * self.figures(self.job.contract, "Spoilt") if self.job.contract else here

    def litres(self, way: int, place: int) -> Term:
        glue, glued = self.counts.glued[place]
        area = by_hand_m2(glued, self.counts.sent.row(way), self.counts.small_glued[place])
        return area / self.figures(glue, "Coverage") * (1 + self.figures(glue, "Spare"))

    def _adhesive(self, way: int) -> Term:
        costs = []
        for place, (glue, _) in enumerate(self.counts.glued):
            packs = self.litres(way, place) / self.figures(glue, "Pack")
            costs.append((whole_up(packs) if glue.charge == "whole packs" else packs) * self.figures(glue, "Price"))
        return total(costs)

    def _asked(self, way: int) -> Term:
        contract, counts = self.job.contract, self.counts
        sent = counts.sent.row(way)
        if contract is None or not any(sent.values):
            return term(0)
        charge = self.figures(contract, "Charge per part") * counts.parts.one(way, 0)
        if contract.breaks_count == "whole order":
            reached = order_metres(counts, way)
            asked = total(
                [
                    counts.sent.one(way, i) * (offer.charged * offer.price_from(reached) + offer.setup)
                    for i, offer in enumerate(counts.offers)
                    if offer and sent.values[i]
                ]
            )
        else:
            asked = dot(sent, counts.asked)
        return greater(self.figures(contract, "Minimum charge"), asked + charge)

    def _trips(self, way: int) -> Term:
        contract = self.job.contract
        if contract is None or not any(self.counts.sent.row(way).values):
            return term(0)
        return (
            self.figures(contract, "Trips")
            * self.figures(contract, "Distance per trip")
            * self.figures(contract, "Cost per distance")
        )

    def _key(self, row: int, way: int, possible: Term) -> None:
        """What the best is found by, the cost without binary noise; and what the list of the cheapest is sorted by.

        Programs take numbers for equal that differ in the last binary digits, so the key of the list is of whole cents, each
        followed by the place of the way: no two are alike.
        """
        cost, number = self.page.ref(row, _COST), self.page.ref(row, _NO)
        value = self.columns[_COST][way] if possible.value else None
        self.keys.append(None if value is None else Fraction(half_away(value * 10**9), 10**9))
        shown = "" if value is None else float(value)
        self.page.raw(row, _KEY, f'IF({possible.words}=1,ROUND({cost},9),"")', shown, "fact")
        listed = "" if value is None else half_away(value * 100) * 10_000 + way + 1
        self.page.raw(row, _LIST, f'IF({possible.words}=1,ROUND(ROUND({cost}*100,6),0)*10000+{number},"")', listed, "fact")

    def _why(self, row: int, way: int, possible: Term) -> None:
        sent = self.live.ways[way].sent
        reasons = [self.live.never_sent[name] for name in sent if name in self.live.never_sent]
        reasons += [
            self.live.never_by_hand[name] for name in self.counts.edgings if name not in sent and name in self.live.never_by_hand
        ]
        why = "; ".join(dict.fromkeys(reasons))
        if why:
            self.page.text(row, _WHY, why, "words")
        elif sent:
            late = "the contract bander takes longer than the days that there are"
            self.page.words(row, _WHY, f'IF({possible.words}=1,"","{late}")', "" if possible.value else late, "words")

    def dearer(self, best_cost: str, value: Fraction) -> None:
        for way in range(len(self.live.ways)):
            row = self.first + way
            cost = self.page.ref(row, _COST)
            known = self.keys[way] is not None
            self.page.raw(
                row,
                _DEARER,
                f'IF({self.page.ref(row, _POSSIBLE)}=1,{cost}-{best_cost},"")',
                float(self.columns[_COST][way] - value) if known else "",
                "money",
            )


def _told(plan: BandingPlan | None, column: int) -> Fraction | None:
    if plan is None:
        return None
    return {
        _EDGING: plan.edging,
        _GLUE: plan.adhesive,
        _ASKED: plan.contractor,
        _TRIPS: plan.trips,
        _FITTINGS: plan.fittings,
        _HAND: plan.by_hand_min,
        _SEND: plan.send_out_min,
    }[column]


Choosing = Callable[["WayTerms", CountTerms], Term]
"""How the number of the chosen way is found among all ways."""


def write_ways(
    page: Page,
    row: int,
    live: Quantities,
    counts: CountTerms,
    figures: Figures,
    freed: Term,
    *,
    choosing: Choosing,
    best_at: tuple[int, int],
) -> WayTerms:
    """The table of ways; the number of the best stands at `best_at` (row, column), that of the chosen way one row below."""
    ways = _Ways(page, row, live, counts, figures, freed)
    ways.write()
    keys = page.span(ways.first, _KEY, [Fraction(0)] * len(ways.keys)).words
    known = [(key, i) for i, key in enumerate(ways.keys) if key is not None]
    number = Fraction(min(known)[1] + 1)
    if live.ways[int(number) - 1].sent != live.estimate.banding.best.sent:
        raise Fault("the best way by the formulas is not the engine's")
    best = page.live(*best_at, Term(f"IFERROR(MATCH(MIN({keys}),{keys},0),1)", number), "whole")
    made = WayTerms(
        page,
        ways.first,
        ways.words,
        best,
        best,
        {column: tuple(values) for column, values in ways.columns.items()},
        tuple(ways.keys),
        ways.first + len(ways.words) + 1,
    )
    chosen = page.live(best_at[0] + 1, best_at[1], choosing(made, counts), "whole")
    costs = made.relevant_cost
    best_cost = Term(f"INDEX({costs.words},{best.words})", costs.values[int(number) - 1])
    ways.dearer(best_cost.words, best_cost.value)
    return WayTerms(made.page, made.first_row, made.words, best, chosen, made.columns, made.keys, made.next_row)
