"""One row of the register a job: the data of an estimate.json in, the figures that a shop looks back at out.

An estimate of an older version of the program may lack a figure; it then counts as nothing, and only who, when and how much must
be there.
"""

import json
from collections.abc import Iterable, Mapping
from datetime import date
from sys import intern
from typing import Any

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.papers.register.figures import left, margin_share, metres

COSTS = (
    "boards", "edging", "adhesive", "fittings", "contractor", "trips", "extras", "labour", "overhead", "contingency",
)  # fmt: skip
"""The parts of a job's cost, in the order in which papers show them."""


YEAR = ("metres", "by_hand", "send_out", "best")


class NotRegistered(Exception):
    """An estimate that lacks what every row of the register needs."""


@dataclass(frozen=True, slots=True)
class RegisterRow:
    """One job as it stands in its latest revision. Money is in the job's currency."""

    name: str
    """Name of the folder that holds the job's papers."""
    revision_folder: str
    earlier: tuple[str, ...]
    """Folders of its earlier revisions."""
    papers: tuple[str, ...]
    """File names of the papers that are there."""
    job_name: str
    quote_number: str
    revision: str
    client: str
    status: str
    quote_date: date
    currency: str
    gross: Fraction
    net: Fraction
    costs: Mapping[str, Fraction]
    hours: Fraction
    sheets: int
    by_hand_m: Fraction
    sent_out_m: Fraction
    banding: str
    """The best way of banding, in words."""
    saving: Fraction | None
    """What the best way saves against all by hand, or all sent out where by hand is best; None where that cannot be done."""
    remarks: tuple[str, ...]
    year: tuple[str | None, ...] = ()
    """Metres and the relevant cost by hand, sent out and at best, for a year's weighing; empty where no edge is banded."""
    shown_in: str = "mm"
    """The unit that its papers speak."""
    machines: str = "[]"
    """The machines that the job weighs, as the text of its estimate; jobs that weigh the same ones share one text."""

    @property
    def cost(self) -> Fraction:
        return sum(self.costs.values(), start=Fraction(0))

    left, margin_share, metres = property(left), property(margin_share), property(metres)

    @property
    def month(self) -> str:
        """Year and month of the quote: 2031-02."""
        return f"{self.quote_date.year:04}-{self.quote_date.month:02}"


@dataclass(frozen=True, slots=True)
class RefusedRow:
    """A workbook that was not priced in this run, and why."""

    workbook: str
    why: str
    problems: int
    earlier: str = ""
    """Name of the folder in which its earlier papers lie; blank when there are none."""


def row_of(
    data: Mapping[str, Any], *, name: str, revision_folder: str, earlier: tuple[str, ...] = (), papers: tuple[str, ...] = ()
) -> RegisterRow:
    """The row of one estimate. Raises: NotRegistered when it is no estimate."""
    try:
        job, price = data["job"], data["price"]
        sent = frozenset(data.get("chosen", ()))
        by_hand_m, sent_out_m = _metres(data, sent)
        return RegisterRow(
            name=name,
            revision_folder=revision_folder,
            earlier=earlier,
            papers=papers,
            job_name=str(job["name"]),
            quote_number=str(job.get("quote_number", "")),
            revision=str(job.get("revision", "")),
            client=str(job.get("client", "")),
            status=str(job.get("status", "asked")),
            quote_date=date.fromisoformat(job["quote_date"]),
            currency=str(job["currency"]),
            gross=Fraction(price["gross"]),
            net=Fraction(price["net"]),
            costs=_costs(data.get("cost", {})),
            hours=Fraction(data.get("minutes", {}).get("total", 0)) / 60,
            sheets=sum(int(board["sheets"]) for board in data.get("boards", {}).values()),
            by_hand_m=by_hand_m,
            sent_out_m=sent_out_m,
            banding=_banding(data),
            saving=_saving(data),
            remarks=tuple(f"{one['place']}: {one['words']}" for one in data.get("remarks", ())),
            year=tuple(data["year"][name] for name in YEAR) if data.get("year") else (),
            shown_in=str(job.get("shown_in", "mm")),
            machines=intern(json.dumps(data["year"]["machines"])) if data.get("year") else "[]",
        )
    except (KeyError, TypeError, ValueError, AttributeError, ZeroDivisionError) as trouble:
        raise NotRegistered(f"{type(trouble).__name__}: {trouble}") from trouble


def repeated_quotes(rows: Iterable[RegisterRow]) -> dict[str, list[str]]:
    """Quote numbers that stand on several jobs, with the names of their folders."""
    found: dict[str, list[str]] = {}
    for row in rows:
        if row.quote_number:
            found.setdefault(row.quote_number, []).append(row.name)
    return {number: sorted(names) for number, names in sorted(found.items()) if len(names) > 1}


def _costs(cost: Mapping[str, str]) -> dict[str, Fraction]:
    """What the job costs, part by part; extras sold at a price of their own are in the price, so their cost counts too."""
    costs = {one: Fraction(cost.get(one, 0)) for one in COSTS}
    costs["extras"] += Fraction(cost.get("extras_at_own_price", 0))
    return costs


def _metres(data: Mapping[str, Any], sent: frozenset[str]) -> tuple[Fraction, Fraction]:
    """Net metres of edges banded at the bench and sent out, on the chosen plan; small parts stay at the bench."""
    stays: dict[str, Fraction] = {}
    for one in data.get("small_parts", ()):
        stays[one["edging"]] = stays.get(one["edging"], Fraction(0)) + Fraction(one["net_m"])
    by_hand, away = Fraction(0), Fraction(0)
    for edging, use in data.get("edgings", {}).items():
        net_m = Fraction(use["net_m"])
        goes = net_m - stays.get(edging, Fraction(0)) if edging in sent else Fraction(0)
        away, by_hand = away + goes, by_hand + net_m - goes
    return by_hand, away


def _banding(data: Mapping[str, Any]) -> str:
    best, edgings = list(data.get("best", ())), list(data.get("edgings", {}))
    if not edgings:
        return "nothing to band"
    if not best:
        return "all by hand"
    return "all sent out" if len(best) == len(edgings) else f"send out {', '.join(best)}"


def _saving(data: Mapping[str, Any]) -> Fraction | None:
    plans = {frozenset(plan["sent"]): plan for plan in data.get("plans", ()) if plan.get("possible")}
    chosen = frozenset(data.get("best", ()))
    best, other = plans.get(chosen), plans.get(frozenset() if chosen else frozenset(data.get("edgings", ())))
    if not data.get("edgings") or other is None or best is None:
        return None
    return Fraction(other["relevant_cost"]) - Fraction(best["relevant_cost"])
