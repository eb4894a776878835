"""Says what the worksheet tells beyond verdicts: the next question, how far to the next limits, and letters that ask."""

from __future__ import annotations

from generator.answers.application import read_application
from generator.evaluate.letters import letters
from generator.evaluate.margins import margins
from generator.evaluate.next_question import next_question
from generator.evaluate.select import select
from generator.evaluate.situation import situation_of
from generator.render.answer_document import Understood
from generator.render.letter_words import letter_text
from tests.browser.test_selection import PACK, PREPARED, TEXTS
from tests.browser.worksheet_page import answer, open_with

POINT = {"medium": "seawater", "temperature_min": "5 degC", "temperature_max": "41 degC"}


def reading_of(title: str = "") -> object:
    return read_application(PACK, {"id": "measuring_point", "title": title, "normal": POINT})


def test_the_next_question_is_the_engines_and_leads_to_its_field(worksheet: object, served_site: str):
    open_with(worksheet, served_site, {"normal": POINT})
    question = next_question(PACK, select(PREPARED, reading_of().application))
    button = worksheet.locator("[data-next]")
    assert button.get_attribute("data-next") == f"{question.state} {question.input}"
    button.click()
    assert worksheet.evaluate("document.activeElement.id") == f"ws-{question.state}-{question.input}"


def test_in_the_short_start_the_next_question_is_one_that_is_shown(short_start: object):
    page = short_start
    state, name = page.locator("[data-next]").get_attribute("data-next").split()
    field = page.locator(f"#ws-{state}-{name}")
    assert field.is_visible()
    page.locator("[data-next]").click()
    assert page.evaluate("document.activeElement.id") == f"ws-{state}-{name}"


def test_margins_of_a_candidate_are_unfolded_with_their_rules_and_follow_the_answers(worksheet: object, served_site: str):
    open_with(worksheet, served_site, {"normal": POINT})
    application = reading_of().application
    found = margins(situation_of(PREPARED, application), select(PREPARED, application))
    one = next(each for each in found if each.column == "temperature_max")
    item = worksheet.locator(f"[data-decision={one.decision}] [data-candidate={one.candidate}]")
    if not item.is_visible():
        worksheet.locator(f"section[data-decision={one.decision}] .ws-fold > details:has([data-candidate={one.candidate}]) > summary").click()
    fold = item.locator("details[data-margins]")
    fold.locator("summary").click()
    lines = fold.locator("li[data-margin]")
    lines.first.wait_for()
    same = [each for each in found if (each.decision, each.candidate) == (one.decision, one.candidate)]
    assert [float(each.get_attribute("data-limit")) for each in lines.all()] == [each.limit for each in same]
    assert [each.locator("a").inner_text() for each in lines.all()] == [each.rule for each in same]
    before = fold.inner_text()
    answer(worksheet, "temperature_max", "42 degC")
    assert item.locator("details[data-margins][open]").inner_text() != before


def test_letters_are_those_of_the_command_and_can_be_copied(worksheet: object, served_site: str):
    open_with(worksheet, served_site, {"normal": POINT})
    worksheet.locator(".ws-letters > details > summary").click()
    reading = reading_of()
    words = tuple(Understood(one.state, one.input, one.typed, one.understood) for one in reading.understood)
    written = {letter.asked_of: letter_text(PACK, TEXTS, reading.application, words, letter)
               for letter in letters(PACK, select(PREPARED, reading.application))}
    shown = worksheet.locator("[data-letter]")
    assert [one.get_attribute("data-letter") for one in shown.all()] == list(written)
    name = worksheet.locator("[data-letter=process] pre").text_content().partition("measuring point ")[2].split("\n")[0]
    for one in shown.all():
        text = one.locator("pre").text_content()
        assert text.replace(f"measuring point {name}", "measuring point measuring_point") == written[one.get_attribute("data-letter")]
    process = worksheet.locator("[data-letter=process]")
    process.locator("summary").click()
    with worksheet.expect_download() as download:
        process.get_by_role("button", name="Download").click()
    assert download.value.suggested_filename.endswith("_process.txt")
