"""The whole decision: the ways of banding and the chosen plan in, why it is the best and how far that holds out."""

from collections.abc import Sequence

from estimator.costing.banding.best_plan import best_group
from estimator.costing.banding.changing import edging_cost_at, stakes_at
from estimator.costing.banding.clock import Day
from estimator.costing.banding.question import METRES, PIECES, Question, question_of
from estimator.costing.banding.sensitivity import break_even_m, flips, size_curve, size_steps, tornado
from estimator.costing.banding.side_by_side import side_by_side
from estimator.costing.banding.stakes import cost_of
from estimator.costing.banding.time_away import time_away
from estimator.costing.machine import NO_VOLUMES, machine_answer
from estimator.costing.machine_volumes import BY_HAND, SENT_OUT, TODAY, Costs, Today, volumes_of
from estimator.costing.routes import Ways, plan_of, why_not_by_hand, why_not_sent
from estimator.model.decision import Decision
from estimator.model.exact import Fraction
from estimator.model.records import Job
from estimator.model.results import BandingChoice, BandingPlan, Estimate, MachineAnswer, Rates
from estimator.model.units import MINUTES_PER_HOUR, decimal_text, money_text


def decision_of(ways: Ways, choice: BandingChoice, rates: Rates, day: Day) -> Decision | None:
    """Everything behind the choice; None for a job without banded edges."""
    if not ways.edgings:
        return None
    no_send, no_hand = why_not_sent(ways), why_not_by_hand(ways)
    by_hand = plan_of(ways, 0, no_send, no_hand)
    sent_out = plan_of(ways, ways.everything, no_send, no_hand)
    question = question_of(ways)
    best = choice.best
    return Decision(
        sentence=sentence_of(
            ways.job, chosen=choice.chosen, by_hand=by_hand, sent_out=sent_out, names=ways.names(ways.everything),
            small_edges=sum(one.stays.edges for one in choice.small_parts if one.edging in choice.chosen.sent),
        ),
        lines=side_by_side(ways, by_hand=by_hand, sent_out=sent_out, best=best, chosen=choice.chosen),
        break_even_m=tuple((name, break_even_m(question, i)) for i, name in enumerate(question.names)),
        by_metres=size_steps(question, by=METRES),
        by_pieces=size_steps(question, by=PIECES),
        curve=size_curve(question),
        tornado=tornado(question, ways.group(best.sent)),
        flips=flips(question, ways.group(best.sent)),
        time=time_away(ways.job, rates, day, by_hand=by_hand, chosen=choice.chosen),
    )


def cost_per_m_today(ways: Ways, choice: BandingChoice) -> Fraction | None:
    """What a metre costs today by the best plan, without the edging, which a machine needs too."""
    net_m = sum((use.net_m for use in ways.edgings), start=Fraction(0))
    if not net_m or choice.best.relevant_cost is None:
        return None
    return (choice.best.relevant_cost - sum((use.cost for use in ways.edgings), start=Fraction(0))) / net_m


def machines_of(ways: Ways, choice: BandingChoice) -> tuple[MachineAnswer, ...]:
    """The answer for every machine of the Machine sheet, against what the shop pays today."""
    job = ways.job
    machines = (*((job.machine,) if job.machine else ()), *job.more_machines)
    if not machines:
        return ()
    today = cost_per_m_today(ways, choice)
    at = today_at(question_of(ways)) if ways.edgings else None
    return tuple(machine_answer(one, alternative_per_m=today, volumes=volumes_of(one, at) if at else NO_VOLUMES) for one in machines)


def banding_sentence(estimate: Estimate) -> str:
    """What to do about banding, in one sentence for the terminal; blank for a job without banded edges."""
    return estimate.decision.sentence if estimate.decision else ""


def sentence_of(
    job: Job, *, chosen: BandingPlan, by_hand: BandingPlan, sent_out: BandingPlan, names: Sequence[str], small_edges: int = 0
) -> str:
    """Send white and blue out, band oak and birch here: 404.10, saves 9.45 against all by hand and 27.40 against all sent."""
    currency, cost = job.terms.currency, chosen.relevant_cost
    if cost is None:
        return ""
    kept = [name for name in names if name not in chosen.sent]
    doing = [f"send {_and(chosen.sent)} out"] if chosen.sent else []
    doing += [f"band {_and(kept)} here"] if kept else []
    if small_edges:
        doing.append(f"with {small_edges} {'edge' if small_edges == 1 else 'edges'} of parts too small to go")
    words = ", ".join(doing)
    parts = [f"{words[:1].upper()}{words[1:]}: {money_text(cost, currency=currency)}{_against(job, cost, chosen, by_hand, sent_out)}"]
    if chosen.sent and by_hand.by_hand_min is not None:
        minutes = by_hand.by_hand_min - (chosen.by_hand_min or 0) - (chosen.send_out_min or 0)
        verb = "frees" if minutes >= 0 else "takes"
        parts.append(f"{verb} {decimal_text(abs(minutes) / MINUTES_PER_HOUR, places=1)} h")
    if chosen.sent and job.contract:
        parts.append(f"back in {job.contract.lead_time_days} working days")
    return "; ".join(parts)


def _against(job: Job, cost: Fraction, chosen: BandingPlan, by_hand: BandingPlan, sent_out: BandingPlan) -> str:
    saves: list[str] = []
    for other, name in ((by_hand, "all by hand"), (sent_out, "all sent")):
        if other.relevant_cost is None or other.sent == chosen.sent:
            continue
        saved = other.relevant_cost - cost
        amount = money_text(abs(saved), currency=job.terms.currency)
        saves.append(f"saves {amount} against {name}" if saved >= 0 else f"costs {amount} more than {name}")
    if len(saves) == 2 and all(one.startswith("saves") for one in saves):
        saves[1] = saves[1].removeprefix("saves ")
    return f", {' and '.join(saves)}" if saves else ""


def _and(names: Sequence[str]) -> str:
    return f"{', '.join(names[:-1])} and {names[-1]}" if len(names) > 1 else names[0]


def today_at(question: Question) -> Today:
    """What a metre costs today at a volume a year, put as one question: by hand, sent out and by the cheapest way, edging apart."""

    def at(metres: Fraction) -> Costs:
        size = metres / question.net_m
        stakes = stakes_at(question, {PIECES: size})
        edging = edging_cost_at(question, size)
        groups = {BY_HAND: 0, SENT_OUT: stakes.everything, TODAY: best_group(stakes)}
        return {
            way: None
            if group is None or not stakes.possible(group)
            else (Fraction(cost_of(stakes, group), stakes.scale) - edging) / metres
            for way, group in groups.items()
        }

    return at
