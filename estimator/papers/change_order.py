"""The change order for a job that is won: a ChangeOrder and the changed job's Estimate in, the bytes of a PDF out.

Only the difference stands on it: what changes in words that the client knows, what it adds or takes off, tax by rate, the new
price, and a place for both to sign. Nothing internal of the shop's: no cost, rate, minute, note or name of a board.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from markupsafe import Markup

from estimator.model.comparison import ChangeOrder, Ordered, OrderedChange
from estimator.model.exact import Fraction
from estimator.model.records import Cabinet, Extra, Finish, LoosePart
from estimator.model.results import Estimate
from estimator.papers.page.document import document
from estimator.papers.page.look import PT_PER_MM
from estimator.papers.page.pieces import gap, heading, kept_whole, line_to_write_on, title
from estimator.papers.page.tables import Column, table
from estimator.papers.quote.acceptance import signatures
from estimator.papers.quote.letterhead import who_and_when, with_details
from estimator.papers.quote.logo_file import logo_beside
from estimator.papers.quote.paper import QuotePaper, one_line, quote_paper
from estimator.papers.quote.schedule import cabinet_words

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable

_AMOUNT_MM, _REF_MM, _KIND_MM = 32, 24, 27


def change_order_pdf(
    order: ChangeOrder,
    estimate: Estimate,
    *,
    number: int,
    accepted_revision: str,
    words: Path | None = None,
    beside: Path | None = None,
) -> bytes:
    """The change order as a PDF; `words` and `beside` as for the quote. Raises: BadWords."""
    paper = quote_paper(estimate, words=words, logo=logo_beside(estimate.job.terms.logo, beside=beside))
    label, terms = paper.words.label, paper.terms
    name = f"{label('change order')} {number}"
    of = " ".join(part for part in (label("change of quote"), one_line(terms.quote_number)) if part) if terms.quote_number else ""
    head = ": ".join(part for part in (" ".join((name, of)).strip(), one_line(terms.job_name)) if part)
    return document(
        _story(order, paper, head=head, number=number, accepted_revision=accepted_revision),
        look=paper.look,
        title=head,
        author=one_line(estimate.job.shop.shop_name),
        subject=one_line(terms.client),
        language_code=terms.language,
        foot="   ".join(part for part in (name, of, one_line(terms.job_name)) if part),
        page_words=label("page"),
    )


def _story(order: ChangeOrder, paper: QuotePaper, *, head: str, number: int, accepted_revision: str) -> list[Flowable]:
    words, look, write = paper.words, paper.look, paper.language.money
    values = {
        **paper.values(),
        "number": number,
        "accepted_revision": one_line(accepted_revision),
        "is_credit": order.gross < 0,
        "change_total": write(order.gross),
        "new_total": write(order.new_total),
    }
    return [
        *who_and_when(paper),
        title(head, look),
        gap(0.5),
        *words.story("change_opening", values, look),
        *heading(words.label("what changes"), look),
        *_changes_table(order, paper),
        gap(),
        *kept_whole(
            [
                *words.story("change_terms", values, look),
                gap(1.5),
                line_to_write_on(words.label("new date"), look, width_mm=float(look.width_pt / PT_PER_MM / 2)),
                *_agreed(paper, values),
            ],
            look,
        ),
    ]


def _agreed(paper: QuotePaper, values: dict[str, object]) -> list[Flowable]:
    """The part that is signed, kept on one page."""
    words, look = paper.words, paper.look
    story = [
        *heading(words.label("agreed"), look, needs_pt=0)[1:],
        *words.story("change_acceptance", values, look),
        gap(),
        signatures(paper),
    ]
    return kept_whole(story, look)


def _changes_table(order: ChangeOrder, paper: QuotePaper) -> list[Flowable]:
    words, look, language, tax = paper.words, paper.look, paper.language, paper.tax_name
    rows = [row for lines in order.lines for row in _rows(lines, paper)]
    if order.least_added:
        rows.append(["", words.label("least charge"), "", _signed(order.least_added, paper)])
    several = len(order.tax) > 1
    totals: list[list[str | Flowable]] = [["", words.label("change net", tax=tax), "", _signed(order.net, paper)]]
    for one in order.tax:
        label = "tax at of several" if several else "tax at"
        said = words.label(label, tax=tax, rate=language.percent(one.rate_share), base=language.amount(one.base))
        totals.append(["", said, "", _signed(one.tax, paper)])
    totals += [
        ["", words.label("change with tax", tax=tax), "", _signed(order.gross, paper)],
        ["", words.label("accepted price", tax=tax), "", language.amount(order.accepted)],
        ["", words.label("new price", tax=tax), "", language.money(order.new_total)],
    ]
    columns = [
        Column(words.label("cabinet"), _REF_MM),
        Column(words.label("what")),
        Column("", _KIND_MM),
        Column(words.label("amount in", words=words.label("amount"), currency=order.currency), _AMOUNT_MM, "right"),
    ]
    return [table(columns, [*rows, *totals], look=look, totals=len(totals))]


def _signed(amount: Fraction, paper: QuotePaper) -> str:
    """An amount that is added or taken off, with its sign."""
    return f"+{paper.language.amount(amount)}" if amount > 0 else paper.language.amount(amount)


def _rows(lines: Sequence[OrderedChange], paper: QuotePaper) -> Iterator[list[str | Flowable]]:
    """The lines of one amount; what reads the same before and after and moves no price is no line."""
    for at, line in enumerate(lines):
        amount = _signed(line.net, paper) if at == 0 else ""
        if line.term:
            yield ["", _term_words(line, paper), paper.words.label("change other"), amount]
            continue
        before, after = (_described(line.before, line.before_words, paper), _described(line.after, line.after_words, paper))
        if before == after and not line.net:
            continue
        row = line.after or line.before
        ref = "" if isinstance(row, Finish) or row is None else row.ref
        kind = "change new" if line.before is None else "change gone" if line.after is None else "change other"
        said = after or before
        if before and after and before != after:
            said = Markup("{}<br/>{} {}").format(after, paper.words.label("instead of"), before)
        yield [ref, said, paper.words.label(kind), amount]


def _term_words(line: OrderedChange, paper: QuotePaper) -> str:
    if line.term == "delivery":
        return paper.words.label("delivery")
    now, was = (paper.words.label("site trips", n=count) for count in (line.after_words, line.before_words))
    return f"{now} {paper.words.label('instead of')} {was}"


def _described(row: Ordered | None, called: str, paper: QuotePaper) -> str | Markup:
    """A row as the quote describes it, with how many of it; blank for none."""
    language = paper.language
    match row:
        case None:
            return ""
        case Cabinet():
            size = language.sizes(row.width_mm, row.height_mm, row.depth_mm)
            finish = paper.finish_words.get(row.finish, row.finish)
            said = cabinet_words(row, f"{language.number(row.qty)} × {called}", paper, size=size, finish=finish)
            fronts = ", ".join(language.length(one) for one in row.front_heights_mm)
            return said + Markup("<br/>{}").format(paper.words.label("fronts", sizes=fronts)) if fronts else said
        case LoosePart():
            finish = paper.finish_words.get(row.finish, row.finish)
            size = f"{language.sizes(row.length_mm, row.width_mm)} {paper.unit_words}"
            return with_details(f"{language.number(row.qty)} × {called}", size, small=finish)
        case Extra():
            return with_details(f"{language.number(row.qty)} × {one_line(called)}")
        case Finish():
            return with_details(row.finish, called if called != row.finish else "")
