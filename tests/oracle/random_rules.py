"""Chance goes in; the kinds of cabinet of a random shop come out: Construction rules of its own, Kinds and Finishes."""

from fractions import Fraction

from tests.oracle.typing_ways import _decimal

ROLES = ("carcass", "front", "back", "drawer", "drawer bottom")
BANDED_ROLES = ("carcass", "front", "drawer", "visible")
KIND_NAMES = ("low", "tall one", "open case", "drawer stack", "over counter", "odd one", "niche")


def draw_construction(draw):
    """Fill in Construction, Kinds and Finishes."""
    _finishes(draw)
    draw.kinds = draw.rng.sample(KIND_NAMES, draw.rng.randint(1, 5))
    table = draw.job["Construction"] = []
    for kind in draw.kinds:
        for part in _parts_of_a_kind(draw):
            table.append({"Kind": kind, **part})
    if draw.chance(0.3):
        draw.rng.shuffle(table)
    _kinds(draw)


def _finishes(draw):
    rng = draw.rng
    uses = {"carcass": "carcass", "front": "front", "back": "back", "drawer": "drawer", "drawer bottom": "back"}
    draw.finishes = rng.sample(("plain finish", "warm finish", "dark finish"), rng.randint(1, 3))
    table = draw.job["Finishes"] = []
    for name in draw.finishes:
        row = {"Finish": name}
        for role in ROLES:
            row[f"{role} board"] = rng.choice(draw.boards[uses[role]])
        for role in BANDED_ROLES:
            row[f"{role} edging"] = rng.choice(draw.edgings)
        row["Words for the quote"] = f"{name}, as shown"
        table.append(row)


def _kinds(draw):
    table = draw.job["Kinds"] = []
    t = draw.typist("Kinds")
    for kind in draw.kinds:
        if draw.chance(0.7):
            table.append(
                {
                    "Kind": kind,
                    "Words for the quote": f"{kind} cabinet",
                    "Height": t.maybe(t.length(draw.rng.choice((720, 900, 1800))), 0.6),
                    "Depth": t.maybe(t.length(draw.rng.choice((300, 560))), 0.6),
                    "Shelves": t.maybe(draw.about(0, 3), 0.5),
                    "Doors": t.maybe(draw.about(0, 2), 0.4),
                    "Drawers": t.maybe(draw.about(0, 3), 0.3),
                }
            )


def _parts_of_a_kind(draw):
    """The rows of one kind: a box always, and some of what can stand in it."""
    rng = draw.rng

    def mm(length):
        """A length written into a rule, in the unit of the book in which the rule stands."""
        inches = draw.typist("Construction").unit == "inch"
        return str(_decimal(Fraction(round(length / 25.4 * 16), 16)) if inches else length)

    yield from _box(rng, mm)
    if rng.random() < 0.7:
        yield _shelf(rng)
    if rng.random() < 0.4:
        yield _part("partition", "partitions", "height - 2*carcass_thickness", "depth - back thickness", "carcass", "f")
    if rng.random() < 0.7:
        yield _door(rng)
    if rng.random() < 0.5:
        yield from _drawers(rng, mm)
    if rng.random() < 0.4:
        yield _part(
            "end panel", "ends", "height + plinth_height", "depth + front thickness", "front", "fblr", "visible"
        )
    if rng.random() < 0.3:
        yield _part("plinth", "1", "width", f"max(plinth_height, {mm(60)})", "front", rng.choice(("", "lr", "fb")))
    if rng.random() < 0.4:
        yield from _odd_ones(rng, mm)


def _part(name, count, length, width, role, sides="", edging=None, **more):
    edging = edging or ("carcass" if role in ("back", "drawer bottom") else role)
    row = {"Part": name, "Count": count, "Length": length, "Width": width, "Board": role}
    row["Edging"] = edging if sides else None
    row |= {side: "x" for side in ("Front", "Back", "Left", "Right") if side[0].lower() in sides}
    return row | more


def _box(rng, mm):
    deep = rng.choice(("depth", "depth - back_thickness", "depth - back inset - back_thickness"))
    wide = rng.choice(("width - 2*carcass_thickness", "width - 2 * carcass thickness + 2 * joint"))
    yield _part("side", rng.choice(("2", 2)), "height", deep, "carcass", rng.choice(("f", "f", "fl", "fblr")))
    yield _part("bottom", "1", wide, deep, "carcass", rng.choice(("f", "", "fb")))
    if rng.random() < 0.5:
        yield _part("top", "1", wide, f"min({deep}, {mm(600)})", "carcass", "f")
    else:
        yield _part("top", f"if(height > {mm(1500)}, 1, 0)", wide, deep, "carcass", "f")
        yield _part("rail", f"2 * (height <= {mm(1500)})", wide, "rail", "carcass", rng.choice(("", "f", "fb")))
    if rng.random() < 0.7:
        high, across = rng.choice(
            (
                ("height", "width"),
                ("height - 2*carcass_thickness + 2*groove", "width - 2*carcass_thickness + 2*groove"),
                ("height - carcass_thickness + groove", "width - 2*(carcass_thickness - groove)"),
            )
        )
        yield _part("back", 1, high, across, "back", Grain=rng.choice((None, "length", "any")))


def _shelf(rng):
    bay = "(width - 2*carcass_thickness - partitions*carcass_thickness)/(partitions + 1) - shelf play"
    front = rng.choice(("x", "visible"))
    part = _part("shelf", "shelves * (partitions + 1)", bay, "depth - back_thickness - shelf_setback", "carcass", "f")
    return part | {"Front": front, "Counts as": rng.choice(("shelf", "shelf", None))}


def _door(rng):
    wide = rng.choice(
        (
            "(width - 2*gap_side - (doors - 1)*gap_mid) / max(doors, 1)",
            "(width - 2 * gap side - (doors - 1) * gap mid)/doors",
        )
    )
    high = "height - gap_top - gap_bottom"
    return _part("door", "doors", high, wide, "front", rng.choice(("fblr", "fblr", "fb"))) | {"Counts as": "door"}


def _drawers(rng, mm):
    grain = rng.choice((None, "width", "any"))
    long, wide = "width - 2*gap_side", "front_height"
    if grain == "width":
        long, wide = wide, long
    grain = None if grain == "width" else grain
    front = _part("drawer front", "drawers", long, wide, "front", "fblr", Grain=grain)
    yield front | {"Counts as": "drawer"}
    inner = "width - 2*carcass_thickness - 2*slide_play"
    side_height = rng.choice(("front_height - gap mid", f"front_height * 2 / 3 + {mm(3)}", mm(80)))
    yield _part("drawer side", "2*drawers", "depth - runner room", side_height, "drawer")
    yield _part("drawer end", "2 * drawers", f"{inner} - 2*drawer_thickness", mm(70), "drawer", "f", Grain="any")
    yield _part(
        "drawer bottom", "drawers", inner, "depth - runner room", "drawer bottom", Grain=rng.choice(("any", "width"))
    )


def _odd_ones(rng, mm):
    """Rules that end in thirds, steps and choices."""
    yield _part(
        "third strip",
        f"round_down(height / {mm(400)}) + 1",
        "(width - carcass_thickness) / 3",
        f"{mm(50)} + depth / 7",
        "carcass",
        "lr",
    )
    if rng.random() < 0.5:
        count = f"round_up(width / {mm(600)}) * (depth >= {mm(400)})"
        yield _part("stretcher", count, f"min(width, height, {mm(900)}) / 1.5", "rail * 2 / 3 + scribe", "front", "b")
    if rng.random() < 0.5:
        wide = f"if(depth < {mm(400)}, depth / 2, if(width > height, {mm(200)}, {mm(150)} + rail / 3))"
        yield _part("cover strip", "1 + (ends > 0)", "height - scribe", wide, "front", "fl", "visible", Grain="any")
