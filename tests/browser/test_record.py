"""The record that the worksheet prints is the one that the command writes: few pages to sign."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from generator.commands.main import main
from generator.render.answer_document import Understood, answer_document
from generator.render.record import record_view
from generator.render.record_document import record_document
from generator.answers.application import read_application
from generator.evaluate.margins import margins
from generator.evaluate.next_question import next_question
from generator.evaluate.select import select
from generator.evaluate.situation import situation_of
from tests.browser.test_selection import CASES, PACK, PREPARED, TEXTS, opened
from tests.shipped import typed_case

ROOT = Path(__file__).resolve().parents[2]
EXAMPLE = ROOT / "guide" / "examples" / "seawater_intake.yml"
ANSWERED, MUCH_OPEN = 2, 3                        # pages at most
SINGLE_PAGE = re.compile(rb"/Type /Page\b")


def view_of(case: str) -> object:
    """The command's record of a reference case."""
    reading = read_application(PACK, typed_case(CASES[case]))
    words = tuple(Understood(one.state, one.input, one.typed, one.understood) for one in reading.understood)
    selected = select(PREPARED, reading.application)
    found = margins(situation_of(PREPARED, reading.application), selected)
    answer = answer_document(PACK, TEXTS, ((reading.application, selected, words, found, next_question(PACK, selected)),),
                             "2026-11-25")["applications"][0]
    return record_view(TEXTS, record_document(PACK, TEXTS, reading.application, words, answer, "2026-11-25"))


@pytest.mark.parametrize("case", ["chlor_alkali_brine", "dairy_with_cip"])
def test_the_worksheet_prints_the_record_that_the_command_writes_on_few_pages(
        worksheet: object, served_site: str, case: str):
    opened(worksheet, served_site, CASES[case], {})
    worksheet.evaluate("window.print = () => { window.asked = true; }")
    worksheet.get_by_role("button", name="Record", exact=True).click()
    assert worksheet.evaluate("window.asked")
    worksheet.emulate_media(media="print")
    record = worksheet.locator(".ws-record")
    said = " ".join(record.inner_text().replace("\u00a0", " ").split())
    assert worksheet.locator(".ws-sides").is_hidden() and worksheet.locator(".ws-printed").is_hidden()
    view = view_of(case)
    assert f"Rules {view.rules}" in said and view.result in said
    for one in view.chosen:
        assert f"{one.decision} {one.candidate} {one.words} {one.because}" in said
    for group in view.reasons:
        assert group.title in said
        for one in group.reasons:
            assert f"{one.verdict} {one.because} {one.origin}" in said
    assert view.margins
    for line in (*view.margins, *view.cautions, *view.hand_over, *view.signed_by, view.defers, view.notice):
        assert line in said
    for state in view.states:
        for one in state.answers:
            assert f"{one.title}{one.typed}{one.understood}".replace(" ", "") in said.replace(" ", "")
            assert "_" not in one.typed + one.understood
        for one in state.alike:
            assert f"{one.typed}: {one.titles}" in said
    assert f"Overlay {view.overlay} Rules" in said
    pages = worksheet.pdf(prefer_css_page_size=True)
    assert len(SINGLE_PAGE.findall(pages)) <= MUCH_OPEN
    worksheet.evaluate("window.dispatchEvent(new Event('afterprint'))")
    assert worksheet.locator(".ws-record").is_hidden()


def test_the_record_that_the_command_writes_of_an_answered_point_is_few_pages(context: object, tmp_path: Path):
    out = tmp_path / "record.html"
    assert main(["select", str(EXAMPLE), "--data", str(ROOT / "data"), "--record", str(out), "--json"]) == 0
    page = context.new_page()
    page.set_content(out.read_text("utf-8"))
    assert 1 <= len(SINGLE_PAGE.findall(page.pdf(prefer_css_page_size=True))) <= ANSWERED
    page.set_viewport_size({"width": 703, "height": 1062})                  # what its margins leave of A4, at 96 dots an inch
    page.emulate_media(media="print")
    assert page.locator(".rec-sign").bounding_box()["y"] + page.locator(".rec-sign").bounding_box()["height"] <= 1062
