"""Gives back an expression with every conversion written into it, once its dimensions are known to agree."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType

from generator.compile.expressions import Node, fault, nodes_in
from generator.compile.quantities import Unit, coherent_pint, in_words
from generator.compile.series import Figures
from generator.pack.model import Expression
from generator.read.records import Word
from generator.units import Dimension, conversion, dimension

NUMBER: Dimension = ()
NO_SERIES: Mapping[str, Figures] = MappingProxyType({})


def check(text: Word, node: Node, units: Mapping[str, Unit],
          series: Mapping[str, Figures] = NO_SERIES) -> Dimension:
    """The dimension of an expression whose names have these units. Raises `Unreadable` where two differ."""
    return _Check(text, units, series).of(node)


def compiled(
        node: Node, units: Mapping[str, Unit], constants: Mapping[str, float], result: Unit,
        series: Mapping[str, Figures] = NO_SERIES) -> Expression:
    """The expression from symbols in their own units to a number in the result's unit, SI in between.

    Constants are numbers in SI already. Whole powers are products, because library powers differ between
    languages.
    """
    dims = dimension(result.pint)
    return scaled(_in_si(node, _Names(units, constants, series)), *conversion(coherent_pint(dims), result.pint))


def scaled(expression: Expression, n: int, k: int, d: int) -> Expression:
    """(x * n + k) / d as nodes, without the steps that change nothing."""
    if n != 1:
        expression = ("multiply", expression, ("number", float(n)))
    if k:
        expression = ("add", expression, ("number", float(k)))
    return expression if d == 1 else ("divide", expression, ("number", float(d)))


# private

@dataclass(frozen=True, slots=True)
class _Names:
    units: Mapping[str, Unit]
    constants: Mapping[str, float]
    series: Mapping[str, Figures]


class _Check:
    def __init__(self, text: Word, units: Mapping[str, Unit], series: Mapping[str, Figures]) -> None:
        self.text, self.units, self.series = text, units, series

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
            return self._interpolate(node)
        return self._call(node)

    def _interpolate(self, node: Node) -> Dimension:
        argument, points = _node(node.parts[0]), node.parts[1]
        assert isinstance(points, tuple)
        if points[0] not in ("column", "choose"):
            self._plain(argument, "interpolate")
            return NUMBER
        kind, name, column = points
        series = self.series.get(name)
        if series is None:
            raise fault(self.text, node.at, f"there is no series '{name}'",
                        f"use one of {', '.join(self.series) or 'data/series, which is empty'}", "C014")
        if series.axis is None:
            raise fault(self.text, node.at, f"the rows of the series '{name}' are names, and nothing lies between them",
                        "use a series with a unit on its axis", "C014")
        found, wanted = self.of(argument), dimension(series.axis.pint)
        if found != wanted:
            raise fault(self.text, node.at, f"series '{name}' is read at a value in {series.axis.in_message} and was "
                        f"given {self._unit(argument, found)}", "give it a value of its axis", "C011")
        if kind == "choose":
            self._plain(column, "the column of a series")
            dims = {dimension(unit.pint) for _, unit, _ in series.columns}
            if len(dims) > 1:
                raise fault(self.text, node.at, f"the columns of the series '{name}' have different units",
                            f"name the column: {name}.{series.columns[0][0]}", "C011")
            return dims.pop()
        units = {one: unit for one, unit, _ in series.columns}
        if column not in units:
            raise fault(self.text, node.at, f"series '{name}' has no column '{column}'",
                        f"use one of {', '.join(units)}", "C014")
        return dimension(units[column].pint)

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


def _in_si(node: Node, known: _Names) -> Expression:
    if node.name == "number":
        return ("number", node.parts[0])
    if node.name == "symbol":
        name = str(node.parts[0])
        if name in known.constants:
            return ("number", known.constants[name])
        unit = known.units[name]
        return scaled(("symbol", name), *conversion(unit.pint, coherent_pint(dimension(unit.pint))))
    if node.name == "power":
        return _power(_in_si(_node(node.parts[0]), known), float(str(node.parts[1])))
    if node.name == "call":
        return ("call", node.parts[0], tuple(_in_si(part, known) for part in nodes_in(node.parts)))
    if node.name == "if":
        sign, left, right = node.parts[0]  # type: ignore[misc]
        then, otherwise = (_in_si(part, known) for part in nodes_in(node.parts[1:]))
        return ("if", (sign, _in_si(left, known), _in_si(right, known)), then, otherwise)
    if node.name == "interpolate":
        return _interpolated(_node(node.parts[0]), node.parts[1], known)  # type: ignore[arg-type]
    return (node.name, *(_in_si(part, known) for part in nodes_in(node.parts)))


def _interpolated(argument: Node, points: tuple, known: _Names) -> Expression:
    if points[0] not in ("column", "choose"):
        return ("interpolate", _in_si(argument, known), points)
    kind, name, column = points
    series = known.series[name]
    assert series.axis is not None
    name_of_argument = str(argument.parts[0])
    if argument.name == "symbol" and name_of_argument not in known.constants:
        # Straight into the unit of the axis: by way of SI an end of the series would be missed in the last digit.
        at = scaled(("symbol", name_of_argument), *conversion(known.units[name_of_argument].pint, series.axis.pint))
    else:
        at = scaled(_in_si(argument, known), *conversion(coherent_pint(dimension(series.axis.pint)), series.axis.pint))
    read = {one: scaled(("interpolate", at, found), *conversion(unit.pint, coherent_pint(dimension(unit.pint))))
            for one, unit, found in series.columns}
    if kind == "column":
        return read[column]
    chosen: Expression = ("divide", ("number", 0.0), ("number", 0.0))        # no such column: no value
    for number, one in reversed(list(enumerate(read.values(), 1))):
        chosen = ("if", ("=", _in_si(column, known), ("number", float(number))), one, chosen)
    return chosen


def _power(base: Expression, exponent: float) -> Expression:
    if exponent != int(exponent):
        return ("power", base, exponent)
    product = base
    for _ in range(abs(int(exponent)) - 1):
        product = ("multiply", product, base)
    return product if exponent > 0 else ("divide", ("number", 1.0), product)
