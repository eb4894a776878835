"""Pages print the pack, link both ways, and leave nothing to colour or to a script."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from html import unescape
from html.parser import HTMLParser
from urllib.parse import parse_qsl

import pytest

from generator.pack.texts import TogetherText
from generator.render.browser_texts import texts_document
from generator.render.library import library, rule_address
from generator.render.page import address_of
from generator.render.site import all_pages
from tests.render.small_pack import small_pack
from tests.render.small_texts import small_texts

NB = "\u00a0"
VOID = {"wbr", "meta", "link", "br", "img", "input", "hr"}


def links_of(page) -> set[str]:
    return set(re.findall(r'href="page:([^"]*)"', page.body))


class Balance(HTMLParser):
    """Fails on a tag that is closed out of turn."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []

    def handle_starttag(self, tag, attributes):
        if tag not in VOID:
            self.open.append(tag)

    def handle_endtag(self, tag):
        assert self.open.pop() == tag


def test_every_kind_of_record_has_its_pages(pages):
    assert {
        "",
        "inputs/",
        "sizes/",
        "liners/",
        "liners/pfa/",
        "media/",
        "media/seawater/",
        "tables/",
        "tables/liner_temperature/",
        "formulas/mean_velocity/",
        "sources/corrosion_handbook/",
        "rules/",
        "basis/",
        "cases/warm_water/",
    } <= set(pages)


def test_every_page_is_balanced_html_with_one_title_and_no_blank_line(pages):
    for page in pages.values():
        parser = Balance()
        parser.feed(page.body)
        assert parser.open == [] and page.body.count("<h1") == 1 and "\n\n" not in page.body, page.uri


def test_no_anchor_stands_twice_on_a_page(pages):
    for page in pages.values():
        anchors = re.findall(r'\sid="([^"]+)"', page.body)
        assert len(anchors) == len(set(anchors)), page.uri


def test_headings_of_a_page_are_anchors_in_it(pages):
    for page in pages.values():
        for heading in page.headings:
            assert f'id="{heading.anchor}"' in page.body, (page.uri, heading)


def test_table_page_prints_the_condition_verdict_reason_and_basis_of_a_row(pages):
    body = pages["tables/liner_temperature/"].body
    row = re.search(r'<tr id="rule-liner_temperature.polyurethane_hot">.*?</tr>', body).group()
    assert f"<td>above 40{NB}°C</td>" in row and "✕</span>unsuitable" in row
    assert "Hot water hydrolyses polyurethane." in row and "common practice" in row


def test_page_follows_when_a_limit_of_the_pack_moves():
    pack = small_pack()
    table = pack.tables[0]
    column = table.columns[1]
    cells = tuple(
        replace(
            cell,
            intervals=tuple(
                replace(part, low=45.0 if part.low == 40 else part.low) for part in cell.intervals
            ),
        )
        for cell in column.cells
    )
    moved = replace(table, columns=(table.columns[0], replace(column, cells=cells)))
    lib = library(replace(pack, tables=(moved, *pack.tables[1:])), small_texts())
    body = next(page.body for page in all_pages(lib) if page.uri == "liners/polyurethane.md")
    assert f"above 45{NB}°C" in body and f"above 40{NB}°C" not in body


def test_rules_of_otherwise_stand_in_one_row_and_their_regions_below(pages):
    body = pages["tables/liner_chemistry/"].body
    assert body.count('id="rule-liner_chemistry.otherwise"') == 1
    assert "2 regions" in body


def test_candidate_and_table_link_to_each_other(pages):
    assert "tables/liner_temperature/#rule-liner_temperature.polyurethane_hot" in links_of(
        pages["liners/polyurethane/"]
    )
    assert "liners/" in links_of(pages["tables/liner_temperature/"])
    assert "inputs/#input-temperature_max" in links_of(pages["tables/liner_temperature/"])
    assert "tables/liner_temperature/" in links_of(pages["inputs/"])


def test_input_of_a_formula_names_the_tables_that_read_its_value(pages):
    flow = re.search(r'<h3 id="input-flow_normal">.*?</section>', pages["inputs/"].body, re.DOTALL).group()
    assert "page:tables/size_velocity/" in flow


def test_candidate_shows_its_letters_and_each_leads_to_its_medium(pages):
    link = "media/seawater/#rule-liner_chemistry.seawater.b2.polyurethane"
    assert link in links_of(pages["liners/polyurethane/"])
    assert 'id="rule-liner_chemistry.seawater.b2.polyurethane"' in pages["media/seawater/"].body
    assert "liners/polyurethane/" in links_of(pages["media/seawater/"])


def test_medium_numbers_the_reasons_beneath_its_bands(pages):
    body = pages["media/seawater/"].body
    cell = re.search(r'<td id="rule-liner_chemistry.seawater.b1.polyurethane">.*?</td>', body).group()
    number = re.search(r'href="#(note-[^"]+)"', cell).group(1)
    note = re.search(rf'<li id="{number}">(.*?)</li>', body).group(1)
    assert "Polyurethane" in note and "Hydrolysis." in note


def test_source_lists_what_rests_on_it(pages):
    body = pages["sources/corrosion_handbook/"].body
    assert "6 letters" in body and "page:media/seawater/" in body


def test_basis_page_counts_what_is_recalled(pages):
    assert "12 rules wait for that" in pages["basis/"].body


def test_register_lists_written_rules_and_counts_letters(pages):
    body = pages["rules/"].body
    assert "7 rules written in tables and 12 letters written in media" in body
    assert "size_velocity.too_fast" in body and "liner_chemistry.seawater.b1.pfa" not in body


def test_verdict_is_told_by_word_and_sign(pages):
    for page in pages.values():
        for mark, word in re.findall(r'aria-hidden="true">(.)</span>(\w+)', page.body):
            assert (mark, word) in {("✓", "suitable"), ("▲", "caution"), ("✕", "unsuitable"), ("?", "open")}


def test_text_of_a_record_is_escaped(pages):
    assert "Soft rubber &lt;natural&gt;" in pages["liners/soft_rubber/"].body
    assert "Wear &amp; noise." in pages["tables/size_velocity/"].body


def test_start_page_has_the_worksheet_a_way_without_script_and_the_cautions(pages):
    body = pages[""].body
    assert '<div id="worksheet" data-pack="page:assets/pack.json"' in body
    assert "tables/" in re.search(r"<noscript>.*?</noscript>", body).group()
    assert "Depressurise and drain" in body


def test_edit_link_leads_to_the_record_only_where_a_repository_is_named(pages):
    assert (
        'href="https://example.org/guide/blob/main/data/media/seawater.yml#L1"'
        in pages["media/seawater/"].body
    )
    plain = all_pages(library(small_pack(), small_texts()))
    assert all("Edit this record" not in page.body for page in plain)


def test_expected_verdict_of_a_case_leads_to_candidate_and_rule(pages):
    assert {
        "liners/polyurethane/",
        "tables/liner_temperature/#rule-liner_temperature.polyurethane_hot",
    } <= links_of(pages["cases/warm_water/"])


def test_a_case_shows_what_it_expects_of_candidates_together():
    texts = small_texts()
    line = TogetherText((("liner", "polyurethane"), ("size", "dn50")), "unsuitable",
                        "liner_temperature.polyurethane_hot", "Hot & small.")
    lib = library(small_pack(), replace(texts, cases=(replace(texts.cases[0], together=(line,)),)))
    page = next(page for page in all_pages(lib) if page.address == "cases/warm_water/")
    part = page.body.split("What is expected of candidates together")[1]
    assert "Hot &amp; small." in part and "verdict--unsuitable" in part
    for address in ("liners/polyurethane/", "sizes/#size-dn50", "tables/liner_temperature/#rule-liner_temperature.polyurethane_hot"):
        assert f'href="page:{address}"' in part, address


def test_case_opens_in_the_worksheet_with_every_answer_it_gives(pages):
    link = next(link for link in links_of(pages["cases/warm_water/"]) if link.startswith("#id="))
    assert parse_qsl(unescape(link[1:])) == [
        ("id", "warm_water"),
        ("title", "Warm water"),
        ("normal.medium", "seawater"),
        ("normal.temperature_max", "60 degC"),
        ("cleaning", "none"),
    ]


def test_texts_for_the_browser_give_every_rule_the_address_of_its_row(lib, pages):
    document = json.loads(texts_document(lib))
    assert len(document["rules"]) == len(lib.texts.rules)
    for rule in document["rules"]:
        address, _, anchor = rule["link"].partition("#")
        assert f'id="{anchor}"' in pages[address].body, rule["rule"]


def test_rule_without_a_row_is_linked_to_its_table_alone(lib):
    rows = {rule: found for rule, found in lib.rows.items() if rule != "size_velocity.too_fast"}
    assert rule_address(replace(lib, rows=rows), "size_velocity.too_fast") == "tables/size_velocity/"


@pytest.mark.parametrize(
    ("uri", "address"),
    [
        ("index.md", ""),
        ("liners/index.md", "liners/"),
        ("liners/pfa.md", "liners/pfa/"),
        ("inputs.md", "inputs/"),
    ],
)
def test_address_of_a_page_follows_from_its_file(uri, address):
    assert address_of(uri) == address
