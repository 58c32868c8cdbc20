"""What the engine answers: parts, boards, edges, batches, ways of banding, cost and price, all in one Estimate.

All numbers are exact fractions (whole numbers where things are counted); only the amounts of a Price are rounded, to the
currency's minor unit.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from estimator.model.dataclass import dataclass
from estimator.model.decision import Decision, GlueDay, JobBanding, MachineCase, MachineCrossing, MachinePoint, MerchantAnswer, StepRisk
from estimator.model.exact import Fraction
from estimator.model.problems import Remark
from estimator.model.quantities import JobCounts
from estimator.model.records import Cabinet, Extra, Job, LoosePart
from estimator.model.shop_records import Fitting, Step
from estimator.model.shown import NOTHING, PriceShown
from estimator.model.taken import AdhesiveUse, Batch, BoardUse, EdgingUse, Part, RollUse, SmallParts
from estimator.model.times import RunsQuicker


@dataclass(frozen=True, slots=True)
class StepMinutes:
    """One row of Work on a plan: standard minutes for one, how many, and the minutes together."""

    step: Step
    each_min: Fraction
    count: Fraction
    minutes: Fraction


@dataclass(frozen=True, slots=True)
class FittingUse:
    fitting: Fitting
    number: Fraction
    cost: Fraction


def bought_together(fittings: Sequence[FittingUse]) -> tuple[tuple[FittingUse, ...], ...]:
    """Rows of Fittings that name one item in packs of one size: legs counted for each kind of cabinet are bought as legs."""
    rows: dict[tuple[str, Fraction | None], list[FittingUse]] = {}
    for use in fittings:
        rows.setdefault((use.fitting.item.casefold(), use.fitting.pack), []).append(use)
    return tuple(tuple(same) for same in rows.values())


@dataclass(frozen=True, slots=True)
class ContractorLine:
    """What the contract bander asks for one edging."""

    edging: str
    charged_m: Fraction
    price_per_m: Fraction | None
    """The price of the break reached; None when slices have different prices."""
    amount: Fraction
    setup: Fraction
    bought_up: bool


@dataclass(frozen=True, slots=True)
class Invoice:
    """The contract bander's invoice on one plan."""

    lines: tuple[ContractorLine, ...]
    parts: int
    parts_charge: Fraction
    minimum_top_up: Fraction
    total: Fraction


@dataclass(frozen=True, slots=True)
class BandingPlan:
    """One way of banding: the edgings that are sent; the rest is banded by hand. Money is None where it is not possible."""

    sent: tuple[str, ...]
    possible: bool
    why: str
    """Why it is not possible; blank when it is."""
    relevant_cost: Fraction | None
    edging: Fraction | None
    adhesive: Fraction | None
    contractor: Fraction | None
    trips: Fraction | None
    fittings: Fraction | None
    by_hand_min: Fraction | None
    send_out_min: Fraction | None
    spoilt: Fraction | None = None
    """What spoilt edges cost on this plan; 0 where the shop names no share of them."""


@dataclass(frozen=True, slots=True)
class BandingChoice:
    """Every way of banding, the best, and the one that the job takes, with what it takes in full."""

    plans: tuple[BandingPlan, ...]
    best: BandingPlan
    chosen: BandingPlan
    adhesives: tuple[AdhesiveUse, ...]
    invoice: Invoice | None
    break_even_m: Mapping[str, Fraction | None]
    """Each edging alone: metres at which the two routes cost the same; None where they never do, or one is not possible."""
    bought: tuple[EdgingUse, ...] = ()
    """What the shop itself buys of each edging on the chosen plan; what a contractor supplies is left out."""
    small_parts: tuple[SmallParts, ...] = ()
    """By edging: parts that stay at the bench though the edging is sent, whether it is or not."""


@dataclass(frozen=True, slots=True)
class Minutes:
    steps: tuple[StepMinutes, ...]
    always: Fraction
    by_hand: Fraction
    send_out: Fraction
    extras: Fraction
    """Minutes of Extras that are priced with the job; part of `always`."""
    total: Fraction


@dataclass(frozen=True, slots=True)
class Cost:
    boards: Fraction
    edging: Fraction
    adhesive: Fraction
    fittings: Fraction
    contractor: Fraction
    trips: Fraction
    extras: Fraction
    labour: Fraction
    overhead: Fraction
    total: Fraction
    contingency: Fraction
    base: Fraction


@dataclass(frozen=True, slots=True)
class Line:
    """One line of the price. Unit price and net are rounded to the minor unit."""

    ref: str
    room: str
    words: str
    qty: Fraction
    prime: Fraction
    """Prime cost of one; 0 for an extra with a price of its own."""
    unit: Fraction
    net: Fraction
    tax_rate_share: Fraction
    owner: Cabinet | LoosePart | Extra


@dataclass(frozen=True, slots=True)
class TaxLine:
    rate_share: Fraction
    lines: Fraction
    discount: Fraction
    delivery: Fraction
    base: Fraction
    tax: Fraction


@dataclass(frozen=True, slots=True)
class InstalmentAmount:
    words: str
    share: Fraction
    amount: Fraction


@dataclass(frozen=True, slots=True)
class Price:
    target: Fraction
    least_price_holds: bool
    lines: tuple[Line, ...]
    sum_lines: Fraction
    discount: Fraction
    delivery: Fraction
    net: Fraction
    tax: tuple[TaxLine, ...]
    tax_total: Fraction
    rounding: Fraction
    gross: Fraction
    instalments: tuple[InstalmentAmount, ...]
    shown: PriceShown = NOTHING
    """The same amounts as the quote shows them, by line and by room, without and with tax."""


@dataclass(frozen=True, slots=True)
class OptionPrice:
    option: str
    words: str
    gross: Fraction
    difference: Fraction


@dataclass(frozen=True, slots=True)
class MachineAnswer:
    """Is buying worth it (A36). None where there is no answer."""

    alternative_per_m: Fraction | None
    crf: Fraction | None
    equivalent_annual_cost: Fraction | None
    saving_a_year: Fraction | None
    npv: Fraction | None
    irr: Fraction | None
    payback_years: Fraction | None
    discounted_payback_years: Fraction | None
    break_even_metres: Fraction | None
    name: str = ""
    cases: tuple[MachineCase, ...] = ()
    """At interests and lives around the typed ones."""
    curve: tuple[MachinePoint, ...] = ()
    """Cost of a metre against metres a year, for the three ways."""
    crossings: tuple[MachineCrossing, ...] = ()
    """Where the lines of the curve cross, in the order of metres a year."""
    pays_from_metres: Fraction | None = None
    """Metres a year from which the machine costs no more than the cheapest of today's ways at that volume; None on the whole curve."""


@dataclass(frozen=True, slots=True)
class RiskAnswer:
    """Labour minutes as low, likely and high (A35), on the chosen plan."""

    mean_min: Fraction
    sd_min: Fraction
    p80_min: Fraction
    sd_together_min: Fraction
    """Standard deviation when all steps go well or badly together."""
    p80_together_min: Fraction
    untimed_minutes_share: Fraction
    """Share of the minutes that rests on steps that nobody in this shop has timed."""
    p90_min: Fraction = Fraction(0)
    p90_together_min: Fraction = Fraction(0)
    cost: Fraction = Fraction(0)
    """Expected cost: minutes at direct and overhead rate, prices where the shop gave a low or a high."""
    cost_sd: Fraction = Fraction(0)
    cost_p80: Fraction = Fraction(0)
    cost_p90: Fraction = Fraction(0)
    cost_sd_together: Fraction = Fraction(0)
    cost_p80_together: Fraction = Fraction(0)
    cost_p90_together: Fraction = Fraction(0)
    margin_eaten_share: Fraction = Fraction(0)
    """Chance that the cost comes out above the net price of the lines after discount; independent."""
    margin_eaten_together_share: Fraction = Fraction(0)
    contingency_share: Fraction = Fraction(0)
    """What would cover P80 when all goes wrong together, of the likely cost: suggested, never set."""
    doubts: tuple[StepRisk, ...] = ()
    """What carries the doubt about the cost, most first."""


@dataclass(frozen=True, slots=True)
class Rates:
    """An hour in money."""

    direct: Fraction
    overhead: Fraction
    freed: Fraction
    """What an hour saved at the bench is worth in the decision."""


@dataclass(frozen=True, slots=True)
class Estimate:
    """The whole answer for one job. The papers print it and compute nothing."""

    job: Job
    parts: tuple[Part, ...]
    boards: tuple[BoardUse, ...]
    edgings: tuple[EdgingUse, ...]
    counts: Mapping[str, Fraction]
    rates: Rates
    batches: tuple[Batch, ...]
    """Of the edgings that the chosen plan keeps at the bench."""
    banding: BandingChoice
    minutes: Minutes
    fittings: tuple[FittingUse, ...]
    cost: Cost
    price: Price
    options: tuple[OptionPrice, ...]
    machine: MachineAnswer | None
    risk: RiskAnswer
    remarks: tuple[Remark, ...]
    counted: JobCounts
    """What the live formulas of the filled-in workbook stand on."""
    option_estimates: tuple[Estimate, ...] = ()
    """Each option as a whole job, in the order of `options`."""
    decision: Decision | None = None
    """Why the best way of banding is the best; None for an option, which is priced only."""
    glue_day: GlueDay | None = None
    """The bench's timetable on the chosen plan; nothing that is priced rests on it. None when nothing is banded by hand."""
    banded: JobBanding | None = None
    """Its part in a year's jobs put to a machine; None for an option."""
    merchant: MerchantAnswer | None = None
    """Parts bought from the board merchant, compared; None without the Merchant sheet."""
    rolls: tuple[RollUse, ...] = ()
    """Strips to rolls, for the widths that come from rolls of a known length."""
    more_machines: tuple[MachineAnswer, ...] = ()
    """The further machines of the Machine sheet, side by side."""
    runs_quicker: RunsQuicker | None = None
    """What if the later ones of a run of identical cabinets go quicker: asked for in Shop > Learning; no price rests on it."""
