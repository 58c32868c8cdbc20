"""A job as plain dicts goes in; a dict of the shape of estimate.json comes out, every number exact.

Where the rules are silent, this is what a careful shop owner would expect:

1. A blank Ref of a cabinet is its room and the number of its row among the room's rows ("Kitchen 4").
2. A rule reckons in the unit of the book in which it stands: lengths come to it in that unit, sizes leave it in that
   unit. A bare number in a further column of Cabinets is taken as it is when Construction stands in a book of another unit.
3. front_height: the pieces of a row that names it are shared out over the drawers, top to bottom.
4. if(a, b, c) works out only the branch that it takes. A part with Count 0 has no size worked out.
5. Several sheet sizes with whole sheets and an expected yield: one size is used for all, the one whose sheets (less those
   on hand) cost least; a tie goes to the earlier row. `bound` is then only held to lie between every bound and the sheets.
6. Charge blank on Boards: whole sheets; on Adhesives: whole packs. `packs` is the packs opened, however they are charged.
7. An edging with a roll length and Charge metres: bought_m is the need, not rolled up.
8. Prices and break metres of Contract prices are per foot where the book is in inches; minutes per metre stay per metre.
9. Relevant cost holds all the edging that the shop buys on that plan, also when it buys the same on every plan.
10. A batch is of one edging name, whatever its widths. Metres of a batch are net metres. start_min is B0.
11. Of on cabinets, jobs and site trips: a cabinet matches by its kind, its finish or any matching part.
12. Of an edging, adhesive or material on an always count: parts with such an edge, whoever bands it.
13. Coating steps count only the edges whose edging names an adhesive; applying and other steps count all.
14. Hinges and other rules of Fittings see finished, not cut, sizes.
15. Buy up does nothing where breaks count the whole order. Which break is reached is decided on charged metres.
16. Cost each of an Extra enters the total, and the price, as a cost of its own (cost.extras).
17. Extras' minutes carry no allowance. Prime cost of an Extra: cost each + minutes each x direct rate.
18. Fittings per site trip are left out of a line's prime cost, like those per job.
19. Least price bounds the target; extras with a price, discount and delivery come after.
20. A line of an Extra with a fractional Qty is rounded once: qty x price.
21. An option replaces finishes in cabinets, in loose parts and in Job > Finish, all at once, and keeps Job > Banding.
22. Plans that are not possible carry no figures that matter; only that they are not possible.
23. No delivery charge: no rate of its own in the tax.
24. Blank coats are two on the core and one on the strip (common practice); a blank Number of Fittings is 1; a blank
    Payment schedule is the form's own three instalments.
25. Payback is none when the life of the machine ends before it. A blank Alternative per metre is left unjudged.
26. counts: a count of a route bears the route's name before its own ("by hand edge"), for part and metre are both.
27. Of on batches: a batch counts when it holds an edge that matches, not when only another batch of its edging does.
28. The open time counts from the end of coating the edge, as the drying does.
"""

from fractions import Fraction
from typing import NamedTuple

from tests.oracle import price
from tests.oracle.banding import Banding, edging_price, edgings_of
from tests.oracle.boards import boards_of
from tests.oracle.cells import blank, is_share, number, same, share, text
from tests.oracle.counting import per, route, standard_minutes, steps
from tests.oracle.drying import batches_of
from tests.oracle.jobs import item, rates, rows
from tests.oracle.machine import machine
from tests.oracle.parts import lines_of, tax_rate

LABOUR_OF_A_LINE = ("part", "cabinet", "door", "drawer", "shelf")
FITTINGS_OF_A_LINE = (*LABOUR_OF_A_LINE, "m2")


class Money(NamedTuple):
    """Money on the quote: compared exactly, and printed at the minor unit."""

    amount: Fraction
    places: int


class AtLeast(NamedTuple):
    """A proven bound that the program may better, up to its sheets."""

    low: int
    high: int


def answer(job, given=None, swap=None, with_options=True):
    """The whole estimate. `given`: the program's sheets of boards whose sheets come from a cutting plan."""
    lines = lines_of(job, swap)
    boards = boards_of(job, lines, given)
    edgings = edgings_of(job, lines)
    batches, broken = batches_of(job, lines, edgings)
    banding = Banding(job, lines, boards, edgings, batches, broken)
    plans = banding.plans()
    best, chosen = banding.best(plans), banding.chosen(plans)
    minutes = _minutes(job, banding, chosen)
    cost, base = _cost(job, boards, banding, chosen, minutes)
    quote = _price(job, lines, boards, banding, base)
    found = {
        "job": {name: text(item(job, title)) for name, title in NAMES_OF_JOB},
        "outcome": "priced",
        "parts": _parts(lines),
        "boards": {name: _board(board) for name, board in boards.items()},
        "edgings": {name: _edging(banding, name, chosen) for name in edgings},
        "adhesives": chosen.adhesives,
        "counts": _counts(banding, chosen),
        "minutes": minutes,
        "batches": [batch.answer() for name in chosen.kept for batch in batches[name]],
        "plans": [_plan(plan) for plan in plans],
        "best": list(best.sent),
        "chosen": list(chosen.sent),
        "cost": cost,
        "price": quote,
    }
    if with_options:
        found["options"] = _options(job, quote, given)
        worth = machine(job)
        found |= {"machine": worth} if worth else {}
    return found


NAMES_OF_JOB = (("name", "Job name"), ("quote_number", "Quote number"), ("currency", "Currency"))


def _parts(lines):
    listed = []
    for line in lines:
        for piece in line.pieces:
            listed.append(
                {
                    "ref": line.ref,
                    "part": piece.name,
                    "count": piece.count * line.qty,
                    "length_mm": piece.length_mm,
                    "width_mm": piece.width_mm,
                    "cut_length_mm": piece.cut_length_mm,
                    "cut_width_mm": piece.cut_width_mm,
                    "board": piece.board,
                    "edging": piece.edging,
                    "banded": {edge.side.lower(): edge.edging for edge in piece.edges},
                }
            )
    area = sum(piece.cut_area_m2 * piece.count * line.qty for line in lines for piece in line.pieces)
    return {"count": sum(one["count"] for one in listed), "area_m2": Fraction(area), "list": listed}


def _board(board):
    return {
        "parts": board.parts,
        "area_m2": Fraction(board.area_m2),
        "sheets": board.sheets,
        "bound": board.bound if board.by_rule and board.sizes == 1 else AtLeast(board.bound, board.sheets),
        "cost": Fraction(board.cost),
    }


def _edging(banding, name, chosen):
    edging = banding.edgings[name]
    bought = name in chosen.kept or not banding.supplies
    return {
        "edges": edging.edges,
        "net_m": edging.net_m,
        "strip_m": edging.strip_m,
        "bought_m": edging.bought_m if bought else Fraction(0),
        "cost": edging.cost if bought else Fraction(0),
    }


COUNTED = {
    "": ("job", "site trip", "sheet", "part", "m2", "cabinet", "door", "drawer", "shelf"),
    "by hand": ("job", "batch", "part", "edge", "metre"),
    "send out": ("order", "trip", "part", "metre"),
}


def _counts(banding, chosen):
    """Every count of Work over the whole job; a count of a route bears the route's name before its own."""
    found = {}
    for on_route, words in COUNTED.items():
        for word in words:
            row = {"Route": on_route, "Per": word}
            edgings = chosen.kept if on_route == "by hand" else chosen.sent
            many = banding.tally.on_route(row, edgings) if on_route else banding.tally.always(row)
            found[f"{on_route} {word}".strip()] = many
    return found


def _plan(plan):
    if not plan.possible:
        return {"sent": list(plan.sent), "possible": False}
    names = ("possible", "relevant_cost", "edging", "contractor", "trips", "fittings", "by_hand_min", "send_out_min")
    return {"sent": list(plan.sent), "adhesive": Fraction(plan.adhesive), **{n: getattr(plan, n) for n in names}}


def _unpriced_extras(job):
    return [row for row in rows(job, "Extras") if blank(row.get("Price each"))]


def _each(row, column):
    return Fraction(0) if blank(row.get(column)) else number(row[column])


def _minutes(job, banding, chosen):
    by_step, always, by_hand, send_out = {}, Fraction(0), Fraction(0), Fraction(0)
    for step in steps(job):
        if route(step) == "":
            minutes = banding.tally.always(step) * standard_minutes(job, step)
            always += minutes
        else:
            minutes = banding.step_min(step, chosen.sent, chosen.kept)
            by_hand += minutes if route(step) == "by hand" else 0
            send_out += minutes if route(step) == "send out" else 0
        by_step[text(step["Step"])] = Fraction(minutes)
    always += sum(_each(row, "Qty") * _each(row, "Minutes each") for row in _unpriced_extras(job))
    return {
        "steps": by_step,
        "always": always,
        "by_hand": by_hand,
        "send_out": send_out,
        "total": always + by_hand + send_out,
    }


def _cost(job, boards, banding, chosen, minutes):
    direct, overhead = rates(job)
    always = [row for row in rows(job, "Fittings") if route(row) == ""]
    fittings = sum(banding.tally.always(row) * number(row["Price"]) for row in always)
    extras = sum(_each(row, "Qty") * _each(row, "Cost each") for row in _unpriced_extras(job))
    cost = {
        "boards": Fraction(sum(board.cost for board in boards.values())),
        "edging": chosen.edging,
        "adhesive": Fraction(chosen.adhesive),
        "fittings": Fraction(fittings + chosen.fittings),
        "contractor": chosen.contractor,
        "trips": chosen.trips,
        "labour": minutes["total"] / 60 * direct,
        "overhead": minutes["total"] / 60 * overhead,
        "extras": Fraction(extras),
    }
    cost["total"] = sum(cost.values())
    margin, markup = item(job, "Margin"), item(job, "Markup")
    least = item(job, "Least price")
    cost["contingency"], cost["base"], wanted = price.target(
        cost["total"],
        share(item(job, "Contingency")),
        None if blank(margin) else share(margin),
        None if blank(markup) else share(markup),
        Fraction(0) if blank(least) else number(least),
    )
    return cost, wanted


def _primes(job, lines, boards, banding):
    """A31: the prime cost of one of every cabinet and loose part row."""
    direct, _ = rates(job)
    tally = banding.tally
    labour = [s for s in steps(job) if route(s) == "" and per(s) in LABOUR_OF_A_LINE]
    fittings = [f for f in rows(job, "Fittings") if route(f) == "" and per(f) in FITTINGS_OF_A_LINE]
    for line in lines:
        prime = Fraction(0)
        for piece in line.pieces:
            strips = sum(edge.strip_mm / 1000 * edging_price(job, edge.row) for edge in piece.edges)
            prime += piece.count * (piece.cut_area_m2 * boards[piece.board].a_m2 + strips)
        prime += sum(tally.each_in_line(row, line) * number(row["Price"]) for row in fittings)
        prime += sum(tally.each_in_line(s, line) * standard_minutes(job, s) for s in labour) / 60 * direct
        yield prime


def _lines(job, lines, boards, banding, wanted, places):
    """[(ref, qty, price for one, rate in percent)] in workbook order, extras last."""
    direct, _ = rates(job)
    aimed = [(line.qty, prime) for line, prime in zip(lines, _primes(job, lines, boards, banding), strict=True)]
    for row in _unpriced_extras(job):
        aimed.append((number(row["Qty"]), _each(row, "Cost each") + _each(row, "Minutes each") / 60 * direct))
    units = iter(price.unit_prices(wanted, aimed, places))
    for line in lines:
        yield line.ref, Fraction(line.qty), next(units), line.tax_rate
    for row in rows(job, "Extras"):
        unit = next(units) if blank(row.get("Price each")) else number(row["Price each"])
        yield text(row["Ref"]), number(row["Qty"]), unit, tax_rate(job, row)


def _price(job, lines, boards, banding, wanted):
    places = price.places_of(text(item(job, "Currency")))

    def money(amount):
        return Money(Fraction(amount), places)

    listed = list(_lines(job, lines, boards, banding, wanted, places))
    nets = [(price.rounded(qty * unit, places), rate) for _, qty, unit, rate in listed]
    discount = _discount(item(job, "Discount"), sum(net for net, _ in nets), places)
    delivery = _delivery(job)
    totals = price.document(nets, discount, delivery, places)
    multiple = item(job, "Round total to")
    rounding = Fraction(0) if blank(multiple) else price.to_a_multiple(totals["gross"], number(multiple))
    gross = totals["gross"] + rounding
    parts = _schedule(item(job, "Payment schedule"))
    amounts = price.largest_remainder(gross, [part for part, _ in parts], places)
    return {
        "target": wanted,
        "lines": [
            {"ref": ref, "qty": qty, "unit": money(unit), "net": money(net), "tax_rate": rate}
            for (ref, qty, unit, rate), (net, _) in zip(listed, nets, strict=True)
        ],
        "sum_lines": money(totals["sum_lines"]),
        "discount": money(discount),
        "delivery": money(delivery[0] if delivery else 0),
        "net": money(totals["net"]),
        "tax": [{"rate": rate, "base": money(base), "tax": money(tax)} for rate, base, tax in totals["tax"]],
        "tax_total": money(totals["tax_total"]),
        "rounding": money(rounding),
        "gross": money(gross),
        "instalments": [
            {"words": words, "amount": money(amount)} for (_, words), amount in zip(parts, amounts, strict=True)
        ],
    }


def _discount(cell, total, places):
    if blank(cell):
        return Fraction(0)
    return price.rounded(total * share(cell), places) if is_share(cell) else number(cell)


def _delivery(job):
    charge, rate = item(job, "Delivery charge"), item(job, "Delivery tax rate")
    if blank(charge) or not number(charge):
        return None
    return number(charge), share(item(job, "Tax rate") if blank(rate) else rate) * 100


USUAL_SCHEDULE = "50 % deposit, 40 % before delivery, 10 % on completion"


def _schedule(cell):
    """[(percent, words)] of `50 % deposit, 40 % before delivery, 10 % on completion`."""
    parts = []
    for part in (text(cell) or USUAL_SCHEDULE).split(","):
        percent, _, words = part.partition("%")
        parts.append((number(percent), words.strip()))
    return parts


def _options(job, quote, given):
    names = list(dict.fromkeys(text(row["Option"]) for row in rows(job, "Options")))
    planned = any(blank(row.get("Expected yield")) for row in rows(job, "Boards"))  # the option's sheets are not known
    found = []
    for name in names:
        swap = {row["Replace finish"]: row["With finish"] for row in rows(job, "Options") if same(row["Option"], name)}
        gross = answer(job, given, swap, with_options=False)["price"]["gross"]
        difference = gross.amount - quote["gross"].amount
        known = {"gross": gross, "difference": Money(difference, gross.places)}
        found.append({"option": name, **({} if planned else known)})
    return found
