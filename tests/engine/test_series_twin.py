"""Tests reading a series: by the name of a row, at a number, between rows, and where nothing is known."""

from __future__ import annotations

from datetime import date

import pytest

from generator.compile.knowledge import compile_knowledge
from generator.evaluate.formulas import NO_VALUE, evaluate_formula
from generator.evaluate.results import NumberSet
from generator.evaluate.series import figure_at, figure_of
from generator.pack.document import read_pack, write_pack
from generator.pack.model import Pack, Series, SeriesColumn
from generator.read.knowledge_base import read_files
from tests.engine.twin import Twin
from tests.read.small_data import small_files

WARM = Series("warm", "degC", (), (SeriesColumn("speed", "m/s", ((0.0, 1.0), (10.0, 3.0), (20.0, 2.0))),))
SIZES = Series("sizes", "", ("DN 50", "DN 80"), (SeriesColumn("length", "mm", ((0.0, 200.0), (1.0, 210.0))),
                                                 SeriesColumn("rare", "mm", ((1.0, 5.0),))))
CASES = [("0", (0, 0), NumberSet(((1.0, 1.0),))), ("20", (20, 20), NumberSet(((2.0, 2.0),))),
         ("half way", (5, 5), NumberSet(((2.0, 2.0),))), ("over a peak", (5, 15), NumberSet(((2.0, 3.0),))),
         ("below", (-0.1, -0.1), NO_VALUE), ("above", (20.1, 20.1), NO_VALUE),
         ("partly above", (15, 25), NumberSet(((2.0, 2.5),), True))]


def single(number: float) -> NumberSet:
    return NumberSet(((float(number), float(number)),))


@pytest.mark.parametrize(("at", "expected"), [case[1:] for case in CASES], ids=[case[0] for case in CASES])
def test_a_figure_lies_on_the_line_between_two_rows_and_nowhere_outside(
        at: tuple[float, float], expected: NumberSet, twin: Twin) -> None:
    given = NumberSet(((float(at[0]), float(at[1])),))
    assert figure_at(WARM, "speed", given) == expected
    theirs = twin.call("series", "figureAt", WARM, "speed", given)
    assert NumberSet(tuple(map(tuple, theirs["intervals"])), theirs["absent"]) == expected


@pytest.mark.parametrize(("column", "row", "expected"), [
    ("length", "DN 80", single(210)), ("length", " dn  80", single(210)), ("rare", "DN 50", NO_VALUE),
    ("length", "DN 65", NO_VALUE)])
def test_a_named_row_is_found_in_any_capitals_and_no_other_is(
        column: str, row: str, expected: NumberSet, twin: Twin) -> None:
    assert figure_of(SIZES, column, row) == expected
    theirs = twin.call("series", "figureOf", SIZES, column, row)
    assert NumberSet(tuple(map(tuple, theirs["intervals"])), theirs["absent"]) == expected


SERIES = b"""id: warm
title: Warm
about: For tests.
axis: {id: temperature, title: Temperature, unit: degF}
columns:
  - {id: speed, title: Speed, unit: m/s}
  - {id: pace, title: Pace, unit: m/s}
trap: None.
basis: {kind: physics}
rows:
  - [32, 1, 7]
  - [50, 3, 7]
  - [212, none, 9]
"""
FORMULA = """id: speed
title: Speed
about: For tests.
letter: v
unit: m/s
symbols:
  - {id: at, title: Where, letter: x, unit: degC, range: "[-50..300]"}
  - {id: column, title: Which, letter: j, unit: "1", range: "[1..2]"}
expression: EXPRESSION
validity: All.
accuracy: Exact.
trap: None.
basis: {kind: physics}
examples:
  - {given: {at: 5 degC, column: "1"}, result: 2 m/s, tolerance: 1e-9, source: by hand, worked: 41 degF is half way}
"""


def compiled(expression: str, more: dict[str, bytes] | None = None) -> Pack:
    files = {"series/warm.yml": SERIES, "formulas/speed.yml": FORMULA.replace("EXPRESSION", expression).encode()}
    base, problems = read_files(small_files() | files | (more or {}))
    assert problems == []
    pack, _, problems = compile_knowledge(base, date(2026, 1, 1))
    assert problems == []
    return read_pack(write_pack(pack, "test"))


def value(pack: Pack, at: NumberSet, column: NumberSet) -> NumberSet:
    formula = next(one for one in pack.formulas if one.id == "speed")
    return evaluate_formula(formula, {"at": at, "column": column})


def test_a_formula_reads_the_column_that_its_letter_chooses_in_the_units_of_the_series() -> None:
    pack = compiled("interpolate(at, warm[column])")
    assert value(pack, single(5), single(1)) == single(2)
    assert value(pack, single(5), single(2)) == single(7)
    assert value(pack, single(100), single(2)) == single(9)
    assert value(pack, single(100), single(1)) == NO_VALUE        # beyond that column
    assert value(pack, single(5), single(1.5)) == NO_VALUE        # no such column
    assert value(pack, single(5), NumberSet(((1.0, 2.0),))).intervals == ((2.0, 7.0),)


def test_a_formula_reads_a_column_by_its_name_up_to_both_ends() -> None:
    pack = compiled("interpolate(at, warm.speed) + 0 * interpolate(at, warm.speed) * column")
    assert value(pack, single(0), single(1)) == single(1)
    assert value(pack, single(10), single(1)) == single(3)
    assert value(pack, single(10.0001), single(1)) == NO_VALUE


def test_a_word_of_a_record_that_names_a_column_is_the_number_of_the_column() -> None:
    liner = small_files()["catalogues/liners/pfa.yml"].decode() + "words: {warm: pace}\n"
    pack = compiled("interpolate(at, warm[column])", {"catalogues/liners/pfa.yml": liner.encode()})
    liners = next(one for one in pack.decisions if one.id == "liner")
    assert {one.id: dict(one.numbers).get("warm") for one in liners.candidates}["pfa"] == 2.0
