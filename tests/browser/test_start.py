"""The short start of the worksheet: few questions first, the others when they matter, a sheet by duty, a case near."""

from __future__ import annotations

from tests.browser.worksheet_page import answer, settle

SHOWN = "() => [...document.querySelectorAll('.ws-field')].filter((one) => one.checkVisibility())" \
        ".map((one) => one.dataset.input)"
FIRST = {"medium", "concentration", "mixed_with", "conductivity", "flow_min", "flow_normal", "flow_max", "temperature_max",
         "pressure_max", "pipe_size", "pipe_wall"}


def test_a_blank_worksheet_asks_ten_questions_and_all_of_them_on_demand(worksheet: object):
    assert set(worksheet.evaluate(SHOWN)) == FIRST
    worksheet.locator("[data-all-questions]").click()
    assert len(worksheet.evaluate(SHOWN)) > 2 * len(FIRST)
    worksheet.locator("[data-all-questions]").click()
    assert set(worksheet.evaluate(SHOWN)) == FIRST


def test_further_questions_come_when_the_leading_selections_wait_for_them_and_answered_ones_stay(worksheet: object):
    for name, typed in {"medium": "Seawater", "concentration": "not applicable", "temperature_max": "30 degC",
                        "flow_min": "20 m3/h", "flow_normal": "50 m3/h", "pipe_size": "DN 100"}.items():
        answer(worksheet, name, typed)
    more = set(worksheet.evaluate(SHOWN)) - FIRST
    assert 0 < len(more) <= 6
    typed = next(name for name in ("solids", "stray_current", "cathodic_protection", "vacuum_protection", "oil_or_solvent")
                 if name in more)
    control = worksheet.locator(f"#ws-normal-{typed}")
    control.select_option(index=1)
    settle(worksheet)
    assert typed in worksheet.evaluate(SHOWN)


def test_a_question_that_is_not_shown_is_shown_to_whoever_is_sent_to_it(worksheet: object):
    buttons = worksheet.locator("[data-jump]:visible")
    asked = [button.get_attribute("data-jump").split(" ")[1] for button in buttons.all()]
    place, hidden = next((place, name) for place, name in enumerate(asked) if name not in FIRST)
    assert not worksheet.locator(f"#ws-normal-{hidden}").is_visible()
    buttons.nth(place).click()
    assert worksheet.evaluate("document.activeElement.id") == f"ws-normal-{hidden}"
    assert worksheet.locator(f"#ws-normal-{hidden}").is_visible()


def test_a_starter_sheet_fills_in_only_what_its_duty_fixes(worksheet: object):
    worksheet.select_option("#ws-example", "seawater_line")
    settle(worksheet)
    assert worksheet.locator("#ws-normal-medium").input_value() == "seawater"
    assert worksheet.locator("#ws-normal-temperature_max").input_value() == ""
    assert worksheet.locator("#ws-title").input_value() == "Seawater line"


def test_the_nearest_reference_case_of_a_case_is_the_case_itself(worksheet: object):
    assert not worksheet.locator(".ws-nearest").is_visible()
    worksheet.select_option("#ws-example", "dairy_with_cip")
    settle(worksheet)
    near = worksheet.locator(".ws-nearest")
    assert near.locator("a").get_attribute("href").endswith("/cases/dairy_with_cip/")
    assert "differs" not in near.inner_text()


def test_the_nearest_reference_case_says_where_it_differs(worksheet: object):
    worksheet.select_option("#ws-example", "dairy_with_cip")
    settle(worksheet)
    answer(worksheet, "temperature_max", "150 degC")
    told = worksheet.locator(".ws-nearest").inner_text()
    assert "It differs in" in told and "Highest temperature" in told
