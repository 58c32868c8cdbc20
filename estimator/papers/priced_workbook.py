"""An Estimate and the user's own workbook in, the filled-in workbook out: their sheets unharmed, ours behind them, live."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.problems import Fault
from estimator.model.records import Terms
from estimator.model.results import Estimate
from estimator.model.shop_records import Share
from estimator.model.units import minor_decimals
from estimator.papers.book import Refused, add_sheets, dates_from_1904, free_names
from estimator.papers.priced.all_figures import take_all
from estimator.papers.priced.answer_sheet import CHART_COLUMN, CHART_ROW, CHART_SIZE, CHART_STEP, Answer
from estimator.papers.priced.buy_list_sheet import write_buy_list
from estimator.papers.priced.changed_sheet import Changed
from estimator.papers.priced.chosen_way import chosen_by, chosen_like
from estimator.papers.priced.figures import Figures
from estimator.papers.priced.job_sheets import WAYS_ABOVE, JobTerms, Paper, write_job
from estimator.papers.priced.look import Looks
from estimator.papers.priced.machine_sheet import write_machines
from estimator.papers.priced.names_of_sheets import NAMES, TITLES
from estimator.papers.priced.page import FIRST_TABLE_ROW, PAPERS, Page
from estimator.papers.priced.parts_sheet import write_parts
from estimator.papers.priced.price_sheet import LAST_PRINTED
from estimator.papers.priced.quantities import Quantities, quantities_of
from estimator.papers.priced.risk_sheet import write_risk
from estimator.papers.priced.shop_sheets import ShopSheet, shop_sheets, write_shop_sheets
from estimator.papers.priced.sizes_sheet import SizesWriter
from estimator.papers.priced.sources import Sources
from estimator.papers.priced.terms import Term, term
from estimator.papers.priced.typed import TypedBook
from estimator.papers.priced.ways_sheet import BEST, KEYS, words_of

_CREATED = datetime(2000, 1, 1)
_WAYS_TABLE_ROW = 10
ON_ONE_PAGE = ("answer", "sizes", "machine")
UPRIGHT = ("price", "risk", "buy")
"""Sheets that print on paper held upright."""
WIDE = ("lines", "counts")
"""Sheets of many columns, whose first one stays in sight; those of an option stand on a sheet of their own."""


BATCHES = "times of coating or applying have changed, so glue batches may have moved: run it again to be sure"
SHARE_NOW = "the discount was an amount when this was priced and is now below 1, a share perhaps: run it again to be sure"
AMOUNT_NOW = "the discount was a share when this was priced and is now above 100 %, an amount perhaps: run it again to be sure"
SIZES_OF_BOARD = "a board that comes in several sizes has another price, so other sheets may cost less: run it again to be sure"


@dataclass(frozen=True, slots=True)
class PricedBook:
    """The filled-in workbook, and what there is to say about it."""

    book: bytes
    remarks: tuple[str, ...]


def priced_book(estimate: Estimate, *, user_book: bytes, shop_book: bytes | None) -> PricedBook | Refused:
    """The user's workbook with the result sheets behind theirs; the sheets of a second book that the job used come along."""
    live = quantities_of(estimate)
    user = TypedBook(user_book)
    opened = user.book
    if isinstance(opened, Refused):
        return opened
    sheets = shop_sheets(estimate.job, user, TypedBook(shop_book) if shop_book else None)
    wanted = [*NAMES.values(), *(sheet.name for sheet in sheets)]
    wanted += [name for i in range(len(live.options)) for name in _option_names(i)]
    names = free_names(opened, wanted)
    from_1904 = dates_from_1904(opened)
    if isinstance(names, Refused):
        return names
    if isinstance(from_1904, Refused):
        return from_1904
    ours = _Ours(live, user, sheets, names, from_1904=from_1904).write()
    spliced = add_sheets(user_book=opened, ours=ours, given=[names[sheet.name] for sheet in sheets])
    if isinstance(spliced, Refused):
        return spliced
    other = [
        f"your book has a sheet {name} of its own, so ours is called {given}" for name, given in names.items() if given != name
    ]
    return PricedBook(spliced.workbook, tuple(other))


def _any_moved(terms: Sequence[Term]) -> str:
    """The question whether any figure differs from what it was when the job was priced."""
    return "+".join(f"(ABS({one.words}-{float(one.value)!r})>0.000000001)*1" for one in terms) + ">0"


def _discount_of_another_kind(terms: Terms, figures: Figures) -> tuple[str, str]:
    """A bare number does not tell an amount from a share: what can no longer be what it was is asked about."""
    now = figures(terms, "Discount")
    if isinstance(terms.discount, Share):
        return f"{now.words}>1", AMOUNT_NOW
    return f"({now.words}>0)*({now.words}<1)*({_any_moved([now])})>0", SHARE_NOW


def _option_names(place: int) -> tuple[str, str, str]:
    """The sheets of an option: its price, what leads to it, and the tables of many columns."""
    name = f"Option {place + 1}"
    return name, f"{name}, working", f"{name}, counts"


class _Ours:
    """The workbook of our own sheets while it is written."""

    def __init__(
        self, live: Quantities, user: TypedBook, sheets: tuple[ShopSheet, ...], names: Mapping[str, str], *, from_1904: bool
    ) -> None:
        from estimator.papers.priced.quick_sheet import QuickSheet, QuickWorkbook

        self.live, self.names, self.shop_sheets = live, names, sheets
        terms = live.estimate.job.terms
        self.sheet_class = QuickSheet
        self.workbook = QuickWorkbook({"in_memory": True, "date_1904": from_1904})
        self.workbook.set_properties({"created": _CREATED})
        self.looks = Looks(
            self.workbook,
            currency=terms.currency,
            decimals=minor_decimals(terms.currency),
            colour=live.estimate.job.shop.colour,
            finest_inch=int(terms.show_fractions) if terms.units == "inch" else 0,
        )
        self.pages = {
            key: self._page(name) for key, name in NAMES.items() if key not in self._left_out()
        }
        self.options = [tuple(map(self._page, _option_names(i))) for i in range(len(live.options))]
        self.lines_of_options: list[int] = []
        self.copies = self._page(NAMES["copies"])
        cells = user.sheets({names[sheet.name]: sheet.cells for sheet in sheets})
        renamed = {(sheet.book, sheet.source): names[sheet.name] for sheet in sheets}
        self.sources = Sources(cells, renamed, inch=terms.units == "inch")
        self.verdict = ""
        self.heads_of_lines = 0

    def _left_out(self) -> tuple[str, ...]:
        """Sheets that this job has nothing for; the copies stand last."""
        estimate = self.live.estimate
        has_machine = estimate.job.machine is not None and estimate.machine is not None
        return ("copies", *(() if has_machine else ("machine",)), *(() if estimate.decision else ("sizes",)))

    def _page(self, name: str) -> Page:
        given = self.names[name]
        sheet = self.workbook.add_worksheet(given, self.sheet_class)
        return Page(given, sheet, self.looks, self.live.estimate.job.terms.paper)

    def write(self) -> bytes:
        live, pages = self.live, self.pages
        figures = Figures(pages["figures"], self.sources, shop=self.names.get("Shop", "Shop"))
        take_all(figures, live)
        changed = Changed(pages["changed"], self.copies, self.sources)
        self.verdict = changed.verdict
        choice = pages["ways"].ref(FIRST_TABLE_ROW, 1)
        asked = self._asked()
        job = write_job(Paper(pages, self._row, stacked=False), live, figures, chosen_by(choice, asked))
        self.heads_of_lines = job.price.lines_row
        self._choice(job, asked)
        write_parts(pages["parts"], FIRST_TABLE_ROW, live.estimate.parts, self.sources)
        write_buy_list(pages["buy"], FIRST_TABLE_ROW, live.estimate, job, figures)
        options = self._options(figures, job, choice, asked)
        changed.soft = self._may_have_moved(job, figures)
        changed.write(live.estimate.job, lost=figures.lost())
        self._machine(figures, job)
        sure = write_risk(pages["risk"], FIRST_TABLE_ROW, live.estimate, job.minutes, job.cost, figures)
        answer = Answer(pages["answer"], live, job, figures)
        answer.write(self.workbook, sources=self.sources, choice=choice.replace("$", ""), options=options, sure=sure)
        self._sizes(job, answer)
        self._titles()
        write_shop_sheets(self.workbook, self.shop_sheets, self.names, paper=PAPERS[live.estimate.job.terms.paper])
        figures.finish()
        changed.finish()
        return self.workbook.content()

    def _may_have_moved(self, job: JobTerms, figures: Figures) -> list[tuple[str, str]]:
        """Changes that the formulas follow, but that a fresh run might answer with other batches or other sheets."""
        steps = [one for one, step in zip(job.each, self.live.estimate.job.work, strict=True) if step.during]
        names = [board.board for board in self.live.estimate.job.boards]
        used = {use.board for use in self.live.estimate.boards if names.count(use.board) > 1}
        prices = [figures(board, "Price") for board in self.live.estimate.job.boards if board.board in used]
        asked = ((steps, BATCHES), (prices, SIZES_OF_BOARD))
        moved = [(_any_moved(terms), words) for terms, words in asked if terms]
        return [*moved, _discount_of_another_kind(self.live.estimate.job.terms, figures)]

    def _row(self, section: str) -> int:
        return _WAYS_TABLE_ROW if section == "ways" else FIRST_TABLE_ROW

    def _asked(self) -> str:
        """What stands in the choice cell at first: best, or the way that Job > Banding asks for."""
        estimate = self.live.estimate
        if estimate.job.terms.banding.strip().casefold() in ("", BEST):
            return BEST
        return words_of(estimate.banding.chosen.sent, len(estimate.edgings))

    def _choice(self, job: JobTerms, asked: str) -> None:
        """The yellow cell with its drop-down, and the best and the chosen way in words."""
        page, ways = self.pages["ways"], job.ways
        row = FIRST_TABLE_ROW
        page.text(row, 0, "Way to price", "label")
        page.sheet.merge_range(row, 1, row, 4, "", page.looks["choice"])
        page.text(row, 1, asked, "choice", fit=False)
        listed = ways.words_span
        page.sheet.data_validation(
            row,
            1,
            row,
            1,
            {
                "validate": "list",
                "source": f"={listed}",
                "error_type": "information",
                "input_title": "Way to price",
                "input_message": "best, or one of the ways below",
                "error_title": "Way to price",
                "error_message": "best is taken for words that are no way",
            },
        )
        for place, words in ((ways.best, "Best way, by number"), (ways.chosen, "Way in this price, by number")):
            at = _WAYS_TABLE_ROW - WAYS_ABOVE + 1 + (place is ways.chosen)
            page.text(at, 0, words, "label")
            page.words(at, 2, *ways.words_at(place), "strong next", fit=False)

    def _options(self, figures: Figures, job: JobTerms, choice: str, asked: str) -> list[tuple[str, Term, Term]]:
        """Each option as a whole job on a sheet of its own."""
        prices = self.live.estimate.options
        if not self.live.options:
            return [(one.words or one.option, term(one.gross), term(one.difference)) for one in prices]
        shown = []
        for sheets, option, told in zip(self.options, self.live.options, prices, strict=True):
            words = (told.words or "The same job with another finish.", "What it takes, and its ways of banding.", "What is counted.")
            for column, (page, note) in enumerate(zip(sheets, words, strict=True)):
                page.text(0, 0, f"Option: {told.option}", "title", fit=False)
                page.text(1, column // 2, note, "note", fit=False)
            price, working, counts = sheets
            keys = dict.fromkeys(NAMES, working) | dict.fromkeys(WIDE, counts) | {"price": price}
            choosing = chosen_like(job.ways, job.edging_sent, choice=choice, asked=asked)
            terms = write_job(Paper(keys, lambda _: FIRST_TABLE_ROW + 3, stacked=True), option, figures, choosing)
            self.lines_of_options.append(terms.price.lines_row)
            gross = terms.price.gross
            if gross.value != told.gross:
                raise Fault(f"option {told.option}: the formulas give another total than the estimate")
            shown.append((told.words or told.option, gross, gross - job.price.gross))
        return shown

    def _machine(self, figures: Figures, job: JobTerms) -> None:
        """Every machine that was asked about, against what a metre costs today by the best way."""
        estimate = self.live.estimate
        if "machine" not in self.pages or estimate.job.machine is None or estimate.machine is None:
            return
        net_m = sum((use.net_m for use in estimate.edgings), start=Fraction(0))
        cost, best = job.ways.relevant_cost, job.ways.best
        if net_m:
            cheapest = Term(f"INDEX({cost.words},{best.words})", cost.values[int(best.value) - 1])
            today = (cheapest - job.counts.edging_cost.sum()) / term(net_m)
        else:
            today = None
        machines = ((estimate.job.machine, estimate.machine), *zip(estimate.job.more_machines, estimate.more_machines, strict=True))
        write_machines(self.pages["machine"], FIRST_TABLE_ROW, machines, figures, today, self.workbook)

    def _sizes(self, job: JobTerms, answer: Answer) -> None:
        """The ways by size of the job, with the chart on their own sheet and on the first one."""
        decision = self.live.estimate.decision
        if decision is None:
            return
        page = self.pages["sizes"]
        sizes = SizesWriter(page, FIRST_TABLE_ROW, self.live.estimate, decision)
        sizes.write(job.ways)
        sizes.chart(self.workbook, page, (page.last_row + 2, 0))
        page.last_row += 20
        sizes.chart(self.workbook, answer.page, (CHART_ROW, CHART_COLUMN), size=CHART_SIZE, down=answer.charts * CHART_STEP)

    def _titles(self) -> None:
        """Title, purpose and the line that says whether sizes still hold, on every sheet; then widths, headers, print."""
        for key, page in self.pages.items():
            if key == "answer":
                terms = self.live.estimate.job.terms
                page.text(0, 0, terms.job_name or terms.quote_number or "Answer", "title", fit=False)
                words = [
                    terms.client,
                    terms.quote_number and f"quote {terms.quote_number}",
                    f"revision {terms.revision}",
                    terms.quote_date.isoformat(),
                ]
                page.text(1, 0, ", ".join(word for word in words if word), "note", fit=False)
            elif key in TITLES:
                page.text(0, 0, TITLES[key][0], "title", fit=False)
                page.text(1, int(key in WIDE), TITLES[key][1], "note", fit=False)
            self._verdict(page, own=key == "changed", column=int(key in WIDE))
            if key not in ("figures", "changed"):
                top = 4 if key == "answer" else (_WAYS_TABLE_ROW if key == "ways" else FIRST_TABLE_ROW) + 1
                page.finish(
                    freeze_row=top,
                    freeze_column=1 if key in WIDE else 0,
                    landscape=key not in UPRIGHT,
                    repeat=self.heads_of_lines if key == "price" else None,
                    one_page=key in ON_ONE_PAGE,
                    wide=key in WIDE,
                    printed=LAST_PRINTED if key == "price" else None,
                )
        for column in KEYS:
            self.pages["ways"].sheet.set_column(column, column, None, None, {"hidden": True})
        for (price, working, counts), lines_row in zip(self.options, self.lines_of_options, strict=True):
            for place, page in enumerate((price, working, counts)):
                self._verdict(page, own=False, column=place // 2)
            price.finish(freeze_row=FIRST_TABLE_ROW, landscape=False, repeat=lines_row, printed=LAST_PRINTED)
            working.finish(freeze_row=FIRST_TABLE_ROW)
            for column in KEYS:
                working.sheet.set_column(column, column, None, None, {"hidden": True})
            counts.finish(freeze_row=FIRST_TABLE_ROW, freeze_column=1, wide=True)

    def _verdict(self, page: Page, *, own: bool, column: int = 0) -> None:
        """Beside the first column where that stands on every page of a wide sheet."""
        if not own:
            from estimator.papers.priced.changed_sheet import STILL

            page.words(2, column, self.verdict, STILL, "state", fit=False)
        asks = f'=ISNUMBER(SEARCH("run it again",${"AB"[column]}$3))'
        page.sheet.conditional_format(2, column, 2, 7, {"type": "formula", "criteria": asks, "format": self.looks.warning()})
