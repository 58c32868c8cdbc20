"""One cabinet followed to its price, in sentences and small tables: an Estimate and a Ref in, lines for the terminal out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from estimator.costing.following import Followed, OwnMinutes, Taken, follow
from estimator.model.exact import Fraction
from estimator.model.records import Extra, LoosePart
from estimator.model.results import Estimate, Line
from estimator.model.shop_records import ConstructionRow
from estimator.model.taken import Part
from estimator.model.units import M_PER_FOOT, decimal_text, money_text
from estimator.papers.page.language import Language
from estimator.reading.names import close_to, fold


def lines_called(estimate: Estimate, ref: str) -> tuple[Line, ...]:
    """The lines of the quote with this Ref; capitals and blanks at either end do not matter."""
    return tuple(line for line in estimate.price.lines if fold(line.ref) == fold(ref))


def no_such_ref(estimate: Estimate, ref: str) -> str:
    """What to say of a Ref that no row has: the one that was probably meant, or all that there are."""
    refs = list(dict.fromkeys(line.ref for line in estimate.price.lines))
    near = close_to(ref, refs)
    name = estimate.job.workbook
    if near:
        return f"{name} has no cabinet, loose part or extra called {ref}. Did you mean {near}?"
    shown = ", ".join(refs[:12]) + (" and more" if len(refs) > 12 else "")
    return f"{name} has no cabinet, loose part or extra called {ref}. There are: {shown}"


def explained(estimate: Estimate, line: Line) -> str:
    """The whole account of one line."""
    one, words = follow(estimate, line), _Words(estimate)
    blocks = [[*words.head(line)], [*words.parts(one)], [*words.takings(one)], [*words.work_beside(one)], [*words.price(one)]]
    return "\n\n".join("\n".join(block) for block in blocks if block)


def explained_data(estimate: Estimate, lines: Sequence[Line]) -> Any:
    """The same as data: an object for one line, a list for several."""
    data = [_data(estimate, line) for line in lines]
    return data[0] if len(data) == 1 else data


def _data(estimate: Estimate, line: Line) -> dict[str, Any]:
    """Numbers as exact as text can hold them."""
    one = follow(estimate, line)
    return {
        "ref": line.ref,
        "place": str(line.owner.at.place("Ref")),
        "qty": decimal_text(line.qty),
        "boards": [_taken(row) for row in one.boards],
        "edgings": [_taken(row) for row in one.edgings],
        "fittings": [_taken(row) for row in one.fittings],
        "bought": [_taken(row) for row in one.bought],
        "minutes": [_minutes(row) for row in one.minutes],
        "prime": decimal_text(one.prime),
        "share": decimal_text(one.share),
        "costs": [{"what": row.what, "whole": decimal_text(row.whole), "share": decimal_text(row.share)} for row in one.costs],
        "target": decimal_text(one.target),
        "unit": money_text(line.unit, currency=estimate.job.terms.currency),
        "net": money_text(line.net, currency=estimate.job.terms.currency),
    }


def _taken(row: Taken) -> dict[str, str]:
    numbers = {"number": row.number, "each": row.each, "money": row.money}
    return {"what": row.what, **{name: decimal_text(value) for name, value in numbers.items()}, "place": str(row.place)}


def _minutes(row: OwnMinutes) -> dict[str, Any]:
    numbers = {"count": row.count, "each_min": row.each_min, "minutes": row.minutes, "money": row.money}
    texts = {name: decimal_text(value) for name, value in numbers.items()}
    return {"step": row.step, **texts, "in_prime": row.in_prime, "place": str(row.place)}


def _table(rows: Sequence[tuple[str, ...]], *, left: int = 1) -> Iterator[str]:
    """Rows under one another: the first columns to the left, numbers to the right, the last column as it is."""
    widths = [max(len(row[x]) for row in rows) for x in range(len(rows[0]))] if rows else []
    for row in rows:
        padded = enumerate(zip(row[:-1], widths, strict=False))
        cells = [cell.ljust(width) if x < left else cell.rjust(width) for x, (cell, width) in padded]
        yield ("    " + "  ".join(cells) + "   " + row[-1]).rstrip()


class _Words:
    """The words of one job: its money and its unit of length."""

    def __init__(self, estimate: Estimate) -> None:
        terms = estimate.job.terms
        self.estimate, self.currency = estimate, terms.currency
        self.language = Language("en", currency=terms.currency, units=terms.units, finest_inch=int(terms.show_fractions))
        inch = terms.units == "inch"
        self.unit = f"inches to the nearest 1/{terms.show_fractions} (+ a little more, − a little less)" if inch else "mm"
        self.area = ("square feet of part", M_PER_FOOT**2) if inch else ("m2 of part", Fraction(1))
        self.strip = ("feet of strip", M_PER_FOOT) if inch else ("m of strip", Fraction(1))

    def money(self, amount: Fraction) -> str:
        return money_text(amount, currency=self.currency)

    def head(self, line: Line) -> Iterator[str]:
        how_many = f"{decimal_text(line.qty)} at {self.money(line.unit)}, together " if line.qty != 1 else ""
        yield f"{line.ref}, {line.words}: {how_many}{self.money(line.net)} {self.currency} before tax"
        yield f"    {line.owner.at.place('Ref')}"

    def parts(self, one: Followed) -> Iterator[str]:
        if not one.parts:
            return
        yield f"Its parts, for one of it; finished sizes in {self.unit}, length first"
        for part, following in zip(one.parts, (*one.parts[1:], None), strict=True):
            size = self.language.sizes(part.length_mm, part.width_mm)
            yield f"    {part.count_each} {part.part}, {size}, of {part.board}"
            edges = [f"{band.side} {self.language.length(band.length_mm)} {band.edging.edging}" for band in part.bands]
            if edges:
                yield f"        edges: {', '.join(edges)}"
            if following is None or following.made_by is not part.made_by:
                yield f"        {_rule(part)}"

    def takings(self, one: Followed) -> Iterator[str]:
        """The prime cost: what one takes for itself alone."""
        yield "What one of it takes for itself"
        rows = [self._row(row, self.area) for row in one.boards]
        rows += [self._row(row, self.strip) for row in one.edgings]
        rows += [self._row(row, ("", Fraction(1))) for row in (*one.fittings, *one.bought)]
        rate = self.estimate.rates.direct
        for step in one.minutes:
            if step.in_prime:
                how = f"{_counted(step)} x {decimal_text(step.each_min, places=3)} min"
                rows.append((step.step, how, f"at {self.money(rate)} an hour", self.money(step.money), str(step.place)))
        yield from _table([*rows, ("together", "", "", self.money(one.prime), "")])
        if one.boards:
            yield "    The price of a sheet is shared by what becomes parts of it: the waste is paid for too."

    def _row(self, row: Taken, unit: tuple[str, Fraction]) -> tuple[str, ...]:
        """A taking in the job's own unit: `unit` is its name and how much of ours it is."""
        name, size = unit
        number = " ".join(filter(None, (decimal_text(row.number / size, places=4), name)))
        return row.what, number, f"at {decimal_text(row.each * size, places=4)}", self.money(row.money), str(row.place)

    def work_beside(self, one: Followed) -> Iterator[str]:
        beside = [step for step in one.minutes if not step.in_prime]
        if not beside:
            return
        sent = self.estimate.banding.chosen.sent
        how = "as the job is banded" if sent else "banded at the bench"
        yield f"Work on its own edges, {how}; it is paid with the work of the whole job"
        yield from _table([
            (step.step, f"{_counted(step)} x {decimal_text(step.each_min, places=3)}",
             f"{decimal_text(step.minutes, places=2)} min", str(step.place))
            for step in beside
        ])  # fmt: skip
        whole = sum((step.minutes for step in one.minutes), start=Fraction(0))
        yield f"    all minutes of its own, for one: {decimal_text(whole, places=1)}"

    def price(self, one: Followed) -> Iterator[str]:
        if isinstance(one.line.owner, Extra) and one.line.owner.price_each is not None:
            yield f"Its price is typed: {one.line.owner.at.place('Price each')}. It carries nothing of the job's cost"
            return
        share = decimal_text(one.share * 100, places=2)
        yield "How its price comes about"
        yield f"    All lines take {self.money(one.all_primes)} for themselves; one of this one takes {self.money(one.prime)},"
        yield f"    {share} % of it. So it carries {share} % of each cost of the job:"
        rows = [(cost.what, f"{self.money(cost.whole)} of the job", self.money(cost.share), "") for cost in one.costs]
        rows.append(("price of one", f"{self.money(self.estimate.price.target)} of the job", self.money(one.target), ""))
        yield from _table(rows)
        if one.line.qty != 1:
            yield f"    {decimal_text(one.line.qty)} of them: {self.money(one.line.net)}"
        yield "    Each figure here is rounded by itself; the sums are worked out exactly."


def _counted(step: OwnMinutes) -> str:
    """How often; metres and square metres have their sign, since Work counts by them in every job, one in inches too."""
    sign = {"metre": " m", "m2": " m2"}.get(step.per, "")
    return f"{decimal_text(step.count, places=3)}{sign}"


def _rule(part: Part) -> str:
    """Where the size of a part comes from: the rules of Construction, or the cells where it was typed."""
    made_by = part.made_by
    length, width = made_by.at.place("Length"), made_by.at.place("Width")
    match made_by:
        case ConstructionRow():
            return f"length = {made_by.length}, width = {made_by.width} ({length} and {width.cell})"
        case LoosePart():
            return f"typed in {length} and {width.cell}"
