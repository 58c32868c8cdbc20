"""The oracle's answer and the program's estimate.json go in; every difference comes out as a sentence with its path.

Quantities, minutes and costs agree to 1e-6; money on the quote agrees exactly. What kind of number stands where is held
too: counts are integers, all else is decimal text with at least 8 places (fewer where the number ends there), money on
the quote at the minor unit, tax rates as they are said ("20", "8.25").
"""

import re
from collections import Counter
from fractions import Fraction

from tests.oracle.answer import AtLeast, Money

WITHIN = Fraction(1, 1_000_000)
COUNTS = {"count", "parts", "sheets", "bound", "edges", "packs"}
MEASURED = ("m2", "metre")  # among counts: no whole numbers
RATES = {"tax_rate", "rate"}
NAMED = {"boards", "edgings", "minutes.steps"}  # nothing may stand there that the oracle does not know
DECIMAL = re.compile(r"-?\d+(\.\d+)?")


def differences(expected, found):
    """Every difference, as `path: expected ..., found ...`; an empty list where the two agree."""
    if not isinstance(found, dict):
        return [f"no estimate: {found!r}"]
    said = []
    for key, value in expected.items():
        if key not in found:
            said.append(f"{key}: is missing")
        elif key == "parts":
            said += _parts(value, found[key])
        elif key == "adhesives":
            used = {name: glue for name, glue in found[key].items() if _number(glue.get("litres")) != 0}
            said += _named(key, value, used)
        elif key == "plans":
            said += _list(key, value, found[key])
        else:
            said += _same(key, value, found[key])
    return said


def _same(path, expected, found):
    if isinstance(expected, Money):
        return _money(path, expected, found)
    if isinstance(expected, AtLeast):
        low, high = expected
        return [] if _whole(found) and low <= found <= high else [f"{path}: expected {low} to {high}, found {found!r}"]
    if isinstance(expected, dict):
        return _named(path, expected, found)
    if isinstance(expected, list):
        return _list(path, expected, found)
    if isinstance(expected, bool) or expected is None or isinstance(expected, str):
        return [] if found == expected and type(found) is type(expected) else [_wrong(path, expected, found)]
    return _quantity(path, Fraction(expected), found)


def _named(path, expected, found):
    if not isinstance(found, dict):
        return [f"{path}: expected names, found {found!r}"]
    said = [f"{path}.{name}: is missing" for name in expected if name not in found]
    if path in NAMED or path == "adhesives":
        said += [f"{path}.{name}: should not be there" for name in found if name not in expected]
    for name, value in expected.items():
        if name in found:
            said += _same(f"{path}.{name}", value, found[name])
    return said


def _list(path, expected, found):
    if not isinstance(found, list) or len(found) != len(expected):
        many = len(found) if isinstance(found, list) else repr(found)
        return [f"{path}: expected {len(expected)} of them, found {many}"]
    said = []
    for at, (one, other) in enumerate(zip(expected, found, strict=True)):
        said += _same(f"{path}[{at}]", one, other)
    return said


def _wrong(path, expected, found):
    shown = expected
    if isinstance(expected, Fraction):
        shown = str(expected) if expected.denominator == 1 else f"{float(expected):.9f} ({expected})"
    return f"{path}: expected {shown}, found {found!r}"


def _whole(found):
    return isinstance(found, int) and not isinstance(found, bool)


def _number(found):
    if _whole(found):
        return Fraction(found)
    return Fraction(found) if isinstance(found, str) and DECIMAL.fullmatch(found) else None


def _said(rate):
    """A rate in percent as it is said: "20", "8.25"."""
    whole, rest = divmod(rate, 1)
    return str(whole) if not rest else f"{float(rate):.6f}".rstrip("0")


def _places(found):
    return len(found.partition(".")[2])


def _quantity(path, expected, found):
    last = path.rpartition(".")[2]
    value = _number(found)
    if value is None:
        return [_wrong(path, expected, found)]
    if last == "qty":  # a count, or a decimal text where a quantity is not whole
        return (
            []
            if value == expected and _whole(found) == (expected.denominator == 1)
            else [_wrong(path, expected, found)]
        )
    if last in RATES:
        return [] if value == expected and found == _said(expected) else [_wrong(path, expected, found)]
    if last in COUNTS or (path.startswith("counts.") and not path.endswith(MEASURED)):
        return [] if _whole(found) and value == expected else [_wrong(path, expected, found)]
    if _whole(found) and not path.startswith("counts."):
        return [f"{path}: expected decimal text, found the number {found}"]
    agrees = abs(value - expected) <= WITHIN if _places(str(found)) >= 8 else value == expected
    return [] if agrees else [_wrong(path, expected, found)]


def _money(path, expected, found):
    value = _number(found)
    said = [] if value == expected.amount else [_wrong(path, expected.amount, found)]
    if not isinstance(found, str) or (value is not None and _places(found) != expected.places):
        said.append(f"{path}: expected money with {expected.places} places, found {found!r}")
    return said


def _parts(expected, found):
    said = _same("parts.count", expected["count"], found.get("count"))
    said += _same("parts.area_m2", expected["area_m2"], found.get("area_m2"))
    said += [
        f"parts.list: {one['part']!r} has the count {one['count']!r}"
        for one in found["list"]
        if not _whole(one["count"])
    ]
    named = all("bands" in one for one in found["list"])
    wanted, listed = _pieces(expected["list"], named), _pieces(found["list"], named)
    said += [f"parts.list: expected {n} more of {piece}" for piece, n in (wanted - listed).items()]
    return said + [f"parts.list: found {n} too many of {piece}" for piece, n in (listed - wanted).items()]


SIZES = ("length_mm", "width_mm", "cut_length_mm", "cut_width_mm")


def _pieces(listed, named):
    """Counter of pieces by what they are, however a list groups them; with their edgings' names where these are told."""
    pieces = Counter()
    for one in listed:
        sizes = tuple(str(round(float(Fraction(one[size])), 4)) for size in SIZES)
        pieces[(one["ref"], one["part"], *sizes, one["board"], _bands(one, named))] += int(one["count"])
    return pieces


def _bands(one, named):
    """front, back, left, right, each with its edging where both sides tell it: from {side: edging}, or a list of sides."""
    bands = one.get("bands", one["banded"]) if named else one["banded"]
    if isinstance(bands, dict) and named:
        return " ".join(sorted(f"{side}: {edging};" for side, edging in bands.items()))
    return " ".join(sorted(re.split(r"\W", str(side).strip().lower())[0] for side in bands))
