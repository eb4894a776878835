"""Checks formulas over answers: validity, ranges, candidates, blanks, and that sets never lose a value."""

from __future__ import annotations

import math
import random

import pytest

from generator.evaluate.formulas import NO_VALUE, derived_values, evaluate_formula, prepare_formulas
from generator.evaluate.results import Answer, ChoiceSet, NumberSet
from generator.pack.model import Formula, Interval, Symbol
from tests.evaluate.drawn import closed, small_pack

PACK = small_pack()
PREPARED = prepare_formulas(PACK)
VELOCITY = next(formula for formula in PACK.formulas if formula.id == "mean_velocity")


def single(number: float) -> NumberSet:
    return NumberSet(((number, number),))


def blanks() -> dict[str, Answer]:
    return {
        item.id: (
            NumberSet(((item.low, item.high),), item.may_be_absent)
            if item.kind == "number"
            else ChoiceSet(
                tuple(option.id for option in item.options)
                + (("not_applicable",) if item.may_be_absent else ())
            )
        )
        for item in PACK.inputs
    }


def derive(**answers: Answer) -> dict[str, dict[tuple[int, ...], NumberSet]]:
    return derived_values(PREPARED, blanks() | answers)


def test_mean_velocity_is_what_the_hand_calculation_gives() -> None:
    # 36 m3/h through a bore of 100 mm: 0.01 / (pi / 4 * 0.01) = 4 / pi m/s, to twelve digits.
    value = evaluate_formula(VELOCITY, {"flow": single(36.0), "bore": single(100.0)})
    assert value == single(1.27323954474)


def test_a_formula_over_bounds_gives_the_bounds_of_its_values() -> None:
    value = evaluate_formula(VELOCITY, {"flow": NumberSet(((36.0, 72.0),)), "bore": single(100.0)})
    assert value == NumberSet(((1.27323954474, 2.54647908947),))


def test_a_formula_takes_the_hull_of_several_intervals() -> None:
    value = evaluate_formula(VELOCITY, {"flow": NumberSet(((0.0, 1.0), (36.0, 36.0))), "bore": single(100.0)})
    assert value.intervals == ((0.0, 1.27323954474),)


def test_the_part_outside_the_validity_has_no_value() -> None:
    assert evaluate_formula(VELOCITY, {"flow": single(-1.0), "bore": single(100.0)}) == NO_VALUE
    partly = evaluate_formula(VELOCITY, {"flow": NumberSet(((-9.0, 36.0),)), "bore": single(100.0)})
    assert partly == NumberSet(((0.0, 1.27323954474),), True)


def test_an_open_end_of_the_validity_is_no_value_at_the_end_and_unbounded_beside_it() -> None:
    assert evaluate_formula(VELOCITY, {"flow": single(36.0), "bore": single(0.0)}) == NO_VALUE
    near = evaluate_formula(VELOCITY, {"flow": single(36.0), "bore": NumberSet(((0.0, 100.0),))})
    assert near == NumberSet(((1.27323954474, math.inf),), True)


def test_an_argument_that_may_be_absent_makes_the_value_absent_too() -> None:
    assert evaluate_formula(VELOCITY, {"flow": NumberSet((), True), "bore": single(100.0)}) == NO_VALUE
    value = evaluate_formula(VELOCITY, {"flow": NumberSet(((36.0, 36.0),), True), "bore": single(100.0)})
    assert value == NumberSet(((1.27323954474, 1.27323954474),), True)


@pytest.mark.parametrize(("valid", "absent"), [(closed(0, 5), False), (Interval(0, True, 5, False), True)])
def test_the_end_of_a_validity_belongs_to_it_as_written(valid: Interval, absent: bool) -> None:
    formula = Formula(
        "double", "1", (Symbol("x", "1", valid),), ("multiply", ("number", 2.0), ("symbol", "x"))
    )
    assert evaluate_formula(formula, {"x": single(5.0)}) == (NO_VALUE if absent else single(10.0))


def test_derived_values_are_given_per_candidate_and_per_pair_of_candidates() -> None:
    found = derive(flow_max=single(36.0))
    assert found["velocity"][(1,)] == single(1.27323954474)
    assert len(found["velocity"]) == 4
    assert len(found["lined_velocity"]) == 8
    assert found["lined_bore"][(1, 1)] == single(90.0)
    assert found["lined_velocity"][(1, 1)] == single(1.57190067251)      # 4 * 0.01 / (pi * 0.09^2)


def test_a_candidate_without_the_property_has_no_value() -> None:
    assert derive(flow_max=single(36.0))["velocity"][(3,)] == NO_VALUE


def test_a_value_outside_its_declared_range_is_no_value() -> None:
    found = derive(flow_max=single(1000.0))
    assert found["velocity"][(0,)] == NO_VALUE                            # 566 m/s
    partly = derive(flow_max=NumberSet(((36.0, 1000.0),)))["velocity"][(0,)]
    assert partly == NumberSet(((20.3718327158, 50.0),), True)


def test_a_blank_flow_gives_all_values_of_its_range_and_its_absence() -> None:
    assert derive()["velocity"][(2,)] == NumberSet(((0.0, 22.1048532072),), True)


def test_a_value_from_an_option_is_the_hull_of_the_possible_options() -> None:
    one = derive(flow_max=single(36.0), pipe_size=ChoiceSet(("dn100",)))["pipe_velocity"][()]
    assert one == single(1.27323954474)
    two = derive(flow_max=single(36.0), pipe_size=ChoiceSet(("dn25", "dn100")))["pipe_velocity"][()]
    assert two == NumberSet(((1.27323954474, 20.3718327158),))
    maybe = derive(flow_max=single(36.0), pipe_size=ChoiceSet(("dn100", "not_applicable")))["pipe_velocity"][
        ()
    ]
    assert maybe == NumberSet(((1.27323954474, 1.27323954474),), True)
    assert (
        derive(flow_max=single(36.0), pipe_size=ChoiceSet(("not_applicable",)))["pipe_velocity"][()]
        == NO_VALUE
    )


def test_an_open_end_of_the_declared_range_is_no_value_at_the_end() -> None:
    assert derive(flow_max=single(0.0), pipe_size=ChoiceSet(("dn100",)))["pipe_velocity"][()] == NO_VALUE


def test_an_argument_is_converted_exactly_to_the_unit_of_its_symbol() -> None:
    assert derive(temperature_max=single(10.0))["root_of_celsius"][()] == single(7.07106781187)  # of 50 degF
    assert derive(temperature_max=single(-20.0))["root_of_celsius"][()] == NO_VALUE  # of -4 degF


def test_the_values_of_a_set_hold_the_value_of_every_answer_in_it() -> None:
    rng = random.Random(8)
    for _ in range(300):
        low, high = sorted(round(rng.uniform(0, 10000), rng.randint(0, 4)) for _ in range(2))
        cold, hot = sorted(round(rng.uniform(-50, 250), rng.randint(0, 4)) for _ in range(2))
        sets = derive(flow_max=NumberSet(((low, high),)), temperature_max=NumberSet(((cold, hot),)))
        for flow, warmth in ((low, cold), (high, hot), (rng.uniform(low, high), rng.uniform(cold, hot))):
            points = derive(
                flow_max=single(flow), temperature_max=single(warmth), pipe_size=ChoiceSet(("dn100",))
            )
            for name, values in points.items():
                for combination, point in values.items():
                    around = sets[name][combination]
                    assert around.absent or not point.absent
                    if point.intervals:
                        assert around.intervals[0][0] <= point.intervals[0][0] <= around.intervals[-1][1]
