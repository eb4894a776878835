"""Holds the shipped formulas, units and limits against figures from outside; each names its source."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml

from generator.evaluate.formulas import evaluate_formula
from generator.evaluate.results import ChoiceSet, NumberSet
from generator.pack.model import VERDICTS, Input, Symbol
from tests.outside.shipped import DATA, EASY, chemistry_alone, judged, shipped_pack, understood, whole_guide

VALUES = yaml.safe_load((Path(__file__).parent / "check_values.yml").read_text("utf-8"))


@pytest.mark.parametrize("check", VALUES["formulas"], ids=lambda check: check["name"])
def test_a_formula_gives_the_figure_that_its_outside_source_gives(check: dict[str, Any]) -> None:
    formula = next(formula for formula in shipped_pack().formulas if formula.id == check["formula"])
    expected, unit = split(check["expect"])
    assert unit == formula.unit
    assert set(check["given"]) == {symbol.id for symbol in formula.symbols}
    given = {symbol.id: number_for(symbol, check["given"][symbol.id]) for symbol in formula.symbols}
    value = single(evaluate_formula(formula, given))
    assert value == pytest.approx(expected, rel=check["tolerance"]), check["source"]


@pytest.mark.parametrize("check", VALUES["conversions"],
                         ids=lambda check: check["typed"] + " as " + check["input"])
def test_a_typed_unit_is_read_as_the_figure_that_its_outside_source_gives(check: dict[str, Any]) -> None:
    read = understood(check["input"], check["typed"])
    assert single(read) == pytest.approx(check["expect"], rel=check["tolerance"]), check["source"]


@pytest.mark.parametrize("check", VALUES["trade_names"], ids=lambda check: check["typed"])
def test_a_trade_name_is_read_as_the_medium_with_its_cas_number(check: dict[str, Any]) -> None:
    assert understood("medium", check["typed"]) == ChoiceSet((check["medium"],))
    record = yaml.safe_load((DATA / "media" / f"{check['medium']}.yml").read_text("utf-8"))
    assert record["cas"] == check["cas"]


@pytest.mark.parametrize("check", VALUES["chemistry"], ids=lambda check: named(check))
def test_a_metal_gets_the_verdict_of_general_corrosion_tables(check: dict[str, Any]) -> None:
    answers = {"medium": check["medium"], "temperature_max": f"{check['at']} degC"}
    if "strength" in check:
        answers["concentration"] = f"{check['strength']} mass %"
    expected = check.get("stricter", check)["verdict"]
    assert rank(expected) <= rank(check["verdict"])
    chemical = judged(chemistry_alone(), answers, "electrode_material", check["electrode"])
    assert chemical.verdict == expected
    whole = judged(whole_guide(), EASY | answers, "electrode_material", check["electrode"])
    assert whole.verdict == expected


def test_the_smallest_and_the_largest_size_are_those_of_the_trade() -> None:
    sizes = next(decision for decision in shipped_pack().decisions if decision.id == "size")
    bores = [dict(size.numbers)["nominal_bore"] for size in sizes.candidates]
    smallest, largest = (split(VALUES["sizes"][end])[0] for end in ("smallest", "largest"))
    assert (min(bores), max(bores)) == (smallest, largest)
    assert len(bores) >= 18


@pytest.mark.parametrize("check", VALUES["practice"], ids=lambda check: check["name"])
def test_a_limit_of_the_trade_is_kept(check: dict[str, Any]) -> None:
    result = judged(whole_guide(), {name: str(typed) for name, typed in check["answers"].items()},
                    check["decision"], check["candidate"])
    assert {"verdict", "at_best", "may_be"} & set(check)
    assert result.verdict == check.get("verdict", result.verdict)
    assert rank(result.best) <= rank(check.get("at_best", "suitable"))
    assert rank(result.best) >= rank(check.get("may_be", "unsuitable"))


# private

def named(check: dict[str, Any]) -> str:
    return f"{check['electrode']} in {check['medium']} {check.get('strength', '')} at {check['at']}"


def rank(verdict: str) -> int:
    return VERDICTS.index(verdict)


def split(typed: str) -> tuple[float, str]:
    """`50 m3/h` as 50.0 and `m3/h`."""
    number, unit = typed.split(" ", 1)
    return float(number), unit


def single(answer: object) -> float:
    """The one number of a set of one."""
    assert isinstance(answer, NumberSet) and not answer.absent and len(answer.intervals) == 1, answer
    low, high = answer.intervals[0]
    assert low == high
    return low


def number_for(symbol: Symbol, typed: str) -> NumberSet:
    """The argument for a symbol; a unit that is not its own is read by a data sheet line that knows it."""
    number, unit = split(typed)
    if unit == symbol.unit:
        return NumberSet(((number, number),))
    reader = next(item for item in shipped_pack().inputs if item.unit == symbol.unit and knows(item, unit))
    value = single(understood(reader.id, typed))
    return NumberSet(((value, value),))


def knows(item: Input, unit: str) -> bool:
    return any(conversion.spelling == unit for conversion in item.conversions)
