"""Cost in, the price as it stands on the quote out: target, lines, discount, tax by rate, instalments, all live (A30 to A34)."""

from __future__ import annotations

from collections.abc import Sequence

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.records import Extra
from estimator.model.results import Line
from estimator.model.shop_records import Share
from estimator.model.units import minor_decimals, to_multiple
from estimator.papers.priced.figures import Figures
from estimator.papers.priced.page import Page
from estimator.papers.priced.quantities import Quantities
from estimator.papers.priced.shares import Columns, write_shares
from estimator.papers.priced.terms import Span, Term, choose, greater, products, rounded, term

LINE_HEADS = ("Ref", "Room", "What", "Qty", "Prime cost of one", "Price of one", "Line", "Tax rate")
TAX_HEADS = ("Tax rate", "Lines", "Discount", "Delivery", "Base", "Tax")
WORKING_HEADS = ("in minor units", "whole share", "rest")
_QTY, _PRIME, _UNIT, _NET, _RATE = 3, 4, 5, 6, 7
LAST_PRINTED, _WORKING = _RATE, _RATE + 2
"""The working of the shares stands aside, and is not printed."""
_SPARE_RATES = 2
_CLOSE = "0.0000000001"


@dataclass(frozen=True, slots=True)
class PriceTerms:
    target: Term
    sum_lines: Term
    discount: Term
    delivery: Term
    net: Term
    tax: Term
    rounding: Term
    gross: Term
    instalments: tuple[Term, ...]
    lines_row: int
    """The row of headings over the lines."""
    next_row: int


class PriceWriter:
    """The sections of the price while they are written, one below the other."""

    def __init__(self, page: Page, row: int, live: Quantities, figures: Figures) -> None:
        self.page, self.row, self.live, self.figures = page, row, live, figures
        self.terms, self.price = live.estimate.job.terms, live.estimate.price
        self.decimals = minor_decimals(self.terms.currency)
        self.job_rate = figures(self.terms, "Tax rate")

    def money(self, one: Term) -> Term:
        return rounded(one, decimals=self.decimals)

    def write(self, base: Term, primes: Sequence[Term]) -> PriceTerms:
        target = self._labelled("Target: what the cost asks for", self._target(base), told=self.price.target)
        self.row += 1
        lines_row = self.row
        nets, rates = self._lines(target, primes)
        sum_lines = self._labelled("Sum of lines", nets.sum(), told=self.price.sum_lines)
        discount = self._labelled("Less discount", self._discount(sum_lines), told=self.price.discount)
        charge = self.money(self.figures(self.terms, "Delivery charge"))
        delivery = self._labelled("Delivery", charge, told=self.price.delivery)
        net = self._labelled("Net", sum_lines - discount + delivery, told=self.price.net, look="total")
        self.row += 1
        tax = self._tax(nets, rates, discount, delivery)
        with_tax = self._labelled("Net and tax", net + tax)
        rounding = self._labelled("Rounding", self._round_total(with_tax) - with_tax, told=self.price.rounding)
        gross = self._labelled("Total with tax", self._round_total(with_tax), told=self.price.gross, look="total")
        self.row += 1
        parts = self._instalments(gross)
        return PriceTerms(target, sum_lines, discount, delivery, net, tax, rounding, gross, parts, lines_row, self.row)

    def _labelled(self, words: str, one: Term, *, told: Fraction | None = None, look: str = "money") -> Term:
        strong = look == "total"
        for column in range(_NET):
            self.page.text(self.row, column, words if column == 0 else "", "total label" if strong else "label", fit=False)
        written = self.page.live(self.row, _NET, one, look, told=told)  # type: ignore[arg-type]
        self.row += 1
        return written

    def _target(self, base: Term) -> Term:
        margin, markup = self.figures.maybe(self.terms, "Margin"), self.figures.maybe(self.terms, "Markup")
        one = 1 - margin.term
        by_margin = Term(f"{base.words}/({one.words})", base.value / one.value)
        wanted = choose(margin.asks, margin.value is not None, by_margin, base * (1 + markup.or_0))
        return greater(wanted, self.figures.maybe(self.terms, "Least price").or_0)

    # --- lines --------------------------------------------------------------------------------------------------------

    def _lines(self, target: Term, primes: Sequence[Term]) -> tuple[Span, Span]:
        """A row a line; gives the nets, and the rates with that of delivery below the last one."""
        page, lines = self.page, self.price.lines
        page.heads(self.row, LINE_HEADS, left=3)
        first = self.row = self.row + 1
        quantities = [self._head(first + i, line) for i, line in enumerate(lines)]
        costs = [self._prime(first + i, line, primes[i] if i < len(primes) else None) for i, line in enumerate(lines)]
        qty = page.span(first, _QTY, [one.value for one in quantities])
        shared = products(qty, page.span(first, _PRIME, [one.value for one in costs]))
        nets = [self._net(first + i, line, quantities[i], costs[i], target, shared) for i, line in enumerate(lines)]
        self.row = first + len(lines)
        rates = [*(line.tax_rate_share for line in lines), self._delivery_rate(first)]
        self.row += 2
        return page.span(first, _NET, [one.value for one in nets]), page.span(first, _RATE, rates)

    def _head(self, row: int, line: Line) -> Term:
        page, owner = self.page, line.owner
        page.link(row, 0, line.ref or "-", self.figures.sources.link(owner.at.place("Qty")))
        page.text(row, 1, line.room)
        page.text(row, 2, line.words)
        rate = self.figures.inline(owner, "Tax rate", "percent", owner.tax_rate_share, default=self.job_rate)
        page.live(row, _RATE, rate, "percent", told=line.tax_rate_share)
        if isinstance(owner, Extra):
            return page.live(row, _QTY, self.figures(owner, "Qty"), "factor", told=line.qty)
        return page.fact(row, _QTY, line.qty, "whole")

    def _prime(self, row: int, line: Line, prime: Term | None) -> Term:
        owner = line.owner
        if not isinstance(owner, Extra):
            return self.page.live(row, _PRIME, prime or term(0), "money each", told=line.prime)
        if owner.price_each is not None:
            return self.page.fact(row, _PRIME, 0, "money each")
        cost, minutes = self.figures.maybe(owner, "Cost each").or_0, self.figures.maybe(owner, "Minutes each").or_0
        return self.page.live(row, _PRIME, cost + minutes / 60 * self.figures.direct, "money each", told=line.prime)

    def _net(self, row: int, line: Line, qty: Term, prime: Term, target: Term, shared: Term) -> Term:
        owner = line.owner
        if isinstance(owner, Extra) and owner.price_each is not None:
            unit = self.page.live(row, _UNIT, self.figures.maybe(owner, "Price each").term, "money each", told=line.unit)
        else:
            value = target.value * prime.value / shared.value if shared.value else Fraction(0)
            of_one = Term(f"IF({shared.words}=0,0,{target.words}*{prime.words}/{shared.words})", value)
            unit = self.page.live(row, _UNIT, self.money(of_one), told=line.unit)
        return self.page.live(row, _NET, self.money(qty * unit), told=line.net)

    def _delivery_rate(self, first: int) -> Fraction:
        """The rate of delivery; without a charge that of the first line, so that it makes no rate of its own."""
        charge = self.money(self.figures(self.terms, "Delivery charge"))
        own = self.figures.maybe(self.terms, "Delivery tax rate").otherwise(self.job_rate)
        self.first_line = first
        line = Term(self.page.ref(first, _RATE), self.price.lines[0].tax_rate_share)
        self.page.text(self.row, 2, "Delivery", "label")
        self.delivery_rate = self.page.live(self.row, _RATE, choose(f"{charge.words}=0", charge.value == 0, line, own), "percent")
        return self.delivery_rate.value

    def _discount(self, sum_lines: Term) -> Term:
        """A share of the lines or an amount, as it was when the job was priced: a bare number does not tell which it is."""
        figure = self.figures(self.terms, "Discount")
        return self.money(sum_lines * figure if isinstance(self.terms.discount, Share) else figure)

    # --- tax ----------------------------------------------------------------------------------------------------------

    def _tax(self, nets: Span, rates: Span, discount: Term, delivery: Term) -> Term:
        """Tax once per rate, ascending; two rows are kept free for rates that a change may bring."""
        page = self.page
        page.heads(self.row, TAX_HEADS, left=0)
        page.heads(self.row, WORKING_HEADS, column=_WORKING, left=0)
        first = self.row = self.row + 1
        told = [*self.price.tax, *[None] * _SPARE_RATES]
        for i in range(len(told)):
            self._rate(first, i, rates)
        lines = [self._lines_of(first + i, rates, nets, line.lines if line else Fraction(0)) for i, line in enumerate(told)]
        at = Columns(first, weight=1, share=2, working=_WORKING)
        split = write_shares(
            page,
            at,
            discount,
            [one.value for one in lines],
            decimals=self.decimals,
            weight_decimals=self.decimals,
            told=[line.discount if line else Fraction(0) for line in told],
        )
        taxes = []
        for i, line in enumerate(told):
            here = page.ref(first + i, 0)
            near = f'IF({here}="",0,IF(ABS({self.delivery_rate.words}-{here})<{_CLOSE},{delivery.words},0))'
            carried = page.live(first + i, 3, Term(near, line.delivery if line else Fraction(0)), "money or blank")
            base = page.live(first + i, 4, lines[i] - split[i] + carried, "money or blank", told=line.base if line else 0)
            exact = base.value * line.rate_share if line else Fraction(0)
            tax = self.money(Term(f'IF({here}="",0,{base.words}*{here})', exact))
            taxes.append(page.live(first + i, 5, tax, "money or blank", told=line.tax if line else 0).value)
        self.row = first + len(told)
        return self._labelled("Tax together", page.span(first, 5, taxes).sum(), told=self.price.tax_total)

    def _rate(self, first: int, i: int, rates: Span) -> None:
        """The next rate above the one before; blank when there is none."""
        told, page, row = self.price.tax, self.page, first + i
        if i == 0:
            page.live(row, 0, Term(f"MIN({rates.words})", told[0].rate_share), "percent")
            return
        before = page.ref(row - 1, 0)
        passed = f"SUMPRODUCT(({rates.words}<={before}+{_CLOSE})*1)"
        words = f'IF({before}="","",IF({passed}>={len(rates.values)},"",SMALL({rates.words},{passed}+1)))'
        page.raw(row, 0, words, float(told[i].rate_share) if i < len(told) else "", "percent")

    def _lines_of(self, row: int, rates: Span, nets: Span, value: Fraction) -> Term:
        """The lines of one rate; compared with a little room, for binary noise."""
        here, theirs = self.page.ref(row, 0), self.line_rates(rates, nets)
        near = f"({theirs}>{here}-{_CLOSE})*({theirs}<{here}+{_CLOSE})"
        return self.page.live(row, 1, Term(f'IF({here}="",0,SUMPRODUCT({near}*{nets.words}))', value), "money or blank")

    def line_rates(self, rates: Span, nets: Span) -> str:
        return self.page.span(self.first_line, _RATE, nets.values).words

    # --- total and instalments ----------------------------------------------------------------------------------------

    def _round_total(self, with_tax: Term) -> Term:
        """The total brought to the nearest multiple, where one is asked for."""
        step = self.figures.maybe(self.terms, "Round total to").or_0
        value = with_tax.value
        if step.value:
            value = self.money(Term("", to_multiple(value, step=step.value))).value
        steps = f"ROUND(ROUND({with_tax.words}/{step.words},9),0)*{step.words}"
        return Term(f"IF({step.words}>0,ROUND(ROUND({steps},{self.decimals + 6}),{self.decimals}),{with_tax.words})", value)

    def _instalments(self, gross: Term) -> tuple[Term, ...]:
        page, told = self.page, self.price.instalments
        page.heads(self.row, ("Instalment", "Share", "Amount"), left=1)
        page.heads(self.row, WORKING_HEADS, column=_WORKING, left=0)
        first = self.row = self.row + 1
        shares = []
        for i, step in enumerate(told):
            page.text(first + i, 0, step.words)
            shares.append(page.fact(first + i, 1, step.share, "percent").value)
        amounts = write_shares(
            page,
            Columns(first, weight=1, share=2, working=_WORKING),
            gross,
            shares,
            decimals=self.decimals,
            weight_decimals=_places(shares),
            told=[step.amount for step in told],
        )
        self.row = first + len(told) + 1
        return amounts


def _places(shares: Sequence[Fraction]) -> int:
    """Decimals that make whole numbers of all shares."""
    return next((places for places in range(9) if all((share * 10**places).denominator == 1 for share in shares)), 9)
