"""Says that the worksheet shows of a reference case what Python decides: the same verdicts, rules and order.

That the two engines agree on every case is said in tests/agreement; drawing one takes a third of a second.
"""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence

import pytest

from generator.analyse.cases import answer_case, judged_cases
from generator.evaluate.results import Selected
from generator.pack.texts import CaseText
from tests import shipped
from tests.browser.worksheet_page import SHOWN

PACK, TEXTS = shipped.whole()
EVERY = 1 if int(os.environ.get("AGREEMENT_APPLICATIONS", 0)) >= 100_000 else 16    # so many cases stand for one
DRAWN_AT_ONCE = 20                               # cases that one call into the page draws

# Takes each case from the menu, as a person would, and gives back what stands on the page then.
DRAW = f"""async (ids) => {{
  const shown = {SHOWN};
  const menu = document.getElementById("ws-example");
  return ids.map((id) => {{
    menu.value = id;
    menu.dispatchEvent(new Event("change"));
    return [document.getElementById("worksheet").dataset.evaluated.split("&")[0], shown()];
  }});
}}"""


def decided(selected: Selected) -> list[list[object]]:
    """What Python decides, in the shape of `worksheet_page.everything`."""
    return [[decision.decision, [[one.candidate, one.verdict, one.best, one.worst,
                                  [[reason.rule, reason.verdict, reason.state] for reason in one.reasons]]
                                 for one in decision.candidates]]
            for decision in selected.decisions]


def test_there_are_at_least_twelve_reference_cases_for_all_decisions():
    assert len(TEXTS.cases) >= 12
    assert {expected.decision for case in TEXTS.cases for expected in case.expect} == \
        {decision.id for decision in PACK.decisions}


@pytest.fixture(scope="module")
def filled(browser: object, served_site: str) -> Iterator[object]:
    """One page for all cases: each is filled in from the menu over the one before."""
    context = browser.new_context()
    page = context.new_page()
    page.goto(f"{served_site}/")
    page.wait_for_selector("#worksheet[data-evaluated]")
    yield page
    context.close()


def test_worksheet_shows_the_cases_as_python_decides_them(filled: object):
    own = {case.id for case in judged_cases(TEXTS)}
    cases = [case for place, case in enumerate(TEXTS.cases) if place % EVERY == 0 or case.id in own]
    wrong = [case.id for some in portions(cases)
             for case, (drawn, shown) in zip(some, filled.evaluate(DRAW, [case.id for case in some]), strict=True)
             if drawn != f"id={case.id}" or shown != decided(answer_case(shipped.prepared_whole(), case).selected)]
    assert wrong == []
    assert len(cases) > 30


def portions(cases: Sequence[CaseText]) -> Iterator[Sequence[CaseText]]:
    for start in range(0, len(cases), DRAWN_AT_ONCE):
        yield cases[start:start + DRAWN_AT_ONCE]
