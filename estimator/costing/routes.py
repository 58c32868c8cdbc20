"""Which way to band: everything that depends on it in, every plan's relevant cost and the best plan out (A26 to A28).

A plan is the group of edgings that are sent; the rest is banded by hand. Trips, the minimum charge and parts with two edgings
are shared, so edgings cannot be judged one by one: whole plans are compared.
"""

from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations

from estimator.costing.adhesive import GluedArea, adhesives_used
from estimator.costing.banding.small_parts import NO_SMALL_PARTS, Small
from estimator.costing.banding.spoilage import Spoilt
from estimator.costing.contractor import Offer, invoice_of, trip_cost
from estimator.costing.counts import Tally
from estimator.costing.drying import Impossible
from estimator.costing.fittings import FittingTally, fittings_on
from estimator.costing.work import StepTally, money_for
from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.problems import Problem
from estimator.model.records import Job
from estimator.model.results import BandingPlan, Invoice
from estimator.model.taken import Batch, EdgingUse

MOST_FOR_ALL_PLANS = 12
"""Up to this many edgings every plan is worked out and shown (banding/every_plan.py)."""

NONE = Fraction(0)


@dataclass(frozen=True, slots=True)
class Ways:
    """All that the ways of banding differ in. Bit i of a group stands for edgings[i]."""

    job: Job
    edgings: tuple[EdgingUse, ...]
    glued: GluedArea
    steps: tuple[StepTally, ...]
    """Steps of the routes by hand and send out."""
    fittings: tuple[FittingTally, ...]
    offers: Mapping[str, Offer]
    batches: Mapping[str, tuple[Batch, ...] | Impossible]
    parts_sent: Tally
    """Distinct parts with an edge that goes out."""
    freed_rate: Fraction
    spoilt: Mapping[str, Spoilt]
    """By edging; empty where the shop names no share of spoilt edges."""
    small: Small = NO_SMALL_PARTS
    """Parts that stay at the bench though their edging is sent."""

    @property
    def everything(self) -> int:
        return (1 << len(self.edgings)) - 1

    def names(self, group: int) -> tuple[str, ...]:
        return tuple(use.edging for i, use in enumerate(self.edgings) if group >> i & 1)

    def going(self, use: EdgingUse) -> EdgingUse | None:
        """What of an edging goes out when it is sent; None when all of its parts are too small."""
        small = self.small.by_edging.get(use.edging)
        return small.goes if small else use

    def staying(self, use: EdgingUse) -> EdgingUse | None:
        """What of an edging stays at the bench when it is sent."""
        small = self.small.by_edging.get(use.edging)
        return small.stays if small else None

    def group(self, names: Sequence[str]) -> int:
        return sum(1 << i for i, use in enumerate(self.edgings) if use.edging in names)


def why_not_sent(ways: Ways) -> dict[str, str]:
    """Each edging that cannot be sent, with the reason (A26)."""
    contract, available = ways.job.contract, ways.job.terms.working_days_available
    if contract is None:
        return {use.edging: "there is no offer of a contract bander" for use in ways.edgings}
    if available is not None and contract.lead_time_days > available:
        days = f"the contract bander takes {contract.lead_time_days} working days and the job has {available}"
        return {use.edging: days for use in ways.edgings}
    reasons = {}
    for use in ways.edgings:
        if not all(width.edging.send_out for width in use.widths):
            reasons[use.edging] = f"{use.edging} says Send out no"
        elif use.edging not in ways.offers:
            reasons[use.edging] = f"{use.edging} has no contract price"
        elif why := _why_small_parts_forbid(ways, use):
            reasons[use.edging] = why
    return reasons


def _why_small_parts_forbid(ways: Ways, use: EdgingUse) -> str:
    """An edging cannot be sent when all of its parts are too small, or when its small ones cannot be banded here."""
    if ways.going(use) is None:
        return f"every part with {use.edging} is smaller than the contract bander takes"
    staying, batches = ways.staying(use), ways.small.batches(use.edging)
    small = f"parts with {use.edging} that are smaller than the contract bander takes cannot be banded here"
    if staying and not all(width.edging.by_hand for width in staying.widths):
        return f"{small}: By hand no"
    return f"{small}: {batches.why}" if isinstance(batches, Impossible) else ""


def why_not_by_hand(ways: Ways) -> dict[str, str]:
    """Each edging that cannot be banded by hand, with the reason (A22, A26)."""
    reasons = {}
    for use in ways.edgings:
        batches = ways.batches[use.edging]
        if not all(width.edging.by_hand for width in use.widths):
            reasons[use.edging] = f"{use.edging} says By hand no"
        elif isinstance(batches, Impossible):
            reasons[use.edging] = batches.why
    return reasons


def groups_in_order(count: int) -> Iterator[int]:
    """Every group of `count` edgings: fewer sent first, then in the order of the Edgings sheet.

    >>> [f"{group:03b}" for group in groups_in_order(3)]
    ['000', '001', '010', '100', '011', '101', '110', '111']
    """
    for size in range(count + 1):
        for chosen in combinations(range(count), size):
            yield sum(1 << i for i in chosen)


def plan_of(ways: Ways, sent: int, no_send: Mapping[str, str], no_hand: Mapping[str, str]) -> BandingPlan:
    """One plan with its relevant cost, or why it is not possible (A27).

    relevant cost  =  edging + adhesive + contractor + trips + fittings of the routes
                      + (by-hand + send-out minutes) / 60 x value of a freed hour + spoilt edges
    """
    names, kept = ways.names(sent), ways.names(ways.everything & ~sent)
    why = "; ".join(
        dict.fromkeys([no_send[name] for name in names if name in no_send] + [no_hand[name] for name in kept if name in no_hand])
    )
    if why:
        return BandingPlan(names, False, why, None, None, None, None, None, None, None, None)
    edging = edging_cost(ways, sent)
    adhesive = sum((use.cost for use in adhesives_used(ways.job, ways.glued, by_hand=kept, staying=ways.small.glued)), start=NONE)
    invoice = invoice_on(ways, sent)
    contractor = invoice.total if invoice else NONE
    trips = trip_cost(ways.job.contract) if invoice and ways.job.contract else NONE
    by_hand = ways.everything & ~sent
    fittings = sum((use.cost for use in fittings_on(ways.fittings, by_hand=by_hand, sent=sent)), start=NONE)
    by_hand_min, send_out_min = minutes_on(ways, sent)
    work = money_for(by_hand_min + send_out_min, rate=ways.freed_rate)
    spoilt = sum(spoilt_on(ways, sent), start=NONE)
    return BandingPlan(
        sent=names,
        possible=True,
        why="",
        relevant_cost=edging + adhesive + contractor + trips + fittings + work + spoilt,
        edging=edging,
        adhesive=adhesive,
        contractor=contractor,
        trips=trips,
        fittings=fittings,
        by_hand_min=by_hand_min,
        send_out_min=send_out_min,
        spoilt=spoilt,
    )


def spoilt_on(ways: Ways, sent: int) -> tuple[Fraction, Fraction]:
    """What spoilt edges cost on a plan: of those banded here, small parts among them, and of those that come back spoilt."""
    here = away = NONE
    for i, use in enumerate(ways.edgings):
        spoilt = ways.spoilt.get(use.edging)
        if spoilt and sent >> i & 1:
            here, away = here + spoilt.here_when_sent, away + spoilt.away_when_sent
        elif spoilt:
            here += spoilt.by_hand
    return here, away


def edging_cost(ways: Ways, sent: int) -> Fraction:
    """Edging that the shop buys on a plan: all of it, less what is sent to a contractor who supplies it (A12)."""
    return sum((use.cost for use in edging_bought(ways, sent)), start=NONE)


def edging_bought(ways: Ways, sent: int) -> tuple[EdgingUse, ...]:
    """What the shop itself buys of each edging on a plan; of one that the contractor supplies, what small parts take."""
    supplied = ways.job.contract is not None and ways.job.contract.supplies_edging
    bought = (ways.staying(use) if supplied and sent >> i & 1 else use for i, use in enumerate(ways.edgings))
    return tuple(use for use in bought if use is not None)


def invoice_on(ways: Ways, sent: int) -> Invoice | None:
    """The contract bander's invoice on a plan; None when nothing is sent."""
    if not sent or ways.job.contract is None:
        return None
    uses = [going for i, use in enumerate(ways.edgings) if sent >> i & 1 and (going := ways.going(use)) is not None]
    return invoice_of(ways.job.contract, ways.offers, uses, parts=int(ways.parts_sent.of(sent)))


def minutes_on(ways: Ways, sent: int) -> tuple[Fraction, Fraction]:
    """Minutes by hand and minutes of sending out, on a plan."""
    by_hand = ways.everything & ~sent
    worked = [one.minutes(by_hand=by_hand, sent=sent) for one in ways.steps]
    return (
        sum((one.minutes for one in worked if one.step.route == "by hand"), start=NONE),
        sum((one.minutes for one in worked if one.step.route == "send out"), start=NONE),
    )


def best_plan(plans: Sequence[BandingPlan]) -> BandingPlan | None:
    """The possible plan of least relevant cost; of equals the one that sends fewer, then the earlier (A28).

    Source: relevant-cost.
    """
    best: BandingPlan | None = None
    for plan in plans:
        if plan.relevant_cost is not None and (best is None or best.relevant_cost is None or plan.relevant_cost < best.relevant_cost):
            best = plan
    return best


def chosen_plan(ways: Ways, plans: Sequence[BandingPlan]) -> BandingPlan | Problem:
    """The plan that Job > Banding asks for; a problem of that cell when it is not possible."""
    asked = ways.job.terms.banding.strip()
    place = ways.job.terms.at.place("Banding")
    best = best_plan(plans)
    if best is None:
        whys = dict.fromkeys(reason for plan in (plans[0], plans[-1]) for reason in plan.why.split("; "))
        return Problem(
            place,
            "no way of banding is possible: " + "; ".join(whys),
            "Banding: a job whose every edging can go by hand or be sent out",
            "change Edgings > By hand or Send out, get an offer, or allow more working days",
        )
    match asked.casefold():
        case "" | "best":
            return best
        case "by hand":
            sent: tuple[str, ...] = ()
        case "send out":
            sent = tuple(use.edging for use in ways.edgings)
        case listed:
            wanted = {name.strip() for name in listed.split(",")}
            sent = tuple(use.edging for use in ways.edgings if use.edging.casefold() in wanted)
    plan = plan_of(ways, ways.group(sent), why_not_sent(ways), why_not_by_hand(ways))
    if plan.possible:
        return plan
    return Problem(
        place,
        f"{asked}, which is not possible: {plan.why}",
        "Banding: best, or a way that is possible for every edging of the job",
        f"write best (now: {words_of(best)}), or remove what stands in the way",
    )


def words_of(plan: BandingPlan) -> str:
    """A plan in words: by hand, or what is sent out."""
    return f"send out {', '.join(plan.sent)}" if plan.sent else "by hand"
