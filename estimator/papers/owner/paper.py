"""What every section of the owner's pages is given: an estimate in; the look, what is kept and a way of banding in words out."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.records import Terms
from estimator.model.results import Estimate
from estimator.model.units import M_PER_FOOT, MINUTES_PER_HOUR, half_away
from estimator.papers.page.clock import clock
from estimator.papers.page.language import Language
from estimator.papers.page.look import Look, look_of
from estimator.papers.page.phrases import Phrases, phrases

NONE = Fraction(0)


@dataclass(frozen=True, slots=True)
class OwnerPaper:
    """The estimate and all that is needed to print it for the owner."""

    estimate: Estimate
    look: Look
    language: Language
    say: Phrases

    @property
    def terms(self) -> Terms:
        return self.estimate.job.terms

    @property
    def edging_names(self) -> tuple[str, ...]:
        """The edgings that the job uses, in the order of Edgings."""
        return tuple(use.edging for use in self.estimate.edgings)

    @property
    def long_unit(self) -> str:
        """What runs of edging are counted in."""
        return self.say(f"long unit {self.terms.units}")

    @property
    def one_long(self) -> str:
        return self.say(f"one long {self.terms.units}")

    @property
    def m_of_long_unit(self) -> Fraction:
        return Fraction(1) if self.terms.units == "mm" else M_PER_FOOT

    def long(self, metres: Fraction, *, decimals: int = 1) -> str:
        """A run of edging in the job's long unit, without the unit's name."""
        return self.language.fixed(metres / self.m_of_long_unit, decimals=decimals)

    def money_per_long(self, per_m: Fraction | None) -> str:
        """What a metre costs, or a foot."""
        return self.money(None if per_m is None else per_m * self.m_of_long_unit)

    def money(self, amount: Fraction | None) -> str:
        return "–" if amount is None else self.language.money(amount)

    def amount(self, amount: Fraction | None) -> str:
        """An amount for a column whose heading names the currency."""
        return "–" if amount is None else self.language.amount(amount)

    def percent(self, share: Fraction, *, decimals: int = 1) -> str:
        """A share as a percentage with no more decimals than an owner reads."""
        return self.language.percent(Fraction(half_away(share * 100 * 10**decimals), 100 * 10**decimals))

    def percent_in_column(self, share: Fraction) -> str:
        """The same for columns: always one decimal."""
        return self.language.percent_fixed(share, decimals=1)

    def hours(self, minutes: Fraction) -> str:
        return f"{self.language.fixed(minutes / MINUTES_PER_HOUR, decimals=1)} h"

    def clock(self, minute: Fraction) -> str:
        """A time of day, from the second glue day on with its day before it."""
        return clock(minute, day_words=self.say("day"), of_twelve=self.language.clock_of_twelve)

    def engines(self, what: str) -> str:
        """One of the engine's own terms in the paper's language, and in the job's unit where it names one."""
        in_unit = f"{what} in {self.terms.units}"
        return self.say.term("figure", in_unit if f"figure {in_unit}" in self.say.words else what)

    def doubted(self, what: str) -> str:
        """A step or a price that carries doubt, as the shop named it; the engine names only what a contractor asks."""
        before, offer, edging = what.partition("contract price of ")
        return self.say("contract price of", edging=edging) if offer and not before else what

    def listed(self, names: Sequence[str], *, most: int = 4) -> str:
        """Names as a person lists them; a long list ends with how many more there are."""
        return self.say.listed(names, most=most)

    def way_words(self, sent: Iterable[str], *, of: Sequence[str] | None = None) -> str:
        """What to do with the job's edgings, or those named, as an order to oneself without its full stop.

        send white out, band oak here; band everything here; send everything out
        """
        names = self.edging_names if of is None else of
        away = [name for name in names if name in set(sent)]
        here = [name for name in names if name not in away]
        if not away:
            return self.say("band everything here")
        if not here:
            return self.say("send everything out")
        return self.say("send and band", away=self.listed(away), here=self.listed(here))

    def change_to(self, then: Iterable[str], *, now: Iterable[str]) -> str:
        """What another way does differently, short where only a few edgings change sides.

        send oak out too; send oak out instead of white; band white here too
        """
        names, before, after = self.edging_names, set(now), set(then)
        out = [name for name in names if name in after - before]
        back = [name for name in names if name in before - after]
        if not after or after == set(names):
            return self.way_words(after)
        if out and back:
            return self.say("send instead of", out=self.listed(out), back=self.listed(back))
        if out:
            return self.say("send out too" if before else "send out", out=self.listed(out))
        return self.say("band here too", back=self.listed(back))


def owner_paper(estimate: Estimate, *, words: Path | None = None) -> OwnerPaper:
    """Everything that the sections share; `words` is a folder of the shop's own words. Raises: BadWords."""
    terms, shop = estimate.job.terms, estimate.job.shop
    return OwnerPaper(
        estimate=estimate,
        look=look_of(paper=terms.paper, colour=shop.colour),
        language=Language(code=terms.language, currency=terms.currency, units=terms.units, finest_inch=int(terms.show_fractions)),
        say=phrases("common", "owner", language_code=terms.language, folder=words),
    )


# --- what is kept -----------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Kept:
    """The net price, what the job costs, and what is left of the one after the other."""

    net: Fraction
    """After the discount, with the delivery charge, without tax."""
    own_extras: Fraction
    """Cost of extras that are sold at a price of their own."""
    cost: Fraction
    """With contingency and with those extras."""

    @property
    def profit(self) -> Fraction:
        return self.net - self.cost

    @property
    def of_price(self) -> Fraction | None:
        """Profit as a share of the net price; None when nothing is charged."""
        return self.profit / self.net if self.net else None

    @property
    def of_cost(self) -> Fraction | None:
        return self.profit / self.cost if self.cost else None


def kept_of(estimate: Estimate) -> Kept:
    """What the owner keeps.

        profit  =  net price  -  cost with contingency  -  cost of extras sold at their own price

    By hand: 1,000 net, cost 700, contingency 35, an appliance bought for 65: 200 are kept.
    """
    own = sum(
        (extra.qty * (extra.cost_each or NONE) for extra in estimate.job.extras if extra.price_each is not None), start=NONE
    )
    return Kept(net=estimate.price.net, own_extras=own, cost=estimate.cost.base + own)


def capital(words: str) -> str:
    """The words with a capital at the front, as a sentence begins."""
    return words[:1].upper() + words[1:]
