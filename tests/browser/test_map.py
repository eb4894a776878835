"""The map of a table in a real page: other views, the reader's own answers, without script and without a
mouse.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.render.library import Library
from generator.render.map_picture import picture_of
from generator.render.map_scene import scene_of
from generator.render.map_sheet import sheet_of
from generator.render.map_view import settled_view
from tests.browser.worksheet_page import address_of
from tests.shipped import library_of_whole

PROJECT = Path(__file__).resolve().parents[2]
FILLS = """() => [...document.querySelectorAll(".map-regions > * > rect:first-of-type")].map(
  (one) => [...["x", "y", "width", "height", "fill"].map((name) => one.getAttribute(name))])"""
ANSWERS = {"normal": {"medium": "sulfuric_acid", "concentration": "96 mass %", "temperature_max": "65 degC"}}


@pytest.fixture(scope="module")
def shipped() -> Library:
    return library_of_whole()


def test_another_view_is_drawn_as_the_build_would_draw_it(context, served_site, shipped) -> None:
    page = context.new_page()
    page.goto(f"{served_site}/tables/liner_chemistry/")
    page.select_option(".map-controls select[name=y]", "concentration")
    page.wait_for_selector('[data-drawn*="concentration"]')
    page.select_option(".map-controls select[name=medium]", label="Nitric acid")
    page.wait_for_selector('[data-drawn*="nitric_acid"]')
    page.focus(".map-controls select[name=liner]")
    page.select_option(".map-controls select[name=liner]", label="ETFE")
    page.wait_for_selector('[data-drawn*="etfe"]')
    sheet = sheet_of(shipped, shipped.tables["liner_chemistry"])
    view = settled_view(sheet, "temperature_max", "concentration", {"medium": "nitric_acid", "liner": "etfe"})
    drawn = scene_of(sheet, view, picture_of(sheet, view, ()))
    regions = next(one for one in drawn.children if dict(one.attributes).get("class") == "map-regions")
    rects = [dict(region.children[1].attributes) for region in regions.children]
    assert page.evaluate(FILLS) == [
        [one[name] for name in ("x", "y", "width", "height", "fill")] for one in rects
    ]
    assert page.evaluate("document.activeElement.name") == "liner"


def test_choosing_the_axis_that_is_taken_turns_the_map(context, served_site) -> None:
    page = context.new_page()
    page.goto(f"{served_site}/tables/liner_temperature/")
    page.select_option(".map-controls select[name=x]", "liner")
    page.wait_for_selector("[data-drawn]")
    lists = page.locator(".map-controls select")
    assert lists.evaluate_all("all => all.map((one) => [one.name, one.value])") == [
        ["y", "temperature_max"],
        ["x", "liner"],
    ]


def test_a_reason_of_the_worksheet_leads_to_the_map_with_the_answers_on_it(context, served_site) -> None:
    page = context.new_page()
    page.goto(f"{served_site}/#{address_of(ANSWERS)}")
    page.wait_for_selector("#worksheet[data-evaluated]")
    link = page.locator('[data-rule^="liner_chemistry.sulfuric_acid"] a', has_text="on the map").first
    link.evaluate("one => one.click()")
    page.wait_for_selector("[data-drawn]")
    address = page.url
    assert page.locator(".map-controls select[name=medium]").evaluate("one => one.value") == '"sulfuric_acid"'
    assert page.locator(".map-you__ring").count() == page.locator(
        ".map-regions g, .map-regions a"
    ).evaluate_all("all => new Set(all.map((one) => one.querySelector('rect').getAttribute('y'))).size")
    band = page.locator('.map-label:text-is("60")').first.evaluate("one => Number(one.getAttribute('x'))")
    ends = page.locator('.map-label:text-is("80")').first.evaluate("one => Number(one.getAttribute('x'))")
    ring = page.locator(".map-you__ring").first.evaluate("one => Number(one.getAttribute('cx'))")
    assert ring == pytest.approx(band + (ends - band) * 5 / 20, abs=0.2)
    back = page.locator("[data-map-reader] a").get_attribute("href")
    assert back == f"{served_site}/#{address.split('#')[1]}"


def test_an_answer_between_two_ends_is_a_band_on_the_map(context, served_site) -> None:
    page = context.new_page()
    page.goto(f"{served_site}/tables/liner_temperature/#normal.temperature_max=60+to+85+degC")
    page.wait_for_selector(".map-you__band", state="attached")
    assert page.locator(".map-you__ring").count() == 0


def test_map_is_there_without_script_and_says_what_it_is_drawn_for(browser, served_site) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{served_site}/tables/liner_chemistry/")
    assert page.locator(".map-drawing").is_visible()
    assert page.locator(".map-shown").inner_text().startswith("Drawn for Medium: ")
    assert not page.locator(".map-controls").is_visible()
    context.close()


def test_a_region_is_reached_and_opened_by_key(context, served_site) -> None:
    page = context.new_page()
    page.goto(f"{served_site}/tables/liner_temperature/")
    region = page.locator("a.map-region--unsuitable").first
    region.focus()
    page.keyboard.press("Enter")
    page.wait_for_function("() => location.hash.startsWith('#rule-liner_temperature.')")
