"""A seed goes in; a random job as plain dicts comes out, always the same for the same seed, and always one that can be priced."""

from datetime import date
from decimal import Decimal
from random import Random

from tests.oracle.answer import answer
from tests.oracle.cells import blank
from tests.oracle.jobs import RefusedError
from tests.oracle.random_rules import BANDED_ROLES, draw_construction
from tests.oracle.random_shop import SHOP_SHEETS, Draw, draw_shop

CURRENCIES = ("EUR", "EUR", "USD", "GBP", "JPY", "JPY", "BHD", "BHD")
ROOMS = ("Kitchen", "Hall", "Utility room", "Bath")
RATES = (0, 5, 5.5, 7, 8.25, 10, 19, 20, 21)
SCHEDULES = (
    None,
    "100 % on delivery",
    "50 % deposit, 50 % on completion",
    "50 % deposit, 40 % before delivery, 10 % on completion",
    "33.3% deposit, 33.3% before delivery, 33.4% on completion",
    "10 % on order, 20 % at the start, 30 % before delivery, 40 % at the end",
)


def random_job(seed, most_cabinets=60):
    """The job of a seed."""
    return drawn(seed, most_cabinets)[0]


def drawn(seed, most_cabinets=60):
    """(the job of a seed, its answer); draws again, within the seed, what cannot be made or banded."""
    for attempt in range(200):
        job = _draw(Random(f"{seed} {attempt}"), seed, most_cabinets)
        for banding in (job["Job"].get("Banding"), "best"):
            job["Job"]["Banding"] = banding
            try:
                return job, answer(job)
            except RefusedError:
                continue
    raise AssertionError(f"seed {seed} gives no job that can be made")


def _draw(rng, seed, most_cabinets):
    draw = Draw(rng)
    job = draw.job
    job["file"] = f"job-{seed}.xlsx"
    job["style"] = rng.randrange(1_000_000) if draw.chance(0.8) else None
    draw.unit = "inch" if draw.chance(0.3) else "mm"
    job["shop book"] = []
    draw.shop_unit = draw.unit
    if draw.chance(0.4):
        own = {"Finishes", "Kinds", "Fittings", "Work", "Boards"}
        job["shop book"] = [name for name in SHOP_SHEETS if name not in own or draw.chance(0.75)]
        draw.shop_unit = "inch" if draw.chance(0.25) else "mm"
    draw.currency = rng.choice(CURRENCIES)
    draw_shop(draw)
    draw_construction(draw)
    rates = rng.sample(RATES, rng.choice((1, 2, 3)))
    _cabinets(draw, rates, most_cabinets)
    _loose_parts(draw, rates)
    _work(draw)
    _fittings(draw)
    _extras(draw, rates)
    _head(draw, rates)
    _decoys(draw)
    return job


def _decoys(draw):
    """A shop sheet in the job's own book wins over the one in shop.xlsx, so that one may say anything."""
    if draw.job["shop book"] and draw.chance(0.4):
        own = [name for name in ("Fittings", "Work", "Boards") if name not in draw.job["shop book"]]
        draw.job["decoys"] = {name: [{**row, "Price": 99, "Minutes": 99} for row in draw.job[name][:2]] for name in own}


def _cabinets(draw, rates, most):
    rng, t, table = draw.rng, draw.typist("Cabinets"), draw.job.setdefault("Cabinets", [])
    aim = rng.choice((0, 1, 1, 2, 3, 5, 8, 8, 12, 15, 20, 30, 60))
    left, typed_refs = min(aim, most), {room: draw.chance(0.7) for room in ROOMS}
    job_finish = rng.choice(draw.finishes) if draw.chance(0.4) else None
    draw.job["Job"] = {"Finish": job_finish}
    counts = dict.fromkeys(ROOMS, 0)
    while left > 0:
        qty = min(left, rng.choice((1, 1, 1, 2, 3, 6)))
        left -= qty
        room, kind = rng.choice(ROOMS), rng.choice(draw.kinds)
        counts[room] += 1
        high = rng.choice((400, 720, 715.5, 900, 1200, 1800, 2100))
        own = next((row for row in draw.job["Kinds"] if row["Kind"] == kind), {})

        def or_kind(column, value, own=own):
            return None if not blank(own.get(column)) and draw.chance(0.6) else value

        row = {
            "Ref": f"{room} {counts[room]}" if typed_refs[room] else None,
            "Room": room,
            "Kind": kind,
            "Qty": qty,
            "Width": t.length(rng.choice((300, 400, 450, 600, 612.5, 800, 900, 1000))),
            "Height": or_kind("Height", t.length(high)),
            "Depth": or_kind("Depth", t.length(rng.choice((250, 300, 350, 500, 560, 600)))),
            "Shelves": or_kind("Shelves", t.maybe(draw.about(0, 4), 0.8)),
            "Doors": or_kind("Doors", t.maybe(draw.about(0, 3), 0.7)),
            "Drawers": or_kind("Drawers", t.maybe(draw.about(0, 4), 0.5)),
            "Finish": None if job_finish and draw.chance(0.5) else rng.choice(draw.finishes),
            "Finished ends": rng.choice((None, None, "none", "left", "right", "both")),
            "Tax rate": t.percent(rng.choice(rates)) if draw.chance(0.4) else None,
            "Partitions": draw.about(0, 2),
            "Plinth height": _plinth(draw, t),
        }
        _front_heights(draw, row, high)
        table.append(row)


def _plinth(draw, t):
    """In one book a bare length; where Construction stands in a book of another unit, with its unit beside it."""
    if draw.unit == draw.typist("Construction").unit:
        return t.length(draw.rng.choice((100, 80, 150)))
    return f"{draw.rng.choice((100, 80, 150))} mm"


def _front_heights(draw, row, high):
    """Fronts that close the opening, in a book in mm where everything that they hang on is typed."""
    drawers, whole = row["Drawers"], isinstance(row["Height"], int)
    if not drawers or not whole or draw.unit != "mm" or not draw.chance(0.4):
        return
    heights = [draw.about(90, max(91, high // drawers)) for _ in range(drawers - 1)]
    last = high - 3 - 2 - 3 * (drawers - 1) - sum(heights)
    if last > 60:
        row["Front heights"] = ", ".join(str(one) for one in (*heights, last))


def _loose_parts(draw, rates):
    rng, t, table = draw.rng, draw.typist("Loose parts"), draw.job.setdefault("Loose parts", [])
    many = rng.choice((0, 0, 1, 2, 4, 7))
    for at in range(many or (0 if draw.job["Cabinets"] else 1)):
        by_role = draw.chance(0.5)
        row = {
            "Ref": f"loose {at + 1}",
            "Room": rng.choice((*ROOMS, None)),
            "Part": rng.choice(("filler", "panel", "shelf")),
        }
        row |= {"Qty": rng.choice((1, 1, 2, 5, 12)), "Length": t.length(rng.choice((200, 480, 733.5, 1000, 2200)))}
        row["Width"] = t.length(rng.choice((60, 120, 333, 600)))
        if by_role:
            role = rng.choice(("carcass", "front", "drawer"))
            row |= {"Finish": rng.choice(draw.finishes), "Board": role, "Edging": rng.choice(BANDED_ROLES)}
        else:
            row |= {
                "Board": rng.choice(draw.boards[rng.choice(("carcass", "front"))]),
                "Edging": rng.choice(draw.edgings),
            }
        for side in ("Front", "Back", "Left", "Right"):
            if draw.chance(0.5):
                row[side] = (
                    rng.choice(draw.edgings) if draw.chance(0.15) and not by_role else rng.choice(("x", "x", "X"))
                )
        row["Grain"] = rng.choice((None, None, "length", "any", "width"))
        row["Tax rate"] = t.percent(rng.choice(rates)) if draw.chance(0.3) else None
        row["Counts as"] = rng.choice((None, None, "door", "shelf", "drawer"))
        table.append(row)


def _of(draw, chance=0.35):
    """Of: blank, or a word of any sort that limits a count."""
    if not draw.chance(chance):
        return None
    boards = [name for names in draw.boards.values() for name in names]
    materials = [row["Material"] for row in draw.job["Edgings"] if row.get("Material")]
    kinds = draw.kinds if draw.job["Cabinets"] else []
    roles = ("carcass", "front", "drawer", "back")
    sorts = (kinds, draw.finishes, roles, boards, draw.edgings, draw.adhesives, materials)
    return draw.rng.choice(draw.rng.choice([sort for sort in sorts if sort]))


ALWAYS = ("job", "site trip", "sheet", "part", "m2", "cabinet", "door", "drawer", "shelf")
BY_HAND = ("job", "batch", "part", "edge", "metre")
SEND_OUT = ("order", "trip", "part", "metre")


def _work(draw):
    rng, t, table = draw.rng, draw.typist("Work"), draw.job.setdefault("Work", [])
    planned = [("", per) for per in rng.sample(ALWAYS, rng.randint(3, 9))]
    planned += [("", rng.choice(ALWAYS)) for _ in range(2)]
    planned += [("by hand", per) for per in rng.sample(BY_HAND, rng.randint(1, 5))]
    planned += [("send out", per) for per in rng.sample(SEND_OUT, rng.randint(1, 4))]
    during = [("by hand", "edge", "coating"), ("by hand", "metre", "coating"), ("by hand", "edge", "applying")]
    during += [("by hand", "metre", "applying")]
    planned += rng.sample(during, rng.choice((2, 3, 4)))
    for at, (route, per, *when) in enumerate(planned):
        small = per in ("edge", "metre")
        minutes = draw.about(0.1, 1.2, 2) if small else draw.about(0.3, 6, 1) if per == "part" else draw.about(2, 25, 1)
        ranged = draw.chance(0.2)
        table.append(
            {
                "Step": f"step {at + 1} {route or 'always'} {per}",
                "Stage": rng.choice(("cutting", "banding", "assembly", None)),
                "Route": route or None,
                "Per": per,
                "Of": _of(draw, 0.2 if when else 0.35),
                "Minutes": t.number(minutes),
                "Rating": t.maybe(rng.choice((80, 90, 100, 110, 125)), 0.3),
                "Allowance": t.maybe(t.percent(rng.choice((0, 5, 10, 15))), 0.3),
                "Low": t.number(round(minutes / 2, 3)) if ranged else None,
                "High": t.number(round(minutes * 2, 3)) if ranged else None,
                "During": when[0] if when else None,
                "Timed": rng.choice((None, "yes", "no")),
            }
        )


def _fittings(draw):
    rng, t, table = draw.rng, draw.typist("Fittings"), draw.job.setdefault("Fittings", [])
    inch = t.unit == "inch"
    hinges = "2 + (length > 36) + (length > 63)" if inch else "2 + (length > 900) + (length > 1600) + (length > 2000)"
    pool = [
        ("hinge", "", "door", hinges),
        ("handle", "", "door", None),
        ("slides", "", "drawer", 2),
        ("shelf pins", "", "shelf", "if(length > 30, 6, 4)" if inch else "if(length > 750, 6, 4)"),
        ("legs", "", "cabinet", "4 + 2 * round_down(width / 35)" if inch else "4 + 2 * round_down(width / 900)"),
        ("hangers", "", "cabinet", "2 + partitions" if draw.job["Cabinets"] else "2"),
        ("screws", "", "part", "round_up((length + width) / 12)" if inch else "round_up((length + width) / 300)"),
        ("oil", "", "m2", "0.2"),
        ("blade share", "", "sheet", "0.05"),
        ("skip", "", "job", 1),
        ("parking", "", "site trip", 1),
        ("rag", "by hand", "batch", 1),
        ("roller", "by hand", "job", None),
        ("sandpaper", "by hand", "metre", "0.1"),
        ("tape", "by hand", "edge", "0.25"),
        ("pad", "by hand", "part", "max(length, width) / min(length, width) / 100"),
        ("film", "send out", "part", "1"),
        ("pallet", "send out", "order", 1),
        ("toll", "send out", "trip", 2),
        ("edge guard", "send out", "metre", "0.5"),
    ]
    for name, route, per, number in rng.sample(pool, rng.randint(0, 12)):
        row = {"Item": name, "Route": route or None, "Per": per, "Of": _of(draw), "Number": number}
        row |= {"Price": draw.money(draw.about(0.05, 6, 2), 1), "Pack": t.maybe(10, 0.3), "On hand": t.maybe(5, 0.2)}
        table.append(row)


def _extras(draw, rates):
    rng, t, table = draw.rng, draw.typist("Extras"), draw.job.setdefault("Extras", [])
    for at in range(rng.choice((0, 0, 1, 2, 3))):
        with_price = draw.chance(0.5)
        table.append(
            {
                "Ref": f"extra {at + 1}",
                "Room": rng.choice((*ROOMS, None)),
                "Words for the quote": "worktop, fitted",
                "Qty": Decimal("2.5") if with_price and draw.chance(0.15) else rng.choice((1, 2, 3)),
                "Cost each": draw.money(draw.about(5, 300, 1)) if not with_price or draw.chance(0.5) else None,
                "Minutes each": t.maybe(draw.about(5, 90), 0.5),
                "Price each": draw.money(draw.about(20, 500, 1)) if with_price else None,
                "Tax rate": t.percent(rng.choice(rates)) if draw.chance(0.4) else None,
            }
        )
    names = draw.finishes
    options = draw.job.setdefault("Options", [])
    if len(names) > 1 and draw.chance(0.5):
        for old, new in {names[0]: names[1], names[-1]: names[0]}.items():
            options.append({"Option": "the other way", "Replace finish": old, "With finish": new})
        if draw.chance(0.5):
            options.append({"Option": "all plain", "Replace finish": names[1], "With finish": names[0]})


def _head(draw, rates):
    rng, t = draw.rng, draw.typist("Job")
    head = draw.job["Job"]
    shop = draw.job["Shop"]
    either = shop if draw.chance(0.2) and draw.unit == draw.shop_unit else head  # a row of Job may stand in Shop
    head |= {"Job name": "Harbour house", "Quote number": f"Q-{draw.about(1, 999)}"}
    head["Quote date"] = rng.choice(("2031-02-03", date(2031, 2, 3)))
    head |= {"Client": "A. Client", "Client address": "1 Long Street", "Prepared by": "the shop"}
    head["Units"] = draw.unit if draw.unit == "inch" or draw.job["shop book"] or draw.chance(0.7) else None
    either["Currency"] = draw.currency
    either["Tax name"] = "Sales tax"
    either["Tax rate"] = t.percent(rates[0])
    head["Prices shown"] = rng.choice((None, "without tax", "with tax", "both"))
    discounts = (None, None, t.signed_percent(rng.choice((2.5, 5, 10, 33.3))), draw.money(draw.about(1, 9, 2)))
    head["Discount"] = rng.choice(discounts)
    head["Delivery charge"] = draw.money(draw.about(20, 200)) if draw.chance(0.6) else None
    head["Delivery tax rate"] = t.percent(rng.choice((*RATES, 0))) if draw.chance(0.5) else None
    either["Margin" if draw.chance(0.6) else "Markup"] = t.percent(rng.choice((0, 12.5, 20, 25, 33.3, 45)))
    either["Contingency"] = t.maybe(t.percent(rng.choice((0, 2, 5, 7.5))), 0.6)
    head["Least price"] = draw.money(draw.about(50, 3000)) if draw.chance(0.2) else None
    multiple = {"JPY": (100, 10), "BHD": ("0.005", 1)}.get(draw.currency, (1, 5, 10, "0.05"))
    if draw.chance(0.3):
        head["Round total to"] = t.number(rng.choice(multiple))
    head["Site trips"] = t.maybe(draw.about(0, 4), 0.6)
    either["Payment schedule"] = rng.choice(SCHEDULES)
    head["Working days available"] = draw.about(3, 20) if draw.chance(0.4) else None
    head["Banding"] = _banding(draw)


def _banding(draw):
    way = draw.rng.random()
    if way < 0.6:
        return draw.rng.choice((None, "best", "best"))
    if way < 0.85:
        return draw.rng.choice(("by hand", "send out"))
    return ", ".join(draw.rng.sample(draw.edgings, draw.rng.randint(1, len(draw.edgings))))
