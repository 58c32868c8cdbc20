"""What the engine answers: parts, boards, edges, batches, ways of banding, cost and price, all in one Estimate.

All numbers are exact fractions (whole numbers where things are counted); only the amounts of a Price are rounded, to the
currency's minor unit.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from estimator.model.cutting_plan import CutRoll, CuttingPlan, NamedPattern, StockSheet
from estimator.model.dataclass import dataclass
from estimator.model.decision import Decision, GlueDay, JobBanding, MachineCase, MachineCrossing, MachinePoint, MerchantAnswer, StepRisk
from estimator.model.exact import Fraction
from estimator.model.problems import Remark
from estimator.model.quantities import JobCounts
from estimator.model.records import (
    Adhesive,
    Board,
    Cabinet,
    ConstructionRow,
    Edging,
    Extra,
    Fitting,
    Job,
    LoosePart,
    RollEnd,
    Side,
    Step,
    Way,
)
from estimator.model.shown import NOTHING, PriceShown
from estimator.model.times import RunsQuicker


@dataclass(frozen=True, slots=True)
class Band:
    """One banded edge of a part: which side, how long when finished, and with which edging in which width."""

    side: Side
    length_mm: Fraction
    edging: Edging
    """The row of Edgings: the narrowest width that covers the board."""
    edging_role: str
    """Role of the finish that named the edging; blank when it was named itself."""


@dataclass(frozen=True, slots=True)
class Part:
    """Parts alike, from one row of Cabinets and one row of Construction, or from one row of Loose parts."""

    ref: str
    room: str
    part: str
    count_each: int
    """How many in one cabinet (1 for a loose part)."""
    qty: int
    """How many cabinets (or loose parts) the row asks for."""
    length_mm: Fraction
    width_mm: Fraction
    cut_length_mm: Fraction
    cut_width_mm: Fraction
    board: str
    board_role: str
    """Role of the finish that named the board; blank when it was named itself."""
    thickness_mm: Fraction
    grain: Way
    finish: str
    kind: str
    counts_as: Literal["", "door", "drawer", "shelf"]
    bands: tuple[Band, ...]
    owner: Cabinet | LoosePart
    made_by: ConstructionRow | LoosePart
    """The row whose rules or sizes made it; `made_by.at.place("Length")` is the cell that gave its length."""

    @property
    def count(self) -> int:
        """Pieces in the whole job."""
        return self.count_each * self.qty


@dataclass(frozen=True, slots=True)
class SheetsOfSize:
    """How many sheets of one row of Boards the job takes."""

    board: Board
    sheets: int


@dataclass(frozen=True, slots=True)
class BoardUse:
    """What the job takes of one board."""

    board: str
    parts: int
    area_m2: Fraction
    """Cut area of the parts."""
    sheets: int
    bound: int
    """No plan needs fewer sheets than this."""
    by_size: tuple[SheetsOfSize, ...]
    yield_share: Fraction
    """The expected yield, or the plan's own: parts' area over usable area of the sheets used."""
    cost: Fraction
    cost_per_m2: Fraction
    """Cost of a square metre of part in the lines of the price (A31)."""
    plan: CuttingPlan | None
    """Of a board that is bought by its expected yield a plan of the size that is bought, made with less care, for the saw and so
    that the shop learns its yield; None where parts do not fit that size."""
    plan_parts: tuple[Part, ...]
    """plan_parts[i] is the part that wanted part i of the plan stands for."""
    plan_stock: tuple[StockSheet, ...]
    """What the plan's patterns are cut from, by their sheet's index: the sizes of Boards, then offcuts on hand."""
    plan_entries: tuple[NamedPattern, ...]
    """The plan's sheets with the refs of their pieces; sheets with the same pieces stand together."""
    by_yield: bool
    """Whether sheets and cost come from the expected yield, and the plan is for the saw only."""
    plan_yield_share: Fraction | None
    """The plan's own yield: parts' area over usable area of the sheets it takes."""


@dataclass(frozen=True, slots=True)
class RollUse:
    """Which strips of one row of Edgings come from which roll at the bench, so that none is joined. No price rests on it."""

    edging: Edging
    strips: int
    strip_m: Fraction
    ends: tuple[RollEnd, ...]
    """The rows of Roll ends that serve this width."""
    ends_m: Fraction
    rolls: tuple[CutRoll, ...]
    """A new one is a full roll, or what is cut off one long roll where no roll length is known."""
    new_rolls: int
    bound: int
    """No plan takes fewer full rolls than this."""
    too_long_mm: tuple[Fraction, ...]
    """Strips longer than every roll; they are in no roll of the plan."""


@dataclass(frozen=True, slots=True)
class EdgingWidthUse:
    """What the job takes of one row of Edgings."""

    edging: Edging
    edges: int
    net_m: Fraction
    strip_m: Fraction
    bought_m: Fraction
    rolls: int | None
    cost: Fraction


@dataclass(frozen=True, slots=True)
class EdgingUse:
    """What the job takes of one edging, over all its widths; cost and bought as if the shop supplies it."""

    edging: str
    edges: int
    net_m: Fraction
    strip_m: Fraction
    bought_m: Fraction
    cost: Fraction
    widths: tuple[EdgingWidthUse, ...]


@dataclass(frozen=True, slots=True)
class SmallParts:
    """What stays at the bench of an edging that is sent: edges of parts too small for the contract bander's machine."""

    edging: str
    parts: tuple[Part, ...]
    stays: EdgingUse
    goes: EdgingUse | None
    """The edges of the other parts; None when all are small."""


@dataclass(frozen=True, slots=True)
class AdhesiveUse:
    """What a way of banding takes of one adhesive."""

    adhesive: Adhesive
    glued_m2: Fraction
    litres: Fraction
    packs: int
    cost: Fraction


@dataclass(frozen=True, slots=True)
class Batch:
    """One glue batch by hand: minutes from the first brush stroke; slack to the end of the open time."""

    edging: str
    edges: int
    metres: Fraction
    strip_m: Fraction
    coating_min: Fraction
    start_min: Fraction
    """B0: when applying starts."""
    wait_min: Fraction
    elapsed_min: Fraction
    slack_min: Fraction | None
    """None for an edging without adhesive: it has no open time."""
    open_used_share: Fraction | None
    """Longest time between coating and applying an edge, as a share of the open time."""
    first_edge: int
    """Place of its first edge in the edges of this edging that stay at the bench, from 0 (part order, A3 and A18)."""


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
