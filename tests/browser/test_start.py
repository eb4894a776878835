"""The short start of the worksheet: few questions first, the others when they matter, a sheet by duty, a case near."""

from __future__ import annotations

from tests.browser.worksheet_page import answer, settle

SHOWN = "() => [...document.querySelectorAll('.ws-field')].filter((one) => one.checkVisibility())" \
        ".map((one) => one.dataset.input)"
FIRST = {"medium", "concentration", "mixed_with", "conductivity", "flow_min", "flow_normal", "flow_max", "temperature_max",
         "pressure_max", "pipe_size", "pipe_wall"}


def test_a_blank_worksheet_asks_ten_questions_and_all_of_them_on_demand(short_start: object):
    assert set(short_start.evaluate(SHOWN)) == FIRST
    short_start.locator("[data-all-questions]").click()
    assert len(short_start.evaluate(SHOWN)) > 2 * len(FIRST)
    short_start.locator("[data-all-questions]").click()
    assert set(short_start.evaluate(SHOWN)) == FIRST


def test_further_questions_come_when_the_leading_selections_wait_for_them_and_answered_ones_stay(short_start: object):
    for name, typed in {"medium": "Seawater", "concentration": "not applicable", "temperature_max": "30 degC",
                        "flow_min": "20 m3/h", "flow_normal": "50 m3/h", "pipe_size": "DN 100"}.items():
        answer(short_start, name, typed)
    more = set(short_start.evaluate(SHOWN)) - FIRST
    assert 0 < len(more) <= 6
    typed = next(name for name in ("solids", "stray_current", "cathodic_protection", "vacuum_protection", "oil_or_solvent")
                 if name in more)
    control = short_start.locator(f"#ws-normal-{typed}")
    control.select_option(index=1)
    settle(short_start)
    assert typed in short_start.evaluate(SHOWN)


def test_a_question_that_is_not_shown_is_shown_to_whoever_is_sent_to_it(short_start: object):
    buttons = short_start.locator("[data-jump]:visible")
    asked = [button.get_attribute("data-jump").split(" ")[1] for button in buttons.all()]
    place, hidden = next((place, name) for place, name in enumerate(asked) if name not in FIRST)
    assert not short_start.locator(f"#ws-normal-{hidden}").is_visible()
    buttons.nth(place).click()
    assert short_start.evaluate("document.activeElement.id") == f"ws-normal-{hidden}"
    assert short_start.locator(f"#ws-normal-{hidden}").is_visible()


def test_a_starter_sheet_fills_in_only_what_its_duty_fixes(short_start: object):
    short_start.select_option("#ws-example", "seawater_line")
    settle(short_start)
    assert short_start.locator("#ws-normal-medium").input_value() == "seawater"
    assert short_start.locator("#ws-normal-temperature_max").input_value() == ""
    assert short_start.locator("#ws-title").input_value() == "Seawater line"


def test_the_nearest_reference_case_of_a_case_is_the_case_itself(short_start: object):
    assert not short_start.locator(".ws-nearest").is_visible()
    short_start.select_option("#ws-example", "dairy_with_cip")
    settle(short_start)
    near = short_start.locator(".ws-nearest")
    assert near.locator("a").get_attribute("href").endswith("/cases/dairy_with_cip/")
    assert "differs" not in near.inner_text()


def test_the_nearest_reference_case_says_where_it_differs(short_start: object):
    short_start.select_option("#ws-example", "dairy_with_cip")
    settle(short_start)
    answer(short_start, "temperature_max", "150 degC")
    told = short_start.locator(".ws-nearest").inner_text()
    assert "It differs in" in told and "Highest temperature" in told


def test_a_typed_medium_offers_its_starter_sheet_which_fills_only_blanks_and_can_be_undone(short_start: object):
    offer = short_start.locator(".ws-starter")
    assert not offer.is_visible()
    answer(short_start, "conductivity", "41000 uS/cm")
    answer(short_start, "medium", "Seawater")
    assert "Seawater line" in offer.inner_text()
    offer.get_by_role("button").click()
    settle(short_start)
    assert short_start.locator("#ws-normal-oil_or_solvent").input_value() != ""
    assert short_start.locator("#ws-normal-conductivity").input_value() == "41000"
    assert "steaming=none" in short_start.url and not offer.is_visible()
    assert short_start.evaluate("document.activeElement.id") == "ws-normal-medium"
    short_start.get_by_role("button", name="Undo").click()
    assert "steaming" not in short_start.url and "normal.conductivity=41000" in short_start.url
    answer(short_start, "medium", "Drinking water")
    assert "Drinking water line" in offer.inner_text()
    answer(short_start, "medium", "Hydrochloric acid")
    assert not offer.is_visible()


def test_one_button_beside_the_states_rules_out_those_that_are_not_described(short_start: object):
    button = short_start.get_by_role("button", name="No other state occurs")
    answer(short_start, "medium", "Seawater")
    short_start.locator("#ws-tab-cleaning").check()
    short_start.locator("#ws-standing-cleaning-described").check()
    button.click()
    settle(short_start)
    assert "cleaning=described" in short_start.url and "cleaning=none" not in short_start.url
    assert all(f"{state}=none" in short_start.url for state in ("steaming", "flushing"))
    assert not button.is_visible()
    assert short_start.evaluate("document.activeElement.id") == "ws-tab-cleaning"


def test_a_rule_that_may_still_not_apply_does_not_wear_the_colour_of_a_rejection(short_start: object):
    answer(short_start, "medium", "Seawater")
    short_start.evaluate("document.querySelectorAll('.ws-results details').forEach((one) => { one.open = true; })")
    for settled, colour in ((".ws-reasons [data-reason-verdict=unsuitable]:not([data-settled])", False),
                            (".ws-reasons [data-reason-verdict=unsuitable][data-settled]", True)):
        marks = short_start.evaluate("""(what) => [...document.querySelectorAll(what)].map((one) => {
          const mark = one.parentElement.querySelector(".ws-verdict");
          return [mark.textContent, mark.classList.contains("ws-unsuitable")];
        })""", settled)
        assert marks or colour, settled
        assert all(red is colour for _, red in marks)
        assert all(("may be unsuitable" in words) is not colour for words, _ in marks)
