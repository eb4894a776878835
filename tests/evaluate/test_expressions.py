"""Checks that bounds over sets hold every value that a choice of single numbers within them can give."""

from __future__ import annotations

import math
import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.evaluate.expressions import Span, evaluate_expression, prepare_expression
from tests.evaluate.drawn import SYMBOLS, draw_expression, draw_span

A = ("symbol", "a")


def at_point(expression: tuple, number: float) -> float:
    return prepare_expression(expression)({"a": number})


def pick(rng: random.Random, span: Span) -> float:
    return rng.choice((span.low, span.high, rng.uniform(span.low, span.high)))


@given(st.integers(0, 10 ** 9))
def test_bounds_hold_every_value_of_a_choice_within_the_spans(seed: int) -> None:
    rng = random.Random(seed)
    expression = draw_expression(rng, rng.randint(1, 4))
    spans = {name: draw_span(rng) for name in SYMBOLS}
    bounds = evaluate_expression(expression, spans)
    compute = prepare_expression(expression)
    for _ in range(8):
        value = compute({name: pick(rng, spans[name]) for name in SYMBOLS})
        if math.isfinite(value):
            slack = 1e-12 * max(1.0, abs(value))
            assert bounds is not None
            assert bounds.low - slack <= value <= bounds.high + slack
        else:
            assert bounds is None or bounds.partial


@given(st.integers(0, 10 ** 9))
def test_bounds_over_single_numbers_are_the_value_itself(seed: int) -> None:
    rng = random.Random(seed)
    expression = draw_expression(rng, rng.randint(1, 4))
    points = {name: draw_span(rng).low for name in SYMBOLS}
    value = prepare_expression(expression)(points)
    bounds = evaluate_expression(expression, {name: Span(x, x) for name, x in points.items()})
    if math.isfinite(value):
        assert bounds is not None
        assert (bounds.low, bounds.high) == (value, value)
    else:
        assert bounds is None or bounds.partial


@given(st.integers(0, 10 ** 9))
def test_bounds_never_hold_a_nan(seed: int) -> None:
    rng = random.Random(seed)
    wide = {
        name: Span(rng.choice((-1e308, -1e160, -1.0, 0.0)), rng.choice((1e-320, 1.0, 1e160, 1e308)))
        for name in SYMBOLS
    }
    bounds = evaluate_expression(draw_expression(rng, 4), wide)
    assert bounds is None or bounds.low <= bounds.high


@pytest.mark.parametrize(("expression", "span", "low", "high", "partial"), [
    (("divide", ("number", 1.0), A), Span(0.0, 2.0), 0.5, math.inf, True),
    (("divide", ("number", 1.0), A), Span(-2.0, 0.0), -math.inf, -0.5, True),
    (("divide", ("number", 1.0), A), Span(-1.0, 2.0), -math.inf, math.inf, True),
    (("divide", ("number", 1.0), ("divide", ("number", 1.0), A)), Span(0.0, 2.0), 0.0, 2.0, True),
    (("call", "sqrt", (A,)), Span(-4.0, 9.0), 0.0, 3.0, True),
    (("call", "abs", (A,)), Span(-4.0, 3.0), 0.0, 4.0, False),
    (("call", "acos", (A,)), Span(-1.0, 1.0), 0.0, math.pi, False),
    (("call", "log", (A,)), Span(0.0, 1.0), -math.inf, 0.0, True),
    (("power", A, 0.5), Span(4.0, 9.0), 2.0, 3.0, False),
    (("power", A, -2.0), Span(2.0, 4.0), 0.0625, 0.25, False),
    (("power", A, 2.0), Span(-3.0, 2.0), 0.0, 9.0, False),
    (("interpolate", A, ((0.0, 1.0), (1.0, 5.0), (2.0, 2.0))), Span(0.5, 3.0), 2.0, 5.0, True),
    (("if", ("<", A, ("number", 2.0)), ("number", 1.0), ("number", 7.0)), Span(0.0, 1.0), 1.0, 1.0, False),
    (("if", ("<", A, ("number", 2.0)), ("number", 1.0), ("number", 7.0)), Span(0.0, 2.0), 1.0, 7.0, False),
    (("if", (">=", A, ("number", 2.0)), ("number", 1.0), ("number", 7.0)), Span(2.0, 3.0), 1.0, 1.0, False),
])
def test_bounds_are_tight_where_the_symbol_stands_once(expression: tuple, span: Span, low: float, high: float,
                                                       partial: bool) -> None:
    bounds = evaluate_expression(expression, {"a": span})
    assert bounds is not None
    assert (bounds.low, bounds.high, bounds.partial) == (low, high, partial)


@pytest.mark.parametrize(("expression", "number"), [
    (("divide", ("number", 1.0), A), 0.0), (("call", "sqrt", (A,)), -1.0), (("call", "log", (A,)), 0.0),
    (("call", "acos", (A,)), 1.5), (("power", A, -0.25), 0.0), (("call", "exp", (A,)), 1000.0),
    (("interpolate", A, ((0.0, 1.0), (1.0, 2.0))), 1.1)])
def test_an_expression_has_no_value_outside_its_mathematics(expression: tuple, number: float) -> None:
    assert not math.isfinite(at_point(expression, number))
    bounds = evaluate_expression(expression, {"a": Span(number, number)})
    assert bounds is None or bounds.partial


def test_interpolate_gives_the_listed_value_at_each_listed_point() -> None:
    points = ((0.1, 0.3), (0.7, 1.1), (1.3, 0.9))
    assert [at_point(("interpolate", A, points), x) for x, _ in points] == [y for _, y in points]
