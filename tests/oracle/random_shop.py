"""Chance goes in; the shop sheets of a random job come out: boards, edgings, glue, work, contract, prices."""

from dataclasses import dataclass, field
from decimal import Decimal
from random import Random

from tests.oracle.price import places_of
from tests.oracle.typing_ways import Typist

SHOP_SHEETS = (
    "Machine",
    "Shop",
    "Boards",
    "Edgings",
    "Adhesives",
    "Fittings",
    "Work",
    "Contract",
    "Contract prices",
    "Construction",
    "Kinds",
    "Finishes",
)
COLOURS = ("white", "oak", "slate", "sand", "walnut", "cream", "moss", "clay", "ash", "brick")
MATERIALS = ("plastic", "wood veneer", "pre-glued veneer", "solid lipping")
MACHINES = 0.3  # share of the jobs with a Machine sheet: 0.3 once the program reckons what a machine is worth
MONEY_FACTOR = {"JPY": 150, "BHD": Decimal("0.4")}


@dataclass
class Draw:
    """What one random job is drawn with."""

    rng: Random
    job: dict = field(default_factory=dict)
    unit: str = "mm"
    shop_unit: str = "mm"
    currency: str = "EUR"
    boards: dict = field(default_factory=dict)  # use -> names
    edgings: list = field(default_factory=list)
    adhesives: list = field(default_factory=list)
    kinds: list = field(default_factory=list)
    finishes: list = field(default_factory=list)

    def typist(self, sheet):
        in_shop_book = sheet in self.job.get("shop book", ())
        return Typist(self.rng, self.shop_unit if in_shop_book else self.unit)

    def chance(self, share):
        return self.rng.random() < share

    def money(self, amount, more_places=0):
        """About so much money of the euro's size, at the minor unit (or finer, for a price by the metre)."""
        factor = MONEY_FACTOR.get(self.currency, 1)
        step = Decimal(1).scaleb(-(places_of(self.currency) + more_places))
        found = (Decimal(str(amount)) * factor).quantize(step)
        found = max(found, step)
        return int(found) if found == found.to_integral() else found.normalize()

    def about(self, low, high, places=0):
        found = round(self.rng.uniform(low, high), places)
        return int(found) if places == 0 else found


def draw_shop(draw):
    """Fill in every shop sheet of the draw's job, except Construction, Kinds and Finishes."""
    _shop(draw)
    _boards(draw)
    _adhesives(draw)
    _edgings(draw)
    _contract(draw)
    _machine(draw)


def _shop(draw):
    rng, t = draw.rng, draw.typist("Shop")
    shop = draw.job["Shop"] = {"Shop name": "Quay Lane Cabinets"}
    if draw.job["shop book"] and (draw.shop_unit == "inch" or draw.chance(0.5)):
        shop["Units"] = draw.shop_unit
    built_up = rng.choice(("none", "direct", "overhead", "both"))
    if built_up in ("none", "overhead"):
        shop["Direct rate"] = draw.money(draw.about(18, 60))
    if built_up in ("none", "direct"):
        shop["Overhead rate"] = draw.money(draw.about(5, 40))
    if built_up != "none" or draw.chance(0.1):
        shop["Wage"] = draw.money(draw.about(12, 40, 1))
        shop["Paid hours"] = draw.about(1700, 2100)
        shop["On-cost"] = t.maybe(t.percent(draw.about(10, 60, 1)), 0.9)
        shop["Productive hours"] = draw.about(1100, 1650)
        shop["Workers"] = draw.about(1, 5)
        shop["Overhead a year"] = draw.money(draw.about(9000, 60000))
    shop["Allowance"] = t.maybe(t.percent(rng.choice((0, 8, 10, 12.5, 13, 20))), 0.85)
    readings = (None, "idle", "wage", "full rate", draw.money(draw.about(5, 50, 1)))
    shop["Value of a freed hour"] = rng.choice(readings)
    shop["Saw kerf"] = t.maybe(t.length(rng.choice((3, 3.2, 4, 4.4))), 0.95)
    shop["Sheet trim"] = t.maybe(t.length(rng.choice((5, 10, 12))), 0.9)
    if draw.chance(0.6):
        shop["Bench length"] = t.number(draw.about(6, 40) if t.unit == "mm" else draw.about(20, 120))
    if draw.chance(0.5):
        shop["Edges in a batch"] = draw.about(4, 60)
    lengths = {"joint": 6, "gap side": 2, "gap mid": 3, "gap top": 3, "gap bottom": 2, "groove": 8, "back inset": 15}
    lengths |= {"rail": 90, "shelf play": 2, "shelf setback": 20, "slide play": 13, "scribe": 30, "runner room": 50}
    for name, mm in lengths.items():
        shop[name] = t.length(mm)


SHEET_SIZES = ((2800, 2070), (2440, 1220), (3050, 1300), (2500, 1250), (2750, 1830))
USES = {"carcass": (15, 16, 18, 19), "front": (16, 18, 19, 22, 25), "back": (3, 6, 8), "drawer": (12, 15, 16)}


def _boards(draw):
    rng, t = draw.rng, draw.typist("Boards")
    table = draw.job["Boards"] = []
    by_plan = draw.chance(0.12)
    for use, thicknesses in USES.items():
        colours = rng.sample(COLOURS, rng.randint(1, 2 if use in ("carcass", "front") else 1))
        draw.boards[use] = [f"{colour} {use} board" for colour in colours]
        for name in draw.boards[use]:
            thickness, grain = t.length(rng.choice(thicknesses)), draw.chance(0.4)
            planned = by_plan and draw.chance(0.5)
            charge = "area" if draw.chance(0.35) and not planned else rng.choice(("whole sheets", "whole sheets", None))
            several = draw.chance(0.2) and not planned
            for size in rng.sample(SHEET_SIZES, 2 if several else 1):
                table.append(
                    {
                        "Board": name,
                        "Thickness": thickness,
                        "Sheet length": t.length(size[0]),
                        "Sheet width": t.length(size[1]),
                        "Price": draw.money(draw.about(18, 160, 1)),
                        "Grain": (t.yes() if grain else t.maybe(t.no(), 0.5)),
                        "Charge": charge,
                        "Expected yield": None if planned else t.percent(rng.choice((60, 70, 72.5, 80, 85, 90, 100))),
                        "Trim": t.maybe(t.length(rng.choice((6, 8, 15))), 0.2) if draw.chance(0.9) else 0,
                        "On hand": t.maybe(draw.about(0, 4), 0.25),
                        "Density": t.maybe(650, 0.5),
                        "Priced on": t.maybe("2031-01-15", 0.5),
                    }
                )


def _adhesives(draw):
    rng, t = draw.rng, draw.typist("Adhesives")
    table = draw.job["Adhesives"] = []
    for name in rng.sample(("contact glue", "spray glue", "white contact"), rng.randint(1, 2)):
        drying = rng.choice((5, 20, 30, 45, 60))
        draw.adhesives.append(name)
        table.append(
            {
                "Adhesive": name,
                "Coverage": t.number(draw.about(3, 11, 1)),
                "Core coats": rng.choice((1, 2, None)),
                "Strip coats": rng.choice((1, 2, None)),
                "Spare": t.maybe(t.percent(rng.choice((0, 5, 10, 12.5))), 0.8),
                "Pack": t.number(rng.choice((0.5, 1, 2.5, 5))),
                "Price": draw.money(draw.about(8, 60, 1)),
                "Charge": rng.choice(("whole packs", "litres", None)),
                "Drying": drying,
                "Open time": drying + rng.choice((3, 8, 20, 60, 120, 240)),
            }
        )


def _edgings(draw):
    rng, t = draw.rng, draw.typist("Edgings")
    table = draw.job["Edgings"] = []
    names = rng.sample(COLOURS, rng.randint(1, 6))
    for colour in names:
        name = f"{colour} {rng.choice(('band', 'strip 0.8', 'edging'))}"
        draw.edgings.append(name)
        thickness = rng.choice((0.4, 0.8, 1, 1.3, 2, 3))
        same = {
            "Material": t.maybe(rng.choice(MATERIALS), 0.8),
            "Deduct": t.yes() if thickness >= 1 and draw.chance(0.6) else t.maybe(t.no(), 0.5),
            "By hand": t.no() if draw.chance(0.07) else t.maybe(t.yes(), 0.4),
            "Send out": t.no() if draw.chance(0.07) else t.maybe(t.yes(), 0.4),
            "Adhesive": rng.choice(draw.adhesives) if draw.chance(0.8) else rng.choice((None, "none")),
        }
        widths = rng.choice(((28,), (22, 28), (23, 28, 34), (28, 23), (33, 43)))
        for width in widths:
            roll = t.number(rng.choice((10, 25, 50, 75))) if draw.chance(0.5) else None
            charge = rng.choice(("metres", "whole rolls", None)) if roll is not None else rng.choice(("metres", None))
            table.append(
                {
                    "Edging": name,
                    "Thickness": t.length(thickness),
                    "Width": t.length(width),
                    "Price": draw.money(draw.about(0.1, 3.5, 2), more_places=2),
                    "Roll length": roll,
                    "Charge": charge,
                    "Overhang": t.maybe(t.length(rng.choice((2, 10, 20, 12.5))), 0.85),
                    "Spare": t.maybe(t.percent(rng.choice((0, 3, 5, 7.5, 10))), 0.8),
                    "On hand": t.maybe(draw.about(0, 40), 0.2),
                    **same,
                }
            )
    if draw.chance(0.2):
        table.append({"Edging": "spare gold", "Thickness": t.length(1), "Width": t.length(28), "Price": draw.money(1)})


def _contract(draw):
    rng, t = draw.rng, draw.typist("Contract")
    terms = draw.job["Contract"] = {}
    prices = draw.job["Contract prices"] = []
    if draw.chance(0.15):
        return
    terms |= {"Contractor": "the bander over the river", "Trips": rng.choice((None, 0, 1, 2, 3))}
    terms["Minimum charge"] = t.maybe(draw.money(draw.about(5, 150)), 0.8)
    terms["Charge per part"] = t.maybe(draw.money(draw.about(0.05, 0.6, 2), 2), 0.6)
    terms["Distance per trip"] = t.maybe(t.number(draw.about(2, 60, 1)), 0.9)
    terms["Cost per distance"] = t.maybe(draw.money(draw.about(0.2, 1, 2), 2), 0.9)
    terms["Lead time"] = t.maybe(draw.about(2, 15), 0.7)
    terms["Supplies edging"] = rng.choice((t.yes(), t.yes(), t.no(), None))
    terms["Added length per edge"] = t.maybe(t.length(rng.choice((20, 40, 50))), 0.5)
    above = draw.chance(0.35)
    whole_order = not above and draw.chance(0.4)
    terms["Breaks apply to"] = "quantity above" if above else rng.choice(("whole quantity", None))
    terms["Breaks count"] = "whole order" if whole_order else rng.choice(("per edging", None))
    terms["Buy up"] = t.yes() if not above and not whole_order and draw.chance(0.5) else t.maybe(t.no(), 0.5)
    t = draw.typist("Contract prices")
    for name in draw.edgings:
        if draw.chance(0.04):
            continue
        price, start = draw.about(0.3, 2.6, 2), rng.choice((0, 0, None, 5))
        for at in range(rng.choice((1, 1, 2, 3, 4))):
            set_up = draw.money(12 + len(name)) if at == 0 and draw.chance(0.8) else None
            money = draw.money(price, more_places=2)
            prices.append({"Edging": name, "From metres": start, "Price": money, "Set-up": set_up})
            start = (start or 0) + rng.choice((3, 8, 12.5, 20, 40, 100))
            price = round(price * rng.uniform(0.6, 0.95), 2)
    if draw.chance(0.2):
        rng.shuffle(prices)


def _machine(draw):
    t = draw.typist("Machine")
    terms = draw.job["Machine"] = {}
    if not draw.chance(MACHINES):
        return
    terms |= {"Price": draw.money(draw.about(3000, 40000)), "Installation": t.maybe(draw.money(500), 0.5)}
    terms |= {"Resale value": t.maybe(draw.money(draw.about(0, 2900)), 0.6), "Life": draw.about(2, 12)}
    terms |= {"Interest": t.percent(draw.rng.choice((0, 3.5, 6, 9))), "Metres a year": draw.about(300, 9000)}
    terms |= {"Fixed cost a year": t.maybe(draw.money(draw.about(100, 900)), 0.7)}
    terms |= {
        "Cost per metre": draw.money(draw.about(0.3, 1.5, 2)),
        "Alternative per metre": draw.money(draw.about(0.8, 4, 2)),
    }
