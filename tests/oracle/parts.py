"""The cabinets and loose parts of a job go in; its lines (one a row), each with the pieces that one of it takes, come out.

Rules A3 to A6, and the fit of every piece on a sheet of its board.
"""

from collections import Counter
from dataclasses import dataclass, field
from fractions import Fraction

from tests.oracle import rules
from tests.oracle.cells import UNITS_MM, blank, length_mm, number, same, share, text, yes
from tests.oracle.jobs import LENGTHS_OF_SHOP, RefusedError, item, item_length, length, one_of, rows, unit_of

SIDES = ("Front", "Back", "Left", "Right")
OWN_COLUMNS = (
    "Ref",
    "Room",
    "Kind",
    "Qty",
    "Width",
    "Height",
    "Depth",
    "Shelves",
    "Doors",
    "Drawers",
    "Finish",
    "Finished ends",
    "Tax rate",
    "Note",
    "Front heights",
)


@dataclass(eq=False)
class Edge:
    """One banded edge of a piece."""

    side: str
    row: int  # of Edgings: the edging in the width that covers this board
    edging: str
    length_mm: Fraction
    strip_mm: Fraction
    thickness_mm: Fraction
    deduct: bool
    adhesive: str
    material: str


@dataclass(eq=False)
class Piece:
    """Equal pieces of one Construction row, or a loose part: `count` of them in one of the row."""

    line: "Line"
    name: str
    count: int
    length_mm: Fraction
    width_mm: Fraction
    board: str
    role: str
    edging: str
    grain: str
    counts_as: str
    thickness_mm: Fraction
    edges: list[Edge] = field(default_factory=list)

    @property
    def cut_length_mm(self):
        return self.length_mm - sum(e.thickness_mm for e in self.edges if e.deduct and e.side in ("Left", "Right"))

    @property
    def cut_width_mm(self):
        return self.width_mm - sum(e.thickness_mm for e in self.edges if e.deduct and e.side in ("Front", "Back"))

    @property
    def cut_area_m2(self):
        return self.cut_length_mm * self.cut_width_mm / 1_000_000


@dataclass(eq=False)
class Line:
    """A row of Cabinets or Loose parts."""

    ref: str
    qty: int
    tax_rate: Fraction
    kind: str
    finish: str
    pieces: list[Piece] = field(default_factory=list)
    words: dict[str, Fraction] = field(default_factory=dict)  # what rules know of the cabinet, lengths in mm
    plain: frozenset[str] = frozenset()  # those words that are counts, not lengths


def lines_of(job, swap=None):
    """Every row of Cabinets, then every loose part, in workbook order; `swap` replaces finishes by others (an option)."""
    swap = {text(old).casefold(): new for old, new in (swap or {}).items()}
    room_counts: Counter[str] = Counter()
    lines = [_cabinet(job, row, room_counts, swap) for row in rows(job, "Cabinets")]
    lines += [_loose_part(job, row, swap) for row in rows(job, "Loose parts")]
    if not lines:
        raise RefusedError("a job needs one cabinet or one loose part")
    return lines


def pieces_in_order(lines):
    """A3: one whole cabinet after another, each piece by itself."""
    for line in lines:
        for _ in range(line.qty):
            for piece in line.pieces:
                for _ in range(piece.count):
                    yield piece


def tax_rate(job, row):
    """The rate of a row in percent: its own, or the job's."""
    cell = row.get("Tax rate")
    return share(item(job, "Tax rate") if blank(cell) else cell) * 100


def _swapped(finish, swap):
    return text(swap.get(text(finish).casefold(), finish))


def _cabinet(job, row, room_counts, swap):
    room = text(row.get("Room"))
    room_counts[room] += 1
    kinds = [kind for kind in rows(job, "Kinds") if same(kind.get("Kind"), row["Kind"])]
    own = kinds[0] if kinds else {}
    line = Line(
        ref=text(row.get("Ref")) or f"{room} {room_counts[room]}".strip(),
        qty=int(number(row["Qty"])),
        tax_rate=tax_rate(job, row),
        kind=text(row["Kind"]),
        finish=_swapped(row.get("Finish") if not blank(row.get("Finish")) else item(job, "Finish"), swap),
    )
    _name_the_cabinet(job, row, own, line)
    construction = [part for part in rows(job, "Construction") if same(part.get("Kind"), line.kind)]
    if not construction:
        raise RefusedError(f"no Construction for {line.kind}")
    for part in construction:
        line.pieces += _pieces_of(job, row, part, line)
    return line


def _name_the_cabinet(job, row, own, line):
    """Everything that a rule may name, lengths in mm."""
    words, plain = {}, {"shelves", "doors", "drawers", "ends"}
    for column in ("Width", "Height", "Depth"):
        sheet, cell = ("Kinds", own.get(column)) if blank(row.get(column)) else ("Cabinets", row[column])
        if blank(cell):
            raise RefusedError(f"{line.ref}: {column} is needed")
        words[column.lower()] = length(job, sheet, cell)
    for column in ("Shelves", "Doors", "Drawers"):
        cell = own.get(column) if blank(row.get(column)) else row[column]
        words[column.lower()] = Fraction(0) if blank(cell) else number(cell)
    ends = text(row.get("Finished ends")).lower()
    words["ends"] = Fraction({"": 0, "none": 0, "left": 1, "right": 1, "both": 2}[ends])
    for column, cell in row.items():
        if column in OWN_COLUMNS or blank(cell):
            continue
        try:
            words[rules.name_of(column)] = number(cell)
            if unit_of(job, "Cabinets") != unit_of(job, "Construction"):
                plain.add(rules.name_of(column))
            else:
                words[rules.name_of(column)] *= UNITS_MM[unit_of(job, "Cabinets")]
        except ValueError:
            try:
                words[rules.name_of(column)] = length_mm(cell, unit_of(job, "Cabinets"))
            except ValueError:
                continue  # a column of words is the user's own
    for name in LENGTHS_OF_SHOP:
        if not blank((job.get("Shop") or {}).get(name)):
            words[rules.name_of(name)] = item_length(job, name)
    finish = one_of(rows(job, "Finishes"), "Finish", line.finish)
    for header, board in finish.items():
        if header.endswith(" board") and not blank(board):
            words[rules.name_of(header[: -len(" board")]) + "_thickness"] = _thickness_mm(job, board)
    line.words, line.plain = words, frozenset(plain)


def shop_words(job):
    """The lengths of Shop by name, in mm."""
    shop = job.get("Shop") or {}
    return {rules.name_of(n): item_length(job, n) for n in LENGTHS_OF_SHOP if not blank(shop.get(n))}


def in_the_unit_of(job, sheet, words, plain=frozenset()):
    """Words for a rule of a sheet: a rule reckons in the unit of the book in which it stands."""
    one = UNITS_MM[unit_of(job, sheet)]
    return {name: amount if name in plain else amount / one for name, amount in words.items()}


def _pieces_of(job, row, part, line):
    """The pieces of one Construction row in one cabinet; where a rule names front_height, one piece a drawer."""
    one = UNITS_MM[unit_of(job, "Construction")]
    names = in_the_unit_of(job, "Construction", line.words, line.plain)
    count = rules.value(part["Count"], names)
    if count.denominator != 1 or count < 0:
        raise RefusedError(f"{line.ref} {part['Part']}: count {count}")
    pieces, heights = [], [None]
    if count and "front_height" in rules.names_in(part["Length"]) | rules.names_in(part["Width"]):
        heights = _front_heights_mm(job, row, line)
        if count % len(heights):
            raise RefusedError("front_height in a row that is not made for each drawer")
    for height in heights if count else []:
        known = names if height is None else {**names, "front_height": height / one}
        size = [rules.value(part[column], known) * one for column in ("Length", "Width")]
        role = text(part["Board"])
        finish = one_of(rows(job, "Finishes"), "Finish", line.finish)
        board = text(finish[_role_column(finish, role, "board")])
        edgings = {side: _role_edging(finish, part, side) for side in SIDES}
        edging = text(part.get("Edging"))
        edging = text(finish[_role_column(finish, edging, "edging")]) if edging else ""
        pieces.append(_piece(job, line, part, count // len(heights), size, (board, role, edging), edgings))
    return pieces


def _role_column(finish, role, last_word):
    for header in finish:
        if same(header, f"{role} {last_word}"):
            return header
    raise RefusedError(f"no role {role}")


def _role_edging(finish, part, side):
    mark = text(part.get(side))
    if mark == "":
        return ""
    role = text(part.get("Edging")) if yes(mark) else mark
    return text(finish[_role_column(finish, role, "edging")])


def _front_heights_mm(job, row, line):
    """Each drawer's own front height, top to bottom: as typed, or equal ones (A7)."""
    if not blank(row.get("Front heights")):
        heights = [length(job, "Cabinets", one) for one in str(row["Front heights"]).split(",")]
        if len(heights) != line.words["drawers"]:
            raise RefusedError("front heights are not one a drawer")
        return heights
    drawers, words = line.words["drawers"], line.words
    free = words["height"] - words["gap_top"] - words["gap_bottom"] - (drawers - 1) * words["gap_mid"]
    return [free / drawers] * int(drawers)


def _loose_part(job, row, swap):
    finish = _swapped(row.get("Finish"), swap)
    line = Line(text(row.get("Ref")), int(number(row["Qty"])), tax_rate(job, row), "", finish)
    size = [length(job, "Loose parts", row[column]) for column in ("Length", "Width")]
    roles = one_of(rows(job, "Finishes"), "Finish", finish) if finish else {}

    def named(cell, last_word):
        """A role of the part's finish, or else the name itself."""
        return next((text(roles[h]) for h in roles if same(h, f"{text(cell)} {last_word}")), text(cell))

    board, edging = named(row["Board"], "board"), named(row.get("Edging"), "edging")
    role = text(row["Board"]) if not same(board, row["Board"]) else ""
    edgings = {}
    for side in SIDES:
        mark = text(row.get(side))
        edgings[side] = "" if mark == "" else edging if yes(mark) else named(mark, "edging")
    line.pieces = [_piece(job, line, row, 1, size, (board, role, edging), edgings)]
    return line


def _thickness_mm(job, board):
    return length(job, "Boards", one_of(rows(job, "Boards"), "Board", board)["Thickness"])


def _piece(job, line, row, count, size, names, edgings):
    board, role, edging = names
    found = one_of(rows(job, "Boards"), "Board", board)
    piece = Piece(
        line=line,
        name=text(row["Part"]),
        count=int(count),
        length_mm=size[0],
        width_mm=size[1],
        board=text(found["Board"]),
        role=role,
        edging=edging,
        grain=text(row.get("Grain")).lower() or "length",
        counts_as=text(row.get("Counts as")).lower(),
        thickness_mm=_thickness_mm(job, board),
    )
    for side in SIDES:
        if edgings[side]:
            along = size[0] if side in ("Front", "Back") else size[1]
            piece.edges.append(_edge(job, side, edgings[side], along, piece.thickness_mm))
    if min(piece.cut_length_mm, piece.cut_width_mm) <= 0:
        raise RefusedError(f"{line.ref} {piece.name}: nothing left of it")
    if not any(fits(job, piece, sheet) for sheet in sheets_of(job, board)):
        raise RefusedError(f"{line.ref} {piece.name}: larger than every sheet")
    return piece


def _edge(job, side, edging, along_mm, board_mm):
    """A banded edge; of an edging in several widths the narrowest that covers board + 2 mm."""
    table = rows(job, "Edgings")
    wide = [
        (length(job, "Edgings", row["Width"]), at)
        for at, row in enumerate(table)
        if same(row["Edging"], edging) and length(job, "Edgings", row["Width"]) >= board_mm + 2
    ]
    if not wide:
        raise RefusedError(f"{edging} is too narrow for {board_mm} mm")
    at = min(wide)[1]
    row = table[at]
    adhesive = text(row.get("Adhesive"))
    return Edge(
        side=side,
        row=at,
        edging=text(row["Edging"]),
        length_mm=along_mm,
        strip_mm=along_mm + 2 * length(job, "Edgings", row.get("Overhang")),
        thickness_mm=length(job, "Edgings", row["Thickness"]),
        deduct=yes(row.get("Deduct")),
        adhesive="" if adhesive.lower() == "none" else adhesive,
        material=text(row.get("Material")),
    )


def sheets_of(job, board):
    """The rows of Boards of one board: its sheet sizes."""
    return [row for row in rows(job, "Boards") if same(row["Board"], board)]


def usable_mm(job, sheet):
    """A8: the sheet less its trim on each side, (length, width)."""
    trim = length(job, "Boards", sheet.get("Trim"), item_length(job, "Sheet trim"))
    return tuple(length(job, "Boards", sheet[column]) - 2 * trim for column in ("Sheet length", "Sheet width"))


def along_and_across(piece):
    """The piece as it lies on a sheet with grain: (along, across) the sheet's length."""
    size = (piece.cut_length_mm, piece.cut_width_mm)
    return size[::-1] if piece.grain == "width" else size


def turns(piece, sheet):
    """Whether a piece may be turned: always on a board without grain, and where its Grain says any."""
    return not yes(sheet.get("Grain")) or piece.grain == "any"


def fits(job, piece, sheet):
    """Whether one piece fits on one sheet."""
    (along, across), (long, wide) = along_and_across(piece), usable_mm(job, sheet)
    return (along <= long and across <= wide) or (turns(piece, sheet) and across <= long and along <= wide)
