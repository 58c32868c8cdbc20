"""The figures on paper that stand nowhere as they are: an estimate and its estimate.json in; each with its sentence and its kind out.

Every one is a sum, a difference, a multiple or a share of figures in estimate.json and the workbook, or a round figure on an axis.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from estimator.model.exact import Fraction
from estimator.model.records import Cabinet
from estimator.model.results import Estimate

M_PER_FOOT = Fraction(3048, 10000)
KG_PER_LB = Fraction("0.45359237")
LITRES_PER_GALLON = Fraction("3.785411784")


def sums(estimate: Estimate, data: Mapping[str, Any]) -> Iterator[tuple[str, Fraction, str]]:
    """What is printed though it stands nowhere as it is: its sentence, the figure, how it is printed."""
    yield from _money_sums(estimate, data)
    yield from _banding_sums(estimate, data)
    yield from _bought_sums(estimate, data)
    yield from _bench_sums(estimate, data)
    yield from _saw_sums(estimate, data)
    for source, share in (("adding 20% leaves 16.7%", Fraction(1, 6)), ("the usual example", Fraction(1, 5)), ("this job", Fraction(1))):
        yield source, share, "share"
    for tick in _ticks(estimate):
        yield "a round figure on an axis", tick, "count"
    for half in range(7):
        yield "an axis", Fraction(half, 2), "share"
    for number in (8, 9, 10, 18, 25, 35, 78, 1, 2):
        yield "the words of the papers: jobs of ten, kg of a sheet, mg of dust", Fraction(number), "count"
    for number in (3, 4, 55, 75, 170):
        yield "the words of an inch job: a sheet of 3/4 inch, pounds", Fraction(number), "count"


def _ticks(estimate: Estimate) -> Iterator[Fraction]:
    """Round figures on the axes of the plots, up to a little more than what is drawn."""
    decision, machines = estimate.decision, [one for one in (estimate.machine, *estimate.more_machines) if one and one.curve]
    tops = [max(y or Fraction(0) for one in decision.curve for y in (one.by_hand, one.sent_out, one.best))] if decision else []
    for machine in machines:
        ways = [y or Fraction(0) for one in machine.curve for y in (one.by_hand, one.sent_out, one.best)]
        for foot in (Fraction(1), M_PER_FOOT):
            tops += [machine.curve[-1].metres_a_year / foot, 3 * max(ways) * foot, max(one.machine for one in machine.curve) * foot]
    for top in tops:
        for step in (Fraction(10) ** power * times for power in range(-3, 5) for times in (1, 2, 5)):
            if 3 < top / step < 11:
                yield from (step * number for number in range(int(top / step) + 2))
    for batch in estimate.batches:
        yield from (Fraction(60 * number) for number in range(int(batch.elapsed_min // 60) + 2))
    if estimate.glue_day:
        yield from map(Fraction, range(24))


def _money_sums(estimate: Estimate, data: Mapping[str, Any]) -> Iterator[tuple[str, Fraction, str]]:
    cost, net = data["cost"], Fraction(data["price"]["net"])
    spent = Fraction(cost["base"]) + Fraction(cost["extras_at_own_price"])
    yield "cost: with contingency and the extras at their own price", spent, "amount"
    yield "profit: net less cost", net - spent, "amount"
    yield "profit of the price", (net - spent) / net, "share"
    yield "profit of the cost", (net - spent) / spent, "share"
    for name in cost:
        yield f"{name} of the price", Fraction(cost[name]) / net, "share"
    cabinets = [one for one in estimate.job.cabinets if isinstance(one, Cabinet)]
    refs = {one.ref for one in cabinets}
    lines = sum((Fraction(one["net"]) for one in data["price"]["lines"] if one["ref"] in refs), start=Fraction(0))
    many, wide = sum(one.qty for one in cabinets), sum((one.qty * one.width_mm for one in cabinets), start=Fraction(0))
    yield "the cabinets' lines together", lines, "amount"
    yield "a cabinet: their lines over how many", lines / many, "amount"
    for unit in (Fraction(1000), 1000 * M_PER_FOOT):
        yield "a running metre or foot: their lines over their widths", lines / (wide / unit), "amount"
        yield "the cabinets' widths together", wide / unit, "measure"
        yield "the cabinets' widths together", wide / unit, "count"
    hourly = Fraction(data["on_paper"]["rates"]["direct"]) + Fraction(data["on_paper"]["rates"]["overhead"])
    untimed = [one.step.step for one in estimate.minutes.steps if not one.step.timed]
    money = sum((Fraction(data["minutes"]["steps"][name]) for name in untimed), start=Fraction(0)) / 60 * hourly
    total = Fraction(cost["total"])
    for source, value in (("untimed work: its minutes at both rates", money), *_priced_sums(estimate, data)):
        yield source, value, "amount"
        yield f"{source}, of the cost", value / total, "share"
        yield f"{source}, of the price", value / net, "share"


def _priced_sums(estimate: Estimate, data: Mapping[str, Any]) -> Iterator[tuple[str, Fraction]]:
    """What was bought at a price without a date, and at an old one: sums of costs in estimate.json."""
    from estimator.papers.owner.paper import owner_paper
    from estimator.papers.owner.remarks_page import old_money, undated_money

    bought = Fraction(0)
    for one in (*data["boards"].values(), *data["edgings"].values(), *data["adhesives"].values(), *data["on_paper"]["fittings"].values()):
        bought += Fraction(one["cost"])
    paper = owner_paper(estimate)
    for source, value in (("prices without a date", undated_money(paper)), ("old prices", old_money(paper))):
        assert 0 <= value <= bought
        yield source, value


def _banding_sums(estimate: Estimate, data: Mapping[str, Any]) -> Iterator[tuple[str, Fraction, str]]:
    costs = [Fraction(plan["relevant_cost"]) for plan in data["plans"] if plan["possible"]]
    named = {plan.sent: plan.relevant_cost for plan in estimate.banding.plans if plan.relevant_cost is not None}
    chosen, best = estimate.banding.chosen.relevant_cost, estimate.banding.best.relevant_cost
    assert chosen in named.values()
    assert len(costs) == len(named)
    for cost in named.values():
        yield "what one way costs more than another", abs(cost - (chosen or 0)), "amount"
        yield "what one way costs more than another", abs(cost - (best or 0)), "amount"
    if data["decision"]:
        for column in ("by_hand", "send_out", "best", "chosen"):
            lines = [(one["line"], Fraction(one[column] or 0)) for one in data["decision"]["side_by_side"][:-1]]
            for kind in (
                ("contractor by the metre", "contractor's set-ups", "contractor's charge for parts", "up to the minimum charge"),
                ("edging", "adhesive", "sundries by hand", "sundries of sending out"),
                ("edges spoilt here", "parts spoilt away"),
            ):
                yield "a kind of the bars: its lines together", sum((v for name, v in lines if name in kind), start=Fraction(0)), "amount"
        yield "hours freed, either way", abs(Fraction(data["decision"]["freed_hours"])), "measure"
    edges, metres = sum(one["edges"] for one in data["edgings"].values()), Fraction(0)
    for one in data["edgings"].values():
        metres += Fraction(one["net_m"])
    yield "edges together", Fraction(edges), "count"
    yield "edges that are sent together", Fraction(sum(data["edgings"][name]["edges"] for name in data["chosen"])), "count"
    yield "metres together", metres, "measure"
    for machine in [*([estimate.job.machine] if estimate.job.machine else []), *estimate.job.more_machines]:
        yield "a machine with its installation", machine.price + machine.installation, "amount"
    yield "waiting of all batches together", sum((Fraction(one["wait_min"]) for one in data["batches"]), start=Fraction(0)), "whole"


def _bought_sums(estimate: Estimate, data: Mapping[str, Any]) -> Iterator[tuple[str, Fraction, str]]:
    """The buy list: what is needed is told; what is missing is that less what is on hand, in whole rolls and packs."""
    for board in estimate.job.boards:
        if board.density_kg_m3:
            volume_m3 = board.sheet_length_mm * board.sheet_width_mm * board.thickness_mm / 10**9
            yield "mass of a sheet: its volume by its density", volume_m3 * board.density_kg_m3, "measure"
            yield "the same in pounds of 0.45359237 kg", volume_m3 * board.density_kg_m3 / KG_PER_LB, "whole"
        for told in data["boards"].values():
            for size in told["sizes"]:
                yield "sheets to buy", Fraction(max(size["sheets"] - board.on_hand, 0)), "count"
                yield "sheets taken from stock", Fraction(min(size["sheets"], board.on_hand)), "count"
    wanted = [(row, use.strip_m * (1 + row.spare_share)) for one in estimate.edgings for use in one.widths for row in [use.edging]]
    wanted += [(row, use.strip_m * (1 + row.spare_share)) for one in estimate.banding.bought for use in one.widths for row in [use.edging]]
    for row, needed in wanted:
        missing = max(needed - row.on_hand_m, Fraction(0))
        yield "edging needed: its strips and the spare", needed, "measure"
        yield "edging to buy", missing, "measure"
        yield "strips without the spare", needed / (1 + row.spare_share), "measure"
        if row.roll_length_m:
            yield "rolls to buy", Fraction(-(-missing // row.roll_length_m)), "count"
            yield "a roll", row.roll_length_m, "whole"
            yield "a roll", row.roll_length_m / M_PER_FOOT, "whole"
    for use in estimate.banding.adhesives:
        for litres in (use.litres, use.adhesive.on_hand_litres, use.adhesive.pack_litres):
            yield "a volume in US gallons", litres / LITRES_PER_GALLON, "measure"
            yield "a volume in US gallons that are whole but for a hair", Fraction(round(litres / LITRES_PER_GALLON)), "count"
            yield "a volume in fluid ounces, 128 a gallon", litres / LITRES_PER_GALLON * 128, "measure"
            yield "a volume in whole fluid ounces", litres / LITRES_PER_GALLON * 128, "whole"
        litres = Fraction(data["adhesives"][use.adhesive.adhesive]["litres"])
        yield "packs of adhesive to buy", -(-max(litres - use.adhesive.on_hand_litres, Fraction(0)) // use.adhesive.pack_litres) + Fraction(0), "count"
    for fitting in estimate.fittings:
        number = Fraction(data["on_paper"]["fittings"][fitting.fitting.item]["number"])
        missing = max(number - fitting.fitting.on_hand, Fraction(0))
        yield "a fitting to buy", missing, "count"
        if fitting.fitting.pack:
            yield "packs to buy", -(-missing // fitting.fitting.pack) + Fraction(0), "count"


def _bench_sums(estimate: Estimate, data: Mapping[str, Any]) -> Iterator[tuple[str, Fraction, str]]:
    parts = data["parts"]["list"]
    for part, told in zip(estimate.parts, parts, strict=True):
        yield "pieces in one cabinet", Fraction(told["count"], part.qty), "count"
        yield "edges of a part", Fraction(told["count"] * len(told["banded"])), "count"
        for number in range(1, told["count"] + 1):
            yield "one of several alike", Fraction(number), "count"
        for band in part.bands:
            assert band.length_mm in (Fraction(told["length_mm"]), Fraction(told["width_mm"]))
            yield "an edge: a side of its part", band.length_mm, "length"
            yield "a strip: the edge and its overhang at both ends", band.length_mm + 2 * band.edging.overhang_mm, "length"
    owners: dict[int, int] = {}
    for part in estimate.parts:
        owners[id(part.owner)] = owners.get(id(part.owner), 0) + part.count_each
    for pieces in owners.values():
        yield "all pieces of one cabinet", Fraction(pieces), "count"
    for many in (len(estimate.job.cabinets), len(estimate.job.loose_parts), sum(one.qty for one in estimate.job.cabinets)):
        yield "rows, and how many of them", Fraction(many), "count"
    yield "loose parts together", Fraction(sum(one.qty for one in estimate.job.loose_parts)), "count"
    yield "sheets together", Fraction(sum(one["sheets"] for one in data["boards"].values())), "count"
    yield "boards", Fraction(len(data["boards"])), "count"
    yield "batches", Fraction(len(data["batches"])), "count"
    stages: dict[str, Fraction] = {"extras": Fraction(data["minutes"]["extras"])}
    for one in estimate.minutes.steps:
        stages[one.step.stage] = stages.get(one.step.stage, Fraction(0)) + Fraction(data["minutes"]["steps"][one.step.step])
    for name, minutes in stages.items():
        yield f"hours of the stage {name}", minutes / 60, "measure"
    for tasks in [data["glue_day"]["tasks"]] if data["glue_day"] else []:
        for one in tasks:
            start, end = Fraction(one["start_min"]), Fraction(one["end_min"])
            yield "minutes of a task", end - start, "whole"
            yield "minutes of a task by the clock", Fraction(round(end) - round(start)), "count"


def _saw_sums(estimate: Estimate, data: Mapping[str, Any]) -> Iterator[tuple[str, Fraction, str]]:
    """Numbers of diagrams, cuts and strips that are counted, and where a piece lies."""
    for name, patterns in data["on_paper"]["saw"].items():
        told = data["boards"][name]
        yield "diagrams of a board", Fraction(len(patterns)), "count"
        for number, (pattern, sheet) in enumerate(zip(patterns, told["plan"] or told["saw_plan"], strict=True), start=1):
            yield "the number of a diagram", Fraction(number), "count"
            yield "pieces of a sheet", Fraction(len(sheet["parts"])), "count"
            for at in range(1, len(pattern["cuts"]) + 1):
                yield "the number of a cut", Fraction(at), "count"
            for piece in sheet["parts"]:
                yield "where a piece lies", Fraction(piece["x"]), "length"
                yield "where a piece lies", Fraction(piece["y"]), "length"
    for roll in data["rolls"]:
        for cut in roll["cuts"]:
            strips = [Fraction(one) for one in cut["strips"]]
            yield "strips of a roll alike", Fraction(len(strips)), "count"
            for one in strips:
                yield "a strip", one, "length"
                yield "strips alike", Fraction(strips.count(one)), "count"
            yield "a roll or its end", Fraction(cut["length"]) / 1000, "measure"
            yield "left of a roll", (Fraction(cut["length"]) - sum(strips)) / 1000, "measure"
