"""The contract bander's offer in, what each edging would cost out: live from every price, break, set-up and term (A24, A25).

Breaks are put in order by formulas, so that a changed From metres may stand anywhere.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.shop_records import Contract, ContractPrice
from estimator.model.taken import EdgingUse
from estimator.model.units import MM_PER_M
from estimator.papers.priced.figures import Figures, Maybe
from estimator.papers.priced.page import Page
from estimator.papers.priced.terms import Span, Term, greater, smaller, term

HEADS = (
    "Edging",
    "From m, as offered",
    "Price a m",
    "Place",
    "From m, in order",
    "Price a m, in order",
    "At this break",
    "Net m",
    "Edges",
    "Charged m",
    "Amount",
    "Set-up",
    "Amount and set-up",
)
_FROM, _PRICE, _PLACE, _SORTED, _SORTED_PRICE, _AT, _NET, _EDGES, _CHARGED, _AMOUNT, _SETUP, _BOTH = range(1, 13)
_CLOSE = "0.000000001"
"""A quantity counts as having reached a break when binary noise alone keeps it below."""


@dataclass(frozen=True, slots=True)
class OfferTerms:
    """What the contract bander asks for one edging."""

    charged: Term
    setup: Term
    amount: Term
    """On the metres of this edging alone."""
    froms: Span
    prices: Span

    def price_from(self, reached: Term) -> Term:
        """The price of the highest break that a quantity reaches."""
        passed = [i for i, start in enumerate(self.froms.values) if start <= reached.value]
        value = self.prices.values[max(passed)]
        return Term(f"INDEX({self.prices.words},MAX(1,SUMPRODUCT(({self.froms.words}<={reached.words}+{_CLOSE})*1)))", value)


def write_contractor(
    page: Page,
    row: int,
    uses: tuple[EdgingUse, ...],
    contract: Contract | None,
    offers: tuple[ContractPrice, ...],
    figures: Figures,
) -> tuple[Mapping[str, OfferTerms], int]:
    """A row a price break; the edging's own figures stand on its first row. Nothing where there is no offer."""
    page.heads(row, HEADS, left=1)
    row += 1
    found: dict[str, OfferTerms] = {}
    if contract is None:
        page.text(row, 0, "There is no offer of a contract bander.", "note", fit=False)
        return found, row + 2
    for use in uses:
        theirs = [offer for offer in offers if offer.edging == use.edging]
        if theirs:
            found[use.edging] = _Offer(page, row, use, contract, theirs, figures).write()
            row += len(theirs)
    return found, row + 1


class _Offer:
    """The rows of one edging while they are written."""

    def __init__(
        self, page: Page, row: int, use: EdgingUse, contract: Contract, offers: list[ContractPrice], figures: Figures
    ) -> None:
        self.page, self.row, self.use, self.contract, self.offers, self.figures = page, row, use, contract, offers, figures
        order = sorted(range(len(offers)), key=lambda i: offers[i].from_m)
        self.places = [order.index(i) + 1 for i in range(len(offers))]
        self.froms = [Fraction(0), *(offers[i].from_m for i in order[1:])]
        self.prices = [offers[i].price_per_m for i in order]

    def write(self) -> OfferTerms:
        page, row = self.page, self.row
        for i, offer in enumerate(self.offers):
            page.link(row + i, 0, offer.edging, self.figures.sources.link(offer.at.place("Edging")))
            page.live(row + i, _FROM, self.figures(offer, "From metres"), "quantity")
            page.live(row + i, _PRICE, self.figures(offer, "Price"), "money each")
        for i in range(len(self.offers)):
            self._in_order(i)
        froms, prices = page.span(row, _SORTED, self.froms), page.span(row, _SORTED_PRICE, self.prices)
        charged = self._charged()
        asked = OfferTerms(charged, self._setup(), term(0), froms, prices)
        amount = page.live(row, _AMOUNT, self._amount(asked))
        page.live(row, _BOTH, amount + asked.setup)
        return replace(asked, amount=amount)

    def _in_order(self, i: int) -> None:
        """Place of the row among the breaks, and the break that stands at this place; the lowest holds from 0."""
        page, row, last = self.page, self.row, len(self.offers) - 1
        own = page.ref(row + i, _FROM)
        whole = page.span(row, _FROM, [offer.from_m for offer in self.offers]).words
        before = f"+SUMPRODUCT(({page.span(row, _FROM, [Fraction(0)] * i).words}={own})*1)" if i else ""
        page.live(row + i, _PLACE, Term(f"1+SUMPRODUCT(({whole}<{own})*1){before}", Fraction(self.places[i])), "whole")
        places = page.span(row, _PLACE, [Fraction(0)] * (last + 1)).words
        prices = page.span(row, _PRICE, [Fraction(0)] * (last + 1)).words
        start = Term(f"SUMPRODUCT(({places}={i + 1})*{whole})", self.froms[i]) if i else term(0)
        page.live(row + i, _SORTED, start, "quantity")
        page.live(row + i, _SORTED_PRICE, Term(f"SUMPRODUCT(({places}={i + 1})*{prices})", self.prices[i]), "money each")

    def _charged(self) -> Term:
        page, row = self.page, self.row
        net, edges = page.fact(row, _NET, self.use.net_m), page.fact(row, _EDGES, self.use.edges, "whole")
        added = self.figures(self.contract, "Added length per edge")
        return page.live(row, _CHARGED, net + added / MM_PER_M * edges, "quantity")

    def _setup(self) -> Term:
        """One amount an edging; blank on further rows repeats the first."""
        told: list[Maybe] = [self.figures.maybe(offer, "Set-up") for offer in self.offers]
        value = next((one.value for one in told if one.value is not None), Fraction(0))
        words = f"MAX(0,{','.join(one.ref for one in told)})"
        return self.page.live(self.row, _SETUP, Term(words, value))

    def _amount(self, offer: OfferTerms) -> Term:
        if self.contract.breaks_apply_to == "quantity above" and self.contract.breaks_count == "per edging":
            return self._slices(offer.charged)
        plain = offer.charged * offer.price_from(offer.charged)
        if self.contract.buy_up and self.contract.breaks_count == "per edging":
            return self._bought_up(offer.charged, plain)
        return plain

    def _slices(self, charged: Term) -> Term:
        """Each slice between two breaks at its own price."""
        page, row, slices = self.page, self.row, []
        for i in range(len(self.offers)):
            start = Term(page.ref(row + i, _SORTED), self.froms[i])
            last = i + 1 == len(self.offers)
            end = charged if last else smaller(Term(page.ref(row + i + 1, _SORTED), self.froms[i + 1]), charged)
            price = Term(page.ref(row + i, _SORTED_PRICE), self.prices[i])
            slices.append(page.live(row + i, _AT, greater(term(0), end - start) * price).value)
        return page.span(row, _AT, slices).sum()

    def _bought_up(self, charged: Term, plain: Term) -> Term:
        """The metres at their price, or a higher break's metres where those cost less."""
        page, row, amounts = self.page, self.row, [plain.value]
        for i in range(1, len(self.offers)):
            start, price = page.ref(row + i, _SORTED), page.ref(row + i, _SORTED_PRICE)
            above = self.froms[i] > charged.value
            amount = self.froms[i] * self.prices[i]
            page.raw(
                row + i, _AT, f'IF({start}>{charged.words}+{_CLOSE},{start}*{price},"")', float(amount) if above else "", "money"
            )
            amounts += [amount] if above else []
        others = f",{page.span(row + 1, _AT, [Fraction(0)] * (len(self.offers) - 1)).words}" if len(self.offers) > 1 else ""
        return Term(f"MIN({plain.words}{others})", min(amounts))
