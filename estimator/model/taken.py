"""What a job takes: its parts, boards, edgings, adhesive and glue batches, as the engine counts them."""

from __future__ import annotations

from typing import Literal

from estimator.model.cutting_plan import CutRoll, CuttingPlan, NamedPattern, StockSheet
from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.records import Cabinet, LoosePart
from estimator.model.shop_records import Adhesive, Board, ConstructionRow, Edging, RollEnd, Side, Way


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
    left_over_mm: tuple[Fraction, ...] = ()
    """Strips longer than a new roll of which the roll ends do not hold all; the others are in no roll of the plan."""


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
