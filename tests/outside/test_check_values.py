"""Holds the shipped units, media and limits against figures and verdicts from outside; each names its source."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
import yaml

from generator.answers.figures import Fault
from generator.answers.reading import read_answer
from generator.evaluate.prepared import Prepared, prepare
from generator.evaluate.results import Application, ChoiceSet, StateAnswers
from generator.evaluate.select import select
from generator.pack.model import VERDICTS, Table
from tests.outside.shipped import (
    DATA, EASY, chemistry_alone, in_unit, judged, shipped_input, shipped_pack, single, split, understood, whole_guide)

VALUES = yaml.safe_load((Path(__file__).parent / "check_values.yml").read_text("utf-8"))


@pytest.mark.parametrize("check", VALUES["conversions"],
                         ids=lambda check: check["typed"] + " as " + (check.get("input") or check["symbol"]))
def test_a_typed_unit_is_read_as_the_figure_that_its_outside_source_gives(check: dict[str, Any]) -> None:
    read = (in_unit(check["formula"], check["symbol"], check["typed"]) if "formula" in check
            else single(understood(check["input"], check["typed"])))
    assert read == pytest.approx(check["expect"], rel=check["tolerance"]), check["source"]


@pytest.mark.parametrize("check", VALUES["refused"], ids=lambda check: check["typed"] + " as " + check["input"])
def test_a_unit_that_means_two_things_is_refused_with_the_question(check: dict[str, Any]) -> None:
    read = read_answer(shipped_input(check["input"]), check["typed"])
    assert isinstance(read, Fault) and read.fix.startswith(check["asks"])


def test_which_gallon_was_understood_is_told() -> None:
    gallons = next(one for one in shipped_input("flow_normal").conversions if one.spelling == "gpm")
    assert gallons.note == "US gallons per minute"


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
    assert {"verdict", "at_best", "may_be"} & set(check)
    assert holds(check, whole_guide())


@pytest.mark.parametrize("factor", [0.95, 1.05])
@pytest.mark.parametrize("guards", sorted({tuple(check["guards"]) for check in VALUES["practice"] if "guards" in check}))
def test_a_limit_that_moves_by_five_per_cent_is_noticed(guards: tuple[str, str, str, float], factor: float) -> None:
    table = next(one for one in shipped_pack().tables if one.id == guards[0])
    checks = [check for check in VALUES["practice"] if check.get("guards") == list(guards)]
    assert all(holds(check, only(table)) for check in checks)
    assert not all(holds(check, only(moved(table, *guards[1:], factor))) for check in checks)


@pytest.mark.parametrize("check", VALUES["pairs"], ids=lambda check: check["name"])
def test_two_choices_of_the_trade_go_together_or_do_not(check: dict[str, Any]) -> None:
    table = next(one for one in shipped_pack().tables if one.id == check["table"])
    result = judged(only(table, check["with"]), {}, check["decision"], check["candidate"])
    assert result.verdict == check["verdict"]


@pytest.mark.parametrize("check", VALUES["alike"], ids=lambda check: f"{check['medium']} at {check['at']}")
def test_two_liners_that_the_trade_calls_alike_get_one_verdict_of_the_medium(check: dict[str, Any]) -> None:
    answers = {"medium": check["medium"], "temperature_max": f"{check['at']} degC"}
    if "strength" in check:
        answers["concentration"] = f"{check['strength']} mass %"
    pfa, ptfe = (judged(chemistry_alone(), answers, "liner", liner).verdict for liner in ("pfa", "ptfe"))
    assert pfa == ptfe


def test_the_size_of_the_line_leads_where_its_velocities_hold() -> None:
    answers = EASY | {"medium": "drinking_water", "temperature_max": "20 degC"}
    normal = StateAnswers("normal", tuple((name, understood(name, typed)) for name, typed in answers.items()))
    selected = select(whole_guide(), Application("outside", "A line of DN 100 at 1.8 m/s", (normal,)))
    assert "dn100" in {one.candidate for one in selected.selections[0].chosen}


def test_a_refusal_is_explained_by_what_applies_and_not_by_a_blank_answer() -> None:
    # Nobody said a word about vibration: strong vibration is no reason, the flood is.
    answers = EASY | {"medium": "drinking_water", "temperature_max": "20 degC", "immersion": "floods"}
    refused = judged(whole_guide(), answers, "mounting", "integral")
    assert refused.verdict == "unsuitable"
    assert (refused.reasons[0].rule, refused.reasons[0].settled) == ("mounting_site.under_water", True)
    assert not any(reason.settled for reason in refused.reasons if "vibration" in reason.rule)


# private

def holds(check: dict[str, Any], guide: Prepared) -> bool:
    """Whether the guide keeps what a check of practice asks."""
    result = judged(guide, {name: str(typed) for name, typed in check["answers"].items()},
                    check["decision"], check["candidate"])
    return (result.verdict == check.get("verdict", result.verdict)
            and rank(check.get("may_be", "unsuitable")) <= rank(result.best) <= rank(check.get("at_best", "suitable")))


def only(table: Table, chosen: dict[str, str] | None = None) -> Prepared:
    """The shipped pack with one table, and where a decision is `chosen` with that one candidate for it."""
    pack = shipped_pack()
    decisions = tuple(
        replace(one, candidates=tuple(item for item in one.candidates if item.id == (chosen or {})[one.id]))
        if one.id in (chosen or {}) else one for one in pack.decisions)
    return prepare(replace(pack, tables=(table,), decisions=decisions))


def moved(table: Table, rules: str, column: str, at: float, factor: float) -> Table:
    """The table with one limit of the rules that begin so multiplied by a factor."""
    place = next(number for number, one in enumerate(table.columns) if one.name == column)
    asked = table.columns[place]
    cells = list(asked.cells)
    rows = []
    for row in table.rows:
        if row.rule.startswith(rules) and row.cells[place] >= 0:
            cells.append(replace(cells[row.cells[place]], intervals=tuple(
                replace(one, low=one.low * factor if one.low == at else one.low,
                        high=one.high * factor if one.high == at else one.high)
                for one in cells[row.cells[place]].intervals)))
            row = replace(row, cells=(*row.cells[:place], len(cells) - 1, *row.cells[place + 1:]))
        rows.append(row)
    columns = (*table.columns[:place], replace(asked, cells=tuple(cells)), *table.columns[place + 1:])
    return replace(table, columns=columns, rows=tuple(rows))


def named(check: dict[str, Any]) -> str:
    return f"{check['electrode']} in {check['medium']} {check.get('strength', '')} at {check['at']}"


def rank(verdict: str) -> int:
    return VERDICTS.index(verdict)
