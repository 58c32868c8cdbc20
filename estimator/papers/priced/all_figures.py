"""Every figure that the formulas follow, sheet by sheet: the records of a job in, the sheet of figures in use out."""

from __future__ import annotations

from collections.abc import Sequence

from estimator.model.exact import Fraction
from estimator.model.quantities import plain_number
from estimator.model.records import Job
from estimator.model.results import Rates
from estimator.model.shop_records import Machine, Share
from estimator.papers.priced.figures import Figures, Maybe
from estimator.papers.priced.quantities import Quantities
from estimator.papers.priced.terms import Term, choose


def take_all(figures: Figures, live: Quantities) -> None:
    """Ready to be asked for: the terms of the job, the hour, and the rows of the shop that the job or one of its options uses."""
    job = live.estimate.job
    _job(figures, job)
    _hour(figures, job, live.estimate.rates)
    everything = (live, *live.options)
    _stock(figures, job, everything)
    _fittings_and_work(figures, job)
    _contract(figures, job)
    _extras(figures, job)
    _machine(figures, job)


def _job(figures: Figures, job: Job) -> None:
    terms = job.terms
    figures.group("The job's terms")
    discount = terms.discount.of_one if isinstance(terms.discount, Share) else terms.discount.amount
    take, name = figures.take, "Job"
    take(terms, "Tax rate", "percent", terms.tax_rate_share, name=name, default=0)
    take(terms, "Discount", "number", discount, name=name, default=0)
    take(terms, "Delivery charge", "money", terms.delivery_charge, name=name, default=0)
    take(terms, "Delivery tax rate", "percent", terms.delivery_tax_rate_share, name=name)
    take(terms, "Margin", "percent", terms.margin_share, name=name)
    take(terms, "Markup", "percent", terms.markup_share, name=name)
    take(terms, "Contingency", "percent", terms.contingency_share, name=name, default=0)
    take(terms, "Least price", "money", terms.least_price, name=name)
    take(terms, "Round total to", "money", terms.round_total_to, name=name)
    take(terms, "Working days available", "whole", terms.working_days_available, name=name)


def _hour(figures: Figures, job: Job, rates: Rates) -> None:
    shop = job.shop
    figures.group("The shop's hour")
    for header, read in (
        ("Direct rate", shop.direct_rate),
        ("Overhead rate", shop.overhead_rate),
        ("Wage", shop.wage),
        ("Paid hours", shop.paid_hours),
        ("Productive hours", shop.productive_hours),
        ("Workers", shop.workers),
        ("Overhead a year", shop.overhead_a_year),
    ):
        figures.take(shop, header, "number" if "ours" in header or header == "Workers" else "money", read, name="Shop")
    figures.take(shop, "On-cost", "percent", shop.on_cost_share, name="Shop", default=0)
    figures.take(shop, "Allowance", "percent", shop.allowance_share, name="Shop", default=0)
    figures.take(shop, "Spoilt by hand", "percent", shop.spoilt_by_hand_share, name="Shop", default=0)
    wage, paid, hours = (figures.maybe(shop, header) for header in ("Wage", "Paid hours", "Productive hours"))
    on_cost, workers = figures(shop, "On-cost"), figures.maybe(shop, "Workers")
    built = f"{wage.ref}*{paid.ref}*(1+{on_cost.words})/{hours.ref}"
    figures.direct = figures.own("Hour", "Direct rate", _typed_or(figures.maybe(shop, "Direct rate"), built, rates.direct))
    each = f"{figures.maybe(shop, 'Overhead a year').ref}/({hours.ref}*IF({workers.asks},{workers.ref},1))"
    figures.overhead = figures.own("Hour", "Overhead rate", _typed_or(figures.maybe(shop, "Overhead rate"), each, rates.overhead))
    figures.freed = figures.freed_hour(shop, rates.freed, direct=figures.direct, overhead=figures.overhead)


def _typed_or(rate: Maybe, built: str, value: Fraction) -> Term:
    """A rate as typed, else built up from the year."""
    return choose(rate.asks, rate.value is not None, Term(rate.ref, value), Term(built, value))


def _stock(figures: Figures, job: Job, everything: Sequence[Quantities]) -> None:
    boards = {use.board for live in everything for use in live.estimate.boards}
    edgings = {use.edging for live in everything for use in live.estimate.edgings}
    glues = {glue for live in everything for glue in live.glued_m2}
    figures.group("Boards")
    for board in job.boards:
        if board.board in boards:
            figures.take(board, "Price", "money", board.price, name=board.board, default=0)
    figures.group("Edgings")
    for edging in job.edgings:
        if edging.edging in edgings:
            figures.take(edging, "Price", "money a metre", edging.price_per_m, name=edging.edging, default=0)
            figures.take(edging, "Spare", "percent", edging.spare_share, name=edging.edging, default=0)
            figures.take(edging, "On hand", "roll length", edging.on_hand_m, name=edging.edging, default=0)
    figures.group("Adhesives")
    for glue in job.adhesives:
        if glue.adhesive in glues:
            figures.take(glue, "Coverage", "number", glue.coverage_m2_per_litre, name=glue.adhesive)
            figures.take(glue, "Spare", "percent", glue.spare_share, name=glue.adhesive, default=0)
            figures.take(glue, "Pack", "number", glue.pack_litres, name=glue.adhesive)
            figures.take(glue, "Price", "money", glue.price, name=glue.adhesive, default=0)
            figures.take(glue, "On hand", "number", glue.on_hand_litres, name=glue.adhesive, default=0)


def _fittings_and_work(figures: Figures, job: Job) -> None:
    figures.group("Fittings")
    for fitting in job.fittings:
        number = plain_number(fitting.number)
        if number is not None:
            figures.take(fitting, "Number", "number", number, name=fitting.item, default=1)
        figures.take(fitting, "Price", "money", fitting.price, name=fitting.item, default=0)
        figures.take(fitting, "Pack", "number", fitting.pack, name=fitting.item)
        figures.take(fitting, "On hand", "number", fitting.on_hand, name=fitting.item, default=0)
    figures.group("Work")
    for step in job.work:
        figures.take(step, "Minutes", "number", step.minutes, name=step.step, default=0)
        figures.take(step, "Rating", "rating", step.rating, name=step.step, default=100)
        figures.take(step, "Allowance", "percent", step.allowance_share, name=step.step)
        figures.take(step, "Low", "number", step.low_min, name=step.step)
        figures.take(step, "High", "number", step.high_min, name=step.step)


def _contract(figures: Figures, job: Job) -> None:
    contract = job.contract
    if contract is None:
        return
    figures.group("Contract bander")
    take, name = figures.take, contract.contractor or "Contract"
    take(contract, "Minimum charge", "money", contract.minimum_charge, name=name, default=0)
    take(contract, "Charge per part", "money", contract.charge_per_part, name=name, default=0)
    take(contract, "Trips", "whole", contract.trips, name=name, default=0)
    take(contract, "Distance per trip", "number", contract.distance_per_trip, name=name, default=0)
    take(contract, "Cost per distance", "money", contract.cost_per_distance, name=name, default=0)
    take(contract, "Lead time", "whole", contract.lead_time_days, name=name, default=0)
    take(contract, "Added length per edge", "length", contract.added_length_mm, name=name, default=0)
    take(contract, "Spoilt", "percent", contract.spoilt_share, name=name, default=0)
    for offer in job.contract_prices:
        take(offer, "From metres", "roll length", offer.from_m, name=offer.edging, default=0)
        take(offer, "Price", "money a metre", offer.price_per_m, name=offer.edging, default=0)
        take(offer, "Set-up", "money", offer.setup, name=offer.edging)


def _extras(figures: Figures, job: Job) -> None:
    if job.extras:
        figures.group("Extras")
    for extra in job.extras:
        figures.take(extra, "Qty", "number", extra.qty, name=extra.words)
        figures.take(extra, "Cost each", "money", extra.cost_each, name=extra.words)
        figures.take(extra, "Minutes each", "number", extra.minutes_each, name=extra.words)
        figures.take(extra, "Price each", "money", extra.price_each, name=extra.words)


def _machine(figures: Figures, job: Job) -> None:
    if job.machine is None:
        return
    figures.group("Machine")
    for machine in (job.machine, *job.more_machines):
        _one_machine(figures, machine)


def _one_machine(figures: Figures, machine: Machine) -> None:
    take, name = figures.take, machine.name or "Machine"
    take(machine, "Price", "money", machine.price, name=name)
    take(machine, "Installation", "money", machine.installation, name=name, default=0)
    take(machine, "Resale value", "money", machine.resale_value, name=name, default=0)
    take(machine, "Life", "whole", machine.life_years, name=name)
    take(machine, "Interest", "percent", machine.interest_share, name=name)
    take(machine, "Fixed cost a year", "money", machine.fixed_cost_a_year, name=name, default=0)
    take(machine, "Cost per metre", "money a metre", machine.cost_per_m, name=name)
    take(machine, "Metres a year", "roll length", machine.metres_a_year, name=name)
    take(machine, "Alternative per metre", "money a metre", machine.alternative_per_m, name=name)
