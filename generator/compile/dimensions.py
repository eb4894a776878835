"""Gives back an expression with every conversion written into it, once its dimensions are known to agree."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from generator.compile.expressions import Node, fault, nodes_in
from generator.compile.quantities import Unit, coherent_pint, in_words
from generator.pack.model import Expression
from generator.read.records import Word
from generator.units import Dimension, conversion, dimension

NUMBER: Dimension = ()


def check(text: Word, node: Node, units: Mapping[str, Unit]) -> Dimension:
    """The dimension of an expression whose names have these units. Raises `Unreadable` where two differ."""
    return _Check(text, units).of(node)


def compiled(
        node: Node, units: Mapping[str, Unit], constants: Mapping[str, float], result: Unit) -> Expression:
    """The expression from symbols in their own units to a number in the result's unit, SI in between.

    Constants are numbers in SI already. Whole powers are products, because library powers differ between
    languages.
    """
    dims = dimension(result.pint)
    return scaled(_in_si(node, units, constants), *conversion(coherent_pint(dims), result.pint))


def scaled(expression: Expression, n: int, k: int, d: int) -> Expression:
    """(x * n + k) / d as nodes, without the steps that change nothing."""
    if n != 1:
        expression = ("multiply", expression, ("number", float(n)))
    if k:
        expression = ("add", expression, ("number", float(k)))
    return expression if d == 1 else ("divide", expression, ("number", float(d)))


# private

class _Check:
    def __init__(self, text: Word, units: Mapping[str, Unit]) -> None:
        self.text, self.units = text, units

    def of(self, node: Node) -> Dimension:
        if node.name == "number":
            return NUMBER
        if node.name == "symbol":
            return dimension(self.units[str(node.parts[0])].pint)
        if node.name == "negate":
            return self.of(_node(node.parts[0]))
        if node.name in ("add", "subtract"):
            return self._same(node, "added" if node.name == "add" else "subtracted", nodes_in(node.parts))
        if node.name in ("multiply", "divide"):
            left, right = (self.of(part) for part in nodes_in(node.parts))
            return _product(left, right, 1 if node.name == "multiply" else -1)
        if node.name == "power":
            exponent = Fraction(str(node.parts[1])).limit_denominator(1000)
            return tuple((name, power * exponent) for name, power in self.of(_node(node.parts[0])))
        if node.name == "if":
            _, left, right = node.parts[0]  # type: ignore[misc]
            self._same(node, "compared", [left, right])
            return self._same(node, "the two outcomes of `if`", nodes_in(node.parts[1:]))
        if node.name == "interpolate":
            self._plain(_node(node.parts[0]), "interpolate")
            return NUMBER
        return self._call(node)

    def _call(self, node: Node) -> Dimension:
        name, arguments = str(node.parts[0]), nodes_in(node.parts)
        if name == "pi":
            return NUMBER
        if name in ("min", "max"):
            return self._same(node, f"the values of '{name}'", arguments)
        if name == "abs":
            return self.of(arguments[0])
        if name == "sqrt":
            return tuple((base, power / 2) for base, power in self.of(arguments[0]))
        self._plain(arguments[0], name)
        return NUMBER

    def _same(self, node: Node, what: str, parts: list[Node]) -> Dimension:
        first = self.of(parts[0])
        for part in parts[1:]:
            other = self.of(part)
            if other != first:
                what = what if what.startswith("the ") else f"what is {what}"
                raise fault(
                    self.text, node.at, f"{what} has different units, {self._unit(parts[0], first)} and "
                    f"{self._unit(part, other)}", "a bare number has no unit: give it one as a constant"
                    if NUMBER in (first, other) else "divide or multiply until both have the same", "C011")
        return first

    def _plain(self, node: Node, function: str) -> None:
        found = self.of(node)
        if found != NUMBER:
            raise fault(
                self.text, node.at,
                f"'{function}' takes a plain number and was given {self._unit(node, found)}",
                "divide by a constant with that unit", "C011")

    def _unit(self, node: Node, found: Dimension) -> str:
        if node.name == "symbol":
            unit = self.units[str(node.parts[0])].symbol
            return f"'{node.parts[0]}' in {unit if unit != '1' else 'no unit'}"
        return in_words(found) if found != NUMBER else "a plain number"


def _node(part: object) -> Node:
    assert isinstance(part, Node)
    return part


def _product(one: Dimension, other: Dimension, sign: int) -> Dimension:
    powers = dict(one)
    for name, power in other:
        powers[name] = powers.get(name, Fraction(0)) + sign * power
    return tuple(sorted((name, power) for name, power in powers.items() if power))


def _in_si(node: Node, units: Mapping[str, Unit], constants: Mapping[str, float]) -> Expression:
    if node.name == "number":
        return ("number", node.parts[0])
    if node.name == "symbol":
        name = str(node.parts[0])
        if name in constants:
            return ("number", constants[name])
        unit = units[name]
        return scaled(("symbol", name), *conversion(unit.pint, coherent_pint(dimension(unit.pint))))
    if node.name == "power":
        return _power(_in_si(_node(node.parts[0]), units, constants), float(str(node.parts[1])))
    if node.name == "call":
        return ("call", node.parts[0], tuple(_in_si(part, units, constants) for part in nodes_in(node.parts)))
    if node.name == "if":
        sign, left, right = node.parts[0]  # type: ignore[misc]
        then, otherwise = (_in_si(part, units, constants) for part in nodes_in(node.parts[1:]))
        return (
            "if", (sign, _in_si(left, units, constants), _in_si(right, units, constants)), then, otherwise)
    if node.name == "interpolate":
        return ("interpolate", _in_si(_node(node.parts[0]), units, constants), node.parts[1])
    return (node.name, *(_in_si(part, units, constants) for part in nodes_in(node.parts)))


def _power(base: Expression, exponent: float) -> Expression:
    if exponent != int(exponent):
        return ("power", base, exponent)
    product = base
    for _ in range(abs(int(exponent)) - 1):
        product = ("multiply", product, base)
    return product if exponent > 0 else ("divide", ("number", 1.0), product)
