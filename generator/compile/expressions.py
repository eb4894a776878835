"""Gives back the tree of a formula's expression, each node with the column at which it begins.

The language is FEEL's arithmetic: numbers, names, `+ - * /`, `**` with a constant exponent, brackets,
functions, and `if a < b then c else d`. `interpolate(a, series.column)` reads a column of a series of data/series, and
`interpolate(a, series[j])` its column number j. `-a**b` and `a**b**c` are refused, because languages differ on what
they mean.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from difflib import get_close_matches
from fractions import Fraction

from generator.compile.cells import NUMBER, Unreadable
from generator.pack.model import Expression
from generator.problems import Problem
from generator.read.records import Word

FUNCTIONS = {"min": (2, 9), "max": (2, 9), "abs": (1, 1), "sqrt": (1, 1), "exp": (1, 1), "log": (1, 1),
             "floor": (1, 1), "ceiling": (1, 1), "pi": (0, 0), "log10": (1, 1), "sin": (1, 1), "cos": (1, 1),
             "acos": (1, 1)}                     # fewest and most arguments
HIGHEST_POWER = 12                               # a whole power is written out as a product


@dataclass(frozen=True, slots=True)
class Node:
    """`name` and `parts` as in `pack.model`, with nodes for tuples; `at` is the column, counted from 1."""

    name: str
    parts: tuple[object, ...]
    at: int


def parse(text: Word) -> Node:
    """The tree as written. Raises `Unreadable` with the column inside the expression."""
    return _Parser(text).read()


def as_written(node: Node) -> Expression:
    """The node as a tuple of `pack.model`, powers as they were typed."""
    return (node.name, *(_tuple_of(part) for part in node.parts))


def names(node: Node) -> dict[str, int]:
    """Every name the expression uses, with the column of its first use."""
    if node.name == "symbol":
        return {str(node.parts[0]): node.at}
    found: dict[str, int] = {}
    for part in nodes_in(node.parts):
        for name, at in names(part).items():
            found.setdefault(name, at)
    return found


def nodes_in(parts: tuple[object, ...]) -> list[Node]:
    """The nodes among the parts of a node, in order, also those inside argument lists and comparisons."""
    found: list[Node] = []
    for part in parts:
        if isinstance(part, Node):
            found.append(part)
        elif isinstance(part, tuple):
            found += nodes_in(part)
    return found


def fault(text: Word, at: int, message: str, fix: str, code: str = "C010") -> Unreadable:
    """A problem at a column of the expression."""
    shown = " ".join(text.text.split())
    return Unreadable(Problem(text.place, code, f"column {at} of the expression `{shown}`: {message}", fix))


# private

_TOKEN = re.compile(rf"(?P<number>{NUMBER[2:]})|(?P<column>[a-z][a-z0-9_]*\.[a-z][a-z0-9_]*)"
                    r"|(?P<name>[A-Za-z_][A-Za-z0-9_]*)"
                    r"|(?P<mark>\*\*|<=|>=|[-+*/(),<>=\[\]])")
_TYPOS = {
    "^": "**", "×": "*", "·": "*", "÷": "/", "−": "-", "–": "-", "√": "sqrt(...)", "π": "pi()", "²": "** 2",
    "³": "** 3", "%": "/ 100"}
_WORDS = ("if", "then", "else")
_SIGNS = ("<=", ">=", "<", ">", "=")
_DEEPEST = 60


def _tuple_of(part: object) -> object:
    if isinstance(part, Node):
        return as_written(part)
    return tuple(_tuple_of(inner) for inner in part) if isinstance(part, tuple) else part


class _Parser:
    def __init__(self, text: Word) -> None:
        self.text = text
        self.tokens = self._lex()
        self.next = 0
        self.depth = 0

    def read(self) -> Node:
        if not self.tokens:
            raise fault(
                self.text, 1, "there is no expression", "write one, such as `4 * flow / (pi() * bore ** 2)`")
        node = self._expression()
        if self.next < len(self.tokens):
            raise self._wrong(
                f"'{self._token()}' does not continue what stands before it", "put an operator between")
        return node

    def _lex(self) -> list[tuple[str, str, int]]:
        tokens, at, text = [], 0, self.text.text
        while at < len(text):
            if text[at].isspace():
                at += 1
                continue
            found = _TOKEN.match(text, at)
            if found is None:
                known = _TYPOS.get(text[at])
                raise fault(self.text, at + 1, f"'{text[at]}' is not part of the formula language",
                            f"write `{known}`" if known else "use names, numbers, + - * / ** and brackets")
            tokens.append((str(found.lastgroup), found[0], at + 1))
            at = found.end()
        return tokens

    def _token(self, ahead: int = 0) -> str:
        place = self.next + ahead
        return self.tokens[place][1] if place < len(self.tokens) else ""

    def _at(self) -> int:
        return self.tokens[self.next][2] if self.next < len(self.tokens) else len(self.text.text.rstrip()) + 1

    def _wrong(self, message: str, fix: str) -> Unreadable:
        return fault(self.text, self._at(), message, fix)

    def _expect(self, token: str) -> None:
        if self._token() != token:
            raise self._wrong(f"`{token}` is missing", f"write `{token}` here")
        self.next += 1

    def _expression(self) -> Node:
        self.depth += 1
        if self.depth > _DEEPEST:
            raise self._wrong(
                "brackets are nested too deeply", "split the formula into several derived values")
        node = self._if() if self._token() == "if" else self._sum()
        self.depth -= 1
        return node

    def _if(self) -> Node:
        at = self._at()
        self.next += 1
        left = self._sum()
        sign = self._token()
        if sign not in _SIGNS:
            raise self._wrong("a comparison is missing", "write `if a < b then c else d`")
        self.next += 1
        right = self._sum()
        self._expect("then")
        then = self._expression()
        self._expect("else")
        return Node("if", ((sign, left, right), then, self._expression()), at)

    def _sum(self) -> Node:
        node = self._product()
        while self._token() in ("+", "-"):
            name, at = ("add" if self._token() == "+" else "subtract"), self._at()
            self.next += 1
            node = Node(name, (node, self._product()), at)
        return node

    def _product(self) -> Node:
        node = self._signed()
        while self._token() in ("*", "/"):
            name, at = ("multiply" if self._token() == "*" else "divide"), self._at()
            self.next += 1
            node = Node(name, (node, self._signed()), at)
        return node

    def _signed(self) -> Node:
        at = self._at()
        if self._token() != "-":
            return self._power()
        self.next += 1
        if self._token() == "-":
            raise self._wrong("two signs stand side by side", "put the second into brackets: `-(-a)`")
        operand, bracketed = self._atom(), self.tokens[self.next - 1][1] == ")"
        if self._token() == "**":
            raise fault(self.text, at, "`-a**b` is read in two ways", "write `-(a**b)` or `(-a)**b`")
        if operand.name == "number" and not bracketed:
            return Node("number", (-float(str(operand.parts[0])),), at)
        return Node("negate", (operand,), at)

    def _power(self) -> Node:
        base = self._atom()
        if self._token() != "**":
            return base
        at = self._at()
        self.next += 1
        where = self._at()
        sign = -1 if self._token() == "-" else 1
        if sign < 0:
            self.next += 1
        exponent = _constant(self._atom())
        if exponent is None:
            raise fault(
                self.text, where, "an exponent must be a plain number", "write the number, such as `** 0.25`")
        if self._token() == "**":
            raise self._wrong("`a**b**c` is read in two ways", "write `(a**b)**c` or `a**(b*c)`")
        exponent *= sign
        if exponent == 0 or exponent.denominator == 1 and abs(exponent) > HIGHEST_POWER:
            raise fault(self.text, where, f"the exponent {exponent} is not useful",
                        f"use a whole power from 1 to {HIGHEST_POWER}, or a fraction")
        return Node("power", (base, float(exponent)), at)

    def _atom(self) -> Node:
        at, token = self._at(), self._token()
        kind = self.tokens[self.next][0] if self.next < len(self.tokens) else ""
        if kind == "number":
            self.next += 1
            if self.next < len(self.tokens) and self.tokens[self.next][0] == "number":
                raise self._wrong("two numbers stand side by side", "write a number without leading zeros")
            return Node("number", (float(token),), at)
        if token == "(":
            self.next += 1
            node = self._expression()
            self._expect(")")
            return node
        if kind == "name" and token not in _WORDS:
            self.next += 1
            if self._token() == "(":
                return self._call(token, at)
            return Node("call", ("pi", ()), at) if token == "pi" else Node("symbol", (token,), at)
        if token == "if":
            raise self._wrong("`if` stands inside a sum or product", "put it into brackets")
        raise self._wrong("a number, a name or a bracket is missing", "complete the expression")

    def _call(self, name: str, at: int) -> Node:
        if name not in FUNCTIONS and name != "interpolate":
            close = get_close_matches(name, FUNCTIONS, 1)
            raise fault(self.text, at, f"there is no function '{name}'",
                        f"write `{close[0]}`" if close else f"use one of {', '.join(FUNCTIONS)}, interpolate")
        self._expect("(")
        if name == "interpolate":
            return self._interpolation(at)
        arguments: list[Node] = []
        if self._token() != ")":
            arguments.append(self._expression())
            while self._token() == ",":
                self.next += 1
                arguments.append(self._expression())
        self._expect(")")
        fewest, most = FUNCTIONS[name]
        if not fewest <= len(arguments) <= most:
            wanted = f"{fewest}" if fewest == most else f"{fewest} to {most}"
            raise fault(self.text, at, f"'{name}' takes {wanted} values and was given {len(arguments)}",
                        "give it as many as it takes")
        return Node("call", (name, tuple(arguments)), at)

    def _interpolation(self, at: int) -> Node:
        """`interpolate(a, x1, y1, ...)`, `interpolate(a, series.column)` or `interpolate(a, series[column])`."""
        arguments = [] if self._token() == ")" else [self._expression()]
        while self._token() == ",":
            self.next += 1
            kind = self.tokens[self.next][0] if self.next < len(self.tokens) else ""
            if len(arguments) == 1 and (kind == "column" or kind == "name" and self._token(1) == "["):
                return self._of_series(arguments[0], at)
            arguments.append(self._expression())
        self._expect(")")
        return self._interpolate(arguments, at)

    def _of_series(self, argument: Node, at: int) -> Node:
        series, _, column = self._token().partition(".")
        chosen: tuple[object, ...] = ("column", series, column)
        self.next += 1
        if not column:
            self.next += 1
            chosen = ("choose", series, self._expression())
            self._expect("]")
        self._expect(")")
        return Node("interpolate", (argument, chosen), at)

    def _interpolate(self, arguments: list[Node], at: int) -> Node:
        wanted = "write `interpolate(a, x1, y1, x2, y2, ...)` with rising x"
        if len(arguments) < 5 or len(arguments) % 2 == 0:
            raise fault(self.text, at, "`interpolate` takes a value and at least two points", wanted)
        numbers = [_constant(node) for node in arguments[1:]]
        if any(number is None for number in numbers):
            raise fault(self.text, at, "the points of `interpolate` must be plain numbers", wanted)
        flat = [float(number) for number in numbers if number is not None]
        pairs = tuple(zip(flat[::2], flat[1::2], strict=True))
        if any(one[0] >= other[0] for one, other in zip(pairs, pairs[1:], strict=False)):
            raise fault(self.text, at, "the points of `interpolate` do not rise", wanted)
        return Node("interpolate", (arguments[0], pairs), at)


def _constant(node: Node) -> Fraction | None:
    """The value of a node without names, exactly as typed; None when it has one."""
    if node.name == "number":
        return Fraction(repr(node.parts[0]))
    if node.name == "negate":
        value = _constant(node.parts[0])  # type: ignore[arg-type]
        return None if value is None else -value
    if node.name in ("add", "subtract", "multiply", "divide"):
        left, right = (_constant(part) for part in node.parts)  # type: ignore[arg-type]
        if left is None or right is None or node.name == "divide" and right == 0:
            return None
        return {"add": lambda: left + right, "subtract": lambda: left - right,
                "multiply": lambda: left * right, "divide": lambda: left / right}[node.name]()
    return None
