"""Long lists can be searched in the page, and a table that is wider than a phone says so and breaks no word."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

BROKEN_WORDS = """() => {
  const broken = [];
  for (const cell of document.querySelectorAll(".g-table th, .g-table td")) {
    const walker = document.createTreeWalker(cell, NodeFilter.SHOW_TEXT);
    for (let node = walker.nextNode(); node; node = walker.nextNode()) {
      for (const found of node.data.matchAll(/[a-z]+/gi)) {
        const range = document.createRange();
        range.setStart(node, found.index);
        range.setEnd(node, found.index + found[0].length);
        const lines = new Set([...range.getClientRects()].map((one) => Math.round(one.top)));
        if (lines.size > 1) broken.push(found[0]);
      }
    }
  }
  return broken;
}"""


def shown(page: object) -> list[str]:
    return page.locator(".g-entries > li:visible .g-entries__title").all_inner_texts()


@pytest.mark.parametrize("opened_from", ["server", "disk"])
def test_list_of_cases_shows_only_those_with_every_word_that_is_typed(
        browser: object, served_site: str, built_site: Path, opened_from: str) -> None:
    context = browser.new_context()
    try:
        page = context.new_page()
        page.goto(f"{served_site}/cases/" if opened_from == "server" else (built_site / "cases/index.html").as_uri())
        total = len(shown(page))
        assert total > 800
        box = page.get_by_role("searchbox", name=re.compile("^Find among the "))
        box.focus()
        page.keyboard.type("Polyurethane WARM")
        found = shown(page)
        assert "River water one degree too warm for polyurethane" in found and len(found) < 20
        assert page.locator("[data-list-filter] [role=status]").inner_text() == f"{len(found)} of {total} shown"
        box.fill("")
        assert len(shown(page)) == total
    finally:
        context.close()


def test_list_that_is_read_at_a_glance_has_no_box(context: object, served_site: str) -> None:
    page = context.new_page()
    page.goto(f"{served_site}/liners/")
    assert shown(page) and page.locator("[data-list-filter]").count() == 0


@pytest.mark.parametrize("address", ["tables/liner_temperature/", "rules/", "cases/river_water_41/", "media/seawater/"])
def test_no_word_is_broken_in_a_table_on_a_phone(browser: object, served_site: str, address: str) -> None:
    context = browser.new_context(viewport={"width": 390, "height": 844})
    try:
        page = context.new_page()
        page.goto(f"{served_site}/{address}")
        assert page.locator(".g-table").count()
        assert page.evaluate(BROKEN_WORDS) == []
    finally:
        context.close()


def test_table_says_in_words_that_it_scrolls_exactly_where_it_does(browser: object, served_site: str) -> None:
    context = browser.new_context(viewport={"width": 390, "height": 844})
    try:
        page = context.new_page()
        page.goto(f"{served_site}/tables/liner_temperature/")
        hint = "(one) => [one.scrollWidth > one.clientWidth, getComputedStyle(one, '::before').content.includes('scroll')]"
        said = page.locator(".g-scroll, .map-scroll").evaluate_all(f"(all) => all.map({hint})")
        assert len(said) >= 2 and [True, True] in said and all(wide == told for wide, told in said)
        page.set_viewport_size({"width": 1600, "height": 900})
        page.goto(f"{served_site}/cases/river_water_41/")
        assert page.locator(".g-scroll").evaluate_all(f"(all) => all.map({hint})") == [[False, False]]
    finally:
        context.close()
