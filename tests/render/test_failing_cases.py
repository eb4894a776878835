"""A case that the rules no longer meet is seen where the guide is read: on its page, at the start, among the findings."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from generator.analyse.cases import answer_case
from generator.evaluate.prepared import prepare
from generator.render.cases import case_pages
from generator.render.failing import Failing, failing
from generator.render.library import library
from generator.render.site import all_pages
from tests import shipped
from tests.read.small_data import small_files
from tests.render.test_findings_page import guide_of, plain


@pytest.fixture(scope="module")
def parted() -> dict[str, str]:
    """The pages of the small guide, whose one case the rules do not meet, by address."""
    return {page.address: page.body for page in all_pages(guide_of(small_files()))}


def test_the_page_of_a_failing_case_says_what_it_expects_and_what_the_rules_say_now(parted: dict[str, str]) -> None:
    note = parted["cases/seawater_intake/"].split("g-failing", 1)[1].split("</div>", 1)[0]
    assert "Soft rubber (Liner): expected \u2713 suitable by liner_temperature.rubber_within" in plain(note)
    assert "; the rules now say ? open by liner_temperature.rubber_hot" in plain(note)
    assert "change its expectation in data/cases/seawater_intake.yml:" in plain(note)
    assert 'href="page:tables/liner_temperature/#rule-liner_temperature.rubber_hot"' in note


def test_start_page_index_and_findings_count_the_failing_cases_and_link_to_each(parted: dict[str, str]) -> None:
    for address in ("", "cases/", "findings/"):
        assert "Reference cases that no longer hold: 1 of 1." in plain(parted[address]), address
        assert 'href="page:cases/seawater_intake/"' in parted[address], address
    assert 'href="page:findings/#failing"' in parted[""] and 'id="failing"' in parted["findings/"]


def test_a_guide_whose_cases_all_hold_says_nothing_of_failing() -> None:
    lib = guide_of(small_files())
    kept = replace(lib, texts=replace(lib.texts, cases=tuple(replace(case, expect=()) for case in lib.texts.cases)))
    pages = all_pages(kept)
    assert any(page.address == "cases/seawater_intake/" for page in pages)
    assert not any("g-failing" in page.body or "no longer hold" in page.body for page in pages)


def test_more_failing_cases_than_the_line_names_are_counted() -> None:
    lib = shipped.library_of_whole()
    answered = tuple(answer_case(prepare(lib.pack), case) for case in lib.texts.cases if case.id in lib.texts.overlay.cases)[:8]
    wrong = tuple(replace(one, case=replace(one.case, expect=tuple(
        replace(line, verdict="open" if line.verdict != "open" else "suitable") for line in one.case.expect)))
        for one in answered)
    found = failing(lib, wrong)
    assert len(found.cases) == 8 and found.counted == "Reference cases that no longer hold: 8 of 8" and found.more == "and 3 more"


def test_a_case_of_the_base_is_held_against_the_base_though_the_company_says_otherwise() -> None:
    """The worksheet judges with the company's data; what was argued for the base alone does not fail by it."""
    lib, base = shipped.library_of_whole(), library(*shipped.base())
    other = [case for case in lib.texts.cases if case.id not in lib.texts.overlay.cases][:30]
    alone = replace(base, texts=replace(base.texts, cases=tuple(other), witnesses=()))
    answered = tuple(answer_case(prepare(lib.pack), case) for case in other)
    assert failing(lib, answered, alone).cases == ()
    assert failing(lib, answered, alone).counted == ""


def test_beside_the_company_stands_what_the_base_says_now_and_not_what_was_expected() -> None:
    lib, base = shipped.library_of_whole(), shipped.library_of_base()
    case = next(one for one in base.texts.cases if one.id == "river_water_41")
    line = case.expect[0]
    assert (line.candidate, line.verdict) == ("polyurethane", "unsuitable")
    wrong = replace(case, expect=(replace(line, verdict="suitable"), *case.expect[1:]))
    answered = answer_case(prepare(lib.pack), wrong)
    failed = failing(lib, (answered,), replace(base, texts=replace(base.texts, cases=(wrong,), witnesses=())))
    assert failed.says_of(case.id) == {("liner", "polyurethane"): "unsuitable"}
    page, = case_pages(lib, (answered,), failed)
    assert "The worksheet says otherwise of these:" not in plain(page.body)     # company and base both say unsuitable
    page, = case_pages(lib, (answered,))
    assert "The worksheet says otherwise of these:" in plain(page.body)


@pytest.mark.parametrize("code", ["R001", "R003", "R007", "R009"])
def test_every_kind_of_departure_is_told_in_words_without_a_raw_name_of_a_decision(code: str) -> None:
    pack, texts = shipped.base()
    lib = library(pack, replace(texts, witnesses=()))
    wrong = {
        "R001": lambda case: replace(case, application=((case.application[0][0], (("flow", "much"),)),)),
        "R003": lambda case: replace(case, expect=(replace(case.expect[0], rule="liner_oil.nothing"),)),
        "R007": lambda case: replace(case, selection=tuple(
            (name, next((one.id for one in lib.decision_texts[name].items if one.id != chosen), chosen))
            for name, chosen in case.selection)),
        "R009": lambda case: replace(case, together=tuple(
            replace(one, verdict="open" if one.verdict != "open" else "suitable", rule="") for one in case.together)),
    }[code]
    case = next(one for one in texts.cases if (one.selection if code == "R007" else one.together if code == "R009" else one.expect))
    answered = (answer_case(prepare(pack), wrong(case)),)
    found = failing(lib, answered)
    assert len(found.cases) == 1 and isinstance(found, Failing)
    page, = case_pages(lib, answered, found)
    said = plain(page.body.split("g-failing__lines", 1)[1].split("</ul>", 1)[0])
    assert {"R001": "flow", "R003": "liner_oil.nothing", "R007": "What to buy first", "R009": " with "}[code] in said
    assert "electrode_material" not in re.sub(r"\S+\.\S+", "", said)
