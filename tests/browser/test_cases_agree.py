"""Says that the worksheet shows of a reference case what Python decides: the same verdicts, rules and order.

That the two engines agree on every case is said in tests/agreement; drawing one takes a third of a second.
"""

from __future__ import annotations

import os
from generator.analyse.cases import answer_case, judged_cases
from generator.evaluate.results import Selected
from tests import shipped
from tests.browser.worksheet_page import SHOWN, drawn_cases

PACK, TEXTS = shipped.whole()
EVERY = 1 if int(os.environ.get("AGREEMENT_APPLICATIONS", 0)) >= 100_000 else 16    # so many cases stand for one


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


def test_worksheet_shows_the_cases_as_python_decides_them(filled: object):
    own = {case.id for case in judged_cases(TEXTS)}
    cases = [case for place, case in enumerate(TEXTS.cases) if place % EVERY == 0 or case.id in own]
    wrong = [case.id for case, shown in drawn_cases(filled, cases, SHOWN)
             if shown != decided(answer_case(shipped.prepared_whole(), case).selected)]
    assert wrong == []
    assert len(cases) > 30
