"""Says that the worksheet prints as a fact only what holds for every completion of the answers."""

from __future__ import annotations


from generator.answers.application import read_application
from generator.evaluate.results import CandidateResult
from generator.evaluate.select import select
from tests import shipped
from tests.browser.worksheet_page import open_with

PACK, TEXTS = shipped.whole()
PREPARED = shipped.prepared_whole()
SHOWN = """() => [...document.querySelectorAll("section[data-decision] [data-candidate]")].map((one) => [
  one.dataset.decision, one.dataset.candidate, [...one.querySelectorAll("[data-rule]")].map((reason) =>
    [Number(reason.dataset.place), reason.textContent.startsWith("Not ruled out yet: ")])])"""


def without(case_id: str, *left_out: str) -> dict[str, dict[str, str] | str]:
    """The answers of a reference case, but for these of normal operation."""
    case = next(one for one in TEXTS.cases if one.id == case_id)
    states = {state: "none" if answers is None else dict(answers) for state, answers in case.application}
    kept = {name: typed for name, typed in states["normal"].items() if name not in left_out}
    return states | {"normal": kept}


def decided(states: dict[str, dict[str, str] | str]) -> dict[tuple[str, str], CandidateResult]:
    """What Python decides, by decision and candidate."""
    read = read_application(PACK, {"id": "point", "title": ""} | states)
    return {(decision.decision, one.candidate): one
            for decision in select(PREPARED, read.application).decisions for one in decision.candidates}


def test_reason_says_that_it_is_not_settled_exactly_when_only_some_answers_lead_to_it(
        worksheet: object, served_site: str):
    states = without("acid_dosing", "conductivity", "flow_max")
    results = decided(states)
    open_with(worksheet, served_site, states)
    settled = set()
    for decision, candidate, reasons in worksheet.evaluate(SHOWN):
        of_python = results[decision, candidate].reasons
        assert len(reasons) == len(of_python)
        for place, hedged in reasons:
            assert hedged is not of_python[place].settled
            settled.add(of_python[place].settled)
    assert settled == {True, False}


def test_settled_reason_stands_first_though_an_open_one_says_the_same(
        worksheet: object, served_site: str):
    states = without("acid_dosing", "conductivity", "flow_max")
    results = decided(states)
    open_with(worksheet, served_site, states)
    beside = 0
    for decision, candidate, reasons in worksheet.evaluate(SHOWN):
        result = results[decision, candidate]
        alike = [reason for reason in result.reasons if reason.verdict == result.verdict]
        if result.best == result.worst and any(reason.settled for reason in alike):
            first = result.reasons[reasons[0][0]]
            assert first.settled
            assert first.verdict == result.verdict
            beside += not all(reason.settled for reason in alike)
    assert beside > 0


def test_summary_says_that_open_candidates_may_be_better_when_the_first_comes_with_a_caution(
        worksheet: object, served_site: str):
    states = without("acid_dosing", "medium")
    results = [one for (decision, _), one in decided(states).items() if decision == "earthing"]
    better = sum(one.verdict == "open" and one.best == "suitable" for one in results)
    assert results[0].verdict == "caution"
    assert better > 0
    open_with(worksheet, served_site, states)
    row = worksheet.locator(".ws-leading li", has_text="Earthing arrangement")
    assert row.locator(".ws-verdict").inner_text().endswith("caution")
    assert row.locator(".ws-better").inner_text() == f"{better} open that may be better"
    assert f"; {better} open that may be better." in worksheet.locator(".ws-status").text_content()
