"""The worked case of four edgings as a job: white, oak veneer, blue 2 mm and birch, with what each costs both ways.

Trip 42, minimum 120, invoice 0.15 a part, packing 0.20 a part. white 165 m, 1.35 a metre by hand and 4, 0.90 sent and 8, 110
parts; oak 26 m, 2.10 and 5, 2.20 and 25, 12; blue 34 m, 2.60 and 6, 1.70 and 12, 14; birch 18 m, 1.60 and 4, 1.30 and 10,
16 parts, 10 of them shared with white. All sent is 431.50 when oak and birch share 6.
"""

from typing import Any

from estimator.model.exact import Fraction
from estimator.model.records import Job, LoosePart
from estimator.model.shop_records import Board, Contract, ContractPrice, Edging, Fitting
from tests.building import AT, ITEMS, job, shop, terms

F = Fraction
KINDS = (
    ("white", "1.35", 4, "0.90", 8), ("oak veneer", "2.10", 5, "2.20", 25),
    ("blue 2 mm", "2.60", 6, "1.70", 12), ("birch", "1.60", 4, "1.30", 10),
)  # fmt: skip
PARTS = (
    ("white alone", 100, 1500, 500, "white", ""), ("white and birch", 10, 1500, 1125, "white", "birch"),
    ("oak and birch", 6, 2000, 1125, "oak veneer", "birch"), ("oak", 5, 2000, 500, "oak veneer", ""),
    ("oak long", 1, 4000, 500, "oak veneer", ""), ("blue", 10, 2400, 500, "blue 2 mm", ""),
    ("blue long", 4, 2500, 500, "blue 2 mm", ""),
)  # fmt: skip
PLANS = (
    ((), "413.55"), (("white",), "423.80"), (("oak veneer",), "518.35"), (("blue 2 mm",), "483.95"),
    (("birch",), "545.95"), (("white", "oak veneer"), "450.60"), (("white", "blue 2 mm"), "404.10"),
    (("white", "birch"), "426.50"), (("oak veneer", "blue 2 mm"), "462.65"), (("oak veneer", "birch"), "487.55"),
    (("blue 2 mm", "birch"), "454.35"), (("white", "oak veneer", "blue 2 mm"), "430.90"),
    (("white", "oak veneer", "birch"), "451.20"), (("white", "blue 2 mm", "birch"), "406.80"),
    (("oak veneer", "blue 2 mm", "birch"), "466.75"), (("white", "oak veneer", "blue 2 mm", "birch"), "431.50"),
)  # fmt: skip
"""Every plan with its relevant cost, in the order of the list."""


def edging(name: str, price: str, **other: Any) -> Edging:
    plain: dict[str, Any] = {
        "edging": name, "material": "", "thickness_mm": F(1), "width_mm": F(22), "price_per_m": F(price), "roll_length_m": None,
        "charge": "metres", "overhang_mm": F(0), "spare_share": F(0), "deduct": False, "by_hand": True, "send_out": True,
        "adhesive": "", "on_hand_m": F(0), "priced_on": None, "at": AT,
    }  # fmt: skip
    return Edging(**{**plain, **other})


def fitting(item: str, route: Any, per: str, of: str, price: str) -> Fitting:
    return Fitting(item, route, per, of, "1", F(price), None, F(0), None, "mm", AT)


def loose(ref: str, qty: int, long: int, wide: int, front: str, left: str = "", **other: Any) -> LoosePart:
    plain: dict[str, Any] = {
        "ref": ref, "room": "", "part": ref, "qty": qty, "length_mm": F(long), "width_mm": F(wide), "board": "white 18",
        "edging": "", "front": front, "back": "", "left": left, "right": "", "grain": "length", "tax_rate_share": None,
        "note": "", "finish": "", "counts_as": "", "at": AT,
    }  # fmt: skip
    return LoosePart(**{**plain, **other})


def contract(**other: Any) -> Contract:
    plain: dict[str, Any] = {
        "contractor": "the bander", "minimum_charge": F(120), "charge_per_part": F("0.15"), "trips": 1,
        "distance_per_trip": F(42), "cost_per_distance": F(1), "lead_time_days": 4, "supplies_edging": True,
        "added_length_mm": F(0), "breaks_count": "per edging", "breaks_apply_to": "whole quantity", "buy_up": False, "at": ITEMS,
    }  # fmt: skip
    return Contract(**{**plain, **other})


def board(**other: Any) -> Board:
    plain: dict[str, Any] = {
        "board": "white 18", "thickness_mm": F(18), "sheet_length_mm": F(6000), "sheet_width_mm": F(6000), "price": F(60),
        "grain": False, "charge": "whole sheets", "expected_yield_share": F(80, 100), "trim_mm": F(10), "on_hand": 0,
        "density_kg_m3": None, "e_modulus_n_mm2": None, "priced_on": None, "at": AT,
    }  # fmt: skip
    return Board(**{**plain, **other})


def four_edgings(**other: Any) -> Job:
    fittings = tuple(fitting(f"fix {name}", "by hand", "job", name, str(fix)) for name, _, fix, _, _ in KINDS)
    plain: dict[str, Any] = {
        "terms": terms(), "shop": shop(value_of_a_freed_hour="idle"), "boards": (board(),),
        "edgings": tuple(edging(name, price) for name, price, _, _, _ in KINDS),
        "fittings": (*fittings, fitting("packing", "send out", "part", "", "0.20")),
        "contract": contract(),
        "contract_prices": tuple(ContractPrice(name, F(0), F(price), F(setup), AT) for name, _, _, price, setup in KINDS),
        "loose_parts": tuple(loose(*row) for row in PARTS),
    }  # fmt: skip
    return job(**{**plain, **other})
