"""Says what an engineer with three minutes gets from the worksheet, in a real browser."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from tests.browser.worksheet_page import answer, everything, open_with, said, settle, verdicts

PROJECT = Path(__file__).resolve().parent.parent.parent
OTHER_STATES = ("cleaning", "steaming", "flushing", "shut_down", "cooling_down")
COLD_WATER = {"medium": "drinking_water", "temperature_min": "5 degC", "temperature_max": "40 degC"}


def as_shown(candidate: dict) -> list[object]:
    """A candidate of the command's answer in the shape of `worksheet_page.everything`."""
    reasons = [[reason["rule"], reason["verdict"], reason["state"]] for reason in candidate["reasons"]]
    return [candidate["candidate"], candidate["verdict"], candidate["best"], candidate["worst"], reasons]


def test_worksheet_gives_verdicts_with_rules_when_a_seawater_line_is_typed(worksheet: object):
    answer(worksheet, "medium", "Seawater")
    answer(worksheet, "temperature_min", "12 degC")
    answer(worksheet, "temperature_max", "32")
    assert said(worksheet, "medium") == "understood: Seawater"
    steel = worksheet.locator("[data-decision=electrode_material] [data-candidate=stainless_316l]")
    assert steel.get_attribute("data-verdict") == "unsuitable"
    rule = steel.locator("[data-rule]").first
    assert rule.get_attribute("data-rule") == "electrode_chemistry.seawater.b1.stainless_316l"
    link = rule.locator("a").first.get_attribute("href")
    assert worksheet.request.get(link).ok
    assert f'id="{link.partition("#")[2]}"' in worksheet.request.get(link).text()


def test_worksheet_shows_every_candidate_open_when_nothing_is_answered(worksheet: object):
    liners = verdicts(worksheet, "liner")
    assert {name for name, verdict in liners.items() if verdict != "open"} == {"neoprene"}     # the company works none
    assert worksheet.locator("[data-decision=liner] [data-open-input=temperature_max]").count() > 0


def test_open_input_leads_to_its_field_when_pressed(worksheet: object):
    worksheet.locator("[data-decision=liner] [data-open-input=temperature_max]:visible").first.click()
    assert worksheet.evaluate("document.activeElement.id") == "ws-normal-temperature_max"


@pytest.mark.parametrize(("input_id", "typed", "understood"), [
    ("flow_max", "450 gpm", "about 102.206 m³/h (US gallons per minute)"),
    ("temperature_max", "104 degF", "40 °C"),
    ("temperature_max", "80 C", "80 °C"),
    ("temperature_max", "40 to 60 degC", "40 to 60 °C"),
    ("pressure_max", "6 barg", "6 bar gauge"),
])
def test_field_shows_what_was_understood_when_answered_in_any_unit(
        worksheet: object, input_id: str, typed: str, understood: str):
    answer(worksheet, input_id, typed)
    assert said(worksheet, input_id) == f"understood: {understood}"


def test_typed_unit_wins_over_the_chosen_one(worksheet: object):
    worksheet.select_option("[data-input=temperature_max] select.ws-unit", "K")
    answer(worksheet, "temperature_max", "104 degF")
    assert said(worksheet, "temperature_max") == "understood: 40 °C"
    assert worksheet.locator("#ws-normal-temperature_max").input_value() == "104"
    assert worksheet.locator("[data-input=temperature_max] select.ws-unit").input_value() == "degF"


@pytest.mark.parametrize(("chosen", "understood"), [
    (None, "60 to 80 °C"), ("degF", "about 15.5556 to about 26.6667 °C")])
def test_typed_unit_goes_with_its_text_when_that_is_retyped_without_one(
        worksheet: object, chosen: str | None, understood: str):
    unit = "[data-input=temperature_max] select.ws-unit"
    if chosen is not None:
        worksheet.select_option(unit, chosen)
    answer(worksheet, "temperature_max", "176 F")
    assert said(worksheet, "temperature_max") == "understood: 80 °C"
    assert worksheet.locator(unit).input_value() == "degF"
    answer(worksheet, "temperature_max", "60 to 80")
    assert said(worksheet, "temperature_max") == f"understood: {understood}"


def test_typed_unit_goes_when_the_field_is_emptied_and_stays_when_a_digit_changes(worksheet: object):
    field = worksheet.locator("#ws-normal-temperature_max")
    answer(worksheet, "temperature_max", "176 F")
    field.press("End")
    field.press("Backspace")
    field.press("5")
    settle(worksheet)
    assert said(worksheet, "temperature_max") == "understood: about 79.4444 °C"
    for _ in "175":
        field.press("Backspace")
    field.press("6")
    settle(worksheet)
    assert said(worksheet, "temperature_max") == "understood: 6 °C"


@pytest.mark.parametrize(("input_id", "labels"), [
    ("temperature_max", ["°C", "°F", "K"]),
    ("flow_max", ["m³/h", "m³/s", "m³/min", "m³/d", "L/h", "L/min", "L/s", "mL/min",
                  "gpm (US gallons per minute)", "imp gpm (imperial gallons per minute)", "ft³/min",
                  "bbl/d (US oil barrels a day)", "L/d", "ML/d (megalitres a day)", "mL/h", "gph (US gallons per hour)",
                  "gpd (US gallons a day)", "MGD (million US gallons a day)", "imp MGD (million imperial gallons a day)",
                  "ft³/s"]),
    ("conductivity", ["µS/cm", "mS/cm", "mS/m", "S/m", "S/cm"]),
])
def test_units_to_choose_stand_as_they_are_printed_in_the_trade(
        worksheet: object, input_id: str, labels: list[str]):
    shown = worksheet.locator(f"[data-input={input_id}] select.ws-unit option")
    assert shown.evaluate_all("all => all.map((one) => one.textContent)") == labels


def test_changed_unit_changes_the_answer_when_a_number_stands_in_the_field(worksheet: object):
    answer(worksheet, "temperature_max", "104")
    worksheet.select_option("[data-input=temperature_max] select.ws-unit", "degF")
    settle(worksheet)
    assert said(worksheet, "temperature_max") == "understood: 40 °C"


def test_wrong_unit_shows_the_question_to_answer(worksheet: object):
    answer(worksheet, "pressure_max", "6 bar")
    field = worksheet.locator("#ws-normal-pressure_max")
    assert field.get_attribute("aria-invalid") == "true"
    assert "bar gauge" in said(worksheet, "pressure_max")
    assert "bar gauge" in worksheet.locator(".ws-points .ws-problem").inner_text()
    answer(worksheet, "pressure_max", "6 bar gauge")
    assert field.get_attribute("aria-invalid") is None
    assert worksheet.locator(".ws-points .ws-problem").count() == 0


def test_one_of_several_leaves_the_choice_open(worksheet: object):
    worksheet.select_option("#ws-normal-pipe_wall", "*several")
    boxes = worksheet.locator("[data-input=pipe_wall] [type=checkbox]")
    boxes.nth(0).check()
    boxes.nth(1).check()
    settle(worksheet)
    ids = boxes.evaluate_all("all => all.slice(0, 2).map((box) => box.value)")
    assert f"normal.pipe_wall={'+or+'.join(ids)}" in worksheet.url


def test_shared_link_shows_the_same_verdicts_in_another_window(context: object, worksheet: object):
    answer(worksheet, "medium", "seawater")
    answer(worksheet, "temperature_max", "90 to 100 degF")
    worksheet.locator("[data-undescribed=steaming]").get_by_role("button", name="does not occur").click()
    worksheet.locator("[data-undescribed=cleaning]").get_by_role("button", name="Describe").click()
    answer(worksheet, "temperature_max", "90 degC", "cleaning")
    fragment = worksheet.url.partition("#")[2]
    assert fragment == "normal.medium=seawater&normal.temperature_max=90+to+100+degF" \
        "&cleaning.temperature_max=90+degC&steaming=none"
    other = context.new_page()
    other.goto(worksheet.url)
    other.wait_for_selector("#worksheet[data-evaluated]")
    assert other.url == worksheet.url
    assert everything(other) == everything(worksheet)
    assert other.locator("#ws-normal-temperature_max").input_value() == "90 to 100"


def test_hot_cleaning_rules_out_soft_rubber_and_names_its_state(worksheet: object, served_site: str):
    others = {state: "none" for state in OTHER_STATES}
    open_with(worksheet, served_site, {"normal": COLD_WATER, **others})
    assert verdicts(worksheet, "liner")["soft_rubber"] != "unsuitable"
    hot = {"temperature_max": "90 degC"}
    open_with(worksheet, served_site, {"normal": COLD_WATER, **others, "cleaning": hot})
    rubber = worksheet.locator("[data-decision=liner] [data-candidate=soft_rubber]")
    assert rubber.get_attribute("data-verdict") == "unsuitable"
    rule = rubber.locator("[data-rule^='liner_temperature.']").first
    assert rule.get_attribute("data-state") == "cleaning"
    assert "Cleaning" in rule.locator(".ws-state").text_content()


def test_blank_temperature_of_a_described_state_leaves_liners_open(worksheet: object, served_site: str):
    open_with(worksheet, served_site, {"normal": COLD_WATER, "cleaning": "described"})
    rubber = worksheet.locator("[data-decision=liner] [data-candidate=soft_rubber]")
    assert rubber.get_attribute("data-verdict") == "open"
    assert rubber.locator("[data-open-input=temperature_max][data-state=cleaning]").count() == 1


def test_medium_that_the_guide_does_not_hold_is_an_open_point_and_leaves_its_chemistry_open(worksheet: object):
    answer(worksheet, "medium", "nitric acid 30 %")
    said_of_it = "'nitric acid 30 %' is no name in this guide; perhaps 'nitric_acid' is meant"
    assert said(worksheet, "medium") == f"understood: Another medium, not in this guide ({said_of_it})"
    assert worksheet.locator(".ws-points").get_by_text(f"Normal operation: {said_of_it}. Its chemistry stays open.").count() == 1
    assert set(verdicts(worksheet, "electrode_material").values()) == {"open"}


def test_undescribed_states_are_open_points_until_ruled_out(worksheet: object):
    assert worksheet.locator("[data-undescribed]").count() == len(OTHER_STATES)
    worksheet.locator("[data-undescribed=steaming]").get_by_role("button", name="does not occur").click()
    assert worksheet.locator("[data-undescribed=steaming]").count() == 0
    assert "steaming=none" in worksheet.url


def test_one_button_says_that_no_state_occurs_which_was_not_described(worksheet: object):
    answer(worksheet, "medium", "seawater")
    worksheet.locator("[data-none-occurs]").click()
    settle(worksheet)
    assert worksheet.locator("[data-undescribed]").count() == 0
    assert all(f"{state}=none" in worksheet.url for state in OTHER_STATES)
    assert not worksheet.locator("[data-none-occurs]").is_visible()
    worksheet.get_by_role("button", name="Undo").click()
    assert worksheet.locator("[data-undescribed]").count() == len(OTHER_STATES)


def test_cleared_answers_come_back_when_undone(worksheet: object):
    answer(worksheet, "medium", "seawater")
    worksheet.locator(".ws-tools").get_by_role("button", name="Clear").click()
    assert "#" not in worksheet.url
    assert worksheet.locator("#ws-normal-medium").input_value() == ""
    worksheet.get_by_role("button", name="Undo").click()
    assert worksheet.url.endswith("#normal.medium=seawater")
    assert worksheet.locator("#ws-normal-medium").input_value() == "seawater"


def test_undo_and_its_message_go_when_a_new_point_is_typed_after_a_clear(worksheet: object):
    undo = worksheet.locator(".ws-tools").get_by_role("button", name="Undo")
    message = worksheet.locator(".ws-tools .ws-message")
    answer(worksheet, "medium", "seawater")
    worksheet.locator(".ws-tools").get_by_role("button", name="Clear").click()
    assert undo.is_visible()
    assert "Undo brings them back" in message.inner_text()
    worksheet.locator("#ws-normal-medium").focus()
    worksheet.keyboard.press("Tab")              # leaving a field as it was is no edit
    assert undo.is_visible()
    answer(worksheet, "medium", "milk")
    assert not undo.is_visible()
    assert message.text_content() == ""
    assert worksheet.url.endswith("#normal.medium=milk")


def test_downloaded_file_is_judged_alike_by_the_command(worksheet: object, tmp_path: Path):
    worksheet.locator("#ws-title").fill("Intake: line 3 # north")
    answer(worksheet, "medium", "seawater")
    answer(worksheet, "concentration", "3.5 mass %")
    answer(worksheet, "temperature_max", "90 to 100 degF")
    worksheet.locator("[data-undescribed=cleaning]").get_by_role("button", name="Describe").click()
    worksheet.locator("[data-undescribed=steaming]").get_by_role("button", name="does not occur").click()
    with worksheet.expect_download() as download:
        worksheet.get_by_role("button", name="Download file").click()
    assert download.value.suggested_filename == "intake_line_3_north.yml"
    file = tmp_path / "application.yml"
    download.value.save_as(file)
    command = [sys.executable, "-m", "generator.commands.main", "select", "--json", str(file)]
    done = subprocess.run(command, cwd=PROJECT, capture_output=True, text=True, encoding="utf-8")
    assert done.returncode == 0, done.stderr
    application = json.loads(done.stdout)["applications"][0]
    assert application["title"] == "Intake: line 3 # north"
    assert [[one["decision"], [as_shown(candidate) for candidate in one["candidates"]]]
            for one in application["decisions"]] == everything(worksheet)


def test_copied_link_is_the_address_and_is_announced(context: object, worksheet: object):
    context.grant_permissions(["clipboard-read", "clipboard-write"])
    answer(worksheet, "medium", "seawater")
    worksheet.get_by_role("button", name="Copy link").click()
    worksheet.wait_for_function("() => document.querySelector('.ws-tools .ws-message').textContent.includes('copied')")
    assert worksheet.evaluate("navigator.clipboard.readText()") == worksheet.url


def test_status_line_announces_the_verdicts_when_they_change(worksheet: object):
    status = worksheet.locator(".ws-status[role=status]")
    before = status.text_content()
    open_liners = list(verdicts(worksheet, "liner").values()).count("open")
    assert f"Liner: not settled, {open_liners} open" in before
    answer(worksheet, "temperature_max", "170 degC")
    assert status.text_content() != before


def test_unfolded_reasons_stay_unfolded_when_an_answer_changes(worksheet: object):
    answer(worksheet, "temperature_max", "30 degC")
    fold = "[data-fold='liner pfa more']"
    worksheet.locator(f"{fold} > summary").click()
    answer(worksheet, "temperature_max", "31 degC")
    assert worksheet.locator(fold).get_attribute("open") is not None


def test_unknown_answers_of_an_address_are_said_and_kept(worksheet: object, served_site: str):
    open_with(worksheet, served_site, {"normal": {"medium": "unobtainium", "flavour": "salty"}})
    assert "unobtainium" in said(worksheet, "medium")
    assert "flavour" in worksheet.locator(".ws-points").inner_text()
    assert "normal.flavour=salty" in worksheet.url


def test_worksheet_is_filled_in_by_keyboard_alone(worksheet: object):
    worksheet.locator("#ws-title").focus()
    for _ in range(40):
        worksheet.keyboard.press("Tab")
        if worksheet.evaluate("document.activeElement.id") == "ws-normal-medium":
            break
    worksheet.keyboard.type("seawater")
    settle(worksheet)
    assert "normal.medium=seawater" in worksheet.url


def test_worksheet_fits_a_phone_without_sideways_scrolling(worksheet: object):
    worksheet.set_viewport_size({"width": 390, "height": 844})
    assert worksheet.evaluate("document.documentElement.scrollWidth") <= 390
    worksheet.get_by_role("button", name="To the verdicts").click()
    assert worksheet.locator(".ws-leading").is_visible()


def test_folds_wear_no_box_of_the_theme_and_what_is_out_of_sight_is_not_drawn(worksheet: object):
    """A slip in one line of the style sheet takes the line after it along, and nobody is told."""
    answer(worksheet, "medium", "seawater")
    boxes = worksheet.evaluate("""() => [...document.querySelectorAll(".ws-buy details, .ws-decision details")]
      .map((one) => getComputedStyle(one).borderTopWidth)""")
    assert boxes and set(boxes) == {"0px"}
    drawn = worksheet.locator(".ws-decision").first.evaluate("one => getComputedStyle(one).contentVisibility")
    assert drawn == "auto"


def test_page_without_javascript_points_at_the_tables(browser: object, served_site: str):
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{served_site}/")
    words = page.locator("noscript").first.inner_text()
    assert "rule tables" in words
    page.goto(f"{served_site}/tables/liner_temperature/")
    assert page.locator("table").count() > 0
    context.close()


def test_page_says_so_when_the_rules_cannot_be_read(browser: object, served_site: str):
    context = browser.new_context()
    page = context.new_page()
    page.route("**/pack.json", lambda route: route.fulfill(status=404, body=""))
    page.goto(f"{served_site}/")
    notice = page.locator("#worksheet [role=alert]")
    notice.wait_for()
    assert "The rules could not be read" in notice.inner_text()
    context.close()
