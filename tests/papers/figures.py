"""Every figure that may stand on the papers of a job: estimate.json and the workbook in, printed figures and where each comes from out.

A figure on paper is one of estimate.json, one that the workbook says, or one of the sums in
`stated_sums.py`, each with its sentence.
It is looked for as it would be printed: money at the currency's decimals, lengths in the job's unit, shares in percent, hours, times of
day. Whole numbers are held more strictly than they look: no rounding makes a count of a length or of an amount.
"""

import json
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, fields, is_dataclass
from datetime import date, timedelta
from typing import Any

from estimator.model.exact import Fraction
from estimator.model.gathering import gathered
from estimator.model.problems import Items, Row
from estimator.model.results import Estimate
from estimator.papers.estimate_json import estimate_text
from estimator.papers.page.clock import clock
from estimator.papers.page.language import Language
from tests.papers.stated_sums import M_PER_FOOT, sums

NUMBER = re.compile(r"(?<![\w.])\d[\d,]*(?:\.\d+)?")
_LENGTH = r"(?:\d+ \d+/\d+|\d+/\d+|\d+(?:\.\d+)?)[+−]?"
SIZE = re.compile(rf"(?<![\d/.]){_LENGTH}(?: × {_LENGTH})+")
_DECIMAL = re.compile(r"-?\d+(?:\.\d+)?")


@dataclass
class Ledger:
    """The figures by the text in which they may be printed, and the sizes, which are looked at whole; each with where it comes from."""

    language: Language
    figures: dict[str, str] = field(default_factory=dict)
    sizes: dict[str, str] = field(default_factory=dict)

    def text(self, words: str, source: str) -> None:
        for one in NUMBER.findall(words):
            self.figures.setdefault(one, source)

    def count(self, value: Fraction | int, source: str) -> None:
        self.text(self.language.number(value), source)

    def amount(self, value: Fraction, source: str) -> None:
        """Money."""
        self.text(self.language.amount(abs(value)), source)

    def measure(self, value: Fraction, source: str) -> None:
        """What is no money and no count: with one decimal, or with those that it has up to two."""
        for one in (value, value / M_PER_FOOT, value / M_PER_FOOT**2):
            self.text(self.language.fixed(abs(one), decimals=1), source)
        if value.denominator != 1:
            self.text(self.language.number(abs(value), most_decimals=2), source)

    def whole(self, value: Fraction, source: str) -> None:
        """What is rounded to a whole number: minutes, metres a year."""
        self.text(self.language.fixed(abs(value), decimals=0), source)

    def share(self, value: Fraction, source: str) -> None:
        for decimals in (0, 1):
            written = self.language.fixed(100 * abs(value), decimals=decimals)
            self.text(written, source)
            self.text(written.removesuffix(".0"), source)

    def size(self, *lengths_mm: Fraction, source: str) -> None:
        self.sizes.setdefault(self.language.sizes(*lengths_mm), source)

    def length(self, length_mm: Fraction, source: str) -> None:
        self.text(self.language.length(length_mm), source)


def ledger_of(estimate: Estimate) -> Ledger:
    terms = estimate.job.terms
    ledger = Ledger(Language("en", terms.currency, terms.units, int(terms.show_fractions)))
    data = json.loads(estimate_text(estimate))
    _told(ledger, data, "")
    _typed(ledger, estimate.job)
    _sizes(ledger, estimate, data)
    for source, value, kind in sums(estimate, data):
        getattr(ledger, kind)(value, source)
    day = terms.quote_date
    for one in (day, day + timedelta(days=terms.valid_for_days), *_days(data)):
        ledger.text(ledger.language.date(one), "a date")
    for remark in gathered(estimate.remarks):
        ledger.text(f"{remark.words} {remark.place}", "a remark")
    return ledger


def _days(data: Mapping[str, Any]) -> Iterator[date]:
    if data["decision"] and data["decision"]["send_by"]:
        yield date.fromisoformat(data["decision"]["send_by"])


# --- estimate.json ------------------------------------------------------------------------------------------------------

_SHARES = ("yield", "plan_yield", "open_used", "size", "down_to", "up_to", "irr", "interest", "learning", "floor")


def _told(ledger: Ledger, data: object, path: str) -> None:
    """Each number of estimate.json by what it is."""
    if isinstance(data, dict):
        for name, value in data.items():
            _told(ledger, value, f"{path} > {name}")
    elif isinstance(data, list):
        for value in data:
            _told(ledger, value, path)
    elif isinstance(data, int) and not isinstance(data, bool):
        ledger.count(data, f"estimate.json{path}")
    elif isinstance(data, str) and _DECIMAL.fullmatch(data):
        _number(ledger, Fraction(data), path)
    elif isinstance(data, str) and " > words" in path:
        ledger.text(data, f"estimate.json{path}")


def _number(ledger: Ledger, value: Fraction, path: str) -> None:
    source, name = f"estimate.json{path}", path.rpartition(" > ")[2]
    if name in _SHARES or name.endswith("_share"):
        ledger.share(value, source)
        ledger.share(abs(value - 1), f"{source}, how much lower or higher")
    elif name.endswith("_min") or " > minutes" in path:
        ledger.whole(value, source)
        ledger.measure(value, source)
        ledger.measure(value / 60, f"{source} in hours")
        for of_twelve in (False, True):
            ledger.text(clock(value, day_words="day {n}", of_twelve=of_twelve).replace(":", " "), f"{source} on the clock")
            ledger.text(clock(value % 1440, day_words="", of_twelve=of_twelve).replace(":", " "), f"{source} on the clock")
    elif name.endswith("_mm"):
        ledger.length(value, source)
    elif "metres" in name or name.endswith(("_m", "_m2")) or " > break_even_m" in path:
        for unit in (Fraction(1), M_PER_FOOT):
            ledger.whole(value / unit, source)
        ledger.measure(value, source)
        if name == "area_m2":
            ledger.whole(value / M_PER_FOOT**2, f"{source} in square feet")
        ledger.count(value, source)
        ledger.amount(value * M_PER_FOOT, f"{source} a foot")
        ledger.amount(value, source)
    elif any(one in path for one in (" > counts", "step_counts", "number", "litres", "hours", "days", "payback")):
        ledger.measure(value, source)
        ledger.text(ledger.language.number(value, most_decimals=2), source)
        if ledger.language.units == "inch" and "counts" in path:
            for unit in (M_PER_FOOT, M_PER_FOOT**2):
                ledger.text(ledger.language.number(value / unit, most_decimals=2), f"{source}, in feet or square feet on the time sheet")
    else:
        ledger.amount(value, source)


# --- the workbook -------------------------------------------------------------------------------------------------------


def _typed(ledger: Ledger, record: object) -> None:
    """Every number and every figure within a text that the workbook holds."""
    if isinstance(record, str):
        ledger.text(record, "typed")
    elif isinstance(record, (int, Fraction)) and not isinstance(record, bool):
        value = Fraction(record)
        ledger.count(value, "typed")
        ledger.amount(value, "typed")
        ledger.length(value, "typed")
        if 0 <= value <= 1:
            ledger.share(value, "typed")
    elif isinstance(record, tuple):
        for one in record:
            _typed(ledger, one)
    elif isinstance(record, Mapping):
        for name, value in record.items():
            _typed(ledger, name)
            _typed(ledger, value)
    elif is_dataclass(record) and not isinstance(record, (Row, Items)):
        for one in fields(record):
            _typed(ledger, getattr(record, one.name))


def _sizes(ledger: Ledger, estimate: Estimate, data: Mapping[str, Any]) -> None:
    for one in data["parts"]["list"]:
        ledger.size(Fraction(one["length_mm"]), Fraction(one["width_mm"]), source="a part")
        ledger.size(Fraction(one["cut_length_mm"]), Fraction(one["cut_width_mm"]), source="a part as cut")
    for board in data["boards"].values():
        for sheet in (*board["sizes"], *board["plan"], *board["saw_plan"]):
            ledger.size(Fraction(sheet["length"]), Fraction(sheet["width"]), source="a sheet")
    for patterns in data["on_paper"]["saw"].values():
        for pattern in patterns:
            for words in pattern["cuts"]:
                fence, _, piece = words.partition(" of ")
                ledger.length(Fraction(fence.rpartition(" ")[2]), "what the fence is set to")
                ledger.size(*map(Fraction, piece.split(" x ")), source="a piece in hand")
            for rest in pattern["rests"]:
                ledger.size(*map(Fraction, rest.split(" x ")), source="what is left over")
    for cabinet in estimate.job.cabinets:
        ledger.size(cabinet.width_mm, cabinet.height_mm, cabinet.depth_mm, source="a cabinet")
    for loose in estimate.job.loose_parts:
        ledger.size(loose.length_mm, loose.width_mm, source="a loose part")


# --- what a paper prints ------------------------------------------------------------------------------------------------

_PAGE = re.compile(r"Page \d+ of \d+")


def unknown_figures(ledger: Ledger, words: str) -> list[str]:
    """Every size and every other figure in the words of a paper that the ledger does not hold, with the words about it."""
    words = _PAGE.sub(" ", re.sub(r"\s+", " ", words))
    found = [one for one in SIZE.findall(words) if one not in ledger.sizes]
    rest = SIZE.sub(" ", words).replace(":", " ")
    for one in NUMBER.finditer(rest):
        if one[0].rstrip(",") not in ledger.figures:
            found.append(rest[max(one.start() - 20, 0) : one.end() + 5])
    return found
