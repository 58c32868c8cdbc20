"""What every section of the quote is given: the estimate, the words, the numbers' language and the look, once."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta
from pathlib import Path

from estimator.model.dataclass import dataclass
from estimator.model.records import Terms
from estimator.model.results import Estimate
from estimator.model.shown import PriceShown
from estimator.papers.page.language import Language
from estimator.papers.page.look import Look, look_of
from estimator.papers.page.wording import Wording, lines_of, wording

_TAX_LEFT_BLANK = "Tax"
_STEPS_LEFT_BLANK = ("deposit", "before delivery", "on completion")
"""What the form puts where Tax name and Payment schedule are blank."""


@dataclass(frozen=True, slots=True)
class QuotePaper:
    """The estimate and all that is needed to print it for the client."""

    estimate: Estimate
    look: Look
    language: Language
    words: Wording
    shown: PriceShown
    logo: Path | None

    @property
    def terms(self) -> Terms:
        return self.estimate.job.terms

    @property
    def unit_words(self) -> str:
        return self.words.label(f"unit {self.terms.units}")

    @property
    def finish_words(self) -> Mapping[str, str]:
        """What the client reads for each finish."""
        return {finish.finish: finish.words or finish.finish for finish in self.estimate.job.finishes}

    @property
    def tax_name(self) -> str:
        """As the shop typed it; where Tax name was left blank, in the paper's language."""
        return self.words.label("tax") if self.terms.tax_name == _TAX_LEFT_BLANK else self.terms.tax_name

    @property
    def step_words(self) -> tuple[str, ...]:
        """What each payment waits for, as the shop typed it; where Payment schedule was left blank, in the paper's language."""
        typed = tuple(step.words for step in self.estimate.price.instalments)
        return tuple(self.words.label(f"step {step}") for step in typed) if typed == _STEPS_LEFT_BLANK else typed

    @property
    def valid_until(self) -> date:
        return self.terms.quote_date + timedelta(days=self.terms.valid_for_days)

    def values(self) -> Mapping[str, object]:
        """Every name that a template of the quote may use. Nothing internal of the shop's is among them."""
        terms, shop, price = self.terms, self.estimate.job.shop, self.estimate.price
        first = price.instalments[0].amount if price.instalments else None
        return {
            "shop_name": one_line(shop.shop_name),
            "bank": one_line(shop.bank),
            "client": one_line(terms.client),
            "site": one_line(terms.site_address),
            "job_name": one_line(terms.job_name),
            "quote_number": one_line(terms.quote_number),
            "revision": one_line(terms.revision),
            "prepared_by": one_line(terms.prepared_by),
            "date": self.language.date(terms.quote_date),
            "valid_until": self.language.date(self.valid_until),
            "lead_time_words": one_line(terms.lead_time_words),
            "not_included": lines_of(terms.not_included),
            "extras": [one_line(extra.words) for extra in self.estimate.job.extras],
            "has_delivery": bool(price.delivery),
            "has_options": bool(self.estimate.options),
            "tax_name": self.tax_name,
            "total": self.language.money(price.gross),
            "first_payment": self.language.money(first) if first else "",
        }


def quote_paper(estimate: Estimate, *, words: Path | None, logo: Path | None) -> QuotePaper:
    """Everything that the sections of a quote share."""
    terms, shop = estimate.job.terms, estimate.job.shop
    return QuotePaper(
        estimate=estimate,
        look=look_of(paper=terms.paper, colour=shop.colour),
        language=Language(code=terms.language, currency=terms.currency, units=terms.units, finest_inch=int(terms.show_fractions)),
        words=wording(language_code=terms.language, folder=words),
        shown=estimate.price.shown,
        logo=logo,
    )


def one_line(text: str) -> str:
    """Text of a cell as one line: what a person typed on several becomes a list with commas."""
    return ", ".join(line.strip().rstrip(",") for line in text.splitlines() if line.strip())
