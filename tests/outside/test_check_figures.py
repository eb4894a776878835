"""Holds the shipped formulas and tables of figures against figures from outside, and these against small changes of the guide."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from functools import cache
from math import cos, pi
from pathlib import Path
from typing import Any

import pytest
import yaml

from generator.evaluate.formulas import evaluate_formula
from generator.evaluate.results import NumberSet
from generator.evaluate.series import figure_at, figure_of
from generator.pack.model import Formula, Series
from tests.outside.shipped import in_unit, shipped_pack, single, split

VALUES = yaml.safe_load((Path(__file__).parent / "check_figures.yml").read_text("utf-8"))
KINDS = {"library", "standard", "handbook", "analytic", "from memory", "common practice"}
ALL = [*VALUES["formulas"], *VALUES["series"]]
FORMULAS = {formula.id: formula for formula in shipped_pack().formulas}
SERIES = {series.id: series for series in shipped_pack().series}
WEIGHT = FORMULAS["weight_in_the_bore"]


@pytest.mark.parametrize("check", ALL, ids=lambda check: check["name"])
def test_the_guide_gives_the_figure_that_an_outside_source_gives(check: dict[str, Any]) -> None:
    assert split(check["expect"])[1] == unit_of(check)
    assert check["kind"] in KINDS and check["source"]
    assert agrees(check, FORMULAS, SERIES), (check["source"], computed(check, FORMULAS, SERIES))


@pytest.mark.parametrize("check", VALUES["ratios"], ids=lambda check: check["name"])
def test_one_figure_of_the_guide_stands_to_another_as_outside(check: dict[str, Any]) -> None:
    first, second = (computed(check[name], FORMULAS, SERIES) for name in ("first", "second"))
    assert first / second == pytest.approx(check["expect"], abs=check["within"])


@pytest.mark.parametrize(("profile", "expected"), [
    (lambda r, t: 1.0, 1.0), (lambda r, t: 2 * (1 - r * r), 1.0), (lambda r, t: 1 + 0.5 * r * cos(t), 1.0),
    (lambda r, t: 1 + 0.3 * r * r * cos(2 * t), 1.05)],
    ids=["plug", "laminar", "skew to one electrode", "two lobes, which alone give an error"])
def test_the_weight_of_a_profile_is_that_of_the_theory(profile: Any, expected: float) -> None:
    """The mean of v W over the bore against the mean of v: exact sums, since W is harmonic."""
    rings, spokes = 16, 180
    places = [((ring + 0.5) / rings, 360 * spoke / spokes) for ring in range(rings) for spoke in range(spokes)]
    flow = [(r * profile(r, degrees * pi / 180), weight(r, degrees)) for r, degrees in places]
    assert sum(v * w for v, w in flow) / sum(v for v, _ in flow) == pytest.approx(expected, abs=2e-3)


def test_every_formula_and_every_table_of_figures_is_checked_from_outside() -> None:
    assert set(FORMULAS) - {name for check in VALUES["formulas"] for name in formulas_in(check)} == set()
    assert set(SERIES) - {check["series"] for check in VALUES["series"]} - {"molar_conductivity"} == set()


@pytest.mark.parametrize("name", sorted(FORMULAS))
def test_a_formula_that_gives_one_per_cent_more_is_caught(name: str) -> None:
    formula = FORMULAS[name]
    wrong = FORMULAS | {name: replace(formula, expression=("multiply", formula.expression, ("number", 1.01)))}
    assert any(not agrees(check, wrong, SERIES) for check in VALUES["formulas"] if name in formulas_in(check))


@pytest.mark.parametrize("factor", [0.95, 1.05])
@pytest.mark.parametrize(("series", "column"), sorted({(check["series"], check["column"]) for check in VALUES["series"]}))
def test_a_tested_column_of_figures_that_moves_by_five_per_cent_is_caught(series: str, column: str, factor: float) -> None:
    moved = replace(SERIES[series], columns=tuple(
        replace(one, points=tuple((at, figure * factor) for at, figure in one.points)) if one.id == column else one
        for one in SERIES[series].columns))
    assert any(not agrees(check, FORMULAS, SERIES | {series: moved}) for check in VALUES["series"]
               if (check["series"], check["column"]) == (series, column))


def test_a_flange_rating_is_read_between_temperatures_and_nowhere_else() -> None:
    for beyond in (-29.1, 200.1):
        assert not figure_at(SERIES["flange_rating"], "class_150_group_1_1", NumberSet(((beyond, beyond),))).intervals
    between = evaluate_formula(FORMULAS["flange_rating"], {"flange": NumberSet(((1.5, 1.5),)),
                                                           "temperature": NumberSet(((100.0, 100.0),))})
    assert not between.intervals


@pytest.mark.parametrize(("name", "given"), [
    ("contraction_loss", {"large": 100, "small": 150, "angle": 16, "friction": 0.018}),
    ("diffuser_loss", {"small": 150, "large": 100, "angle": 16}),
    ("slender_diffuser_loss", {"small": 150, "large": 100, "angle": 16, "friction": 0.018}),
    ("sudden_expansion_loss", {"small": 150, "large": 100}), ("cone_length", {"large": 100, "small": 150, "angle": 16}),
    ("area_lost_to_gasket", {"hole": 105, "bore": 100})])
def test_two_bores_the_wrong_way_round_give_no_value(name: str, given: dict[str, float]) -> None:
    typed = {symbol: NumberSet(((float(number), float(number)),)) for symbol, number in given.items()}
    assert not evaluate_formula(FORMULAS[name], typed).intervals


@pytest.mark.parametrize("check", VALUES["formulas"], ids=lambda check: check["name"])
def test_just_beyond_the_range_of_a_symbol_a_formula_has_no_value(check: dict[str, Any]) -> None:
    formula = FORMULAS[check["formula"]]
    given = {name: computed(typed, FORMULAS, SERIES) if isinstance(typed, dict) else in_unit(formula.id, name, typed)
             for name, typed in check["given"].items()}
    for symbol in formula.symbols:
        for end, step in ((symbol.valid.low, -1), (symbol.valid.high, 1)):
            beyond = given | {symbol.id: end + step * max(abs(end) * 1e-6, 1e-9)}
            found = evaluate_formula(formula, {name: NumberSet(((value, value),)) for name, value in beyond.items()})
            assert not found.intervals, (symbol.id, beyond, found)


@pytest.mark.parametrize(("name", "given", "beyond"), [
    ("hoop_stress", {"pressure": 20, "diameter": 100, "wall": 10}, {"wall": 10.01}),
    ("pipe_wall_thickness", {"pressure": 1000, "outside": 100, "stress": 400, "weld": 1, "strength": 0.7, "coefficient": 0.4,
                             "allowance": 0, "tolerance": 0}, {"strength": 0.65}),
    ("practical_salinity", {"conductivity": 62000, "temperature": 25}, {"conductivity": 63000}),
    ("practical_salinity", {"conductivity": 4000, "temperature": 25}, {"conductivity": 3600})])
def test_beyond_what_its_validity_says_a_formula_has_no_value(name: str, given: dict[str, float], beyond: dict[str, float]) -> None:
    for typed, valued in ((given, True), (given | beyond, False)):
        found = evaluate_formula(FORMULAS[name], {symbol: NumberSet(((float(at), float(at)),)) for symbol, at in typed.items()})
        assert bool(found.intervals) == valued, (typed, found)


def test_the_model_of_dilute_solutions_is_refused_above_a_tenth_of_a_mole() -> None:
    strong = {"salt": NumberSet(((1.0, 1.0),)), "concentration": NumberSet(((0.1001, 0.1001),))}
    assert not evaluate_formula(FORMULAS["dilute_conductivity"], strong).intervals


# private

def agrees(check: dict[str, Any], formulas: Mapping[str, Formula], series: Mapping[str, Series]) -> bool:
    expected = split(check["expect"])[0]
    near = {"rel": check["tolerance"], "abs": 0.0} if "tolerance" in check else {"rel": 0.0, "abs": check["within"]}
    return computed(check, formulas, series) == pytest.approx(expected, **near)


def computed(asked: dict[str, Any], formulas: Mapping[str, Formula], series: Mapping[str, Series]) -> float:
    """What the shipped engine gives for a formula with its symbols, or for a place in a table."""
    if "series" in asked:
        table = series[asked["series"]]
        if not table.unit:
            return single(figure_of(table, asked["column"], asked["at"]))
        number, unit = split(asked["at"])
        assert unit == table.unit
        return single(figure_at(table, asked["column"], NumberSet(((number, number),))))
    formula = formulas[asked["formula"]]
    assert set(asked["given"]) == {symbol.id for symbol in formula.symbols}
    given = {name: computed(typed, formulas, series) if isinstance(typed, dict) else in_unit(formula.id, name, typed)
             for name, typed in asked["given"].items()}
    return single(evaluate_formula(formula, {name: NumberSet(((value, value),)) for name, value in given.items()}))


def unit_of(check: dict[str, Any]) -> str:
    if "formula" in check:
        return FORMULAS[check["formula"]].unit
    return next(column.unit for column in SERIES[check["series"]].columns if column.id == check["column"])


def formulas_in(asked: dict[str, Any]) -> Iterator[str]:
    """The formula of a check and those that give its symbols."""
    if "formula" in asked:
        yield asked["formula"]
        for typed in asked["given"].values():
            if isinstance(typed, dict):
                yield from formulas_in(typed)


@cache
def weight(radius: float, degrees: float) -> float:
    given = {"radius": NumberSet(((radius, radius),)), "angle": NumberSet(((degrees, degrees),))}
    return single(evaluate_formula(WEIGHT, given))
