"""Says that the worksheet decides every reference case as Python does: the same verdicts, rules and order."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.answers.application import read_application
from generator.compile.knowledge import load_pack
from generator.evaluate.prepared import prepare
from generator.evaluate.select import select
from generator.pack.texts import CaseText
from tests.browser.worksheet_page import everything

PACK, TEXTS = load_pack(Path(__file__).resolve().parent.parent.parent / "data")
PREPARED = prepare(PACK)


def decided(case: CaseText) -> list[list[object]]:
    """What Python decides, in the shape of `worksheet_page.everything`."""
    typed = {"id": case.id, "title": case.title}
    typed |= {state: "none" if answers is None else dict(answers) for state, answers in case.application}
    read = read_application(PACK, typed)
    assert read.problems == ()
    return [[decision.decision, [[one.candidate, one.verdict, one.best, one.worst,
                                  [[reason.rule, reason.verdict, reason.state] for reason in one.reasons]]
                                 for one in decision.candidates]]
            for decision in select(PREPARED, read.application).decisions]


def test_there_are_at_least_twelve_reference_cases_for_all_decisions():
    assert len(TEXTS.cases) >= 12
    assert {expected.decision for case in TEXTS.cases for expected in case.expect} == \
        {decision.id for decision in PACK.decisions}


@pytest.fixture(scope="module")
def filled(browser: object, served_site: str):
    """One page for all cases: each is filled in from the menu over the one before."""
    context = browser.new_context()
    page = context.new_page()
    page.goto(f"{served_site}/")
    page.wait_for_selector("#worksheet[data-evaluated]")
    yield page
    context.close()


@pytest.mark.parametrize("case", TEXTS.cases, ids=lambda case: case.id)
def test_worksheet_decides_the_case_as_python_does_and_as_the_committee_expects(filled: object, case: CaseText):
    filled.select_option("#ws-example", case.id)
    filled.wait_for_selector(f"#worksheet[data-evaluated^='id={case.id}&']")
    shown = everything(filled)
    assert shown == decided(case)
    found = {(decision, one[0]): one for decision, candidates in shown for one in candidates}
    for expected in case.expect:
        _, verdict, _, _, reasons = found[expected.decision, expected.candidate]
        assert verdict == expected.verdict
        assert not expected.rule or expected.rule in [rule for rule, _, _ in reasons]
