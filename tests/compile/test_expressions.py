"""Formulas are read as written, refused where languages differ, and computed in SI whatever their units."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, strategies as st

from generator.compile.cells import Unreadable
from generator.compile.dimensions import check, compiled, scaled
from generator.compile.expressions import as_written, parse
from generator.compile.quantities import Unit, in_words
from generator.evaluate.expressions import prepare_expression
from generator.problems import Place
from generator.read.records import Word
from generator.units import dimension

UNITS = {"flow": Unit("m3/h", "meter**3/hour", "m³/h"), "bore": Unit("mm", "millimeter", "mm"),
         "hot": Unit("degC", "degree_Celsius", "°C"), "cold": Unit("degF", "degree_Fahrenheit", "°F"),
         "share": Unit("%", "percent", "%"), "n": Unit("1", "dimensionless", "1")}
METRE_PER_SECOND, PLAIN = Unit("m/s", "meter/second", "m/s"), Unit("1", "dimensionless", "1")


def word(text: str) -> Word:
    return Word(text, Place("data/formulas/f.yml", 12, 13))


def written(text: str):
    return as_written(parse(word(text)))


def value(text: str, result: Unit, constants: dict[str, float] | None = None, **numbers: float) -> float:
    node = parse(word(text))
    units = UNITS | {name: Unit("W", "watt", "W") for name in constants or {}}
    check(word(text), node, units)
    return prepare_expression(compiled(node, units, constants or {}, result))(numbers)


@pytest.mark.parametrize(("text", "tree"), [
    ("1 + 2 * 3", ("add", ("number", 1.0), ("multiply", ("number", 2.0), ("number", 3.0)))),
    ("a - b - c", ("subtract", ("subtract", ("symbol", "a"), ("symbol", "b")), ("symbol", "c"))),
    ("a / b / c", ("divide", ("divide", ("symbol", "a"), ("symbol", "b")), ("symbol", "c"))),
    ("-a * b", ("multiply", ("negate", ("symbol", "a")), ("symbol", "b"))),
    ("-2", ("number", -2.0)), ("-(2)", ("negate", ("number", 2.0))),
    ("a ** 2", ("power", ("symbol", "a"), 2.0)),
    ("a ** -0.5", ("power", ("symbol", "a"), -0.5)), ("a ** (1 / 4)", ("power", ("symbol", "a"), 0.25)),
    ("(-a) ** 2", ("power", ("negate", ("symbol", "a")), 2.0)),
    ("(a ** 2) ** 3", ("power", ("power", ("symbol", "a"), 2.0), 3.0)),
    ("pi", ("call", "pi", ())), ("pi()", ("call", "pi", ())), 
    ("max(a, b)", ("call", "max", (("symbol", "a"), ("symbol", "b")))),
    ("if a <= 2 then 1 else b",
     ("if", ("<=", ("symbol", "a"), ("number", 2.0)), ("number", 1.0), ("symbol", "b"))),
    ("interpolate(a, 0, 1, 10, 3)", ("interpolate", ("symbol", "a"), ((0.0, 1.0), (10.0, 3.0)))),
    ("1e-3", ("number", 0.001)), ("a * -b", ("multiply", ("symbol", "a"), ("negate", ("symbol", "b")))),
])
def test_an_expression_is_read_as_the_tree_it_is_written_as(text, tree):
    assert written(text) == tree


@pytest.mark.parametrize(("text", "column", "said"), [
    ("-a ** 2", 1, "-(a**b)"), ("a ** 2 ** 3", 8, "(a**b)**c"), ("a ** b", 6, "plain number"),
    ("a ^ 2", 3, "`**`"),
    ("a +", 4, "missing"), ("(a", 3, "`)`"), ("a b", 3, "does not continue"), ("root(a)", 1, "no function"),
    ("sqrt(a, b)", 1, "takes 1"), ("a < b", 3, "does not continue"), ("if a then b else c", 6, "comparison"),
    ("--a", 2, "brackets"), ("", 1, "no expression"), ("010", 2, "leading zeros"),
    ("interpolate(a, 3, 1, 2, 5)", 1, "do not rise"), ("interpolate(a, 1, b, 2, 5)", 1, "plain numbers"),
    ("a ** 0", 6, "not useful"), ("a ** 40", 6, "not useful"), ("(" * 70 + "a" + ")" * 70, 61, "too deeply"),
    ("1 + if a < b then c else d", 5, "brackets"),
])
def test_a_slip_in_an_expression_is_told_with_its_column_and_a_fix(text, column, said):
    with pytest.raises(Unreadable) as caught:
        parse(word(text))
    problem = caught.value.problem
    assert problem.code == "C010" and problem.message.startswith(f"column {column} ")
    assert said in f"{problem.message}; {problem.fix}"


@pytest.mark.parametrize(("text", "column", "said"), [
    ("flow + bore", 6, "'flow' in m³/h and 'bore' in mm"), ("flow + 1", 6, "bare number"),
    ("exp(bore)", 5, "plain number and was given 'bore' in mm"),
    ("max(flow, flow / bore)", 1, "'flow' in m³/h and m^2/s"),
    ("if bore < flow then 1 else 2", 1, "compared"), ("if n < 1 then flow else bore", 1, "outcomes"),
    ("bore * (n + flow * bore)", 11, "m^4/s"), ("sin(hot)", 5, "°C"),
    ("interpolate(bore, 0, 0, 1, 1)", 13, "mm"),
    ("sqrt(flow) + n", 12, "m^(3/2)/s^(1/2)"),
])
def test_dimensions_that_do_not_agree_are_told_with_both_units(text, column, said):
    with pytest.raises(Unreadable) as caught:
        check(word(text), parse(word(text)), UNITS)
    problem = caught.value.problem
    assert problem.code == "C011" and problem.message.startswith(f"column {column} ")
    assert said in f"{problem.message}; {problem.fix}"


def test_symbols_enter_in_their_own_units_and_the_result_leaves_in_its_own():
    assert value("4 * flow / (pi() * bore ** 2)", METRE_PER_SECOND, flow=36.0, bore=100.0) == pytest.approx(
        4 * 0.01 / (math.pi * 0.1 ** 2), rel=1e-15)
    assert value("bore * 3", Unit("ft", "foot", "ft"), bore=304.8) == pytest.approx(3.0, rel=1e-15)


def test_a_difference_of_two_temperatures_is_a_difference_and_a_share_of_hundred_is_a_share():
    assert value(
        "hot - cold", Unit("K", "kelvin", "K"), hot=80.0, cold=32.0) == pytest.approx(80.0, rel=1e-12)
    assert value("1 + share", PLAIN, share=25.0) == 1.25
    assert value("hot", Unit("degF", "degree_Fahrenheit", "°F"), hot=100.0) == pytest.approx(212.0, rel=1e-12)


def test_whole_powers_become_products_and_others_stay_powers():
    node = parse(word("n ** 3 + n ** -2 + n ** 0.25"))
    text = str(compiled(node, UNITS, {}, PLAIN))
    assert text.count("'multiply'") == 3 and text.count("'power'") == 1
    assert "('divide', ('number', 1.0)" in text


def test_a_constant_stands_as_its_number_in_si():
    assert value("load / 2", Unit("kW", "kilowatt", "kW"), constants={"load": 500.0}) == 0.25


@given(st.floats(-1e6, 1e6), st.sampled_from(["hot", "cold", "flow", "bore", "share"]))
def test_a_unit_goes_into_si_and_back_unchanged(number, name):
    assert value(name, UNITS[name], **{name: number}) == pytest.approx(number, rel=1e-12, abs=1e-9)


def test_a_step_that_changes_nothing_is_not_written():
    assert scaled(("symbol", "a"), 1, 0, 1) == ("symbol", "a")


def test_a_dimension_reads_as_its_si_unit():
    assert in_words(dimension("kilogram * meter**2 / second**3 / ampere")) == "m^2 kg/(s^3 A)"
    assert in_words(()) == "1"


@given(st.text(alphabet="0123456789.-+*/(),<=ab minaxsqrtifhelo", max_size=24))
def test_any_text_is_an_expression_or_a_problem_at_a_column_of_it(text):
    try:
        tree = written(text)
    except Unreadable as unreadable:
        problem = unreadable.problem
        assert problem.code == "C010" and problem.fix and str(problem).isprintable()
        assert 1 <= int(problem.message.split()[1]) <= len(text) + 1
    else:
        assert isinstance(tree, tuple)
