"""The small arithmetic that a shop writes in its sheets: the text of a rule and named numbers in, one exact number out.

A rule is numbers, names, + - * / ( ), comparisons, min, max, round_up, round_down and if(a, b, c): arithmetic, never a program.
It is read into five kinds of node and walked; nothing of it is ever run as code.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from difflib import get_close_matches
from functools import lru_cache

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction
from estimator.model.units import MM_PER_INCH, whole_up

_LONGEST, _DEEPEST, _MOST_DIGITS = 500, 40, 40
_LARGEST = 10**12
_TOKEN = re.compile(
    r"\s*(?:(?P<number>\d+(?:\.\d+)?|\.\d+)|(?P<word>[^\W\d]\w*)|(?P<sign><=|>=|<>|!=|==|[-+*/()<>=,]))\s*", re.UNICODE
)
_LOOKS_LIKE = str.maketrans({"×": "*", "÷": "/", "−": "-", "–": "-", ";": ",", "\xa0": " "})
_UNIT_MM = {"mm": Fraction(1), "cm": Fraction(10), "m": Fraction(1000), "in": MM_PER_INCH, "inch": MM_PER_INCH}
_FUNCTIONS = {"min": (1, 20), "max": (1, 20), "round_up": (1, 1), "round_down": (1, 1), "if": (3, 3)}
_COMPARISONS = ("<", ">", "<=", ">=", "=", "==", "<>", "!=")


@dataclass(frozen=True, slots=True)
class Number:
    value: Fraction


@dataclass(frozen=True, slots=True)
class Length:
    """A number written with its unit: 19 mm."""

    mm: Fraction


@dataclass(frozen=True, slots=True)
class Name:
    name: str


@dataclass(frozen=True, slots=True)
class Binary:
    sign: str
    left: Node
    right: Node


@dataclass(frozen=True, slots=True)
class Call:
    function: str
    arguments: tuple[Node, ...]


Node = Number | Length | Name | Binary | Call


@dataclass(frozen=True, slots=True)
class Trouble:
    """Why a rule gives no number, in words for the shop."""

    words: str
    mend: str = "write numbers, names, + - * / ( ), comparisons, min, max, round_up, round_down or if(a, b, c)"


class _Stop(Exception):
    """Carries a Trouble up through the walk; it never leaves this file."""

    def __init__(self, words: str, mend: str = "") -> None:
        super().__init__(words)
        self.trouble = Trouble(words, mend) if mend else Trouble(words)


def rule_name(words: str) -> str:
    """The name by which rules know a header or a length: `Plinth height` and `plinth_height` are one.

    >>> rule_name(" Plinth  height ")
    'plinth_height'
    """
    return re.sub(r"[\s_]+", "_", words.strip()).casefold()


@lru_cache(maxsize=4096)
def parse(text: str) -> Node | Trouble:
    """A rule's text as a tree of nodes, or the trouble with it.

    >>> parse("2 * gap side")
    Binary(sign='*', left=Number(value=Fraction(2, 1)), right=Name(name='gap_side'))
    """
    try:
        return _Reader(_tokens(text)).whole()
    except _Stop as stop:
        return stop.trouble


def names_in(text: str) -> frozenset[str]:
    """The names that a rule asks for; empty when the rule cannot be read.

    >>> sorted(names_in("height - 2 * carcass thickness"))
    ['carcass_thickness', 'height']
    """

    def walk(node: Node) -> frozenset[str]:
        match node:
            case Name(name):
                return frozenset((name,))
            case Binary(_, left, right):
                return walk(left) | walk(right)
            case Call(_, arguments):
                return frozenset().union(*(walk(argument) for argument in arguments))
            case _:
                return frozenset()

    tree = parse(text)
    return frozenset() if isinstance(tree, Trouble) else walk(tree)


def work_out(text: str, *, names: Mapping[str, Fraction | int], unit_mm: Fraction = Fraction(1)) -> Fraction | Trouble:
    """The number that a rule gives, where bare numbers and names are in one unit of `unit_mm` millimetres.

        a comparison gives 1 when it holds and 0 when it does not; if(a, b, c) gives b unless a is 0, then c

    By hand: hinges of a 1700 mm door, 2 + (length > 900) + (length > 1600) + (length > 2000), are 4.

    >>> work_out("2 + (length > 900) + (length > 1600) + (length > 2000)", names={"length": 1700})
    Fraction(4, 1)
    >>> work_out("(width - 2 * 3 - 3) / 2", names={"width": 600})
    Fraction(591, 2)

    Holds for: exact fractions; only the branch of an `if` that is taken has to compute.
    Error: none.
    Source: common-practice.
    """
    tree = parse(text)
    if isinstance(tree, Trouble):
        return tree
    try:
        return _value(tree, names, unit_mm)
    except _Stop as stop:
        return stop.trouble


def _tokens(text: str) -> list[tuple[str, str]]:
    if len(text) > _LONGEST:
        raise _Stop(f"a rule of {len(text)} letters", f"keep a rule under {_LONGEST} letters")
    plain = text.replace("≤", "<=").replace("≥", ">=").translate(_LOOKS_LIKE).strip().removeprefix("=").replace('"', " in ")
    tokens: list[tuple[str, str]] = []
    at = 0
    while at < len(plain):
        found = _TOKEN.match(plain, at)
        if found is None:
            raise _Stop(f"a rule does not know the sign {plain[at]!r}")
        kind = found.lastgroup or ""
        word = found.group(kind)
        if kind == "number" and len(word) > _MOST_DIGITS:
            raise _Stop("a number with too many digits", f"write numbers of at most {_MOST_DIGITS} digits")
        if kind == "word" and tokens and tokens[-1][0] == "word":
            tokens[-1] = ("word", rule_name(f"{tokens[-1][1]} {word}"))
        else:
            tokens.append((kind, rule_name(word) if kind == "word" else word))
        at = found.end()
    return tokens


class _Reader:
    """Tokens to nodes, by recursive descent: comparison, sum, product, sign, one thing."""

    def __init__(self, tokens: list[tuple[str, str]]) -> None:
        self.tokens, self.at, self.depth = tokens, 0, 0

    def next_is(self, *signs: str) -> bool:
        return self.at < len(self.tokens) and self.tokens[self.at][0] == "sign" and self.tokens[self.at][1] in signs

    def take(self) -> tuple[str, str]:
        if self.at >= len(self.tokens):
            raise _Stop("the rule ends too early")
        self.at += 1
        return self.tokens[self.at - 1]

    def expect(self, sign: str) -> None:
        if not self.next_is(sign):
            raise _Stop(f"a {sign} is missing")
        self.at += 1

    def whole(self) -> Node:
        if not self.tokens:
            raise _Stop("the rule is empty")
        node = self.comparison()
        if self.at < len(self.tokens):
            raise _Stop(f"the rule goes on with {self.tokens[self.at][1]!r} where it should end")
        return node

    def comparison(self) -> Node:
        self.depth += 1
        if self.depth > _DEEPEST:
            raise _Stop("brackets within brackets too many times", f"keep it under {_DEEPEST}")
        node = self.sum()
        if self.next_is(*_COMPARISONS):
            node = Binary(self.take()[1], node, self.sum())
        self.depth -= 1
        return node

    def sum(self) -> Node:
        node = self.product()
        while self.next_is("+", "-"):
            node = Binary(self.take()[1], node, self.product())
        return node

    def product(self) -> Node:
        node = self.signed()
        while self.next_is("*", "/"):
            node = Binary(self.take()[1], node, self.signed())
        return node

    def signed(self) -> Node:
        minus = False
        while self.next_is("-", "+"):
            minus ^= self.take()[1] == "-"
        node = self.one()
        return Binary("-", Number(Fraction(0)), node) if minus else node

    def one(self) -> Node:
        kind, word = self.take()
        if kind == "number":
            if self.at < len(self.tokens) and self.tokens[self.at][0] == "word" and self.tokens[self.at][1] in _UNIT_MM:
                return Length(Fraction(word) * _UNIT_MM[self.take()[1]])
            return Number(Fraction(word))
        if kind == "word":
            return self.call(word) if self.next_is("(") else Name(word)
        if word == "(":
            node = self.comparison()
            self.expect(")")
            return node
        raise _Stop(f"a number or a name is missing before {word!r}")

    def call(self, function: str) -> Node:
        if function not in _FUNCTIONS:
            raise _Stop(f"{function}(...) is nothing that a rule knows")
        self.expect("(")
        arguments = [self.comparison()]
        while self.next_is(","):
            self.at += 1
            arguments.append(self.comparison())
        self.expect(")")
        least, most = _FUNCTIONS[function]
        if not least <= len(arguments) <= most:
            raise _Stop(f"{function}(...) with {len(arguments)} values between its brackets; it takes {least}")
        return Call(function, tuple(arguments))


def _value(node: Node, names: Mapping[str, Fraction | int], unit_mm: Fraction) -> Fraction:
    match node:
        case Number(value):
            result = value
        case Length(mm):
            result = mm / unit_mm
        case Name(name):
            result = _named(name, names)
        case Binary(sign, left, right):
            result = _combine(sign, _value(left, names, unit_mm), _value(right, names, unit_mm))
        case Call("if", (condition, then, otherwise)):
            result = _value(then if _value(condition, names, unit_mm) else otherwise, names, unit_mm)
        case Call(function, arguments):  # pragma: no branch - the last of the kinds of Node
            result = _apply(function, [_value(argument, names, unit_mm) for argument in arguments])
    if abs(result) > _LARGEST or result.denominator > _LARGEST**2:
        raise _Stop("the number grows out of all measure", "look for a slip in the rule")
    return result


def _named(name: str, names: Mapping[str, Fraction | int]) -> Fraction:
    if name in names:
        return Fraction(names[name])
    near = get_close_matches(name, names)
    guess = f"did you mean {near[0]}? " if near else ""
    raise _Stop(f"the name {name}, which stands for nothing here", f"{guess}names here: {', '.join(sorted(names))}")


def _combine(sign: str, left: Fraction, right: Fraction) -> Fraction:
    match sign:
        case "+":
            return left + right
        case "-":
            return left - right
        case "*":
            return left * right
        case "/" if right == 0:
            raise _Stop("a division by 0", "make sure that what stands under the / cannot be 0")
        case "/":
            return left / right
        case "<":
            return Fraction(left < right)
        case ">":
            return Fraction(left > right)
        case "<=":
            return Fraction(left <= right)
        case ">=":
            return Fraction(left >= right)
        case "=" | "==":
            return Fraction(left == right)
        case _:
            return Fraction(left != right)


def _apply(function: str, values: list[Fraction]) -> Fraction:
    match function:
        case "min":
            return min(values)
        case "max":
            return max(values)
        case "round_up":
            return Fraction(whole_up(values[0]))
        case _:
            return Fraction(-whole_up(-values[0]))
