"""The two routes and the best plan side by side, line by line: the ways in, lines of money that add up to each total out."""

from collections.abc import Mapping

from estimator.costing.routes import Ways, invoice_on, minutes_on, spoilt_on
from estimator.costing.work import money_for
from estimator.model.decision import SideLine
from estimator.model.exact import Fraction
from estimator.model.results import BandingPlan

NONE = Fraction(0)
WORDS = (
    "edging", "adhesive", "sundries by hand", "work at the bench", "contractor by the metre", "contractor's set-ups",
    "contractor's charge for parts", "up to the minimum charge", "trips", "sundries of sending out", "packing and sorting",
    "edges spoilt here", "parts spoilt away",
)  # fmt: skip


def side_by_side(
    ways: Ways, *, by_hand: BandingPlan, sent_out: BandingPlan, best: BandingPlan, chosen: BandingPlan
) -> tuple[SideLine, ...]:
    """Every line of the four plans, and their totals last. The lines of a plan add up to its relevant cost."""
    plans = (by_hand, sent_out, best, chosen)
    columns = [plan_lines(ways, plan) or {} for plan in plans]
    lines = [SideLine(words, *(column.get(words) for column in columns)) for words in WORDS]
    shown = [line for line in lines if line.by_hand or line.sent_out or line.best or line.chosen]
    return (*shown, SideLine("relevant cost", *(plan.relevant_cost for plan in plans)))


def plan_lines(ways: Ways, plan: BandingPlan) -> Mapping[str, Fraction] | None:
    """A plan's relevant cost line by line; None when it is not possible."""
    if not plan.possible:
        return None
    sent = ways.group(plan.sent)
    invoice = invoice_on(ways, sent)
    by_hand_min, send_out_min = minutes_on(ways, sent)
    uses = [one.use(by_hand=ways.everything & ~sent, sent=sent) for one in ways.fittings]
    sundries = {route: sum((use.cost for use in uses if use.fitting.route == route), start=NONE) for route in ("by hand", "send out")}
    figures = (
        plan.edging or NONE,
        plan.adhesive or NONE,
        sundries["by hand"],
        money_for(by_hand_min, rate=ways.freed_rate),
        sum((line.amount for line in invoice.lines), start=NONE) if invoice else NONE,
        sum((line.setup for line in invoice.lines), start=NONE) if invoice else NONE,
        invoice.parts_charge if invoice else NONE,
        invoice.minimum_top_up if invoice else NONE,
        plan.trips or NONE,
        sundries["send out"],
        money_for(send_out_min, rate=ways.freed_rate),
        *spoilt_on(ways, sent),
    )
    return dict(zip(WORDS, figures, strict=True))
