"""Which way to band: an estimate in; what to do, what it saves, what would change it, and the routes side by side out."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING

from estimator.model.decision import Decision, Flip, SideLine
from estimator.model.exact import Fraction
from estimator.model.results import BandingPlan
from estimator.papers.owner.charts import ACCENT, Fill, Segment, SegmentRow, stacked_bars
from estimator.papers.owner.paper import NONE, OwnerPaper, capital
from estimator.papers.page.document import new_page
from estimator.papers.page.pieces import bullet_list, gap, heading, paragraph
from estimator.papers.page.tables import Column, table

if TYPE_CHECKING:
    from reportlab.platypus.flowables import Flowable

_NEAREST_FLIPS = 4
_PARTS_NAMED = 8
_NEAR_TIMES = 3
_HEAD_PT, _ROW_PT = 80.0, 18.7
"""What a heading with the head of its table takes, and each row of it."""
_WORTH_SAYING = Fraction(1, 10)
_KINDS: tuple[tuple[str, Fill, tuple[str, ...]], ...] = (
    ("work at the bench", ACCENT, ("work at the bench",)),
    ("packing and sorting", 1.0, ("packing and sorting",)),
    ("contract bander", 0.6, ("contractor by the metre", "contractor's set-ups", "contractor's charge for parts",
                              "up to the minimum charge")),
    ("trips", 0.15, ("trips",)),
    ("spoilt edges", 0.4, ("edges spoilt here", "parts spoilt away")),
    ("edging, adhesive, sundries", 0.85, ("edging", "adhesive", "sundries by hand", "sundries of sending out")),
)  # fmt: skip
_OTHER = ("other", 0.72)
_RARE = {"spoilt edges", "other"}
"""Kinds that stand in the key only where they cost something."""


def banding_story(paper: OwnerPaper) -> list[Flowable]:
    """One page to act on, then the two routes line by line. A job without banded edges has none."""
    decision, look, say = paper.estimate.decision, paper.look, paper.say
    if decision is None:
        return []
    return [
        new_page(),
        *heading(say("how to band the edges"), look),
        paragraph(doing_words(paper), look, name="strong"),
        *_small_parts(paper),
        *heading(say("what it saves"), look, level=1),
        *[paragraph(words, look) for words in _saving_and_time(paper, decision)],
        *heading(say("what would change it"), look, level=1),
        *_about_the_best(paper),
        *bullet_list(change_words(paper, decision), look),
        *heading(say("what each way costs"), look, level=1),
        stacked_bars(_way_bars(paper, decision), look=look),
        gap(0.5),
        paragraph(_cost_words(paper), look, name="small"),
        *heading(say("side by side"), look, needs_pt=_HEAD_PT + _ROW_PT * len(decision.lines)),
        _side_table(paper, decision.lines),
        *_not_possible(paper),
    ]


# --- in words ---------------------------------------------------------------------------------------------------------


def doing_words(paper: OwnerPaper) -> str:
    """What to do, as a full sentence."""
    if not paper.edging_names:
        return paper.say("no edge to band")
    return f"{capital(paper.way_words(paper.estimate.banding.chosen.sent))}."


def _small_parts(paper: OwnerPaper) -> list[Flowable]:
    """What stays at the bench though its edging is sent: how much of each edging, and which parts."""
    sent = paper.estimate.banding.chosen.sent
    staying = [one for one in paper.estimate.banding.small_parts if one.edging in sent]
    if not staying:
        return []
    say = paper.say
    edges = paper.listed([say.counted("so many of", one.stays.edges, edging=one.edging) for one in staying])
    parts = [f"{part.ref} {part.part}" for part in {id(part): part for one in staying for part in one.parts}.values()]
    return [paragraph(say("too small to send", edges=edges, parts=paper.listed(parts, most=_PARTS_NAMED)), paper.look)]


def saving_words(paper: OwnerPaper) -> str:
    """What that costs and what it saves against the plain ways, in sentences; blank where there is nothing to band."""
    chosen, best = paper.estimate.banding.chosen, paper.estimate.banding.best
    if not paper.edging_names or chosen.relevant_cost is None:
        return ""
    say, cost = paper.say, paper.money(chosen.relevant_cost)
    against = [
        _against(paper, chosen.relevant_cost, plan, name)
        for plan, name in ((all_by_hand(paper), "by hand"), (all_sent(paper), "sent out"))
        if plan is not None and plan.relevant_cost is not None and plan.sent != chosen.sent
    ]
    sentence = say("this way costs against", cost=cost, against=say.listed(against)) if against else say("this way costs", cost=cost)
    if best.sent == chosen.sent or best.relevant_cost is None:
        return sentence if against else f"{sentence} {next_best_words(paper)}".rstrip()
    dearer = paper.money(chosen.relevant_cost - best.relevant_cost)
    return f"{sentence} {say('asked for', best=paper.way_words(best.sent), less=dearer)}"


def _saving_and_time(paper: OwnerPaper, decision: Decision) -> list[str]:
    """The saving, the runner-up where it is neither of the plain ways already named, and the hours."""
    saving, banding = saving_words(paper), paper.estimate.banding
    second = next_best(paper)
    is_named = second is not None and (not second.sent or set(second.sent) == set(paper.edging_names))
    if banding.chosen.sent == banding.best.sent and not is_named and next_best_words(paper) not in saving:
        saving = f"{saving} {next_best_words(paper)}"
    return [saving, *_time_words(paper, decision)]


def next_best(paper: OwnerPaper) -> BandingPlan | None:
    """The runner-up to the best way."""
    best = paper.estimate.banding.best
    others = [plan for plan in paper.estimate.banding.plans if plan.relevant_cost is not None and plan.sent != best.sent]
    return min(others, key=lambda plan: plan.relevant_cost or NONE, default=None)


def next_best_words(paper: OwnerPaper) -> str:
    """What the runner-up would cost more."""
    best, second = paper.estimate.banding.best, next_best(paper)
    if second is None or second.relevant_cost is None or best.relevant_cost is None:
        return paper.say("no other way")
    dearer = paper.money(second.relevant_cost - best.relevant_cost)
    return paper.say("next best way", way=paper.change_to(second.sent, now=best.sent), dearer=dearer)


def _against(paper: OwnerPaper, cost: Fraction, other: BandingPlan, name: str) -> str:
    saved = (other.relevant_cost or NONE) - cost
    return paper.say(f"less than all {name}" if saved >= 0 else f"more than all {name}", amount=paper.money(abs(saved)))


def all_by_hand(paper: OwnerPaper) -> BandingPlan | None:
    return next((plan for plan in paper.estimate.banding.plans if not plan.sent), None)


def all_sent(paper: OwnerPaper) -> BandingPlan | None:
    return next((plan for plan in paper.estimate.banding.plans if set(plan.sent) == set(paper.edging_names)), None)


def _time_words(paper: OwnerPaper, decision: Decision) -> list[str]:
    """Hours at the bench against days away."""
    time, number, say = decision.time, paper.language, paper.say
    words: list[str] = []
    hours = number.fixed(time.chosen_hours, decimals=1)
    if time.freed_hours:
        readings = [(f"worth at {one.reading}", paper.money(abs(one.worth))) for one in time.freed if one.an_hour]
        worth = ", ".join(say(name, amount=amount) for name, amount in readings)
        kind = "frees hours" if time.freed_hours > 0 else "takes further hours"
        words.append(say(kind, hours=number.fixed(abs(time.freed_hours), decimals=1), worth=worth))
    if time.bench_days >= _WORTH_SAYING:
        words.append(say("banding takes hours and days", hours=hours, days=number.fixed(time.bench_days, decimals=1)))
    else:
        words.append(say("banding takes hours", hours=hours))
    if time.away_days is not None:
        words.append(say.counted("back in days", time.away_days))
        if time.send_by:
            words.append(say("send by", day=number.date(date.fromisoformat(time.send_by))))
    if time.fits is False:
        words.append(say("does not fit"))
    return [" ".join(words)]


def change_words(paper: OwnerPaper, decision: Decision) -> list[str]:
    """The figures that would make another way the best if they moved, the nearest first."""
    near = sorted(((_times(flip), flip) for flip in decision.flips if _ends(flip)), key=lambda one: one[0])
    if not near and next_best(paper) is None:
        return [_only_way_words(paper)]
    if not near:
        return [paper.say("no figure changes it")]
    return [f"{capital(paper.engines(flip.what))}: {_flip_words(paper, flip)}." for _, flip in near[:_NEAREST_FLIPS]]


def _only_way_words(paper: OwnerPaper) -> str:
    """What would bring another way where only one is possible."""
    if paper.estimate.job.contract is None:
        return "An offer of a contract bander: type it into Contract and Contract prices, and this page weighs it against the bench."
    return "Only this way is possible. More working days, another offer, or By hand and Send out in Edgings would bring others."


def takes_the_best(paper: OwnerPaper) -> bool:
    """Whether the job is priced on the best way; Job > Banding may ask for another."""
    return paper.estimate.banding.chosen.sent == paper.estimate.banding.best.sent


def _about_the_best(paper: OwnerPaper) -> list[Flowable]:
    """Where the job takes another way than the best: what follows is about the best one."""
    best = paper.estimate.banding.best.sent
    if takes_the_best(paper):
        return []
    return [paragraph(paper.say("the best holds until", best=paper.way_words(best)), paper.look)]


def _ends(flip: Flip) -> list[Fraction]:
    return [share for share in (flip.down_to_share, flip.up_to_share) if share]


def _is_told(flip: Flip, share: Fraction) -> bool:
    """An end is told when it is near, or when it is the nearer one of its figure."""
    times = max(share, 1 / share)
    return times <= _NEAR_TIMES or times == _times(flip)


def _times(flip: Flip) -> Fraction:
    """How many times over (or under) the figure must be before the nearer change."""
    return min(max(share, 1 / share) for share in _ends(flip))


def _flip_words(paper: OwnerPaper, flip: Flip) -> str:
    best = paper.estimate.banding.best.sent
    words: list[str] = []
    if flip.down_to_share and _is_told(flip, flip.down_to_share):
        share = paper.percent(1 - flip.down_to_share, decimals=0)
        words.append(paper.say("if lower", share=share, way=paper.change_to(flip.down_sent, now=best)))
    if flip.up_to_share and _is_told(flip, flip.up_to_share):
        share = paper.percent(flip.up_to_share - 1, decimals=0)
        words.append(paper.say("if higher", share=share, way=paper.change_to(flip.up_sent, now=best)))
    return "; ".join(words)


def _cost_words(paper: OwnerPaper) -> str:
    return paper.say("what is counted", freed=paper.money(paper.estimate.rates.freed))


# --- in drawings and figures ------------------------------------------------------------------------------------------


def _way_bars(paper: OwnerPaper, decision: Decision) -> list[SegmentRow]:
    lines = decision.lines[:-1]
    total = decision.lines[-1]
    hand, sent = all_by_hand(paper), all_sent(paper)
    say = paper.say
    columns = [
        (say("everything by hand"), [line.by_hand for line in lines], total.by_hand, hand.why if hand else ""),
        (say("everything sent out"), [line.sent_out for line in lines], total.sent_out, sent.why if sent else ""),
        (say("the best way"), [line.best for line in lines], total.best, ""),
    ]
    if not takes_the_best(paper):
        columns.append((say("the way asked for"), [line.chosen for line in lines], total.chosen, ""))
    rows: list[SegmentRow] = []
    for name, figures, cost, why in columns:
        if cost is None:
            rows.append(SegmentRow(name, (), say("not possible because", why=why) if why else say("not possible")))
            continue
        pairs = [(line.words, figure) for line, figure in zip(lines, figures, strict=True)]
        rows.append(SegmentRow(name, _segments(paper, pairs), paper.money(cost), strong=name == say("the best way")))
    return rows


def _segments(paper: OwnerPaper, lines: Sequence[tuple[str, Fraction | None]]) -> tuple[Segment, ...]:
    """The lines of one way, gathered into a few kinds, one behind the other."""
    known = {words for _, _, several in _KINDS for words in several}
    kinds = [(name, fill, sum((value or NONE for words, value in lines if words in several), start=NONE))
             for name, fill, several in _KINDS]  # fmt: skip
    kinds.append((*_OTHER, sum((value or NONE for words, value in lines if words not in known), start=NONE)))
    segments: list[Segment] = []
    start = NONE
    for name, fill, value in kinds:
        if value > 0 or name not in _RARE:
            segments.append(Segment(paper.engines(name), start, start + value, fill, text=paper.amount(value)))
            start += value
    return tuple(segments)


def _side_table(paper: OwnerPaper, lines: Sequence[SideLine]) -> Flowable:
    say = paper.say
    columns = [
        Column(paper.terms.currency),
        Column(say("all by hand"), width_mm=30, align="decimal"),
        Column(say("all sent out"), width_mm=30, align="decimal"),
        Column(capital(say("the best way")), width_mm=30, align="decimal"),
    ]
    rows = [
        [capital(paper.engines(line.words)), *(paper.amount(one) for one in (line.by_hand, line.sent_out, line.best))]
        for line in lines
    ]
    if not takes_the_best(paper):
        columns.append(Column(capital(say("the way asked for")), width_mm=30, align="decimal"))
        rows = [[*row, paper.amount(line.chosen)] for row, line in zip(rows, lines, strict=True)]
    return table(columns, rows, look=paper.look, totals=1, decimal_mark=paper.language.decimal_mark)


def _not_possible(paper: OwnerPaper) -> list[Flowable]:
    say = paper.say
    plans = (("everything by hand", all_by_hand(paper)), ("everything sent out", all_sent(paper)))
    words = [
        capital(say("way not possible", way=say(name), why=plan.why)) for name, plan in plans if plan and not plan.possible and plan.why
    ]
    return [gap(0.5), *[paragraph(one, paper.look, name="small") for one in words]] if words else []
