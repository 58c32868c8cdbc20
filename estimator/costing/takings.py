"""What a job takes before any way of banding is chosen: its parts and boards in; edges, glue, batches, counts and the ways out."""

from collections.abc import Mapping

from estimator.costing.adhesive import glued_areas
from estimator.costing.banding.small_parts import small_ids, small_parts_of
from estimator.costing.banding.spoilage import spoilt_edges
from estimator.costing.contractor import offers_of
from estimator.costing.counts import Counted, tally
from estimator.costing.drying import Impossible, job_batches
from estimator.costing.edging import edgings_of_job
from estimator.costing.fittings import FittingTally, fitting_tallies
from estimator.costing.limits import names_known
from estimator.costing.routes import Ways
from estimator.costing.stock import stock_of
from estimator.costing.work import StepTally, rates_of, step_tallies
from estimator.model.dataclass import dataclass
from estimator.model.problems import Problem
from estimator.model.records import Job
from estimator.model.results import Rates
from estimator.model.taken import BoardUse, Part


@dataclass(frozen=True, slots=True)
class Takings:
    """What a job takes, before any way of banding is chosen."""

    parts: tuple[Part, ...]
    boards: tuple[BoardUse, ...]
    counted: Counted
    steps: tuple[StepTally, ...]
    fittings: tuple[FittingTally, ...]
    ways: Ways
    rates: Rates
    known: Mapping[str, frozenset[str]]


def takings_of(job: Job, parts: tuple[Part, ...], uses: tuple[BoardUse, ...]) -> Takings | tuple[Problem, ...]:
    """Everything that is counted from the parts; or the rules of Fittings that give no number."""
    known = names_known(job)
    edgings = edgings_of_job(job, parts)
    batched, small = job_batches(job, parts, known), small_parts_of(job, parts, known)
    counted = Counted(
        job=job,
        parts=parts,
        boards=uses,
        edging_bit={use.edging: i for i, use in enumerate(edgings)},
        batches={name: theirs.bands for name, theirs in batched.items() if not isinstance(theirs.batches, Impossible)},
        small=small_ids(job, parts) if small.by_edging else frozenset(),
        small_batches={name: theirs.bands for name, theirs in small.batched.items()},
    )
    fittings = fitting_tallies(counted, stock_of(job), known)
    wrong = tuple(one for one in fittings if isinstance(one, Problem))
    if wrong:
        return wrong
    steps, rates = step_tallies(counted, known), rates_of(job.shop)
    fitting_rows = tuple(one for one in fittings if isinstance(one, FittingTally))
    ways = Ways(
        job=job,
        edgings=edgings,
        glued=glued_areas(job, parts),
        steps=tuple(one for one in steps if one.step.route),
        fittings=tuple(one for one in fitting_rows if one.fitting.route),
        offers=offers_of(job),
        batches={name: theirs.batches for name, theirs in batched.items()},
        parts_sent=tally(counted, route="send out", per="part"),
        freed_rate=rates.freed,
        spoilt=spoilt_edges(job, parts, uses, steps, known, rate=rates.direct),
        small=small,
    )
    return Takings(parts, uses, counted, steps, fitting_rows, ways, rates, known)
