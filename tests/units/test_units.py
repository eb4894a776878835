"""Tests of units: conversions are exact, and a spelling that means something else is refused."""

from __future__ import annotations

from fractions import Fraction

import pint
import pytest

from generator.units import UnitFault, any_spelling, conversion, dimension, same_dimension


@pytest.mark.parametrize(("from_pint", "to_pint", "expected"), [
    ("degree_Fahrenheit", "degree_Celsius", (5, -160, 9)),
    ("kelvin", "degree_Celsius", (20, -5463, 20)),
    ("degree_Celsius", "kelvin", (20, 5463, 20)),
    ("delta_degree_Fahrenheit", "kelvin", (5, 0, 9)),
    ("degree_Celsius", "degree_Celsius", (1, 0, 1)),
    ("inch", "millimeter", (127, 0, 5)),                          # 25.4 mm by definition
    ("gallon/minute", "meter**3/hour", (1419529419, 0, 6250000000)),            # 231 cubic inches
    ("imperial_gallon/minute", "meter**3/hour", (1363827, 0, 5000000)),         # 4.54609 L by definition
    ("liter/second", "meter**3/hour", (18, 0, 5)),
    ("psi", "bar", (8896443230521, 0, 129032000000000)),          # 4.4482216152605 N per 645.16 mm2
    ("gram/kilogram", "percent", (1, 0, 10)),
    ("dimensionless", "dimensionless", (1, 0, 1)),
    ("mS/cm", "uS/cm", (1000, 0, 1)),
    ("percent/delta_degree_Fahrenheit", "percent/kelvin", (9, 0, 5))])
def test_conversion_is_exact(from_pint: str, to_pint: str, expected: tuple[int, int, int]):
    assert conversion(from_pint, to_pint) == expected


def test_32_degF_is_exactly_0_degC_and_176_degF_exactly_80():
    n, k, d = conversion("degree_Fahrenheit", "degree_Celsius")
    assert Fraction(32 * n + k, d) == 0 and Fraction(176 * n + k, d) == 80


@pytest.mark.parametrize(("from_pint", "to_pint"), [
    ("foot**3/minute", "meter**3/hour"), ("millimeter_Hg", "millibar"),
    ("kilogram_force/centimeter**2", "bar"),
    ("centipoise", "millipascal*second"), ("pound/foot**3", "kilogram/meter**3"),
    ("degree_Rankine", "degree_Celsius")])
def test_conversion_agrees_with_floating_point_pint(from_pint: str, to_pint: str):
    n, k, d = conversion(from_pint, to_pint)
    theirs = pint.UnitRegistry().Quantity(321.5, from_pint).to(to_pint).magnitude
    assert float((Fraction(643, 2) * n + k) / d) == pytest.approx(theirs, rel=1e-12)


@pytest.mark.parametrize(("from_pint", "to_pint"), [
    ("bar", "meter"), ("coulomb", "degree_Celsius"), ("delta_degree_Celsius", "degree_Celsius"),
    ("degree_Celsius", "delta_degree_Celsius"), ("decibel", "dimensionless"), ("galon", "liter"), ("", "bar"),
    ("9**9**9**9", "dimensionless"), ("meter**33333333", "meter**33333333"), ("degree", "percent"),
    ("m3/h", "meter**3/hour")])
def test_conversion_is_refused_when_there_is_no_exact_one(from_pint: str, to_pint: str):
    with pytest.raises(UnitFault):
        conversion(from_pint, to_pint)


def test_dimension_is_the_same_for_two_spellings_of_one_quantity():
    assert dimension("gallon/minute") == dimension("meter**3/hour") == (("[length]", 3), ("[time]", -1))
    assert dimension("percent") == ()
    assert same_dimension("uS/cm", "S/m") and not same_dimension("ohm", "S")


@pytest.mark.parametrize(("typed", "to_pint", "expected"), [
    ("ft^3/min", "meter**3/hour", (165919023, 0, 97656250)),
    ("ft³/min", "meter**3/hour", (165919023, 0, 97656250)),
    ("liter / second", "meter**3/hour", (18, 0, 5)), ("µm", "millimeter", (1, 0, 1000)),
    ("degree_Rankine", "degree_Celsius", (100, -49167, 180)), ("kelvin", "delta_degree_Celsius", (1, 0, 1))])
def test_spelling_that_pint_knows_is_understood(typed: str, to_pint: str, expected: tuple[int, int, int]):
    found = any_spelling(typed, to_pint)
    assert found is not None
    assert [Fraction(part, found[2]) for part in found] == [Fraction(part, expected[2]) for part in expected]


@pytest.mark.parametrize(("typed", "to_pint", "trap"), [
    ("C", "degree_Celsius", "pint's coulomb"), ("F", "degree_Celsius", "pint's farad"),
    ("psi", "bar", "gauge or absolute"),
    ("ppm", "percent", "by mass or by volume"), ("degree", "dimensionless", "an angle is no plain number"),
    ("degF", "kelvin", "a scale is no difference"),
    ("degF", "delta_degree_Celsius", "a scale is no difference"),
    ("delta_degC", "degree_Celsius", "a difference is no scale"),
    ("kg/h", "meter**3/hour", "mass is no volume")])
def test_spelling_is_refused_when_it_means_something_else(typed: str, to_pint: str, trap: str):
    assert any_spelling(typed, to_pint) is None, trap


@pytest.mark.parametrize("typed",
                         ["", " ", "\x00", "9**9**9**9", "m*" * 1000, "(" * 5000, "m**-999999999",
                          "__import__('os')", "%",
                                   "\ud800", "m/", "/m", "**", "1e999 m", "none", "nan", "dBm", "m" * 100_000,
                          "١", "m²³", "°"])
def test_garbage_is_no_spelling_and_never_raises(typed: str):
    assert any_spelling(typed, "millimeter") is None
