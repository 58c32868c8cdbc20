"""The whole engine in the order of the shop's day: a Job in, an Estimate or a Refusal out.

cabinets to parts, parts to sheets, parts to edging and glue, edges to batches, counts to minutes, every way of banding and the
best, cost, price, options; then the laws that every answer keeps.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from estimator.costing.adhesive import adhesives_used
from estimator.costing.banding.clock import Day, day_of
from estimator.costing.banding.decide import decision_of, machines_of
from estimator.costing.banding.every_plan import plans_of
from estimator.costing.banding.glue_day import glue_day_of
from estimator.costing.banding.merchant import merchant_answer
from estimator.costing.checks import hold_the_laws
from estimator.costing.counts import named_counts
from estimator.costing.drying import Impossible
from estimator.costing.fittings import fittings_on, number_problems
from estimator.costing.job_counts import job_counts
from estimator.costing.limits import names_known
from estimator.costing.lines import prime_costs
from estimator.costing.parts import parts_of_job
from estimator.costing.pricing import price_of
from estimator.costing.remarks import remarks_on
from estimator.costing.risk import risk_of, with_cost
from estimator.costing.roll_ends import rolls_of_job
from estimator.costing.routes import Ways, best_plan, chosen_plan, edging_bought, edging_cost, invoice_on
from estimator.costing.sheets import boards_of_job, parts_too_large
from estimator.costing.takings import Takings, takings_of
from estimator.costing.times.runs import runs_quicker
from estimator.costing.work import minutes_of, money_for
from estimator.costing.years_jobs import banding_of
from estimator.model.exact import Fraction
from estimator.model.problems import Problem
from estimator.model.records import Job, OptionRow
from estimator.model.refusal import Refusal
from estimator.model.results import BandingChoice, BandingPlan, Cost, Estimate, FittingUse, Minutes, OptionPrice, Price
from estimator.model.shop_records import Share
from estimator.model.taken import Batch, BoardUse, Part

NONE = Fraction(0)


Option = tuple[tuple[OptionRow, ...], Estimate | tuple[Problem, ...]]
"""An option's rows, and the whole job with it, or what keeps that from being priced."""
Options = dict[str, Option]
"""Each option by name."""


def option_of(job: Job, rows: tuple[OptionRow, ...]) -> tuple[str, Option]:
    """One option by name, priced as a whole job."""
    return rows[0].option, (rows, _estimate_one(with_option(job, rows)))


def options_of(job: Job) -> Options:
    """Every option of a job priced as a whole job."""
    return dict(option_of(job, rows) for rows in option_rows(job))


def estimate_job(job: Job, *, options: Callable[[], Options] | None = None) -> Estimate | Refusal:
    """The estimate of a job, its options priced as whole jobs; or every problem that the engine found.

    `options` gives the options where they were priced meanwhile; it is asked after the job itself is done.
    """
    answer = _estimate_one(job, in_depth=True)
    with_options = options() if options else options_of(job)
    problems = list(answer) if isinstance(answer, tuple) else []
    for _, priced in with_options.values():
        told = {(one.place, one.expected) for one in problems}  # an option often meets what the job itself has met
        problems += [one for one in priced if (one.place, one.expected) not in told] if isinstance(priced, tuple) else []
    if isinstance(answer, tuple) or problems:
        return Refusal(job.workbook, tuple(problems), job.remarks)
    prices = tuple(
        OptionPrice(name, rows[0].words, priced.price.gross, priced.price.gross - answer.price.gross)
        for name, (rows, priced) in with_options.items()
        if isinstance(priced, Estimate)
    )
    answer = replace(
        answer,
        options=prices,
        option_estimates=tuple(priced for _, priced in with_options.values() if isinstance(priced, Estimate)),
    )
    return hold_the_laws(replace(answer, remarks=(*job.remarks, *remarks_on(answer))))


def price_alone(job: Job) -> Price | tuple[Problem, ...]:
    """Only the price of a job, or what keeps it from one: for comparing many jobs that differ a little."""
    answer = _estimate_one(job)
    return answer.price if isinstance(answer, Estimate) else answer


def problems_of(job: Job) -> tuple[Problem, ...]:
    """What the engine can find wrong with a job that could be read only in part: its rules, sizes, widths and day."""
    made = parts_of_job(job)
    return (*made.problems, *parts_too_large(job, made.parts), *_beside_sizes(job, made.parts))


def _beside_sizes(job: Job, parts: Sequence[Part]) -> Iterator[Problem]:
    """What can be told of the numbers of Fittings and of the bench's day before any sheet is counted."""
    yield from number_problems(job, parts, names_known(job))
    if isinstance(day := day_of(job.shop), Problem):
        yield day


def option_rows(job: Job) -> list[tuple[OptionRow, ...]]:
    """The rows of each option, in workbook order."""
    by_name: dict[str, list[OptionRow]] = {}
    for row in job.options:
        by_name.setdefault(row.option, []).append(row)
    return [tuple(rows) for rows in by_name.values()]


def with_option(job: Job, rows: Sequence[OptionRow]) -> Job:
    """The same job with other finishes."""
    swap = {row.replace_finish: row.with_finish for row in rows}
    return replace(
        job,
        cabinets=tuple(replace(row, finish=swap.get(row.finish, row.finish)) for row in job.cabinets),
        loose_parts=tuple(replace(row, finish=swap.get(row.finish, row.finish)) for row in job.loose_parts),
        options=(),
    )


def _estimate_one(job: Job, *, in_depth: bool = False) -> Estimate | tuple[Problem, ...]:
    takings, day = _takings(job), day_of(job.shop)
    if isinstance(takings, tuple) or isinstance(day, Problem):
        told = takings if isinstance(takings, tuple) else ()
        return (*told, *(one for one in (day,) if isinstance(one, Problem)))
    ways = takings.ways
    plans = plans_of(ways)
    chosen, best = chosen_plan(ways, plans), best_plan(plans)
    if isinstance(chosen, Problem) or best is None:
        return (chosen,) if isinstance(chosen, Problem) else ()
    sent = ways.group(chosen.sent)
    by_hand = ways.everything & ~sent
    minutes = minutes_of(takings.steps, job, by_hand=by_hand, sent=sent)
    fittings = fittings_on(takings.fittings, by_hand=by_hand, sent=sent)
    cost = _cost(job, takings, chosen, minutes, fittings, sent=sent)
    price = price_of(cost.base, prime_costs(job, takings.parts, takings.boards, takings.fittings, takings.known, takings.rates), job)
    if price.discount > price.sum_lines:
        return (_discount_too_large(job),)
    kept = ways.names(by_hand)
    answer = Estimate(
        job=job,
        parts=takings.parts,
        boards=takings.boards,
        edgings=ways.edgings,
        counts=named_counts(takings.counted, by_hand=by_hand, sent=sent),
        rates=takings.rates,
        batches=tuple(batch for name in ways.names(ways.everything) for batch in _at_the_bench(ways, name, away=name not in kept)),
        banding=BandingChoice(
            plans=plans,
            best=best,
            chosen=chosen,
            adhesives=adhesives_used(job, ways.glued, by_hand=kept, staying=ways.small.glued),
            invoice=invoice_on(ways, sent),
            break_even_m={},
            bought=edging_bought(ways, sent),
            small_parts=tuple(ways.small.by_edging.values()),
        ),
        minutes=minutes,
        fittings=fittings,
        cost=cost,
        price=price,
        options=(),
        machine=None,
        risk=risk_of(minutes),
        remarks=(),
        counted=job_counts(takings.counted, ways, takings.steps, takings.fittings, takings.known, plans),
    )
    return _in_depth(answer, takings, day) if in_depth else answer


def _in_depth(answer: Estimate, takings: Takings, day: Day) -> Estimate:
    """The estimate with what lies behind the choice of banding, the machines that were asked about, and the risk in money."""
    ways = takings.ways
    decision = decision_of(ways, answer.banding, answer.rates, day)
    machines = machines_of(ways, answer.banding)
    banding = replace(answer.banding, break_even_m=dict(decision.break_even_m) if decision else {})
    return replace(
        answer,
        banding=banding,
        decision=decision,
        glue_day=glue_day_of(answer.job, takings.parts, takings.known, answer.banding.chosen.sent, day),
        rolls=rolls_of_job(answer.job, takings.parts, sent=answer.banding.chosen.sent, small=answer.banding.small_parts),
        machine=machines[0] if machines else None,
        banded=banding_of(answer),
        merchant=merchant_answer(answer.job, takings) if answer.job.merchant else None,
        more_machines=machines[1:],
        risk=with_cost(answer.risk, answer),
        runs_quicker=runs_quicker(answer),
    )


def _at_the_bench(ways: Ways, edging: str, *, away: bool) -> tuple[Batch, ...]:
    """The glue batches of an edging: all of it, or what stays when it is sent."""
    batches = ways.small.batches(edging) if away else ways.batches[edging]
    return () if isinstance(batches, Impossible) else batches


def _takings(job: Job) -> Takings | tuple[Problem, ...]:
    made = parts_of_job(job)
    boards = parts_too_large(job, made.parts) if made.problems else boards_of_job(job, made.parts)
    problems = [*made.problems, *(one for one in boards if isinstance(one, Problem))]
    if problems:
        return (*problems, *number_problems(job, made.parts, names_known(job)))
    return takings_of(job, made.parts, tuple(one for one in boards if isinstance(one, BoardUse)))


def _cost(job: Job, takings: Takings, chosen: BandingPlan, minutes: Minutes, fittings: Sequence[FittingUse], *, sent: int) -> Cost:
    """The cost of the job on the chosen plan (A30).

    cost = boards + edging + adhesive + fittings + contractor + trips + extras + all minutes / 60 x (direct + overhead)
    base = cost x (1 + contingency)
    """
    boards = sum((use.cost for use in takings.boards), start=NONE)
    extras = sum((row.qty * (row.cost_each or NONE) for row in job.extras if row.price_each is None), start=NONE)
    fitting_cost = sum((use.cost for use in fittings), start=NONE)
    edging = edging_cost(takings.ways, sent)
    adhesive, contractor, trips = chosen.adhesive or NONE, chosen.contractor or NONE, chosen.trips or NONE
    labour = money_for(minutes.total, rate=takings.rates.direct)
    overhead = money_for(minutes.total, rate=takings.rates.overhead)
    total = boards + edging + adhesive + fitting_cost + contractor + trips + extras + labour + overhead
    contingency = total * job.terms.contingency_share
    return Cost(
        boards=boards,
        edging=edging,
        adhesive=adhesive,
        fittings=fitting_cost,
        contractor=contractor,
        trips=trips,
        extras=extras,
        labour=labour,
        overhead=overhead,
        total=total,
        contingency=contingency,
        base=total + contingency,
    )


def _discount_too_large(job: Job) -> Problem:
    shown = "a percentage above 100 %" if isinstance(job.terms.discount, Share) else "an amount above the sum of all lines"
    return Problem(job.terms.at.place("Discount"), shown, "Discount: at most the sum of the lines", "lower the discount")
