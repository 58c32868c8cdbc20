"""Numbers for readers: exact fractions and dates go in; text as the job's language and currency write it comes out.

The language decides the words and the marks between digits; within it the currency picks the country (dollars read `$1,234.50`
and `February 3, 2031`, pounds `£1,234.50` and `3 February 2031`). How many decimals an amount has is ISO 4217's answer, as
everywhere in the house, never the formatting library's.
"""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from functools import cache, lru_cache
from typing import TYPE_CHECKING, Literal

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.units import decimal_text, inches_text, money_text

if TYPE_CHECKING:
    from babel import Locale
    from babel.numbers import NumberPattern

_COUNTRIES = {
    "en": {"USD": "en_US", "CAD": "en_CA", "AUD": "en_AU", "NZD": "en_NZ", "EUR": "en_IE", "INR": "en_IN", "ZAR": "en_ZA"},
    "de": {"CHF": "de_CH"},
}
_ELSEWHERE = {"en": "en_GB", "de": "de_DE"}
_MINUS = "\N{MINUS SIGN}"
_SPACE = "\N{NO-BREAK SPACE}"
_NARROW_SPACE = "\N{NARROW NO-BREAK SPACE}"


@cache
def _locale(name: str) -> Locale:
    from babel import Locale

    return Locale.parse(name)


@cache
def _pattern(name: str, *, currency: str | None, decimals: int) -> NumberPattern:
    """The country's own pattern for numbers (or money), with the decimals that we want."""
    from babel.numbers import parse_pattern

    locale = _locale(name)
    formats = locale.currency_formats["standard"] if currency else locale.decimal_formats[None]
    pattern = parse_pattern(formats.pattern)
    pattern.frac_prec = (decimals, decimals)
    return pattern


@cache
def _percent_sign(name: str) -> str:
    """The sign behind a percentage, with the space that the country puts before it."""
    from babel.numbers import parse_pattern

    pattern = parse_pattern(_locale(name).percent_formats[None].pattern)
    return str(pattern.suffix[1]).replace(" ", _SPACE) or "%"


@cache
def _of_twelve(name: str) -> bool:
    return "h" in _locale(name).time_formats["short"].pattern


@dataclass(frozen=True, slots=True)
class Language:
    """How one job's papers write numbers: its language, its currency and its unit of length."""

    code: str
    currency: str
    units: Literal["mm", "inch"]
    finest_inch: int = 16
    """An inch job shows lengths to the nearest 1/16, or as fine as the job says; the exact lengths stay as they are."""

    @property
    def country(self) -> str:
        return _COUNTRIES.get(self.code, {}).get(self.currency) or _ELSEWHERE.get(self.code, self.code)

    def money(self, amount: Fraction) -> str:
        """An amount with its currency sign: £1,234.50 or 1.234,50 €."""
        return self._digits(money_text(amount, currency=self.currency), currency=self.currency)

    def amount(self, amount: Fraction) -> str:
        """An amount without its sign, for columns whose heading names the currency."""
        return self._digits(money_text(amount, currency=self.currency), currency=None)

    def number(self, value: Fraction | int, *, most_decimals: int = 3) -> str:
        """A number with as many decimals as it needs, up to a limit."""
        return self._digits(decimal_text(value, places=most_decimals), currency=None)

    def fixed(self, value: Fraction | int, *, decimals: int) -> str:
        """A number with always the same decimals, for columns."""
        whole, _, rest = decimal_text(value, places=decimals).partition(".")
        return self._digits(f"{whole}.{rest.ljust(decimals, '0')}" if decimals else whole, currency=None)

    def percent(self, share: Fraction) -> str:
        """A share of one as a percentage: 20% or 20 %."""
        return f"{self.number(share * 100, most_decimals=4)}{_percent_sign(self.country)}"

    def percent_fixed(self, share: Fraction, *, decimals: int) -> str:
        """A percentage with always the same decimals, for columns."""
        return f"{self.fixed(share * 100, decimals=decimals)}{_percent_sign(self.country)}"

    def date(self, day: date) -> str:
        """A date in full: 3 February 2031."""
        from babel.dates import format_date

        return str(format_date(day, "long", locale=_locale(self.country)))

    @property
    def clock_of_twelve(self) -> bool:
        """Whether the country tells the time with am and pm."""
        return _of_twelve(self.country)

    @property
    def decimal_mark(self) -> str:
        """The mark before decimals."""
        return str(_locale(self.country).number_symbols["latn"]["decimal"])

    def length(self, length_mm: Fraction | int) -> str:
        """A length in the job's unit, without the unit's name: 600, 563.5, or 23 1/2 in inches, 23 5/8− where it is rounded."""
        if self.units == "mm":
            return self._digits(decimal_text(length_mm, places=2), currency=None, grouped=False)
        return inches_text(length_mm, finest=self.finest_inch)

    def is_rounded(self, *lengths_mm: Fraction | int) -> bool:
        """Whether one of these lengths is shown with a sign that it is a little more or less."""
        return any(self.length(length_mm)[-1:] in ("+", _MINUS) for length_mm in lengths_mm)

    def sizes(self, *lengths_mm: Fraction | int) -> str:
        """Lengths as joiners write them: 600 × 720 × 560."""
        return " × ".join(self.length(length_mm) for length_mm in lengths_mm)

    def _digits(self, text: str, *, currency: str | None, grouped: bool = True) -> str:
        return _written(text, self.country, currency, grouped)


@lru_cache(maxsize=4_000)
def _written(text: str, name: str, currency: str | None, grouped: bool) -> str:
    """Digits as a country writes them. Kept: the same lengths come back on every paper."""
    pattern = _pattern(name, currency=currency, decimals=len(text.partition(".")[2]))
    written = str(pattern.apply(Decimal(text), _locale(name), currency=currency, currency_digits=False, group_separator=grouped))
    if currency:
        written = _with_sign(written, country=name, currency=currency)
    return written.replace(_NARROW_SPACE, _SPACE).replace("-", _MINUS)


def _with_sign(written: str, *, country: str, currency: str) -> str:
    """The amount with the sign that readers know: ¥ for the yen, and a space between letters and digits."""
    from babel.numbers import get_currency_symbol

    sign = get_currency_symbol(currency, locale=_locale(country))
    known = get_currency_symbol(currency, locale=_locale("en")) if country == _ELSEWHERE["en"] else sign
    before = f"{known}{_SPACE}" if known[-1:].isalpha() else known
    head, found, tail = written.partition(sign)
    return f"{head}{before}{tail}" if found and tail[:1].isdigit() else written.replace(sign, known)
