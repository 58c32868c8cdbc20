"""Rules that neither worked job reaches, each against arithmetic that anyone can redo, or a printed example."""

from decimal import Decimal
from fractions import Fraction

import pytest

from tests.oracle import price
from tests.oracle.answer import answer
from tests.oracle.banding import Banding, edgings_of
from tests.oracle.boards import boards_of
from tests.oracle.counting import standard_minutes
from tests.oracle.drying import batches_of
from tests.oracle.jobs import rates
from tests.oracle.parts import lines_of
from tests.oracle.worked import four_edgings, one_cabinet, with_metres


def banding_of(job):
    lines = lines_of(job)
    boards, edgings = boards_of(job, lines), edgings_of(job, lines)
    return Banding(job, lines, boards, edgings, *batches_of(job, lines, edgings))


BREAKS = [
    {"Edging": "white", "From metres": 50, "Price": Decimal("1.50"), "Set-up": None},
    {"Edging": "white", "From metres": 10, "Price": 2, "Set-up": 7},
    {"Edging": "white", "From metres": 100, "Price": 1},
]


@pytest.mark.parametrize(
    ("metres", "terms", "amount"),
    [
        (5, {}, "10"),  # the lowest break holds from 0
        (60, {}, "90"),
        (50, {}, "75"),  # a break is reached by its very metres
        (60, {"Breaks apply to": "quantity above"}, "115"),  # 50 x 2 + 10 x 1.50
        (130, {"Breaks apply to": "quantity above"}, "205"),  # 100 + 75 + 30
        (48, {}, "96"),
        (48, {"Buy up": "yes"}, "75"),  # 50 x 1.50 is cheaper than 48 x 2
        (80, {"Buy up": "yes"}, "100"),  # 100 x 1 is cheaper than 80 x 1.50
        (60, {"Buy up": "yes"}, "90"),
        (60, {"Added length per edge": 50}, "94.5"),  # 63 m are charged
    ],
)
def test_break_prices(metres, terms, amount):
    job = with_metres(white=metres)
    job["Contract prices"], job["Contract"] = BREAKS, job["Contract"] | terms
    banding = banding_of(job)
    assert banding.amount("white", ("white",)) == Fraction(amount)
    assert banding.set_up("white") == 7


def test_breaks_over_the_whole_order():
    """30 m of white and 30 m of oak reach the break at 50 only together."""
    job = with_metres(white=30, oak=30)
    job["Contract prices"] = BREAKS + [{**row, "Edging": "oak"} for row in BREAKS]
    job["Contract"] |= {"Breaks count": "whole order"}
    banding = banding_of(job)
    assert banding.amount("white", ("white",)) == 60
    assert banding.amount("white", ("white", "oak")) == 45


def test_whole_rolls_with_spare():
    """26 m and 10 % spare are 28.6 m: three rolls of 10 m at 2.10; charged by the metre, 28.6 m."""
    job = with_metres(oak=26)
    job["Edgings"][1] |= {"Roll length": 10, "Spare": "10 %"}
    rolls = answer(job)["edgings"]["oak"]
    assert (rolls["net_m"], rolls["bought_m"], rolls["cost"]) == (26, 30, 63)
    job["Edgings"][1]["Charge"] = "metres"
    assert answer(job)["edgings"]["oak"]["bought_m"] == Fraction("28.6")


def test_widths_are_rolled_up_each_by_itself():
    """18 mm board takes the 22 mm width, 28 mm board the 32 mm one: one roll of each, not one of both."""
    job = with_metres(oak=3)
    job["Edgings"][1] |= {"Roll length": 10}
    job["Edgings"].append({**job["Edgings"][1], "Width": 32, "Price": 3})
    job["Boards"].append({**job["Boards"][0], "Board": "thick", "Thickness": 28})
    job["Loose parts"].append({**job["Loose parts"][0], "Ref": "second", "Board": "thick", "Qty": 4})
    oak = answer(job)["edgings"]["oak"]
    assert (oak["net_m"], oak["bought_m"], oak["cost"]) == (7, 20, 51)


def test_packs_go_over_all_edgings_of_an_adhesive():
    """100 m and 60 m: 160 x (0.018 + 0.022) m2 at 5 m2/l is 1.28 l: two packs, though each alone would take one."""
    job = with_metres(white=100, oak=60)
    job["Adhesives"] = [one_cabinet()["Adhesives"][0] | {"Charge": "whole packs"}]
    for row in job["Edgings"]:
        row["Adhesive"] = "contact"
    job["Job"]["Banding"] = "by hand"
    glue = answer(job)["adhesives"]["contact"]
    assert (glue["litres"], glue["packs"], glue["cost"]) == (Fraction("1.28"), 2, Fraction("29.6"))


def test_thick_bands_are_deducted_from_the_cut_size_only():
    """600 x 300 with a 2 mm band on three edges is cut 598 x 296; the edges stay 600 and 300 long."""
    job = with_metres(oak=1)
    job["Edgings"][1] |= {"Thickness": 2, "Deduct": "yes"}
    job["Loose parts"][0] |= {"Length": 600, "Width": 300, "Back": "x", "Left": "x"}
    found = answer(job)
    [part] = found["parts"]["list"]
    assert (part["cut_length_mm"], part["cut_width_mm"]) == (598, 296)
    assert found["edgings"]["oak"]["net_m"] == Fraction("1.5")


def test_large_pieces_bound_the_sheets():
    """Three pieces 1500 x 1100 on 2780 x 2050: with grain no two share a sheet, without it the area alone counts."""
    job = with_metres(oak=3)
    job["Loose parts"][0] |= {"Length": 1500, "Width": 1100}
    job["Boards"][0] |= {"Sheet length": 2800, "Sheet width": 2070, "Grain": "yes"}
    assert (answer(job)["boards"]["white 18"]["sheets"]) == 3
    job["Loose parts"][0]["Grain"] = "any"
    assert (answer(job)["boards"]["white 18"]["sheets"]) == 2  # 4.95 m2 / (5.699 x 80 %) = 1.09
    job["Loose parts"][0]["Grain"], job["Boards"][0]["Grain"] = None, "no"
    assert (answer(job)["boards"]["white 18"]["sheets"]) == 2


def test_area_charge():
    """0.92776 m2 of a sheet of 5.699 m2 at 61.50 and 80 %."""
    job = one_cabinet()
    job["Boards"][0]["Charge"] = "area"
    cost = answer(job)["boards"]["white 18"]["cost"]
    assert cost == Fraction("0.92776") / (Fraction("5.699") * Fraction(4, 5)) * Fraction("61.5")


def test_the_same_cabinet_in_a_book_in_inches():
    """Lengths that carry their unit, and a price by the foot: nothing changes."""
    job = one_cabinet()
    job["Job"]["Units"] = "inch"
    for row in job["Cabinets"] + job["Boards"] + job["Edgings"]:
        for name in ("Width", "Height", "Depth", "Thickness", "Sheet length", "Sheet width", "Overhang"):
            row |= {name: f"{row[name]} mm"} if name in row else {}
    for name in ("Saw kerf", "Sheet trim", "shelf play", "shelf setback"):
        job["Shop"][name] = f"{job['Shop'][name]} mm"
    job["Edgings"][0]["Price"] = Decimal("0.18") * Decimal("0.3048")
    job["Contract prices"][0]["Price"] = Decimal("0.3048")
    job["Shop"]["Bench length"] = 33
    in_inches, in_mm = answer(job), answer(one_cabinet())
    assert in_inches == in_mm


def test_equal_and_typed_front_heights():
    """157 + 253 + 317 and two gaps of 3 close 733 (5, 8 and 10 modules of 32 mm, gap 3)."""
    job = one_cabinet()
    job["Shop"] |= {"gap top": 0, "gap bottom": 0, "gap mid": 3}
    job["Construction"] = [
        {"Kind": "open wall", "Part": "front", "Count": "drawers", "Length": "width", "Width": "front_height"}
        | {"Board": "carcass", "Counts as": "drawer"}
    ]
    job["Cabinets"][0] |= {"Height": 733, "Drawers": 3, "Front heights": "157, 253, 317"}
    typed = answer(job)
    assert [part["width_mm"] for part in typed["parts"]["list"]] == [157, 253, 317]
    job["Cabinets"][0] |= {"Front heights": None}
    equal = answer(job)
    assert [part["width_mm"] for part in equal["parts"]["list"]] == [Fraction(727, 3)] * 3
    assert typed["parts"]["area_m2"] == equal["parts"]["area_m2"] == Fraction("0.4362")


def test_rates_built_up():
    """25 x 1800 x 1.3 / 1300 = 45 an hour; 39,000 / (1300 x 2) = 15 an hour."""
    job = one_cabinet()
    job["Shop"] |= {"Direct rate": None, "Overhead rate": None, "Wage": 25, "Paid hours": 1800, "On-cost": "30 %"}
    job["Shop"] |= {"Productive hours": 1300, "Workers": 2, "Overhead a year": 39_000}
    assert rates(job) == (45, 15)
    job["Shop"]["Direct rate"] = 40
    assert rates(job) == (40, 15)


def test_standard_time():
    """Observed 27, 19, 20, 21, 13, rating 120, allowance 20 %: 20, 24, 28.8 (a university question bank)."""
    step = {"Minutes": Fraction(27 + 19 + 20 + 21 + 13, 5), "Rating": 120, "Allowance": "20 %"}
    assert standard_minutes(one_cabinet(), step) == Fraction("28.8")


def test_of_limits_a_count():
    """Of by kind, finish, role, board, edging and adhesive on the one cabinet; what does not match counts nothing."""
    words = {"open wall": 5, "white": 5, "carcass": 5, "white 18": 5, "white thin": 5, "contact": 5, "front": 0}
    for word, parts in words.items():
        job = one_cabinet()
        job["Work"] = [{"Step": "cut", "Per": "part", "Of": word, "Minutes": 1, "Allowance": 0}]
        assert answer(job)["minutes"]["steps"]["cut"] == parts


def test_a_part_with_two_sent_edgings_is_handled_once():
    """16 parts carry birch, 10 of them white too: packing 126 parts, not 142 (110 white ones in all, 6 oak ones)."""
    banding = banding_of(four_edgings())
    packing = {"Per": "part", "Route": "send out"}
    assert banding.tally.on_route(packing, ("white",)) == 110
    assert banding.tally.on_route({**packing}, ("white", "birch")) == 116
    assert banding.tally.on_route({**packing}, ("white", "oak", "blue", "birch")) == 136


def test_hinges_by_door_length():
    rule = "2 + (length > 900) + (length > 1600) + (length > 2000)"
    job = with_metres(oak=1)
    job["Fittings"] = [{"Item": "hinge", "Per": "door", "Number": rule, "Price": 1}]
    base = {**job["Loose parts"][0], "Counts as": "door"}
    job["Loose parts"] = [{**base, "Ref": str(mm), "Length": mm, "Qty": 10} for mm in (900, 901, 1601, 2001)]
    assert answer(job)["cost"]["fittings"] == 20 + 30 + 40 + 50


def test_lead_time_and_routes_that_cannot_be_used():
    job = with_metres(white=3, oak=3)
    job["Contract"] |= {"Lead time": 6}
    job["Job"] |= {"Working days available": 5}
    assert [plan["possible"] for plan in answer(job)["plans"]] == [True, False, False, False]
    job["Job"] |= {"Working days available": 6}
    assert [plan["possible"] for plan in answer(job)["plans"]] == [True] * 4
    job["Edgings"][0]["By hand"] = "no"
    assert [plan["possible"] for plan in answer(job)["plans"]] == [False, True, False, True]
    job["Edgings"][1]["Send out"] = "no"
    assert [plan["possible"] for plan in answer(job)["plans"]] == [False, True, False, False]


def test_supplies_edging():
    """3 m of white at 1.35: a contractor who does not supply it leaves it to the shop to buy."""
    job = with_metres(white=3)
    sent = {
        supplies: answer({**job, "Contract": {**job["Contract"], "Supplies edging": supplies}})["plans"][1]["edging"]
        for supplies in ("yes", "no", None)
    }
    assert sent == {"yes": 0, "no": Fraction("4.05"), None: Fraction("4.05")}


def test_the_rounding_line_and_instalments():
    """179.65 to the nearest 5 is 180.00 by a line of 0.35; a half goes away from zero; thirds of 100.00 add up."""
    assert price.to_a_multiple(Fraction("179.65"), Fraction(5)) == Fraction("0.35")
    assert price.to_a_multiple(Fraction("177.50"), Fraction(5)) == Fraction("2.5")
    thirds = [Fraction("33.3"), Fraction("33.3"), Fraction("33.4")]
    assert price.largest_remainder(Fraction(10), thirds, 0) == [3, 3, 4]
    assert price.largest_remainder(Fraction(100), [1, 1, 1], 2) == [
        Fraction("33.34"),
        Fraction("33.33"),
        Fraction("33.33"),
    ]


def test_money_without_and_with_three_decimals():
    """The yen has no minor unit, the dinar of Bahrain has three decimals (ISO 4217)."""
    gross = {}
    for code in ("JPY", "BHD", "EUR"):
        job = one_cabinet()
        job["Job"]["Currency"] = code
        gross[code] = answer(job)["price"]["gross"].amount
    assert gross == {"JPY": 180, "BHD": Fraction("179.657"), "EUR": Fraction("179.65")}


def test_extras():
    """One at a price of its own stands outside the target; one with a cost alone is part of it, with its minutes."""
    job = one_cabinet()
    job["Extras"] = [{"Ref": "glass", "Qty": 2, "Cost each": 10, "Minutes each": 60, "Price each": 50}]
    priced, plain = answer(job), answer(one_cabinet())
    assert priced["price"]["target"] == plain["price"]["target"]
    assert priced["price"]["sum_lines"].amount == plain["price"]["sum_lines"].amount + 100
    job["Extras"][0]["Price each"] = None
    costed = answer(job)
    assert costed["minutes"]["always"] == plain["minutes"]["always"] + 120
    assert costed["cost"]["total"] == plain["cost"]["total"] + 20 + 2 * 54


def test_an_option_is_the_whole_job_again():
    job = one_cabinet()
    job["Finishes"].append({"Finish": "dear", "carcass board": "dear 18", "carcass edging": "white thin"})
    job["Boards"].append({**job["Boards"][0], "Board": "dear 18", "Price": Decimal("136.50")})  # 75.00 more
    job["Options"] = [{"Option": "dear inside", "Replace finish": "white", "With finish": "dear"}]
    [option] = answer(job)["options"]
    assert option["difference"].amount == Fraction("120.00")  # 75 / 0.75, and 20 % tax


def test_lines_share_the_target_by_prime_cost():
    """The one cabinet beside three loose panels of 0.5 m2 with a strip of 1.04 m; each panel is one part of 2.2 minutes."""
    job = one_cabinet()
    job["Loose parts"] = [
        {"Ref": "panel", "Part": "panel", "Qty": 3, "Length": 1000, "Width": 500, "Board": "white 18"}
        | {"Edging": "white thin", "Front": "x"}
    ]
    a_m2 = Fraction("61.5") / (Fraction("5.699") * Fraction("0.8"))
    cabinet = Fraction("0.92776") * a_m2 + Fraction("3.33") * Fraction("0.18") + 4 + Fraction("0.5") + Fraction(33, 2)
    panel = Fraction("0.5") * a_m2 + Fraction("1.04") * Fraction("0.18") + Fraction("1.1")
    quote = answer(job)["price"]
    units = [line["unit"].amount for line in quote["lines"]]
    for unit, prime in zip(units, (cabinet, panel), strict=True):
        assert abs(unit - quote["target"] * prime / (cabinet + 3 * panel)) <= Fraction("0.005")
    assert [line["net"].amount for line in quote["lines"]] == [units[0], 3 * units[1]]
