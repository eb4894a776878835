"""The page of findings shows what was found by table, who waived what, and how well cases pin the rules."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date

import pytest

from generator.analyse.finding import unwaived_first
from generator.analyse.findings import findings
from generator.compile.knowledge import compile_knowledge
from generator.evaluate.prepared import prepare
from generator.read.knowledge_base import read_files
from generator.render.cases import answered_cases
from generator.render.findings import findings_page
from generator.render.library import Library, library
from generator.render.page import Page
from generator.render.pinned import Record, count
from tests.read.small_data import small_files


def guide_of(files: dict[str, bytes]) -> Library:
    base, problems = read_files(files)
    assert base is not None, problems
    pack, texts, problems = compile_knowledge(base, date(2026, 11, 25))
    assert pack is not None and texts is not None, problems
    return library(pack, texts)


@pytest.fixture(scope="module")
def small() -> Library:
    return guide_of(small_files())


def page_of(lib: Library, record: Record | None = None) -> Page:
    return findings_page(lib, answered_cases(lib), record)


def plain(html: str) -> str:
    return " ".join(re.sub(r"<[^>]+>", " ", html.replace("<wbr>", "")).replace("&nbsp;", " ").replace("\u00a0", " ").split())


def section(body: str, anchor: str) -> str:
    """The part of a page from one heading to the next of a table or of the page."""
    return re.split(r'<h[23] id="', body.split(f'id="{anchor}"', 1)[1])[0]


def test_a_waived_gap_stands_at_its_table_with_region_place_key_and_who_waived_it(small: Library):
    text = plain(section(page_of(small).body, "table-size_velocity"))
    assert "No rule waived No rule covers this. Highest velocity in the sensor up to 10 m/s" in text
    assert "Waived by A. Tester until 2099-12-31: Only a test." in text
    assert "data/tables/size_velocity.yml:1" in text
    assert "key G001 size_velocity highest velocity in the sensor up to 10 m/s" in text


def test_tables_without_findings_are_named_in_one_sentence_and_have_no_section():
    files = small_files()
    cases = {name: text for name, text in files.items() if name.startswith("cases/")}
    assert cases
    lib = guide_of(files)
    body = page_of(lib).body
    clean = [table.id for table in lib.pack.tables if f'id="table-{table.id}"' not in body]
    for table in lib.pack.tables:
        title = lib.table_texts[table.id].title
        assert body.count(f">{title}</a>") == 1, title
        assert (table.id in clean) == (f'>{title}</a>' in body.split('id="by-table"')[1].split("<section>")[0])


def test_rules_of_a_finding_are_linked_to_the_rows_that_apply_them():
    files = small_files()
    name = "tables/liner_temperature.yml"
    files[name] = files[name].replace(b"then: unsuitable", b"then: suitable").replace(
        b"Heat ages soft rubber.", b"Soft rubber keeps its bond in warm water.")
    body = page_of(guide_of(files)).body
    part = section(body, "table-liner_temperature")
    assert "suitable for one reason, and together they are one region" in plain(part)
    for rule in ("rubber_within", "rubber_hot"):
        assert f'href="page:tables/liner_temperature/#rule-liner_temperature.{rule}"' in part


def test_without_counted_scores_the_page_says_so_and_with_them_it_shows_two_and_the_unpinned_rules(small: Library):
    assert "Not counted" in plain(section(page_of(small).body, "pinning"))
    record = count(small)
    part = section(page_of(small, record).body, "pinning")
    noticed, of = record["hand_written"]
    assert f"{noticed} of {of} changes noticed 60 %" in plain(part)
    assert "Together with approved witnesses" in plain(part) and "95 %" in plain(part)
    for rule in record["unpinned"]:
        assert f"#rule-{rule}" in part


def test_a_score_is_rounded_down_so_that_no_aim_looks_reached_that_is_not(small: Library):
    record = count(small) | {"hand_written": [9499, 10000], "with_witnesses": [599, 1000]}
    text = plain(section(page_of(small, record).body, "pinning"))
    assert "94.9 %" in text and "95.0 %" not in text and "59.9 %" in text


def test_verdicts_of_candidates_that_no_case_reaches_are_gathered_by_decision_and_linked(small: Library):
    without = replace(small.texts, cases=())
    part = section(page_of(library(small.pack, without)).body, "unreached")
    assert 'href="page:liners/soft_rubber/"' in part and "verdict--suitable" in part


def test_the_page_stands_in_review_and_lists_its_headings(small: Library):
    page = page_of(small)
    assert page.section == ("Review",) and page.address == "findings/"
    for heading in page.headings:
        assert f'id="{heading.anchor}"' in page.body


def test_what_nobody_waived_stands_before_what_someone_did(small: Library):
    found = [one for one in findings(small.pack, small.texts, prepare(small.pack))]
    assert any(one.waived for one in found) and any(not one.waived for one in found)
    ordered = [one.waived is not None for one in unwaived_first(found)]
    assert ordered == sorted(ordered)
    body = page_of(small).body
    tables = body.split('id="by-table"', 1)[1].split("<h2", 1)[0].split("<section>")[1:]
    whole = [section.count("g-finding__waived") == section.count('class="g-rule g-finding"') for section in tables]
    assert whole == sorted(whole) and len(whole) > 1
    for section in tables:
        marks = [("waived" in one.split("</div>", 1)[0]) for one in section.split('class="g-finding__kind"')[1:]]
        assert marks == sorted(marks)
