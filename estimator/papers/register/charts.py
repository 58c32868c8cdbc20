"""The charts of the register: sums in, drawings as inline SVG out, each with its figures in words for who cannot see it.

Drawn as with a pencil: outlines, a solid bar for one thing and an open one for the other, so that nothing hangs on colour.
"""

from collections.abc import Sequence

from markupsafe import Markup

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.units import half_away, money_text
from estimator.papers.register.figures import long_unit
from estimator.papers.register.money import Sums, currencies
from estimator.papers.register.rows import COSTS, RegisterRow

_NONE = Fraction(0)
_WIDE, _HIGH = 440, 190
_LEFT, _FOOT, _HEAD = 4, 40, 22
_MOST_MONTHS = 12
_NAMES = {
    "boards": "boards", "edging": "edging", "adhesive": "adhesive", "fittings": "fittings", "contractor": "contract bander",
    "trips": "trips", "extras": "extras", "labour": "work", "overhead": "overhead", "contingency": "contingency",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Chart:
    """A drawing with its title, what its two kinds of bars mean, and its figures as a table."""

    title: str
    solid: str
    open: str
    drawing: Markup
    heads: tuple[str, ...]
    figures: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class _Bar:
    """One pair at one place: what it stands for, its solid part, all of it, and the words above it."""

    name: str
    solid: Fraction
    whole: Fraction
    words: str


def charts_of(rows: Sequence[RegisterRow], by_month: Sequence[Sums]) -> tuple[Chart, ...]:
    """Value by month and where the money goes for each currency, then metres by month over all jobs."""
    found: list[Chart] = []
    for currency in currencies(rows):
        found.append(_value_chart([one for one in by_month if one.currency == currency], currency))
    for currency in currencies(rows):
        found.append(_money_chart([row for row in rows if row.currency == currency], currency))
    return (*found, _metres_chart(rows)) if rows else ()


def _latest(many: int) -> str:
    """What a title says where not every month is drawn."""
    return f", the latest {_MOST_MONTHS}" if many > _MOST_MONTHS else ""


def _value_chart(by_month: Sequence[Sums], currency: str) -> Chart:
    sums = by_month[-_MOST_MONTHS:]
    bars = [_Bar(one.month, one.won_gross, one.gross, _short(one.gross)) for one in sums]
    figures = [(one.month, str(one.jobs), _money(one.gross, currency), _money(one.won_gross, currency)) for one in sums]
    return Chart(
        f"Value of quotes by month{_latest(len(by_month))}, {currency} with tax",
        "won",
        "asked, sent or lost",
        _upright(bars, f"Value of quotes by month in {currency}"),
        ("Month", "Jobs", "All quotes", "Of them won"),
        tuple(figures),
    )


def _metres_chart(rows: Sequence[RegisterRow]) -> Chart:
    """Metres need no currency: all jobs together."""
    every = sorted({row.month for row in rows})
    found = every[-_MOST_MONTHS:]
    of = {month: [row for row in rows if row.month == month] for month in found}
    pairs = {
        month: (sum((row.by_hand_m for row in some), start=_NONE), sum((row.sent_out_m for row in some), start=_NONE))
        for month, some in of.items()
    }
    unit = long_unit(row.shown_in for row in rows)
    runs = {month: (unit.of(hand), unit.of(away)) for month, (hand, away) in pairs.items()}
    bars = [_Bar(month, hand, hand + away, _short(hand + away)) for month, (hand, away) in runs.items()]
    figures = [(month, f"{half_away(hand):,} {unit.sign}", f"{half_away(away):,} {unit.sign}") for month, (hand, away) in runs.items()]
    return Chart(
        f"{unit.name} of edges by month{_latest(len(every))}",
        "banded by hand",
        "sent out",
        _upright(bars, f"{unit.name} of edges by month, banded by hand and sent out"),
        ("Month", "By hand", "Sent out"),
        tuple(figures),
    )


def _money_chart(rows: Sequence[RegisterRow], currency: str) -> Chart:
    parts = {name: sum((row.costs[name] for row in rows), start=_NONE) for name in COSTS}
    net = sum((row.net for row in rows), start=_NONE)
    left = net - sum(parts.values(), start=_NONE)
    shown = [(_NAMES[name], value) for name, value in parts.items() if value]
    figures = [(name, _money(value, currency), _percent(value, net)) for name, value in [*shown, ("left over", left)]]
    return Chart(
        f"Where the money goes, {currency} before tax",
        "left over for the shop",
        "cost",
        _lying(shown, left, net, f"Where the money of all quotes in {currency} goes"),
        ("What", "Amount", "Of the price"),
        tuple(figures),
    )


def _upright(bars: Sequence[_Bar], label: str) -> Markup:
    """One bar a month: the solid part stands below, the open part on it."""
    highest = max((bar.whole for bar in bars), default=_NONE) or Fraction(1)
    step = Fraction(_WIDE - 2 * _LEFT, max(len(bars), 6))
    thick = min(step * Fraction(7, 10), Fraction(54))
    pieces: list[Markup] = []
    room = _HIGH - _FOOT - _HEAD
    for at, bar in enumerate(bars):
        x = _LEFT + step * at + (step - thick) / 2
        whole, solid = room * bar.whole / highest, room * bar.solid / highest
        foot, middle = Fraction(_HIGH - _FOOT), x + thick / 2
        pieces.append(_box("open", x, foot - whole, thick, whole))
        if solid:
            pieces.append(_box("solid", x, foot - solid, thick, solid))
        year, _, month = bar.name.partition("-")
        pieces.append(_text(middle, foot - whole - 6, bar.words, "middle"))
        pieces.append(_text(middle, foot + 16, month, "middle"))
        if at == 0 or not bars[at - 1].name.startswith(year):
            pieces.append(_text(middle, foot + 33, year, "middle"))
    line = Markup('<line class="ground" x1="0" x2="{w}" y1="{y}" y2="{y}"/>').format(w=_WIDE, y=_HIGH - _FOOT)
    return _drawing(label, _HIGH, [*pieces, line])


def _lying(parts: Sequence[tuple[str, Fraction]], left: Fraction, net: Fraction, label: str) -> Markup:
    """One bar a part of the cost, and the one that is left over; a loss has no bar, only its words."""
    longest = max((value for _, value in [*parts, ("", left)]), default=_NONE) or Fraction(1)
    start, room, pitch = Fraction(116), Fraction(_WIDE - 116 - 92), 24
    pieces: list[Markup] = []
    for at, (name, value) in enumerate([*parts, ("left over", left)]):
        y = Fraction(at * pitch + 4)
        long = room * max(value, _NONE) / longest
        pieces.append(_text(start - 8, y + 13, name, "end"))
        pieces.append(_box("solid" if at == len(parts) else "open", start, y, long, Fraction(16)))
        pieces.append(_text(start + long + 8, y + 13, f"{_short(value)}, {_percent(value, net)}", "start"))
    return _drawing(label, (len(parts) + 1) * pitch + 6, pieces)


def _drawing(label: str, high: int, pieces: Sequence[Markup]) -> Markup:
    head = Markup('<svg viewBox="0 0 {w} {h}" role="img" aria-label="{label}">').format(w=_WIDE, h=high, label=label)
    return head + Markup("").join(pieces) + Markup("</svg>")


def _box(kind: str, x: Fraction, y: Fraction, wide: Fraction, high: Fraction) -> Markup:
    figures = {"x": _at(x), "y": _at(y), "wide": _at(wide), "high": _at(high)}
    return Markup('<rect class="{kind}" x="{x}" y="{y}" width="{wide}" height="{high}"/>').format(kind=kind, **figures)


def _text(x: Fraction, y: Fraction, words: str, anchor: str) -> Markup:
    return Markup('<text x="{x}" y="{y}" text-anchor="{anchor}">{words}</text>').format(
        x=_at(x), y=_at(y), anchor=anchor, words=words
    )


def _at(value: Fraction) -> str:
    """A place in the drawing, to a tenth."""
    tenths = half_away(value * 10)
    return f"{tenths // 10}.{tenths % 10}"


def _short(value: Fraction) -> str:
    """A figure for a bar, in at most five signs: the figures in full stand below the drawing.

    >>> [_short(Fraction(n)) for n in (9395, 15749, 1866200, -120)]
    ['9395', '16k', '1.9M', '-120']
    """
    size = abs(value)
    if size < 10_000:
        return str(half_away(value))
    if size < 1_000_000:
        return f"{half_away(value / 1000)}k"
    tenths = half_away(size / 100_000)
    return f"{'-' if value < 0 else ''}{tenths // 10}.{tenths % 10}M"


def _money(value: Fraction, currency: str) -> str:
    text = money_text(value, currency=currency)
    whole, point, rest = text.partition(".")
    return f"{int(whole):,}{point}{rest}" if int(whole) else text


def _percent(value: Fraction, whole: Fraction) -> str:
    return f"{half_away(value / whole * 100)} %" if whole else "-"
