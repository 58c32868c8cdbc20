"""The deeper answer to which way to band: what decides it, how far it holds, what it frees, the glue day, a machine, a merchant.

Money is in the job's currency, shares are of 1, group of edgings are their names in Edgings order.
"""

from __future__ import annotations

from typing import Literal

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction

Sent = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SideLine:
    """One line of the two routes side by side; None where the route is not possible."""

    words: str
    by_hand: Fraction | None
    sent_out: Fraction | None
    best: Fraction | None
    chosen: Fraction | None
    """The plan that the job takes; the best, unless Job > Banding asks for another."""


@dataclass(frozen=True, slots=True)
class SizeStep:
    """From this size on, as a share of the job as it is, this plan is the best."""

    size_share: Fraction
    sent: Sent
    cost: Fraction


@dataclass(frozen=True, slots=True)
class SizePoint:
    """The ways' relevant cost at one size of the job; None where a way is not possible."""

    size_share: Fraction
    by_hand: Fraction | None
    sent_out: Fraction | None
    best: Fraction


@dataclass(frozen=True, slots=True)
class Swing:
    """One input 20 % lower and 20 % higher, with the best plan chosen anew at each end."""

    what: str
    low_cost: Fraction
    low_sent: Sent
    high_cost: Fraction
    high_sent: Sent

    @property
    def width(self) -> Fraction:
        return abs(self.high_cost - self.low_cost)


@dataclass(frozen=True, slots=True)
class Flip:
    """How far one input may move before another plan is best; None: no change up to a tenth or tenfold."""

    what: str
    down_to_share: Fraction | None
    """The input as a share of what it is now, at the last whole percent where the best plan still holds, going down."""
    down_sent: Sent
    """The plan that is best just below."""
    up_to_share: Fraction | None
    up_sent: Sent


@dataclass(frozen=True, slots=True)
class FreedHours:
    """Hours that the best plan takes off the bench, worth by one reading of a freed hour."""

    reading: Literal["idle", "wage", "full rate", "an amount"]
    an_hour: Fraction
    worth: Fraction


@dataclass(frozen=True, slots=True)
class TimeAway:
    """Hours at the bench against days away."""

    by_hand_hours: Fraction
    """Banding and handling when everything is done at the bench."""
    chosen_hours: Fraction
    freed_hours: Fraction
    freed: tuple[FreedHours, ...]
    away_days: int | None
    """Working days until the parts are back; None when nothing is sent."""
    spare_days: int | None
    """Working days that sending may wait; None when nothing is sent or the job names no days."""
    send_by: str
    """The last working day to send, Monday to Friday, as ISO text; blank where there is none."""
    bench_days: Fraction
    """Days that the chosen plan's banding takes at the bench, by the shop's day and its workers at the bench."""
    fits: bool | None
    """Does the bench time fit into the days available; None when the job names none."""


@dataclass(frozen=True, slots=True)
class Decision:
    """Why the best plan is the best, and how far that holds."""

    sentence: str
    lines: tuple[SideLine, ...]
    break_even_m: tuple[tuple[str, Fraction | None], ...]
    by_metres: tuple[SizeStep, ...]
    """By size of the job with the same parts, every edge that much longer."""
    by_pieces: tuple[SizeStep, ...]
    """By size of the job in whole: so many times the parts, edges and metres."""
    curve: tuple[SizePoint, ...]
    tornado: tuple[Swing, ...]
    """Widest first."""
    flips: tuple[Flip, ...]
    time: TimeAway


@dataclass(frozen=True, slots=True)
class MerchantWay:
    """Parts of some boards bought from the merchant, the rest made here: what depends on it, and what it comes to."""

    boards: tuple[str, ...]
    """Whose parts the merchant delivers; none: all is made here."""
    why: str
    """Why it is not possible; blank when it is, and then `cost` is told."""
    sheets: Fraction
    """The merchant's charge for sheets, for cuts, for parts, for banding with its set-ups, and up to the minimum."""
    cuts: Fraction
    parts: Fraction
    banding: Fraction
    top_up: Fraction
    boards_here: Fraction
    """Board that the shop buys and cuts itself."""
    work_here: Fraction
    """Its own steps of the stages cutting and banding, by the value of a freed hour; those of the routes of banding apart."""
    banding_here: Fraction
    """Relevant cost of the best way to band what is left."""
    edgings: Sent
    """What is left to band."""
    sent: Sent
    """That way: what of it goes to the contract bander."""
    cost: Fraction | None


@dataclass(frozen=True, slots=True)
class MerchantAnswer:
    """Parts from the board merchant beside all made here. A comparison only: nothing that is priced rests on it."""

    sentence: str
    here: MerchantWay
    whole: MerchantWay
    by_board: tuple[MerchantWay, ...]
    """Each board alone."""
    best: MerchantWay
    """The cheapest; of equals the one with fewer boards from the merchant."""
    every_mix: bool
    """Every mix of boards was priced; else only all of them and each alone."""
    lead_time_days: int


@dataclass(frozen=True, slots=True)
class MachineCase:
    """The machine at another interest and life."""

    interest_share: Fraction
    life_years: int
    equivalent_annual_cost: Fraction
    npv: Fraction
    break_even_metres: Fraction | None


@dataclass(frozen=True, slots=True)
class MachinePoint:
    """Cost of a metre at one volume a year, edging apart; None where a way is not possible."""

    metres_a_year: Fraction
    by_hand: Fraction | None
    sent_out: Fraction | None
    best: Fraction | None
    """The cheapest of today's ways at that volume, mixed ones among them."""
    machine: Fraction


@dataclass(frozen=True, slots=True)
class MachineCrossing:
    """Where two ways cost the same a metre: the first is the cheaper one below, the second above."""

    metres_a_year: Fraction
    cost_per_m: Fraction
    below: str
    above: str


@dataclass(frozen=True, slots=True)
class JobBanding:
    """What one job bands: net metres, and the relevant cost of all of them, edging apart. None where a way is not possible."""

    net_m: Fraction
    by_hand: Fraction | None
    sent_out: Fraction | None
    best: Fraction | None


@dataclass(frozen=True, slots=True)
class StepRisk:
    """What one step or price adds to the doubt about the cost."""

    what: str
    mean: Fraction
    sd: Fraction
    variance_share: Fraction
    """Of the variance of the cost, when the doubts are independent."""


Doing = Literal["set-up and coating", "coating again", "applying", "trimming"]


@dataclass(frozen=True, slots=True)
class GlueTask:
    """What one worker does from when to when; minutes from midnight before the first glue day, breaks never inside."""

    worker: int
    batch: int
    """Index into the glue day's batches."""
    doing: Doing
    start_min: Fraction
    end_min: Fraction


@dataclass(frozen=True, slots=True)
class GlueBatch:
    """One batch of the timetable: edges of one edging that lie out together."""

    edging: str
    side: Literal["ends", "long edges"]
    edges: int
    metres: Fraction
    strip_m: Fraction
    refs: tuple[str, ...]
    first_coat_min: Fraction
    """Start of its first coat."""
    applied_min: Fraction
    """When its last strip is pressed."""
    open_used_share: Fraction | None
    """Longest wait of an edge between coating and applying, as a share of the open time."""
    as_listed_min: Fraction
    """From first brush stroke to last strip in the list's order, coat all then apply all, without breaks."""
    ordered_min: Fraction
    """The same in the order taken."""
    least_min: Fraction
    """No order and no interleaving is quicker than this."""


@dataclass(frozen=True, slots=True)
class GlueDay:
    """The timetable of the bench. Times are minutes from midnight before the first day; a day has 1440."""

    batches: tuple[GlueBatch, ...]
    tasks: tuple[GlueTask, ...]
    start_min: Fraction
    end_min: Fraction
    labour_min: Fraction
    waiting_min: Fraction
    """Working time in which a worker waits for glue: free for other work."""
    one_after_another_min: Fraction
    """End when each batch, in list order, is finished before the next begins."""
    least_end_min: Fraction
    """No timetable ends earlier: all labour shared evenly, breaks kept, or the longest single batch."""
    why: str
    """Why there is no timetable; blank when there is one."""
    remarks: tuple[str, ...]

    @property
    def days(self) -> int:
        return int(self.end_min - 1) // 1440 + 1
