"""Compares expressions, formulas and derived values of both engines on drawn expressions and answers."""

from __future__ import annotations

import math
import random
from dataclasses import asdict

from generator.evaluate.expressions import evaluate_expression
from generator.evaluate.formulas import derived_values, evaluate_formula, prepare_formulas
from generator.evaluate.numbers import round_to_12
from generator.evaluate.results import Answer, ChoiceSet, NumberSet
from generator.pack.model import Formula, Symbol
from tests.engine.twin import Twin
from tests.evaluate.drawn import SYMBOLS, closed, draw_expression, draw_number, draw_span, small_pack


def agree(mine: float, theirs: object) -> bool:
    """Equal to 1e-9: library functions may part by a last bit, which a difference can enlarge."""
    other = float(theirs["$number"]) if isinstance(theirs, dict) else float(theirs)
    return mine == other or math.isclose(mine, other, rel_tol=1e-9, abs_tol=1e-9)


def test_bounds_of_drawn_expressions_agree(twin: Twin) -> None:
    rng = random.Random(11)
    drawn = [
        (draw_expression(rng, rng.randint(1, 4)), {name: draw_span(rng) for name in SYMBOLS})
        for _ in range(6_000)
    ]
    theirs = twin.batch(
        "expressions",
        "evaluateExpression",
        [(expression, {name: asdict(span) for name, span in spans.items()}) for expression, spans in drawn],
    )
    valued = 0
    for (expression, spans), other in zip(drawn, theirs):
        mine = evaluate_expression(expression, spans)
        if mine is None or other is None:
            assert mine is None and other is None, expression
            continue
        valued += 1
        assert mine.partial == other["partial"], expression
        assert agree(mine.low, other["low"]) and agree(mine.high, other["high"]), (expression, spans)
    assert valued > 3_000


def test_values_of_drawn_formulas_agree_over_single_numbers_and_sets(twin: Twin) -> None:
    rng = random.Random(12)
    drawn = []
    for _ in range(6_000):
        formula = Formula("drawn", "1", tuple(Symbol(name, "1", closed(-60, 120)) for name in SYMBOLS),
                          draw_expression(rng, rng.randint(1, 3)))
        points = rng.random() < 0.6
        spans = {name: draw_span(rng) for name in SYMBOLS}
        drawn.append(
            (
                formula,
                {
                    name: NumberSet(((span.low, span.low if points else span.high),), rng.random() < 0.1)
                    for name, span in spans.items()
                },
            )
        )
    theirs = twin.batch(
        "formulas",
        "evaluateFormula",
        [(formula, {name: asdict(value) for name, value in given.items()}) for formula, given in drawn],
    )
    for (formula, given), other in zip(drawn, theirs):
        mine = evaluate_formula(formula, given)
        assert mine.absent == other["absent"], formula
        assert len(mine.intervals) == len(other["intervals"]), formula
        for (low, high), (their_low, their_high) in zip(mine.intervals, other["intervals"]):
            assert agree(low, their_low) and agree(high, their_high), formula


def test_derived_values_of_a_pack_are_equal_to_the_last_bit(twin: Twin) -> None:
    pack = small_pack()
    prepared = prepare_formulas(pack)
    theirs_prepared = twin.keep("formulas", "prepareFormulas", "formulas", pack)
    rng = random.Random(13)
    drawn = [{item.id: draw_answer(rng, item) for item in pack.inputs} for _ in range(800)]
    theirs = twin.batch(
        "formulas",
        "derivedValues",
        [
            (theirs_prepared, {"$map": [[name, asdict(answer)] for name, answer in answers.items()]})
            for answers in drawn
        ],
    )
    for answers, other in zip(drawn, theirs):
        mine = derived_values(prepared, answers)
        written = [
            [
                name,
                {
                    "$map": [
                        [" ".join(map(str, combination)), listed(value)]
                        for combination, value in values.items()
                    ]
                },
            ]
            for name, values in mine.items()
        ]
        assert other["$map"] == written


def draw_answer(rng: random.Random, item: object) -> Answer:
    """A single answer, a set, a blank, or not applicable."""
    if item.kind == "choice":
        ids = tuple(option.id for option in item.options)
        some = tuple(name for name in ids if rng.random() < 0.4) or (rng.choice(ids),)
        return ChoiceSet(some + (("not_applicable",) if item.may_be_absent and rng.random() < 0.2 else ()))
    low, high = sorted(round_to_12(rng.uniform(item.low, item.high)) for _ in range(2))
    low, high = rng.choice(((low, low), (low, high), (item.low, item.high), (item.low, item.low)))
    if item.may_be_absent and rng.random() < 0.1:
        return NumberSet((), True)
    return NumberSet(((low, high),), item.may_be_absent and rng.random() < 0.3)


def listed(value: NumberSet) -> dict[str, object]:
    return {"intervals": [list(part) for part in value.intervals], "absent": value.absent}
