"""The banded edges of a job go in; every way of banding them comes out with its cost: by hand, sent out, mixed (A12 to A28)."""

from dataclasses import dataclass, field
from fractions import Fraction
from itertools import combinations
from math import ceil

from tests.oracle.cells import blank, length_mm, metres, number, price_a_metre, same, share, text, yes
from tests.oracle.counting import Tally, route, standard_minutes, steps
from tests.oracle.jobs import RefusedError, contract, freed_hour, item, length, one_of, rows, unit_of

SENT_PART = {"Per": "part", "Route": "send out"}  # what a contractor's charge per part counts


@dataclass
class EdgingAnswer:
    """What the job has of one edging, whoever bands it."""

    edges: int = 0
    net_m: Fraction = Fraction(0)
    strip_m: Fraction = Fraction(0)
    bought_m: Fraction = Fraction(0)
    cost: Fraction = Fraction(0)
    adhesive: str = ""
    glued_m2: Fraction = Fraction(0)
    rows: dict = field(default_factory=dict)  # row of Edgings -> strip metres


@dataclass
class Plan:
    """One way of banding: those edgings are sent, the rest is banded by hand."""

    sent: tuple
    kept: tuple
    possible: bool
    edging: Fraction
    adhesives: dict
    contractor: Fraction
    trips: Fraction
    fittings: Fraction
    by_hand_min: Fraction
    send_out_min: Fraction
    relevant_cost: Fraction = Fraction(0)

    @property
    def adhesive(self):
        return sum(one["cost"] for one in self.adhesives.values())


def edgings_of(job, lines):
    """Every edging that the job uses, by name, in the order of the sheet Edgings."""
    found = {}
    for line in lines:
        for piece in line.pieces:
            for edge in piece.edges:
                _add(job, found.setdefault(edge.edging, EdgingAnswer()), piece, edge, piece.count * line.qty)
    for answer in found.values():
        for at, strip_m in answer.rows.items():
            bought = _bought_m(job, rows(job, "Edgings")[at], strip_m)
            answer.bought_m += bought
            answer.cost += bought * edging_price(job, at)
    names = []
    for row in rows(job, "Edgings"):
        name = next((name for name in found if same(name, row["Edging"])), None)
        if name and name not in names:
            names.append(name)
    return {name: found[name] for name in names}


def edging_price(job, at):
    """Money a metre of one row of Edgings."""
    return price_a_metre(rows(job, "Edgings")[at]["Price"], unit_of(job, "Edgings"))


def _add(job, answer, piece, edge, many):
    strip_m = edge.strip_mm / 1000 * many
    net_m = edge.length_mm / 1000 * many
    answer.edges += many
    answer.net_m += net_m
    answer.strip_m += strip_m
    answer.rows[edge.row] = answer.rows.get(edge.row, 0) + strip_m
    answer.adhesive = edge.adhesive
    if edge.adhesive:
        glue = one_of(rows(job, "Adhesives"), "Adhesive", edge.adhesive)
        band_mm = length(job, "Edgings", rows(job, "Edgings")[edge.row]["Width"])
        core = net_m * piece.thickness_mm / 1000 * _coats(glue, "Core coats", 2)
        answer.glued_m2 += core + strip_m * band_mm / 1000 * _coats(glue, "Strip coats", 1)


def _coats(glue, column, usual):
    """A porous core edge takes two coats, the band one, where nothing is typed (common practice)."""
    return usual if blank(glue.get(column)) else number(glue[column])


def _bought_m(job, row, strip_m):
    """A12: strips with the spare, up to whole rolls where the edging is charged so."""
    need = strip_m * (1 + share(row.get("Spare")))
    by_metre = text(row.get("Charge")).lower() == "metres"
    if blank(row.get("Roll length")) or by_metre:
        return need
    roll = metres(row["Roll length"], unit_of(job, "Edgings"))
    return ceil(need / roll) * roll


class Banding:
    """Everything that the plans of one job are worked out from."""

    def __init__(self, job, lines, boards, edgings, batches, broken):
        self.job, self.edgings, self.broken = job, edgings, broken
        self.tally = Tally(job, lines, boards, batches)
        self.supplies = yes(contract(job, "Supplies edging"))

    def plans(self):
        """A27: every subset of the edgings, by number sent, then in Edgings order."""
        names = tuple(self.edgings)
        return [self.plan(sent) for many in range(len(names) + 1) for sent in combinations(names, many)]

    def plan(self, sent):
        kept = tuple(name for name in self.edgings if name not in sent)
        possible = all(self.can_keep(name) for name in kept) and all(self.can_send(name) for name in sent)
        bought = kept if self.supplies else (*kept, *sent)
        plan = Plan(
            sent=sent,
            kept=kept,
            possible=possible and (not sent or self.in_time()),
            edging=sum((self.edgings[name].cost for name in bought), Fraction(0)),
            adhesives=self.adhesives(kept),
            contractor=self.invoice(sent) if possible else Fraction(0),
            trips=self.trip_cost() if sent and possible else Fraction(0),
            fittings=sum((self.fitting_cost(row, sent, kept) for row in rows(self.job, "Fittings")), Fraction(0)),
            by_hand_min=Fraction(sum(self.step_min(s, (), kept) for s in steps(self.job) if route(s) == "by hand")),
            send_out_min=Fraction(sum(self.step_min(s, sent, ()) for s in steps(self.job) if route(s) == "send out")),
        )
        paid = plan.edging + plan.adhesive + plan.contractor + plan.trips + plan.fittings
        plan.relevant_cost = paid + (plan.by_hand_min + plan.send_out_min) / 60 * freed_hour(self.job)
        return plan

    def best(self, plans):
        """A28: the least relevant cost; on a tie fewer sent, then earlier in the list."""
        possible = [plan for plan in plans if plan.possible]
        if not possible:
            raise RefusedError("no possible way to band")
        return min(possible, key=lambda plan: (plan.relevant_cost, len(plan.sent)))

    def chosen(self, plans):
        """The plan of Job > Banding."""
        words = text(item(self.job, "Banding")).lower() or "best"
        if words == "best":
            return self.best(plans)
        listed = [text(word) for word in words.split(",")]
        sent = {
            "by hand": (),
            "send out": tuple(self.edgings),
        }.get(words, tuple(name for name in self.edgings if any(same(name, word) for word in listed)))
        plan = next(plan for plan in plans if plan.sent == sent)
        if not plan.possible:
            raise RefusedError(f"banding {words} is not possible")
        return plan

    def can_keep(self, name):
        used = [rows(self.job, "Edgings")[at] for at in self.edgings[name].rows]
        return name not in self.broken and all(yes(row.get("By hand"), default=True) for row in used)

    def can_send(self, name):
        used = [rows(self.job, "Edgings")[at] for at in self.edgings[name].rows]
        offered = bool(self.job.get("Contract")) and bool(self._offers(name))
        return offered and all(yes(row.get("Send out"), default=True) for row in used)

    def in_time(self):
        lead, available = contract(self.job, "Lead time"), item(self.job, "Working days available")
        return blank(lead) or blank(available) or number(lead) <= number(available)

    def adhesives(self, kept):
        """A14, on the edgings banded by hand: packs and litres go over all the edgings of one adhesive."""
        glued = {}
        for name in kept:
            edging = self.edgings[name]
            if edging.adhesive:
                glued[edging.adhesive] = glued.get(edging.adhesive, 0) + edging.glued_m2
        return {name: self._adhesive(name, m2) for name, m2 in glued.items()}

    def _adhesive(self, name, glued_m2):
        row = one_of(rows(self.job, "Adhesives"), "Adhesive", name)
        litres = glued_m2 / number(row["Coverage"]) * (1 + share(row.get("Spare")))
        pack = number(row["Pack"])
        packs = ceil(litres / pack)
        by_litre = text(row.get("Charge")).lower() == "litres"
        cost = (litres / pack if by_litre else packs) * number(row["Price"])
        return {"glued_m2": glued_m2, "litres": litres, "packs": packs, "cost": cost}

    def fitting_cost(self, row, sent, kept):
        """Fittings of a route: number x price."""
        if route(row) == "":
            return Fraction(0)
        edgings = kept if route(row) == "by hand" else sent
        return self.tally.on_route(row, edgings) * number(row["Price"])

    def step_min(self, step, sent, kept):
        edgings = kept if route(step) == "by hand" else sent
        coating = text(step.get("During")).lower() == "coating"
        return self.tally.on_route(step, edgings, coating) * standard_minutes(self.job, step)

    def trip_cost(self):
        terms = ("Trips", "Distance per trip", "Cost per distance")
        trips, distance, cost = (self._term(name) for name in terms)
        return trips * distance * cost

    def _term(self, name):
        cell = contract(self.job, name)
        return Fraction(0) if blank(cell) else number(cell)

    def _offers(self, name):
        return [row for row in rows(self.job, "Contract prices") if same(row["Edging"], name)]

    def charged_m(self, name):
        """A24: net metres and the added length of every edge."""
        cell = contract(self.job, "Added length per edge")
        added = Fraction(0) if blank(cell) else length_mm(cell, unit_of(self.job, "Contract"))
        return self.edgings[name].net_m + added / 1000 * self.edgings[name].edges

    def invoice(self, sent):
        """A25."""
        if not sent:
            return Fraction(0)
        parts = self.tally.on_route(SENT_PART, sent)
        amounts = sum(self.amount(name, sent) + self.set_up(name) for name in sent)
        return max(self._term("Minimum charge"), amounts + self._term("Charge per part") * parts)

    def set_up(self, name):
        return next((number(o["Set-up"]) for o in self._offers(name) if not blank(o.get("Set-up"))), Fraction(0))

    def breaks(self, name):
        """[(from metres, price a metre)], the lowest holding from 0."""
        unit = unit_of(self.job, "Contract prices")
        table = []
        for offer in self._offers(name):
            start = Fraction(0) if blank(offer.get("From metres")) else metres(offer["From metres"], unit)
            table.append((start, price_a_metre(offer["Price"], unit)))
        table.sort()
        return [(Fraction(0), table[0][1]), *table[1:]]

    def amount(self, name, sent):
        """A24: what the metres of one edging cost."""
        charged, breaks = self.charged_m(name), self.breaks(name)
        if text(contract(self.job, "Breaks apply to")).lower() == "quantity above":
            ends = [start for start, _ in breaks[1:]] + [None]
            slices = ((s, charged if e is None else min(e, charged), p) for (s, p), e in zip(breaks, ends, strict=True))
            return sum((end - start) * price for start, end, price in slices if end > start)
        whole_order = text(contract(self.job, "Breaks count")).lower() == "whole order"
        reached = sum(self.charged_m(other) for other in sent) if whole_order else charged
        price = [p for start, p in breaks if start <= reached][-1]
        amount = charged * price
        if yes(contract(self.job, "Buy up")) and not whole_order:
            amount = min([amount, *(start * p for start, p in breaks if start > charged)])
        return amount
