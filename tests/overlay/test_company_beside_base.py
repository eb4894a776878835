"""Says that what a company's overlay touches is shown with the company's word beside the base's, marked as such."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from generator.analyse.cases import answer_case
from generator.pack.overlay_texts import ChangeText, OverlayText
from generator.render.candidates import candidate_pages
from generator.render.cases import case_pages
from generator.render.library import Library
from generator.render.overlay import changes_of_candidate, changes_of_table, company_link, other_answers, overlay_pages
from generator.render.parts import rule_rows
from tests import shipped
from tests.pages.html_tree import Element, page_body

Line = tuple[str, str, str, str]     # company's verdict, its rule, base's verdict, the base's reason


@pytest.fixture(scope="module")
def lib() -> Library:
    return shipped.library_of_whole()


@pytest.fixture(scope="module")
def overlay(lib: Library) -> OverlayText:
    assert lib.texts.overlay is not None
    return lib.texts.overlay


def beside(body: Element) -> Iterator[Line]:
    """The rows of the tables that put company beside base."""
    for table in body.all("table", "g-table--company"):
        for line in table.first("tbody").all("tr"):
            _, company, base = line.all("td")
            assert company.first("span", "g-company").text() == "company"
            yield (company.first(named="verdict").text(), company.first("a", "g-id").text(),
                   base.first(named="verdict").text(), base.text())


def shows(lines: list[Line], change: ChangeText) -> bool:
    return any(verdict.endswith(change.verdict) and rule == change.rule and before.endswith(change.base_verdict)
               and " ".join(change.base_because.split()) in told for verdict, rule, before, told in lines)


def test_table_that_the_company_changes_shows_both(lib: Library, overlay: OverlayText):
    assert len(overlay.changes) >= 8
    for change in overlay.changes:
        assert shows(list(beside(page_body(changes_of_table(lib, change.table)))), change), change.rule
        assert company_link(lib, change.table, added=False) is not None
    assert changes_of_table(lib, "liner_wear") == ""


def test_page_of_the_company_lists_every_change_and_all_else_it_says(lib: Library, overlay: OverlayText):
    prepared = shipped.prepared_whole()
    closed = next(case for case in lib.texts.cases if case.id == "closed_heating_loop")
    page, = overlay_pages(lib, (answer_case(prepared, closed),))
    body = page_body(page.body)
    lines = list(beside(body))
    assert all(shows(lines, change) for change in overlay.changes)
    text = body.text()
    assert overlay.notice in text
    assert all(one.reason in text for one in overlay.changes if one.reason)
    assert all(one.reason in text and one.who in text for one in overlay.forbidden)
    assert all(typed in text for figures in overlay.figures for _, _, typed in figures.values)
    assert "Closed heating loop" in text          # a case of the base that comes out otherwise
    assert {heading.anchor for heading in page.headings} >= {
        "kind-fills", "kind-tightens", "kind-loosens", "figures", "added", "forbidden", "stock", "cases", "other-cases"}


def test_page_of_a_candidate_shows_both_and_what_is_in_stock(lib: Library, overlay: OverlayText):
    lines = list(beside(page_body(changes_of_candidate(lib, "liner", "pfa"))))
    about = [one for one in overlay.changes if ("liner", ("pfa",)) in one.candidates]
    assert len(about) >= 5
    assert all(shows(lines, change) for change in about)
    assert changes_of_candidate(lib, "liner", "etfe") == ""
    pfa = next(page for page in candidate_pages(lib) if page.uri == "liners/pfa.md")
    assert "in stock, cost class 2 (company)" in page_body(pfa.body).text()
    assert list(beside(page_body(pfa.body))) == lines


def test_rules_of_the_company_are_marked_in_their_tables_and_those_of_the_base_are_not(
        lib: Library, overlay: OverlayText):
    added = {one.table for one in overlay.added}
    own = {rule.rule for rule in lib.texts.rules if rule.origin == "overlay" or rule.table in added}
    seen = 0
    for table in lib.pack.tables:
        for row in rule_rows(lib, table, (row for row in table.rows if row.rule not in lib.letters)):
            assert row.company == (row.rule in own), row.rule
            seen += row.company
    assert seen > 40


def test_case_of_the_base_says_what_the_company_comes_to(lib: Library):
    closed = next(case for case in lib.texts.cases if case.id == "closed_heating_loop")
    answers = {one.candidate.text: one for one in other_answers(lib, answer_case(shipped.prepared_whole(), closed))}
    assert "suitable" in answers["PFA"].company
    assert "open" in answers["PFA"].base


def test_page_of_a_case_says_whose_verdicts_it_expects_and_what_the_worksheet_says_otherwise(lib: Library):
    answered = {case.id: answer_case(shipped.prepared_whole(), case) for case in lib.texts.cases
                if case.id in ("closed_heating_loop", "warm_brine_half_plastic", "ninefold_quiet_line")}
    pages = {page.uri.split("/")[1][:-3]: page_body(page.body).text()
             for page in case_pages(lib, tuple(answered.values()))}
    argued = "A case of the base, argued for the base alone. The worksheet also judges with the company data of"
    assert argued in pages["closed_heating_loop"] and "The worksheet says otherwise of these:" in pages["closed_heating_loop"]
    assert argued in pages["warm_brine_half_plastic"]
    assert argued not in pages["ninefold_quiet_line"]
    assert "A case of the company's overlay" in pages["ninefold_quiet_line"]


def test_base_alone_has_no_page_and_no_mark_of_a_company():
    alone = shipped.library_of_base()
    assert overlay_pages(alone, ()) == ()
    closed = next(case for case in alone.texts.cases if case.id == "closed_heating_loop")
    page, = case_pages(alone, (answer_case(shipped.prepared_base(), closed),))
    assert "company data" not in page_body(page.body).text()
    assert changes_of_table(alone, "liner_temperature") == ""
    table = alone.tables["liner_temperature"]
    assert not any(row.company for row in rule_rows(alone, table, table.rows))
