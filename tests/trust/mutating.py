"""The text of a module goes in; every small fault that can be planted in it comes out, and the tree with one of them planted.

Planted are: a comparison moved by its boundary or turned, an arithmetic sign changed, `and` for `or`, a condition turned round, a `not` or a minus
dropped, the two sides of a conditional swapped, a number one larger, yes for no, a text with two letters before it, min for max, any for all, a ceiling
for a floor, a filter of a comprehension dropped, a statement dropped (a call, a raise, an addition), break for continue.
Left alone are docstrings, annotations, decorators, imports, `__all__`, and two guards which no input can reach: `assert_never`, and `strict` of a zip.
"""

from __future__ import annotations

import ast
from collections import Counter
from dataclasses import dataclass

COMPARED = {
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq,
    ast.In: ast.NotIn, ast.NotIn: ast.In, ast.Is: ast.IsNot, ast.IsNot: ast.Is,
}  # fmt: skip
RECKONED = {
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult, ast.FloorDiv: ast.Div, ast.Mod: ast.FloorDiv,
    ast.Pow: ast.Mult, ast.BitOr: ast.BitAnd, ast.BitAnd: ast.BitOr, ast.LShift: ast.RShift, ast.RShift: ast.LShift,
}  # fmt: skip
NAMED = {"min": "max", "max": "min", "any": "all", "all": "any", "ceil": "floor", "floor": "ceil"}


@dataclass(frozen=True, slots=True)
class Mutation:
    """One small fault: where it would stand, and what it would change."""

    function: str
    """Blank where the fault stands outside all functions, so that only a fresh import shows it."""
    line: int
    lines: frozenset[int]
    """The fault's own line and those of its statement: a test that reaches one of them may see it."""
    kind: str
    was: str
    now: str
    again: int
    """How many faults with the same words stand before it in its function."""

    @property
    def name(self) -> str:
        """How a list names it, so that it is found again after lines have moved."""
        return f"{self.function}: {self.was} -> {self.now}" + (f" ({self.again + 1})" if self.again else "")


class Planting(ast.NodeTransformer):
    """Walks a tree in a fixed order, notes every fault that could be planted, and plants the one that is wanted."""

    def __init__(self, wanted: int | None = None) -> None:
        self.wanted, self.found = wanted, list[Mutation]()
        self._scope: list[str] = []
        self._lines: frozenset[int] = frozenset()
        self._seen: Counter[tuple[str, str, str]] = Counter()

    def offer(self, node: ast.AST, kind: str, changed: ast.AST) -> ast.AST:
        """The node, or what it is changed to where this is the fault that is wanted."""
        number = len(self.found)
        function, was, now = ".".join(self._scope), ast.unparse(node), ast.unparse(changed)
        again, line = self._seen[function, was, now], getattr(node, "lineno", min(self._lines, default=1))
        self._seen[function, was, now] += 1
        self.found.append(Mutation(function, line, self._lines | {line}, kind, was, now, again))
        return ast.copy_location(changed, node) if number == self.wanted else node

    def visit(self, node: ast.AST) -> ast.AST:
        if isinstance(node, ast.stmt):
            before, self._lines = self._lines, _head(node)
            node = super().visit(node)
            self._lines = before
            return node
        return super().visit(node)

    # what is left alone -------------------------------------------------------------------------------------------------------------------

    def visit_Import(self, node: ast.Import) -> ast.AST:
        return node

    def visit_ImportFrom(self, node: ast.ImportFrom) -> ast.AST:
        return node

    def visit_arg(self, node: ast.arg) -> ast.AST:
        return node

    def visit_keyword(self, node: ast.keyword) -> ast.AST:
        return node if node.arg == "strict" else self.generic_visit(node)

    def visit_AnnAssign(self, node: ast.AnnAssign) -> ast.AST:
        if node.value is not None:
            node.value = self.visit(node.value)
        return node

    def visit_Assign(self, node: ast.Assign) -> ast.AST:
        if not self._scope and (ast.unparse(node.targets[0]) == "__all__" or isinstance(node.value, ast.Subscript)):
            return node  # a list of names, or the name of a type
        return self.generic_visit(node)

    def visit_FunctionDef(self, node: ast.FunctionDef) -> ast.AST:
        node.args = self.visit(node.args)  # defaults belong to the scope outside
        self._scope.append(node.name)
        node.body = [self.visit(one) for one in node.body]
        self._scope.pop()
        return node

    def visit_ClassDef(self, node: ast.ClassDef) -> ast.AST:
        node.body = [self.visit(one) for one in node.body]
        return node

    # what is changed ----------------------------------------------------------------------------------------------------------------------

    def visit_Expr(self, node: ast.Expr) -> ast.AST:
        if isinstance(node.value, ast.Constant) or "assert_never" in ast.unparse(node):
            return node
        self.generic_visit(node)
        return self.offer(node, "statement", ast.Pass())

    def visit_Raise(self, node: ast.Raise) -> ast.AST:
        self.generic_visit(node)
        return self.offer(node, "statement", ast.Pass())

    def visit_AugAssign(self, node: ast.AugAssign) -> ast.AST:
        self.generic_visit(node)
        return self.offer(node, "statement", ast.Pass())

    def visit_Break(self, node: ast.Break) -> ast.AST:
        return self.offer(node, "jump", ast.Continue())

    def visit_Continue(self, node: ast.Continue) -> ast.AST:
        return self.offer(node, "jump", ast.Break())

    def visit_If(self, node: ast.If) -> ast.AST:
        if ast.unparse(node.test) == "TYPE_CHECKING":
            return node
        self.generic_visit(node)
        if not isinstance(node.test, ast.Compare | ast.UnaryOp):  # those are turned round where they stand
            node.test = self.offer(node.test, "condition", ast.UnaryOp(ast.Not(), node.test))
        return node

    def visit_IfExp(self, node: ast.IfExp) -> ast.AST:
        self.generic_visit(node)
        return self.offer(node, "condition", ast.IfExp(node.test, node.orelse, node.body))

    def visit_Compare(self, node: ast.Compare) -> ast.AST:
        self.generic_visit(node)
        made: ast.AST = node
        for place, sign in enumerate(node.ops):
            signs = [*node.ops[:place], COMPARED[type(sign)](), *node.ops[place + 1 :]]
            made = self.offer(made, "comparison", ast.Compare(node.left, signs, node.comparators)) if made is node else made
            if made is node and isinstance(sign, ast.Lt | ast.LtE | ast.Gt | ast.GtE) and len(node.ops) == 1:
                made = self.offer(made, "condition", ast.UnaryOp(ast.Not(), node))
        return made

    def visit_BoolOp(self, node: ast.BoolOp) -> ast.AST:
        self.generic_visit(node)
        return self.offer(node, "and, or", ast.BoolOp(ast.Or() if isinstance(node.op, ast.And) else ast.And(), node.values))

    def visit_BinOp(self, node: ast.BinOp) -> ast.AST:
        self.generic_visit(node)
        other = RECKONED.get(type(node.op))
        return node if other is None else self.offer(node, "arithmetic", ast.BinOp(node.left, other(), node.right))

    def visit_UnaryOp(self, node: ast.UnaryOp) -> ast.AST:
        self.generic_visit(node)
        return self.offer(node, "condition" if isinstance(node.op, ast.Not) else "arithmetic", node.operand)

    def visit_comprehension(self, node: ast.comprehension) -> ast.AST:
        self.generic_visit(node)
        node.ifs = [self.offer(one, "filter", ast.Constant(True)) for one in node.ifs]
        return node

    def visit_Name(self, node: ast.Name) -> ast.AST:
        if isinstance(node.ctx, ast.Load) and node.id in NAMED:
            return self.offer(node, "function", ast.Name(NAMED[node.id], ast.Load()))
        return node

    def visit_FormattedValue(self, node: ast.FormattedValue) -> ast.AST:
        node.value = self.visit(node.value)  # its format is left alone
        return node

    def visit_Constant(self, node: ast.Constant) -> ast.AST:
        value = node.value
        if isinstance(value, bool):
            return self.offer(node, "constant", ast.Constant(not value))
        if isinstance(value, int | float):
            return self.offer(node, "constant", ast.Constant(value + 1))
        if isinstance(value, str):
            return self.offer(node, "text", ast.Constant("XX" + value))
        return node


def mutations_of(text: str) -> list[Mutation]:
    """Every fault that can be planted in a module, in the order of its lines."""
    walk = Planting()
    walk.visit(ast.parse(text))
    return walk.found


def planted(text: str, number: int) -> ast.AST:
    """The module with its fault of that number."""
    tree: ast.AST = Planting(number).visit(ast.parse(text))
    return ast.fix_missing_locations(tree)


def _head(node: ast.stmt) -> frozenset[int]:
    """The lines of a statement without those of the statements inside it."""
    inside = [one.lineno for one in ast.walk(node) if isinstance(one, ast.stmt) and one is not node]
    return frozenset(range(node.lineno, min([*inside, (node.end_lineno or node.lineno) + 1])))

