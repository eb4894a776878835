"""The check of reference cases and worked examples notices what it is there to notice."""

import re
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from generator.analyse.cases import check_cases, check_starters
from generator.analyse.examples import check_examples
from generator.compile.knowledge import compile_knowledge
from generator.evaluate.prepared import prepare
from generator.pack.model import VERDICTS
from generator.read.knowledge_base import read_files
from tests.read.small_data import BAD_DATA, files_of, small_files
from tests.shipped import base, prepared_base

FOLDERS = sorted(path for path in BAD_DATA.iterdir() if path.name[:4] in ("R007", "R008", "R009"))     # others: test_approvals


def shipped():
    return prepared_base(), base()[1]


def codes(texts) -> list[str]:
    return [problem.code for problem in check_cases(shipped()[0], texts)]


def with_case(change):
    """The shipped texts with one case, changed."""
    case = shipped()[1].cases[0]
    return replace(shipped()[1], cases=(change(case),))


def test_shipped_cases_and_examples_agree_with_the_rules() -> None:
    """Every twelfth case; tests/commands runs `guide check`, which asks all of them."""
    prepared, texts = shipped()
    some = texts.cases[::12]
    assert len(some) >= 12
    assert check_cases(prepared, replace(texts, cases=some)) == []
    assert check_examples(prepared.pack, texts) == []


def test_the_shipped_cases_expect_something_of_every_decision_and_every_verdict() -> None:
    prepared, texts = shipped()
    expected = [one for case in texts.cases for one in case.expect]
    assert {one.decision for one in expected} == {decision.id for decision in prepared.pack.decisions}
    assert {one.verdict for one in expected} == {"suitable", "caution", "unsuitable", "open"}
    assert all(one.because for one in expected)


def test_a_case_that_expects_another_verdict_is_reported() -> None:
    others = {"suitable": "caution"}
    texts = with_case(lambda case: replace(case, expect=tuple(
        replace(one, verdict=others.get(one.verdict, "suitable"), rule="") for one in case.expect)))
    assert codes(texts) == ["R002"] * len(texts.cases[0].expect)


def test_a_case_that_names_a_rule_that_gave_no_reason_is_reported() -> None:
    texts = with_case(lambda case: replace(case, expect=(replace(case.expect[0], rule="liner_oil.nothing"),)))
    assert codes(texts) == ["R003"]


def test_only_rules_that_give_the_expected_verdict_are_offered_instead() -> None:
    prepared, texts = shipped()
    verdict_of = {(row.rule, VERDICTS[row.verdict]) for table in prepared.pack.tables for row in table.rows}
    offered = []
    for case in texts.cases[:20]:
        wrong = replace(case, expect=tuple(replace(one, rule="liner_oil.nothing") for one in case.expect))
        for problem, one in zip(check_cases(prepared, replace(texts, cases=(wrong,))), wrong.expect, strict=True):
            named = problem.fix.startswith("name one of ")       # an open verdict may rest on what could still come
            rules = problem.fix.removeprefix("name one of ").split(", ") if named else []
            assert named or one.verdict == "open", problem
            offered += rules
            assert all((rule, one.verdict) in verdict_of or rule.endswith(".no_value") for rule in rules), problem
    assert len(offered) > 40


def test_a_worked_example_of_a_plain_number_is_told_without_a_unit() -> None:
    prepared, texts = shipped()
    units = {formula.id: formula.unit for formula in prepared.pack.formulas}
    formula = next(one for one in texts.formulas if units[one.id] == "1" and one.examples)
    example = replace(formula.examples[0], expected=formula.examples[0].expected * 1.01 + 1e-6)
    problem, = check_examples(prepared.pack, replace(texts, formulas=(replace(formula, examples=(example,)),)))
    assert re.search(r"but the formula gives -?[0-9.]+$", problem.message)


def test_a_case_whose_answer_cannot_be_read_is_reported_with_the_fix() -> None:
    texts = with_case(lambda case: replace(case, application=tuple(
        (state, tuple((name, "40 furlongs" if name == "temperature_max" else text) for name, text in answers or ()))
        if state == "normal" else (state, answers) for state, answers in case.application)))
    assert codes(texts) == ["R001"]


def test_a_worked_example_that_is_off_by_more_than_its_tolerance_is_reported() -> None:
    prepared, texts = shipped()
    formula = texts.formulas[0]
    example = replace(formula.examples[0], expected=formula.examples[0].expected * 1.01 + 1e-6)
    problems = check_examples(prepared.pack, replace(texts, formulas=(replace(formula, examples=(example,)),)))
    assert [problem.code for problem in problems] == ["R004"]


def test_a_case_that_expects_another_selection_is_reported() -> None:
    texts = with_case(lambda case: replace(case, selection=(("size", "dn400"), ("ring_material", "no_ring")),
                                           selection_at=((9, 1), (9, 2))))
    assert codes(texts) == ["R007", "R007"]


def test_a_selection_is_expected_of_some_shipped_cases_and_found() -> None:
    _, texts = shipped()
    assert sum(bool(case.selection) for case in texts.cases) >= 5


@pytest.mark.parametrize("folder", FOLDERS, ids=[folder.name for folder in FOLDERS])
def test_bad_case_says_its_expected_lines_and_no_others(folder: Path) -> None:
    files = files_of(folder)
    expected = files.pop("expected.txt").decode().splitlines()
    base, problems = read_files(small_files() | files)
    assert base is not None, problems
    pack, texts, problems = compile_knowledge(base, date(2026, 11, 25))
    assert not problems
    check = {"R007": check_cases, "R008": check_starters, "R009": check_cases}[folder.name[:4]]
    assert [str(problem) for problem in check(prepare(pack), texts)] == expected
    assert any(f": {folder.name[:4]}: " in line for line in expected)
