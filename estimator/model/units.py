"""Numbers and their units: exact fractions in, the few allowed roundings and the decimal text of an answer out.

Inside the engine every number is an exact fraction of millimetres, square metres, metres, minutes, litres or money. Nothing
is rounded on the way; the functions below are the only ones that may.
"""

from decimal import ROUND_HALF_EVEN, Context, Decimal

from estimator.model.exact import Fraction

MM_PER_INCH = Fraction(254, 10)
MM_PER_FOOT = 12 * MM_PER_INCH
MM_PER_M = 1000
MM2_PER_M2 = 1_000_000
MINUTES_PER_HOUR = 60
M_PER_FOOT = MM_PER_FOOT / MM_PER_M
KG_PER_LB = Fraction(45359237, 100_000_000)
LITRES_PER_GALLON = 231 * MM_PER_INCH**3 / 1_000_000
"""The US gallon of 231 cubic inches; its fluid ounce is one in 128. Source: customary-units."""
OUNCES_PER_GALLON = 128

# ISO 4217: how many decimals a currency's minor unit has, where it is not two.
_MINOR_DECIMALS = {
    "BIF": 0, "CLP": 0, "DJF": 0, "GNF": 0, "ISK": 0, "JPY": 0, "KMF": 0, "KRW": 0, "PYG": 0, "RWF": 0, "UGX": 0,
    "UYI": 0, "VND": 0, "VUV": 0, "XAF": 0, "XOF": 0, "XPF": 0,
    "BHD": 3, "IQD": 3, "JOD": 3, "KWD": 3, "LYD": 3, "OMR": 3, "TND": 3,
    "CLF": 4, "UYW": 4,
}  # fmt: skip

_ANSWER_PLACES = 12
_WIDE = Context(prec=80, rounding=ROUND_HALF_EVEN)


def minor_decimals(currency: str) -> int:
    """Decimals of a currency's minor unit: yen 0, euro 2, Bahraini dinar 3.

    >>> minor_decimals("JPY"), minor_decimals("EUR"), minor_decimals("BHD")
    (0, 2, 3)

    Source: iso-4217.
    """
    return _MINOR_DECIMALS.get(currency, 2)


def half_away(value: Fraction) -> int:
    """The nearest whole number; a half goes away from zero.

        whole  =  the part before the point of (|value| + 1/2), with the sign of the value

    By hand: 2.5 gives 3 and -2.5 gives -3.

    >>> half_away(Fraction(5, 2)), half_away(Fraction(-5, 2)), half_away(Fraction(249, 100))
    (3, -3, 2)

    Holds for: every fraction.
    Error: none.
    Source: en-16931.
    """
    size = (2 * abs(value.numerator) + value.denominator) // (2 * value.denominator)
    return size if value >= 0 else -size


def to_money(value: Fraction, *, currency: str) -> Fraction:
    """An amount brought to the currency's minor unit, half away from zero.

        amount  =  nearest whole number of (value x 10^decimals)  /  10^decimals

    By hand: 365.125 euro is 365.13; 89.5 yen is 90.

    >>> to_money(Fraction("365.125"), currency="EUR"), to_money(Fraction("89.5"), currency="JPY")
    (Fraction(36513, 100), Fraction(90, 1))

    Holds for: every amount, credits too.
    Error: at most half a minor unit, by definition.
    Source: en-16931.
    """
    parts = 10 ** minor_decimals(currency)
    return Fraction(half_away(value * parts), parts)


def to_multiple(value: Fraction, *, step: Fraction) -> Fraction:
    """The nearest multiple of a step, half away from zero: for a total that the shop wants round.

    >>> to_multiple(Fraction("179.65"), step=Fraction(5))
    Fraction(180, 1)

    Source: common-practice.
    """
    return half_away(value / step) * step


def inches_text(length_mm: Fraction | int, *, finest: int = 16) -> str:
    """A length in inches as joiners write it, to the nearest 1/finest: + behind it means a little more, − a little less.

        inches  =  mm / 25.4;  shown  =  the nearest whole number of finest parts of an inch, a half goes up

    By hand: 596.9 mm are 23.5 inches, 23 1/2; 22 13/32 lies half way from 22 6/16 to 22 7/16 and is 22 7/16 less a little.

    >>> inches_text(Fraction("596.9")), inches_text(Fraction("569.11875")), inches_text(Fraction("569.11875"), finest=32)
    ('23 1/2', '22 7/16−', '22 13/32')

    Holds for: lengths of 0 or more; what is so small that nothing would be left is shown as a decimal.
    Error: at most half of 1/finest inch, and the sign says which way.
    Source: common-practice.
    """
    inches = Fraction(length_mm) / MM_PER_INCH
    shown = to_multiple(inches, step=Fraction(1, finest))
    if inches and not shown:
        return decimal_text(inches, places=3)
    whole = shown.numerator // shown.denominator
    over = shown.numerator - whole * shown.denominator
    rest = f"{over}/{shown.denominator}" if over else ""
    sign = "" if shown == inches else "+" if shown < inches else "−"
    return " ".join(part for part in (str(whole) if whole or not rest else "", rest) if part) + sign


def length_words(length_mm: Fraction | int, *, units: str, finest: int = 16, places: int = 1) -> str:
    """A length with its unit, for a sentence, where about is near enough: 962 mm, or 37 7/8 inch.

    >>> length_words(Fraction(600), units="mm"), length_words(Fraction(600), units="inch")
    ('600 mm', '23 5/8 inch')
    """
    if length_mm < 0:
        return f"-{length_words(-length_mm, units=units, finest=finest, places=places)}"
    if units == "inch":
        return f"{inches_text(length_mm, finest=finest).rstrip('+−')} inch"
    return f"{decimal_text(length_mm, places=places)} mm"


def at_least_words(length_mm: Fraction, *, units: str) -> str:
    """A least length with its unit: in inches the next 1/32 up, so that whoever keeps to the words keeps to the length.

    >>> at_least_words(Fraction("21.05"), units="mm"), at_least_words(Fraction("21.05"), units="inch")
    ('21.05 mm', '27/32 inch')
    """
    if units == "inch":
        return length_words(whole_up(length_mm / MM_PER_INCH * 32) * MM_PER_INCH / 32, units=units, finest=32)
    return length_words(length_mm, units=units, places=3)


def run_words(length_m: Fraction, *, units: str, places: int = 1) -> str:
    """A length of edging with its unit, as it is bought and counted: metres, or feet.

    >>> run_words(Fraction("3.048"), units="mm"), run_words(Fraction("3.048"), units="inch")
    ('3 m', '10 ft')
    """
    size, name = (M_PER_FOOT, "ft") if units == "inch" else (Fraction(1), "m")
    return f"{decimal_text(length_m / size, places=places)} {name}"


def whole_up(value: Fraction) -> int:
    """The least whole number that is not below the value, decided on the exact fraction.

    >>> whole_up(Fraction(2)), whole_up(Fraction(21, 10))
    (2, 3)
    """
    return -((-value.numerator) // value.denominator)


def decimal_text(value: Fraction | int, *, places: int = _ANSWER_PLACES) -> str:
    """A number as decimal text: exact when it ends within the places, else rounded there (for answers, not for money).

    An answer that does not end keeps all its places, also where the last of them are 0.

    >>> decimal_text(Fraction("0.92776")), decimal_text(Fraction(1, 3)), decimal_text(604), decimal_text(Fraction(5, 10**6 + 1))
    ('0.92776', '0.333333333333', '604', '0.000004999995')
    >>> decimal_text(Fraction("0.70000000000001")), decimal_text(Fraction("1.96"), places=1)
    ('0.700000000000', '2')
    """
    exact = Fraction(value)
    scaled = Fraction(half_away(exact * 10**places), 10**places)
    number = _WIDE.divide(Decimal(scaled.numerator), Decimal(scaled.denominator))
    if places == _ANSWER_PLACES and scaled != exact:
        return format(number, f".{places}f")
    text = format(number, "f")
    return text.rstrip("0").rstrip(".") if "." in text else text


def money_text(value: Fraction, *, currency: str) -> str:
    """An amount at its minor unit, always with all its decimals.

    >>> money_text(Fraction("89.8"), currency="EUR"), money_text(Fraction(90), currency="JPY")
    ('89.80', '90')
    """
    decimals = minor_decimals(currency)
    minor = half_away(value * 10**decimals)
    sign, digits = ("-" if minor < 0 else ""), str(abs(minor)).rjust(decimals + 1, "0")
    return f"{sign}{digits[:-decimals]}.{digits[-decimals:]}" if decimals else f"{sign}{digits}"
