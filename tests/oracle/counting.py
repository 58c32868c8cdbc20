"""What a row of Work or Fittings counts goes in (Route, Per, Of); how many of it the job holds comes out (A16)."""

from collections import Counter
from fractions import Fraction

from tests.oracle import rules
from tests.oracle.cells import blank, number, same, share, text
from tests.oracle.jobs import contract, item, rows
from tests.oracle.parts import in_the_unit_of, shop_words

THOUSAND = 1000


def piece_matches(piece, of):
    """Of as a kind, a finish, a role or a board of a piece."""
    own = (piece.line.kind, piece.line.finish, piece.role, piece.board)
    return not of or any(same(of, name) for name in own if name)


def edge_matches(piece, edge, of):
    """Of as a word of the piece, or as an edging, an adhesive or a material of the edge."""
    own = (edge.edging, edge.adhesive, edge.material)
    return piece_matches(piece, of) or any(same(of, name) for name in own if name)


def anywhere(piece, of):
    """A piece matches by its own words, or by any of its banded edges."""
    return piece_matches(piece, of) or any(edge_matches(piece, edge, of) for edge in piece.edges)


def line_matches(line, of):
    """A cabinet matches by its kind or finish, or by any of its pieces."""
    own = any(same(of, name) for name in (line.kind, line.finish) if name)
    return not of or own or any(anywhere(piece, of) for piece in line.pieces)


def standard_minutes(job, step):
    """A15, the minutes of one count of a step."""
    rating = Fraction(100) if blank(step.get("Rating")) else number(step["Rating"])
    allowance = share(item(job, "Allowance") if blank(step.get("Allowance")) else step["Allowance"])
    return number(step["Minutes"]) * rating / 100 * (1 + allowance)


def per(row):
    """The Per of a row."""
    return text(row["Per"]).lower()


def route(row):
    """The Route of a row: '' (always), 'by hand' or 'send out'."""
    return text(row.get("Route")).lower()


def of(row):
    """The Of of a row, '' for all; the word all says so too."""
    return "" if text(row.get("Of")).lower() == "all" else text(row.get("Of"))


class Tally:
    """Counts over one job. `each` of a count is 1, or what a rule of Fittings gives for that very piece or cabinet."""

    def __init__(self, job, lines, boards, batches):
        self.job, self.lines, self.boards, self.batches = job, lines, boards, batches
        self.routed = {}

    def each_in_line(self, row, line):
        """One of a line: its own parts, m2, cabinet, doors, drawers or shelves (with the number of a fitting)."""
        count, wanted = per(row), of(row)
        if count == "cabinet":
            matches = line.kind and line_matches(line, wanted)
            return self._each(row, line.words, line.plain) if matches else 0
        total = 0
        for piece in line.pieces:
            counts = count in ("part", "m2") or count == piece.counts_as
            if counts and anywhere(piece, wanted):
                amount = piece.cut_area_m2 if count == "m2" else 1
                total += piece.count * amount * self._each_piece(row, piece)
        return total

    def always(self, row):
        """Route blank: how many in the whole job."""
        count, wanted = per(row), of(row)
        if count in ("job", "site trip"):
            trips = item(self.job, "Site trips")
            there = 1 if count == "job" else 0 if blank(trips) else number(trips)
            return there * self._each(row) if any(line_matches(line, wanted) for line in self.lines) else 0
        if count == "sheet":
            held = {p.board for line in self.lines for p in line.pieces if anywhere(p, wanted)}
            return sum(self.boards[board].sheets for board in held) * self._each(row)
        return sum(line.qty * self.each_in_line(row, line) for line in self.lines)

    def on_route(self, row, edgings, coating=False):
        """Route by hand or send out: how many, for the edgings that take this route."""
        key = (id(row), coating)
        if key not in self.routed:
            self.routed[key] = (row, *self._by_edging(row, coating))  # holding the row keeps its identity its own
        _, edges, net_m, batches, parts = self.routed[key]
        count, here = per(row), frozenset(edgings)
        if count == "part":
            return sum(n for on_piece, n in parts.items() if on_piece & here)
        if count in ("job", "order", "trip"):
            there = any(edges[edging] for edging in here)
            typed = contract(self.job, "Trips")
            many = 1 if count != "trip" else 0 if blank(typed) else number(typed)
            return many * self._each(row) if there else 0
        table = {"edge": edges, "metre": net_m, "batch": batches}[count]
        return sum(table[edging] for edging in here) * self._each(row)

    def _by_edging(self, row, coating):
        wanted = of(row)
        edges, net_m, batches, parts = Counter(), Counter(), Counter(), Counter()
        for line in self.lines:
            for piece in line.pieces:
                many = piece.count * line.qty
                hit = [e for e in piece.edges if edge_matches(piece, e, wanted) and (e.adhesive or not coating)]
                for edge in hit:
                    edges[edge.edging] += many
                    net_m[edge.edging] += many * edge.length_mm / THOUSAND
                if hit and per(row) == "part":
                    parts[frozenset(e.edging for e in hit)] += many * self._each_piece(row, piece)
        for edging, made in self.batches.items():
            batches[edging] = sum(any(edge_matches(p, e, wanted) for p, e in batch.held) for batch in made)
        return edges, net_m, batches, parts

    def _each_piece(self, row, piece):
        if "Number" not in row:
            return 1
        words = {**shop_words(self.job), "length": piece.length_mm, "width": piece.width_mm}
        return self._each(row, words)

    def _each(self, row, words=None, plain=frozenset()):
        if "Number" not in row:
            return 1
        words = shop_words(self.job) if words is None else words
        rule = 1 if blank(row["Number"]) else row["Number"]
        return rules.value(rule, in_the_unit_of(self.job, "Fittings", words, plain))


def steps(job):
    """The rows of Work."""
    return rows(job, "Work")
