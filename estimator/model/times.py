"""What the bench really took, and what is learned from it: rows of the time log, new standard times, waste, quotes priced again."""

from __future__ import annotations

from datetime import date
from typing import Literal

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.problems import Row
from estimator.model.shop_records import Step


@dataclass(frozen=True, slots=True)
class LogRow:
    """One row of a time log, its names spelt as in the job's own sheets."""

    date: date
    job: str
    """File name of the job's workbook."""
    names: tuple[str, ...]
    """Steps of Work done in these minutes; or one stage, one board, one edging."""
    kind: Literal["steps", "stage", "board", "edging"]
    counts: tuple[Fraction, ...]
    """One for each name, or one for all of them; none: all that the job counts."""
    minutes: Fraction | None
    note: str
    at: Row


@dataclass(frozen=True, slots=True)
class StepCount:
    step: str
    count: Fraction


@dataclass(frozen=True, slots=True)
class Observed:
    """Minutes that were logged, for the steps and counts that they were spent on."""

    date: date
    job: str
    steps: tuple[StepCount, ...]
    stage: str
    real_min: Fraction
    estimated_min: Fraction
    """What the estimate allowed for the same counts."""
    note: str
    at: Row
    rows: int = 1
    """Rows of the log put together: those without a count, of one step and one job."""
    wild: bool = False
    """Too far from the others to be believed: shown, and left aside in the fit."""

    @property
    def name(self) -> str:
        return " + ".join(one.step for one in self.steps)


@dataclass(frozen=True, slots=True)
class StepTime:
    """What the log says of one row of Work."""

    step: Step
    state: Literal["new", "too few", "at odds", "never timed"]
    rows: int
    """Rows that count for it, those left aside not among them."""
    wild: int
    now_min: Fraction
    """Standard minutes of one, as Work has them."""
    standard_min: Fraction | None = None
    """The same, as the log has them."""
    from_min: Fraction | None = None
    to_min: Fraction | None = None
    """Ends of the interval that holds the true standard minutes."""
    within_share: Fraction | None = None
    """Half of the interval, of the new standard minutes."""
    minutes: Fraction | None = None
    low_min: Fraction | None = None
    high_min: Fraction | None = None
    """What would stand in Work > Minutes, Low and High: without rating and allowance, four decimals."""
    together: tuple[str, ...] = ()
    """Steps that the log never tells apart from this one: they share one correction."""
    shared: tuple[str, ...] = ()
    """Steps logged with this one so alike that its own interval is too wide to work with: their Minutes share one correction."""
    shared_within_share: Fraction | None = None
    """Half of the interval of that correction."""


@dataclass(frozen=True, slots=True)
class Compared:
    """Estimated against real, for a step, a stage or a job."""

    name: str
    rows: int
    estimated_min: Fraction
    real_min: Fraction
    whole_min: Fraction | None = None
    """Of a job: its whole estimate, what was never logged included."""


@dataclass(frozen=True, slots=True)
class MaterialUse:
    """A board or an edging over the jobs that say what was really used."""

    name: str
    kind: Literal["board", "edging"]
    jobs: int
    planned: Fraction
    """Sheets, or metres of strip."""
    used: Fraction
    now_share: Fraction | None
    """Expected yield, or Spare, as the shop's sheet has it."""
    share: Fraction
    """The same as the shop's own use has it."""
    from_share: Fraction | None
    to_share: Fraction | None
    """Ends of its interval; None with too few jobs, when nothing is suggested."""
    wild: tuple[str, ...] = ()
    """Jobs left aside because they lie too far from the others."""


@dataclass(frozen=True, slots=True)
class QuoteAgain:
    """A quote, and what it would have been with the new times."""

    job: str
    currency: str
    minutes: Fraction
    new_minutes: Fraction
    cost: Fraction
    new_cost: Fraction
    net: Fraction
    new_net: Fraction


@dataclass(frozen=True, slots=True)
class Learned:
    """Everything that a folder of finished jobs teaches."""

    observed: tuple[Observed, ...]
    times: tuple[StepTime, ...]
    """One for each row of Work, in its order."""
    by_step: tuple[Compared, ...]
    by_stage: tuple[Compared, ...]
    by_job: tuple[Compared, ...]
    material: tuple[MaterialUse, ...]
    quotes: tuple[QuoteAgain, ...]
    newest: date | None
    """Date of the newest row of the log."""


# --- a run of identical cabinets, as a what-if ------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Run:
    """Cabinets alike in everything that is made."""

    refs: tuple[str, ...]
    count: int
    each_min: Fraction
    """Minutes of one, of the steps counted by cabinet, part, door, drawer and shelf: those that repeat with each."""
    learned_min: Fraction
    """Minutes of the whole run if the later ones go quicker."""

    @property
    def saved_min(self) -> Fraction:
        return self.count * self.each_min - self.learned_min


@dataclass(frozen=True, slots=True)
class RunsQuicker:
    """What a learning curve would save. No price rests on it."""

    model: Literal["unit model", "cumulative average"]
    learning_share: Fraction
    floor_share: Fraction
    runs: tuple[Run, ...]
    saved_min: Fraction
    saved_cost: Fraction
    """At the direct and the overhead rate."""
