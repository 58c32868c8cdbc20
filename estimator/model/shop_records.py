"""What the shop's own sheets say: one noun a row, each with its cell, so that the engine can still point at it."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Literal

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.problems import Items, Row

Side = Literal["front", "back", "left", "right"]
SIDES: tuple[Side, ...] = ("front", "back", "left", "right")
Way = Literal["length", "width", "any"]
Route = Literal["", "by hand", "send out"]


@dataclass(frozen=True, slots=True)
class Share:
    """A share typed with a % sign: 12 % is 12/100."""

    of_one: Fraction


@dataclass(frozen=True, slots=True)
class Money:
    """An amount of the job's currency."""

    amount: Fraction


@dataclass(frozen=True, slots=True)
class Instalment:
    """One step of the payment schedule: 50 % deposit."""

    share: Fraction
    words: str


@dataclass(frozen=True, slots=True)
class Shop:
    """The Shop sheet; `lengths_mm` holds the box's lengths and the shop's own, by the name that rules use."""

    direct_rate: Fraction | None
    overhead_rate: Fraction | None
    wage: Fraction | None
    paid_hours: Fraction | None
    on_cost_share: Fraction
    productive_hours: Fraction | None
    workers: Fraction | None
    overhead_a_year: Fraction | None
    allowance_share: Fraction
    value_of_a_freed_hour: Literal["idle", "wage", "full rate"] | Money
    shop_name: str
    shop_address: str
    licence_number: str
    tax_number: str
    bank: str
    email: str
    telephone: str
    colour: str
    kerf_mm: Fraction
    trim_mm: Fraction
    bench_length_m: Fraction | None
    edges_in_a_batch: int | None
    prices_stale_after_days: int
    lengths_mm: Mapping[str, Fraction]
    units: Literal["mm", "inch"]
    at: Items
    bench_workers: int = 1
    start_of_day: str = "8:00"
    end_of_day: str = "16:30"
    breaks: str = "12:00-12:30"
    """Clock times still as text, like rules; `costing/banding/clock.py` reads them."""
    spoilt_by_hand_share: Fraction = Fraction(0)
    learning: Literal["", "unit model", "cumulative average"] = ""
    """By which model the later ones of a run of identical cabinets go quicker, for a what-if; blank: none is made."""
    learning_share: Fraction = Fraction(9, 10)
    learning_floor_share: Fraction = Fraction(0)
    label_columns: int = 3
    label_rows: int = 8
    label_side_mm: Fraction = Fraction(0)
    label_top_mm: Fraction = Fraction(0)
    """The sheet of labels that the shop prints on, and what it leaves free around them."""
    least_change_fee: Fraction = Fraction(0)
    """Before tax: the least that the added work of a change order is charged at."""


@dataclass(frozen=True, slots=True)
class Board:
    """One board in one sheet size."""

    board: str
    thickness_mm: Fraction
    sheet_length_mm: Fraction
    sheet_width_mm: Fraction
    price: Fraction
    grain: bool
    charge: Literal["whole sheets", "area"]
    expected_yield_share: Fraction | None
    trim_mm: Fraction
    on_hand: int
    density_kg_m3: Fraction | None
    e_modulus_n_mm2: Fraction | None
    priced_on: date | None
    at: Row
    low_price: Fraction | None = None
    high_price: Fraction | None = None


@dataclass(frozen=True, slots=True)
class BoardOffcut:
    """Pieces of a board on hand, alike in size."""

    board: str
    length_mm: Fraction
    width_mm: Fraction
    count: int
    at: Row


@dataclass(frozen=True, slots=True)
class RollEnd:
    """What is left on rolls of an edging, alike in length."""

    edging: str
    width_mm: Fraction | None
    length_m: Fraction
    count: int
    at: Row


@dataclass(frozen=True, slots=True)
class Edging:
    """One edging in one width."""

    edging: str
    material: str
    thickness_mm: Fraction
    width_mm: Fraction
    price_per_m: Fraction
    roll_length_m: Fraction | None
    charge: Literal["metres", "whole rolls"]
    overhang_mm: Fraction
    spare_share: Fraction
    deduct: bool
    by_hand: bool
    send_out: bool
    adhesive: str
    """Name of a row of Adhesives; blank when the edging is pre-glued."""
    on_hand_m: Fraction
    priced_on: date | None
    at: Row
    low_price_per_m: Fraction | None = None
    high_price_per_m: Fraction | None = None


@dataclass(frozen=True, slots=True)
class Adhesive:
    adhesive: str
    coverage_m2_per_litre: Fraction
    core_coats: int
    strip_coats: int
    spare_share: Fraction
    pack_litres: Fraction
    price: Fraction
    charge: Literal["whole packs", "litres"]
    drying_min: Fraction
    open_min: Fraction
    on_hand_litres: Fraction
    priced_on: date | None
    at: Row
    low_price: Fraction | None = None
    high_price: Fraction | None = None
    between_coats_min: Fraction = Fraction(0)


@dataclass(frozen=True, slots=True)
class Fitting:
    item: str
    route: Route
    per: str
    of: str
    number: str
    price: Fraction
    pack: Fraction | None
    on_hand: Fraction
    priced_on: date | None
    units: Literal["mm", "inch"]
    at: Row
    low_price: Fraction | None = None
    high_price: Fraction | None = None


@dataclass(frozen=True, slots=True)
class Step:
    """One row of Work."""

    step: str
    stage: str
    route: Route
    per: str
    of: str
    minutes: Fraction
    rating: Fraction
    allowance_share: Fraction | None
    low_min: Fraction | None
    high_min: Fraction | None
    during: Literal["", "coating", "applying"]
    timed: bool
    at: Row


@dataclass(frozen=True, slots=True)
class Contract:
    """The terms of the contract bander."""

    contractor: str
    minimum_charge: Fraction
    charge_per_part: Fraction
    trips: int
    distance_per_trip: Fraction
    cost_per_distance: Fraction
    lead_time_days: int
    supplies_edging: bool
    added_length_mm: Fraction
    breaks_count: Literal["per edging", "whole order"]
    breaks_apply_to: Literal["whole quantity", "quantity above"]
    buy_up: bool
    at: Items
    smallest_length_mm: Fraction = Fraction(0)
    smallest_width_mm: Fraction = Fraction(0)
    """Parts with a longer side below the first or a shorter side below the second stay at the bench."""
    spoilt_share: Fraction = Fraction(0)


@dataclass(frozen=True, slots=True)
class ContractPrice:
    edging: str
    from_m: Fraction
    price_per_m: Fraction
    setup: Fraction | None
    at: Row
    low_price_per_m: Fraction | None = None
    high_price_per_m: Fraction | None = None


@dataclass(frozen=True, slots=True)
class Machine:
    price: Fraction
    installation: Fraction
    resale_value: Fraction
    life_years: int
    interest_share: Fraction
    fixed_cost_a_year: Fraction
    cost_per_m: Fraction
    metres_a_year: Fraction
    alternative_per_m: Fraction | None
    at: Items
    name: str = ""
    """Header of its column of values; blank for the first, whose header is Value."""


@dataclass(frozen=True, slots=True)
class DryingRow:
    """Times of one adhesive at one temperature and humidity, from its own data sheet."""

    adhesive: str
    temperature: Fraction
    humidity: Fraction | None
    drying_min: Fraction
    open_min: Fraction
    at: Row


@dataclass(frozen=True, slots=True)
class MerchantRow:
    """What a board merchant asks for the parts of one board; a blank board stands for every board without a row."""

    merchant: str
    board: str
    delivers: Literal["cut", "cut and banded"]
    price_per_sheet: Fraction | None
    price_per_cut: Fraction
    price_per_part: Fraction
    price_per_m: Fraction
    setup: Fraction
    minimum_charge: Fraction
    lead_time_days: int
    priced_on: date | None
    at: Row


@dataclass(frozen=True, slots=True)
class ConstructionRow:
    """One kind of part in one kind of cabinet; count, length and width are rules, still as text."""

    kind: str
    part: str
    count: str
    length: str
    width: str
    board: str
    edging: str
    front: str
    back: str
    left: str
    right: str
    grain: Way
    counts_as: Literal["", "door", "drawer", "shelf"]
    units: Literal["mm", "inch"]
    """The unit of the book in which the row stands: a bare number in its rules is in it."""
    at: Row
