"""A small rule as a shop writes it goes in, with what its names stand for; an exact number comes out.

Written apart from the program, straight from the words: + - * / ( ), comparisons (1 or 0), min, max, round_up,
round_down, if(a, b, c); names with spaces or underscores.
"""

import math
import re
from fractions import Fraction

TOKEN = re.compile(r"\s*(\d+(?:\.\d+)?|\.\d+|[A-Za-z_]\w*(?:\s+[A-Za-z_]\w*)*|<=|>=|<>|!=|==|[-+*/()<>=,])")
COMPARE = {
    "<": lambda a, b: a < b,
    ">": lambda a, b: a > b,
    "<=": lambda a, b: a <= b,
    ">=": lambda a, b: a >= b,
    "=": lambda a, b: a == b,
    "==": lambda a, b: a == b,
    "<>": lambda a, b: a != b,
    "!=": lambda a, b: a != b,
}
FUNCTIONS = {
    "min": min,
    "max": max,
    "round_up": lambda a: Fraction(math.ceil(a)),
    "round_down": lambda a: Fraction(math.floor(a)),
}


def name_of(words):
    """The name by which a rule knows a column or an item: small letters, blanks as underscores.

    >>> name_of("Plinth  height")
    'plinth_height'
    """
    return "_".join(str(words).lower().split())


def names_in(rule):
    """Every name that a rule uses."""
    return {name_of(word) for word in TOKEN.findall(str(rule)) if re.match(r"[A-Za-z_]", word)}


def value(rule, names):
    """What a rule comes to.

    >>> value("2 + (length > 900) + (length > 1600)", {"length": Fraction(1000)})
    Fraction(3, 1)
    >>> value("if(gap side >= 2, (width - 2 * gap_side) / 3, 0)", {"gap_side": Fraction(2), "width": Fraction(14)})
    Fraction(10, 3)
    """
    words = str(rule).replace("\u00a0", " ").strip()
    tokens, at = [], 0
    while at < len(words):
        match = TOKEN.match(words, at)
        if not match:
            raise ValueError(f"cannot read {rule!r}")
        tokens.append(match[1])
        at = match.end()
    tokens.reverse()
    found = _comparison(tokens, names)
    if tokens:
        raise ValueError(f"too many words in {rule!r}")
    return Fraction(found)


def _next_is(tokens, wanted):
    return bool(tokens) and tokens[-1] in wanted


def _comparison(tokens, names):
    left = _sum(tokens, names)
    while _next_is(tokens, COMPARE):
        compare = COMPARE[tokens.pop()]
        left = Fraction(int(compare(left, _sum(tokens, names))))
    return left


def _sum(tokens, names):
    left = _product(tokens, names)
    while _next_is(tokens, "+-"):
        left = left + _product(tokens, names) if tokens.pop() == "+" else left - _product(tokens, names)
    return left


def _product(tokens, names):
    left = _factor(tokens, names)
    while _next_is(tokens, "*/"):
        left = left * _factor(tokens, names) if tokens.pop() == "*" else left / _factor(tokens, names)
    return left


def _factor(tokens, names):
    token = tokens.pop()
    if token == "-":
        return -_factor(tokens, names)
    if token == "(":
        inside = _comparison(tokens, names)
        assert tokens.pop() == ")"
        return inside
    if re.match(r"[\d.]", token):
        return Fraction(token)
    name = name_of(token)
    return _called(name, tokens, names) if _next_is(tokens, "(") else names[name]


def _called(name, tokens, names):
    tokens.pop()
    if name == "if":
        return _choice(tokens, names)
    given = [_comparison(tokens, names)]
    while _next_is(tokens, ","):
        tokens.pop()
        given.append(_comparison(tokens, names))
    assert tokens.pop() == ")"
    return FUNCTIONS[name](*given)


def _choice(tokens, names):
    """if(a, b, c): the branch that is not taken is never worked out, so it may divide by nothing."""
    condition = _comparison(tokens, names)
    branches = []
    for end in ",)":
        assert tokens.pop() == ","
        branch, depth = [], 0
        while depth or tokens[-1] not in (end, ")"):
            depth += {"(": 1, ")": -1}.get(tokens[-1], 0)
            branch.append(tokens.pop())
        branches.append(branch[::-1])
    assert tokens.pop() == ")"
    return _comparison(branches[0 if condition else 1], names)
