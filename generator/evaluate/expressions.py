"""Gives back the value of a formula's expression: of single numbers, or the bounds over intervals of numbers.

No value is a result: of the root of a negative number, a division by zero, a number too large to hold. For
single numbers it is NaN or infinite; bounds are None where no number has a value, and `partial` where some
have none. Bounds are those of the natural interval extension: never too narrow, wider than needed where a
symbol stands twice. Twin of browser/engine/expressions.js.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from generator.pack.model import Expression

Compute = Callable[[dict[str, float]], float]
_NAN, _INF = math.nan, math.inf


@dataclass(frozen=True, slots=True)
class Span:
    """Numbers from `low` to `high`, which may be infinite; `partial`: some possible cases have no value."""

    low: float
    high: float
    partial: bool = False


def prepare_expression(expression: Expression) -> Compute:
    """The expression as a function of single numbers by symbol; NaN and infinite results are no value."""
    name = expression[0]
    if name == "number":
        return _constant(expression[1])
    if name == "symbol":
        return _symbol(expression[1])
    if name == "negate":
        return _negate(prepare_expression(expression[1]))
    if name in _PREPARED:
        return _PREPARED[name](prepare_expression(expression[1]), prepare_expression(expression[2]))
    if name == "power":
        return _powered(prepare_expression(expression[1]), expression[2])
    if name == "call":
        return _called(_POINT_CALLS[expression[1]], tuple(prepare_expression(part) for part in expression[2]))
    if name == "if":
        return _chosen(_COMPARISONS[expression[1][0]],
                       *(prepare_expression(part) for part in (*expression[1][1:], *expression[2:])))
    return _interpolated(prepare_expression(expression[1]), expression[2])


def evaluate_expression(expression: Expression, values: dict[str, Span]) -> Span | None:
    """The bounds over every choice of numbers within the symbols' spans."""
    name = expression[0]
    if name == "symbol":
        return values[expression[1]]
    if name == "number":
        return Span(expression[1], expression[1])
    if name in _SPAN_OPERATIONS:
        first, second = evaluate_expression(expression[1], values), evaluate_expression(expression[2], values)
        return None if first is None or second is None else _SPAN_OPERATIONS[name](first, second)
    if name == "call":
        spans = [evaluate_expression(part, values) for part in expression[2]]
        return None if any(span is None for span in spans) else _call_spans(expression[1], spans)
    if name == "if":
        return _choose_span(expression, values)
    span = evaluate_expression(expression[1], values)
    if span is None:
        return None
    if name == "negate":
        return Span(-span.high, -span.low, span.partial)
    if name == "power":
        return _power_span(span, expression[2])
    return _interpolate_span(span, expression[2])


# private: single numbers

def _constant(number: float) -> Compute:
    return lambda values: number


def _symbol(name: str) -> Compute:
    return lambda values: values[name]


def _negate(part: Compute) -> Compute:
    return lambda values: -part(values)


def _added(first: Compute, second: Compute) -> Compute:
    return lambda values: first(values) + second(values)


def _subtracted(first: Compute, second: Compute) -> Compute:
    return lambda values: first(values) - second(values)


def _multiplied(first: Compute, second: Compute) -> Compute:
    return lambda values: first(values) * second(values)


def _divided(first: Compute, second: Compute) -> Compute:
    def divided(values: dict[str, float]) -> float:
        divisor = second(values)
        return first(values) / divisor if divisor != 0 and math.isfinite(divisor) else _NAN
    return divided


def _powered(part: Compute, exponent: float) -> Compute:
    return lambda values: _power(part(values), exponent)


def _called(function: Callable[..., float], parts: tuple[Compute, ...]) -> Compute:
    def called(values: dict[str, float]) -> float:
        numbers = [part(values) for part in parts]
        return function(*numbers) if all(math.isfinite(number) for number in numbers) else _NAN
    return called


def _chosen(holds: Callable[[float, float], bool], left: Compute, right: Compute, then: Compute,
            otherwise: Compute) -> Compute:
    def chosen(values: dict[str, float]) -> float:
        first, second = left(values), right(values)
        if not (math.isfinite(first) and math.isfinite(second)):
            return _NAN
        return then(values) if holds(first, second) else otherwise(values)
    return chosen


def _interpolated(part: Compute, points: tuple[tuple[float, float], ...]) -> Compute:
    return lambda values: _interpolate(part(values), points)


def _power(number: float, exponent: float) -> float:
    """Whole exponents by products, which both languages round alike; the others by the library."""
    if not math.isfinite(number) or (number == 0 and exponent < 0):
        return _NAN
    if exponent == math.floor(exponent):
        product = 1.0
        for _ in range(int(abs(exponent))):
            product *= number
        if exponent >= 0:
            return product
        return 1.0 / product if product != 0 and math.isfinite(product) else _NAN
    if number < 0:
        return _NAN
    try:
        return number ** exponent
    except OverflowError:
        return _INF


def _exp(number: float) -> float:
    try:
        return math.exp(number)
    except OverflowError:
        return _INF


def _interpolate(number: float, points: tuple[tuple[float, float], ...]) -> float:
    if number == points[0][0]:
        return points[0][1]
    for (x0, y0), (x1, y1) in zip(points, points[1:]):
        if x0 < number < x1:
            value = y0 + (number - x0) * (y1 - y0) / (x1 - x0)
            return min(max(value, min(y0, y1)), max(y0, y1))
        if number == x1:
            return y1
    return _NAN


_PREPARED = {"add": _added, "subtract": _subtracted, "multiply": _multiplied, "divide": _divided}
_COMPARISONS: dict[str, Callable[[float, float], bool]] = {
    "<": lambda a, b: a < b, "<=": lambda a, b: a <= b, ">": lambda a, b: a > b, ">=": lambda a, b: a >= b,
    "=": lambda a, b: a == b}
_POINT_CALLS: dict[str, Callable[..., float]] = {
    "min": lambda *numbers: min(numbers), "max": lambda *numbers: max(numbers), "abs": abs,
    "sqrt": lambda x: math.sqrt(x) if x >= 0 else _NAN, "exp": _exp,
    "log": lambda x: math.log(x) if x > 0 else _NAN, "log10": lambda x: math.log10(x) if x > 0 else _NAN,
    "floor": lambda x: float(math.floor(x)) if math.isfinite(x) else x,
    "ceiling": lambda x: float(math.ceil(x)) if math.isfinite(x) else x,
    "pi": lambda: math.pi, "sin": math.sin, "cos": math.cos,
    "acos": lambda x: math.acos(x) if -1 <= x <= 1 else _NAN}


# private: bounds

def _span(low: float, high: float, partial: bool) -> Span | None:
    """An infinite end stands for cases too large to have a value; for all of them, if both ends agree."""
    if low == _INF or high == -_INF:
        return None
    return Span(low, high, partial or low == -_INF or high == _INF)


def _add_spans(first: Span, second: Span) -> Span | None:
    return _span(first.low + second.low, first.high + second.high, first.partial or second.partial)


def _subtract_spans(first: Span, second: Span) -> Span | None:
    return _span(first.low - second.high, first.high - second.low, first.partial or second.partial)


def _multiply_spans(first: Span, second: Span) -> Span | None:
    if first.low >= 0 and second.low >= 0 and first.high < _INF and second.high < _INF:
        return _span(first.low * second.low, first.high * second.high, first.partial or second.partial)
    return _corners((first.low * second.low, first.low * second.high, first.high * second.low,
                     first.high * second.high), first.partial or second.partial)


def _divide_spans(first: Span, second: Span) -> Span | None:
    partial = first.partial or second.partial
    if first.low >= 0 and second.low > 0 and first.high < _INF:
        return _span(first.low / second.high, first.high / second.low, partial)
    if second.low > 0 or second.high < 0:
        return _corners((first.low / second.low, first.low / second.high, first.high / second.low,
                         first.high / second.high), partial)
    if second.low == 0 and second.high == 0:
        return None
    if second.low < 0 < second.high:
        return Span(-_INF, _INF, True)
    if second.low < 0:                               # the same quotients with both signs changed
        first, second = Span(-first.high, -first.low), Span(-second.high, -second.low)
    low = first.low / second.high if first.low >= 0 else -_INF
    high = first.high / second.high if first.high <= 0 else _INF
    return _span(low, high, True)


def _corners(numbers: tuple[float, ...], partial: bool) -> Span | None:
    # Zero times infinity and infinity by infinity: an infinite end is never reached, and zero lies within.
    settled = [0.0 if number != number else number for number in numbers]
    return _span(min(settled), max(settled), partial)


_SPAN_OPERATIONS = {"add": _add_spans, "subtract": _subtract_spans, "multiply": _multiply_spans,
                    "divide": _divide_spans}


def _power_span(span: Span, exponent: float) -> Span | None:
    if exponent == math.floor(exponent):
        if exponent < 0:
            product = _power_span(span, -exponent)
            return None if product is None else _divide_spans(Span(1.0, 1.0), product)
        ends = (_reach(span.low, exponent), _reach(span.high, exponent))
        if exponent % 2 == 1:
            return _span(ends[0], ends[1], span.partial)
        low = 0.0 if span.low < 0 < span.high else min(ends)
        return _span(low if exponent > 0 else 1.0, max(ends), span.partial)
    if span.high < 0 or (span.high == 0 and exponent < 0):
        return None
    low, partial = max(span.low, 0.0), span.partial or span.low < 0
    if exponent > 0:
        return _span(_reach(low, exponent), _reach(span.high, exponent), partial)
    high = _INF if low == 0 else _reach(low, exponent)
    return _span(_reach(span.high, exponent), high, partial)


def _reach(end: float, exponent: float) -> float:
    """The power of an end of a span, which may be infinite."""
    if math.isfinite(end):
        return _power(end, exponent)
    if exponent < 0:
        return 0.0
    return _INF if end > 0 or exponent % 2 == 0 else -_INF


def _call_spans(name: str, spans: list[Span]) -> Span | None:
    partial = any(span.partial for span in spans)
    if name in ("min", "max"):
        choose = min if name == "min" else max
        return _span(choose(span.low for span in spans), choose(span.high for span in spans), partial)
    if name == "pi":
        return Span(math.pi, math.pi)
    low, high = spans[0].low, spans[0].high
    if name == "abs":
        lower = 0.0 if low < 0 < high else min(abs(low), abs(high))
        return _span(lower, max(abs(low), abs(high)), partial)
    function = _POINT_CALLS[name]
    if name in ("sin", "cos"):
        if low != high:
            return Span(-1.0, 1.0, partial)
        return Span(function(low), function(low), partial)
    if name == "acos":
        if high < -1 or low > 1:
            return None
        return Span(math.acos(min(high, 1.0)), math.acos(max(low, -1.0)), partial or low < -1 or high > 1)
    if name == "sqrt":
        if high < 0:
            return None
        return _span(math.sqrt(max(low, 0.0)), math.sqrt(high), partial or low < 0)
    if name in ("log", "log10"):
        if high <= 0:
            return None
        return _span(function(low) if low > 0 else -_INF, function(high), partial)
    return _span(function(low), function(high), partial)     # exp, floor, ceiling: rising everywhere


def _choose_span(expression: Expression, values: dict[str, Span]) -> Span | None:
    """The branch that the comparison settles on, or the hull of both where it depends."""
    comparison, *sides = expression[1]
    left, right = (evaluate_expression(side, values) for side in sides)
    if left is None or right is None:
        return None
    if comparison in (">", ">="):
        left, right, comparison = right, left, "<" if comparison == ">" else "<="
    if comparison == "<":
        always, never = left.high < right.low, left.low >= right.high
    elif comparison == "<=":
        always, never = left.high <= right.low, left.low > right.high
    else:
        always = left.low == left.high == right.low == right.high
        never = left.high < right.low or left.low > right.high
    partial = left.partial or right.partial
    branches = [evaluate_expression(expression[place], values)
                for place, skipped in ((2, never), (3, always)) if not skipped]
    known = [branch for branch in branches if branch is not None]
    if not known:
        return None
    partial = partial or len(known) < len(branches) or any(branch.partial for branch in known)
    return Span(min(branch.low for branch in known), max(branch.high for branch in known), partial)


def _interpolate_span(span: Span, points: tuple[tuple[float, float], ...]) -> Span | None:
    first, last = points[0][0], points[-1][0]
    if span.high < first or span.low > last:
        return None
    low, high = max(span.low, first), min(span.high, last)
    reached = [_interpolate(low, points), _interpolate(high, points),
               *(y for x, y in points if low < x < high)]
    return Span(min(reached), max(reached), span.partial or span.low < first or span.high > last)
