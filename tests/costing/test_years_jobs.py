"""A year's jobs put to the machine: the sums on paper, and that the worked machine comes out of jobs that add up to its figures."""

from estimator.costing.estimate import estimate_job
from estimator.costing.machine import machine_answer
from estimator.costing.years_jobs import added_up, banding_of, machines_on_jobs
from estimator.model.decision import JobBanding
from estimator.model.exact import Fraction
from estimator.model.results import Estimate
from tests.costing.banding.worked import contract, four_edgings
from tests.costing.test_machine import a_machine

F = Fraction


def priced(**other: object) -> Estimate:
    answer = estimate_job(four_edgings(**other))
    assert isinstance(answer, Estimate)
    return answer


def test_a_job_bands_its_metres_at_its_best_way_edging_apart() -> None:
    """The four edgings: 243 m. The edging by hand is the price a metre there: 222.75 + 54.60 + 88.40 + 28.80 = 394.55."""
    assert banding_of(priced()) == JobBanding(F(243), F("413.55") - F("394.55"), F("431.50") - F("394.55"), F("404.10") - F("394.55"))


def test_jobs_that_come_to_the_worked_machine() -> None:
    """1,200 and 3,000 metres at 2.10 a metre together are the 4,200 m of the worked machine."""
    jobs = [JobBanding(F(1_200), None, None, F(3_000)), JobBanding(F(3_000), None, None, F(5_820))]
    worked = machine_answer(a_machine(), alternative_per_m=None)
    (ours,) = machines_on_jobs([a_machine(metres_a_year=F(1), alternative_per_m=F(99))], jobs)
    assert ours == worked


def test_a_way_that_one_job_cannot_take_is_not_possible_for_all() -> None:
    together = added_up([banding_of(priced()), banding_of(priced(contract=None, contract_prices=()))])
    assert together.sent_out is None
    assert together.by_hand == 2 * (F("413.55") - F("394.55"))
    assert together.best == F("404.10") + F("413.55") - 2 * F("394.55")


def test_no_jobs_no_answer() -> None:
    assert machines_on_jobs([a_machine()], []) == ()


def test_the_contractors_dearer_a_year_makes_the_machine_better() -> None:
    cheap, dear = (banding_of(priced(contract=contract(distance_per_trip=F(trip)))) for trip in (42, 60))
    first, second = (machines_on_jobs([a_machine()], [job] * 20)[0] for job in (cheap, dear))
    assert (second.saving_a_year or 0) > (first.saving_a_year or 0)
