"""Holds the bounds of every shipped formula against single values drawn from within: none may lie outside."""

from __future__ import annotations

import random

import pytest

from generator.evaluate.formulas import evaluate_formula
from generator.evaluate.results import NumberSet
from generator.pack.model import Formula, Interval
from tests.outside.shipped import shipped_pack


@pytest.mark.parametrize("formula", shipped_pack().formulas, ids=lambda formula: formula.id)
def test_no_single_value_lies_outside_the_bounds_of_its_formula(formula: Formula) -> None:
    rng = random.Random(formula.id)
    valued = 0
    for _ in range(12):
        ends = {symbol.id: sorted((drawn(rng, symbol.valid), drawn(rng, symbol.valid))) for symbol in formula.symbols}
        bounds = evaluate_formula(formula, {name: NumberSet(((low, high),)) for name, (low, high) in ends.items()})
        for _ in range(8):
            points = {name: rng.choice((low, high, rng.uniform(low, high))) for name, (low, high) in ends.items()}
            value = evaluate_formula(formula, {name: NumberSet(((at, at),)) for name, at in points.items()})
            if not value.intervals:
                assert bounds.absent, points
                continue
            valued += 1
            (low, high), = bounds.intervals
            inside = value.intervals[0][0]
            slack = 1e-9 * max(1.0, abs(inside))
            assert low - slack <= inside <= high + slack, (points, inside, low, high)
    assert valued > 8


# private

def drawn(rng: random.Random, valid: Interval) -> float:
    """A number of the range, as often near its low end as anywhere; whole where the range is that of a column."""
    low, high = valid.low, valid.high
    at = low + (high - low) * (rng.random() if rng.random() < 0.5 else rng.random() ** 6)
    return float(round(at)) if high - low < 20 and low == 1.0 and high == int(high) and rng.random() < 0.7 else at
