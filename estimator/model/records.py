"""What a job's own sheets say, and the Job: one record a row, each remembering its cells; lengths in mm.

Field names are the sheets' headers with their unit; `form/` holds the table that maps one to the other. The shop's sheets are
in `shop_records.py`.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Literal

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.problems import Items, Remark, Row
from estimator.model.shop_records import (
    Adhesive,
    Board,
    BoardOffcut,
    ConstructionRow,
    Contract,
    ContractPrice,
    DryingRow,
    Edging,
    Fitting,
    Instalment,
    Machine,
    MerchantRow,
    Money,
    RollEnd,
    Share,
    Shop,
    Step,
    Way,
)


@dataclass(frozen=True, slots=True)
class Terms:
    """The Job sheet."""

    job_name: str
    quote_number: str
    revision: str
    quote_date: date
    prepared_by: str
    client: str
    client_address: str
    site_address: str
    client_email: str
    units: Literal["mm", "inch"]
    currency: str
    tax_name: str
    tax_rate_share: Fraction
    prices_shown: Literal["without tax", "with tax", "both"]
    tax_words: str
    quote_shows: Literal["total", "by room", "by cabinet"]
    status: Literal["asked", "sent", "won", "lost"]
    lead_time_words: str
    not_included: str
    discount: Share | Money
    delivery_charge: Fraction
    delivery_tax_rate_share: Fraction | None
    margin_share: Fraction | None
    markup_share: Fraction | None
    contingency_share: Fraction
    least_price: Fraction | None
    round_total_to: Fraction | None
    site_trips: int
    payment_schedule: tuple[Instalment, ...]
    deposit_cap: Share | Money | None
    valid_for_days: int
    working_days_available: int | None
    banding: str
    finish: str
    logo: str
    language: str
    paper: Literal["A4", "Letter"]
    at: Items
    bench_temperature: Fraction | None = None
    bench_humidity: Fraction | None = None
    show_fractions: Literal["16", "32", "64"] = "16"
    """The finest part of an inch on the papers of an inch job; sums stay exact."""


@dataclass(frozen=True, slots=True)
class Cabinet:
    """One row of Cabinets, with what its kind and the job give already filled in."""

    ref: str
    room: str
    kind: str
    qty: int
    width_mm: Fraction
    height_mm: Fraction
    depth_mm: Fraction
    shelves: int
    doors: int
    drawers: int
    finish: str
    finished_ends: Literal["none", "left", "right", "both"]
    front_heights_mm: tuple[Fraction, ...]
    tax_rate_share: Fraction | None
    note: str
    own_numbers: Mapping[str, Fraction]
    """Further number columns, by the name that rules use (`plinth_height`); lengths among them in mm."""
    own_lengths: frozenset[str]
    """Which of `own_numbers` are lengths (typed with a unit, or named height, width, depth, ...)."""
    at: Row


@dataclass(frozen=True, slots=True)
class LoosePart:
    """One row of Loose parts. Board and edging name a row of Boards and Edgings, or a role when a finish is given."""

    ref: str
    room: str
    part: str
    qty: int
    length_mm: Fraction
    width_mm: Fraction
    board: str
    edging: str
    front: str
    back: str
    left: str
    right: str
    grain: Way
    tax_rate_share: Fraction | None
    note: str
    finish: str
    counts_as: Literal["", "door", "drawer", "shelf"]
    at: Row


@dataclass(frozen=True, slots=True)
class Finish:
    """One finish choice: the board and the edging of each role, and the words that the client reads."""

    finish: str
    boards: Mapping[str, str]
    edgings: Mapping[str, str]
    words: str
    at: Row


@dataclass(frozen=True, slots=True)
class Kind:
    """What a kind of cabinet is when nothing is typed."""

    kind: str
    words: str
    height_mm: Fraction | None
    depth_mm: Fraction | None
    shelves: int | None
    doors: int | None
    drawers: int | None
    at: Row
    stands: Literal["", "floor", "wall"] = ""
    """Blank: what the kind's words and sizes say."""


@dataclass(frozen=True, slots=True)
class Extra:
    """Something sold with the job that these rules do not make."""

    ref: str
    room: str
    words: str
    qty: Fraction
    cost_each: Fraction | None
    minutes_each: Fraction | None
    price_each: Fraction | None
    tax_rate_share: Fraction | None
    at: Row


@dataclass(frozen=True, slots=True)
class OptionRow:
    """One swap of finishes; rows of one option name belong together."""

    option: str
    replace_finish: str
    with_finish: str
    words: str
    at: Row


@dataclass(frozen=True, slots=True)
class Job:
    """Everything that one priced job rests on: the job's own sheets and the shop's."""

    workbook: str
    """File name of the job workbook, as places name it."""
    terms: Terms
    cabinets: tuple[Cabinet, ...]
    loose_parts: tuple[LoosePart, ...]
    finishes: tuple[Finish, ...]
    kinds: tuple[Kind, ...]
    extras: tuple[Extra, ...]
    options: tuple[OptionRow, ...]
    shop: Shop
    boards: tuple[Board, ...]
    edgings: tuple[Edging, ...]
    adhesives: tuple[Adhesive, ...]
    fittings: tuple[Fitting, ...]
    work: tuple[Step, ...]
    contract: Contract | None
    contract_prices: tuple[ContractPrice, ...]
    machine: Machine | None
    construction: tuple[ConstructionRow, ...]
    offcuts: tuple[BoardOffcut, ...] = ()
    roll_ends: tuple[RollEnd, ...] = ()
    remarks: tuple[Remark, ...] = ()
    """What the reading noticed."""
    drying: tuple[DryingRow, ...] = ()
    merchant: tuple[MerchantRow, ...] = ()
    more_machines: tuple[Machine, ...] = ()
    """Further columns of values of the Machine sheet."""
