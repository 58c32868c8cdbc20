"""A value that is meant goes in, with chance; one of the ways in which people type it comes out."""

from decimal import Decimal
from fractions import Fraction

from tests.oracle.cells import Percent


class Typist:
    """Somebody who fills in one sheet, in the unit of its book."""

    def __init__(self, rng, unit):
        self.rng, self.unit = rng, unit

    def length(self, mm):
        """About so many mm: whole or half mm as typed; inches on the nearest eighth, small ones on the nearest 64th."""
        if self.unit == "mm":
            return self._mm(mm)
        if self.rng.random() < 0.12:
            return f"{mm} mm"
        parts = 8 if mm > 25 else 64
        inches = Fraction(max(1, round(mm / 25.4 * parts)), parts)
        return self._inches(inches)

    def _mm(self, mm):
        way, plain = self.rng.random(), _decimal(mm)
        if way < 0.85:
            return plain
        if way < 0.90:
            return f"{mm}"
        if way < 0.94:
            return f"{mm} mm"
        if way < 0.97:
            return f"{_decimal(Fraction(str(mm)) / 10)} cm"
        return f"{mm}".replace(".", ",")

    def _inches(self, inches):
        whole, rest = divmod(inches, 1)
        way = self.rng.random()
        if way < 0.4:
            return _decimal(inches)
        mixed = " ".join(filter(None, (str(whole) if whole else "", str(rest) if rest else ""))) or "0"
        if way < 0.7:
            return mixed
        if way < 0.9 or whole < 12:
            return f'{mixed}"'
        feet, over = divmod(whole, 12)
        return f"{feet}' {over}\"" if not rest else f"{feet}' {' '.join(filter(None, (str(over), str(rest))))}\""

    def number(self, amount):
        """A plain number: as a number, or as text, with a point or a comma."""
        way, plain = self.rng.random(), _decimal(amount)
        if way < 0.9:
            return plain
        words = f"{plain}"
        comma = "." in words and len(words.split(".")[1]) <= 2
        return words.replace(".", ",") if way > 0.96 and comma else words

    def percent(self, amount):
        """So many percents: 15 %, 15%, a percent cell, or bare where that cannot be mistaken."""
        plain = _decimal(amount)
        ways = [f"{plain} %", f"{plain}%", Percent(Decimal(plain) / 100)]
        if plain == 0 or plain >= 1:
            ways += [plain, f"{plain}"]
        if isinstance(plain, Decimal):
            ways.append(f"{plain} %".replace(".", ","))
        return self.rng.choice(ways)

    def signed_percent(self, amount):
        """A percent that says so, for a column in which a bare number is money."""
        plain = _decimal(amount)
        return self.rng.choice((f"{plain} %", f"{plain}%", Percent(Decimal(plain) / 100)))

    def yes(self):
        return self.rng.choice(("yes", "yes", "Yes", "y", "x", "true", True))

    def no(self):
        return self.rng.choice(("no", "no", "No", "n", "false", False))

    def maybe(self, value, chance):
        """The value, or a blank cell."""
        return value if self.rng.random() < chance else None


def _decimal(amount):
    """An int where it is whole, else a Decimal."""
    number = Fraction(str(amount)) if not isinstance(amount, Fraction) else amount
    if number.denominator == 1:
        return int(number)
    return Decimal(number.numerator) / Decimal(number.denominator)
