"""Says what to buy, as the worksheet shows it in a real browser: the best set, what limits it, pins and
conflicts."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from urllib.parse import urlencode

import yaml

from generator.analyse.cases import judged_cases
from generator.answers.application import read_application
from generator.evaluate.results import Reason
from generator.evaluate.select import select
from generator.pack.texts import CaseText
from tests import shipped
from tests.browser.worksheet_page import ask_everything, drawn_cases, settle
from tests.shipped import typed_case

PACK, TEXTS = shipped.whole()
PREPARED = shipped.prepared_whole()
CASES = {case.id: case for case in TEXTS.cases}
EXAMPLE = yaml.load((shipped.ROOT / "guide/examples/seawater_intake.yml").read_text("utf-8"), yaml.BaseLoader)["normal"]
WITH_SELECTION = [case for case in TEXTS.cases if case.selection]
BOUGHT = """() => [[...document.querySelectorAll("[data-chosen]")].map(({ dataset }) => [dataset.chosen, dataset.of]),
  [...document.querySelectorAll("[data-limit]")].map((one) => one.dataset.limit),
  document.querySelector(".ws-buy").dataset.verdict]"""


def completed(case: CaseText) -> CaseText:
    """The case with every question of normal operation that it leaves blank answered as in the example of the guide."""
    (state, answers), *others = case.application
    blank = [(name, text) for name, text in EXAMPLE.items() if name not in dict(answers or ())]
    return replace(case, application=((state, (*(answers or ()), *blank)), *others))


def opened(page: object, site: str, case: CaseText, pins: dict[str, str]) -> None:
    pairs = [(f"pin.{decision}", candidate) for decision, candidate in pins.items()]
    for state, answers in case.application:
        group = "pin" if state == "pinned" else state
        pairs += [(f"{group}.{name}", text) for name, text in answers or ()] or [(state, "none" if answers is None else "described")]
    page.goto("about:blank")
    page.goto(f"{site}/#{urlencode(pairs)}")
    page.wait_for_selector("#worksheet[data-evaluated]")
    ask_everything(page)


def chosen(page: object) -> dict[str, str]:
    pairs = "all => all.map(({ dataset }) => [dataset.chosen, dataset.of])"
    return dict(page.locator("[data-chosen]").evaluate_all(pairs))


def one_each(limits: tuple[Reason, ...]) -> list[str]:
    """The rules that limit a selection, each with its partner once for all states."""
    return [rule for rule, *_ in dict.fromkeys((one.rule, one.partner, one.components, one.settled) for one in limits)]


def test_worksheet_leads_with_the_selection_that_python_finds_and_a_case_of_the_company_expects(filled: object):
    own = {case.id for case in judged_cases(TEXTS)}             # those of the base were argued without its stock
    wrong, held = [], 0
    for case, (chosen_here, limits, verdict) in drawn_cases(filled, WITH_SELECTION, BOUGHT):
        best = select(PREPARED, read_application(PACK, typed_case(case)).application).selections[0]
        found = ({one.decision: one.candidate for one in best.chosen}, one_each(best.limits), best.verdict)
        expected = case.selection if case.id in own else ()
        held += bool(expected)
        if (dict(chosen_here), limits, verdict) != found or not dict(expected).items() <= dict(chosen_here).items():
            wrong.append(case.id)
    assert wrong == []
    assert held > 0 and len(WITH_SELECTION) > 40


def test_brine_that_must_have_dn_250_says_that_none_is_left_without_a_specialist(
        worksheet: object, served_site: str):
    opened(worksheet, served_site, CASES["brine_in_dn250"], {})
    block = worksheet.locator(".ws-buy")
    assert block.get_attribute("data-left") == "open"
    assert "without a word from the supplier or a specialist" in block.inner_text()
    block.locator("[data-fold=conflict] summary").click()
    tables = block.locator("[data-conflict]").evaluate_all("all => all.map((one) => one.dataset.conflict)")
    application = read_application(PACK, typed_case(CASES["brine_in_dn250"])).application
    assert set(tables) == set(select(PREPARED, application).conflict.tables)
    assert "liner_size_range" in tables          # no ceramic tube is made this large


def test_pinned_candidate_is_kept_in_the_address_and_its_consequences_are_shown(
        worksheet: object, served_site: str):
    opened(worksheet, served_site, completed(CASES["warm_brine_half_plastic"]), {})
    worksheet.focus("#ws-pin-electrode_material")
    worksheet.select_option("#ws-pin-electrode_material", "titanium")
    settle(worksheet)
    assert "pin.electrode_material=titanium" in worksheet.url
    assert chosen(worksheet)["electrode_material"] == "titanium"
    assert worksheet.locator(".ws-buy").get_attribute("data-verdict") == "caution"
    assert worksheet.locator("[data-limit]").first.get_attribute("data-limit") == \
        "electrode_chemistry.sodium_chloride_brine.b4.titanium"
    assert worksheet.evaluate("document.activeElement.id") == "ws-pin-electrode_material"
    worksheet.select_option("#ws-pin-electrode_material", "")
    settle(worksheet)
    assert "pin." not in worksheet.url
    assert chosen(worksheet)["electrode_material"] == "tantalum"


def test_pin_that_leaves_nothing_shows_the_rule_and_can_be_taken_back(worksheet: object, served_site: str):
    opened(worksheet, served_site, CASES["chlor_alkali_brine"], {"liner": "ptfe"})
    block = worksheet.locator(".ws-buy")
    assert block.get_attribute("data-left") == "unsuitable"
    assert "No selection is left." in block.inner_text()
    assert worksheet.locator("#ws-pin-liner").input_value() == "ptfe"
    worksheet.select_option("#ws-pin-liner", "")
    settle(worksheet)
    assert block.get_attribute("data-left") == ""
    assert chosen(worksheet)["liner"] == "ceramic"


def test_candidate_that_comes_to_less_in_any_selection_says_so(worksheet: object, served_site: str):
    case = completed(CASES["chlor_alkali_brine"])
    opened(worksheet, served_site, case, {})
    ours = next(one for one in select(PREPARED, read_application(PACK, typed_case(case)).application).together
                if (one.decision, one.candidate) == ("size", "dn80"))
    size = worksheet.locator("[data-decision=size] [data-candidate=dn80] [data-together]")
    assert size.get_attribute("data-together") == ours.verdict == "caution"
    because = next(rule.because for rule in TEXTS.rules if rule.rule == ours.limits[0].rule)
    assert size.text_content() == f"In any selection caution: {because}"


def test_pins_are_saved_in_the_downloaded_file(worksheet: object, served_site: str):
    opened(worksheet, served_site, CASES["brine_in_dn250"], {})
    with worksheet.expect_download() as download:
        worksheet.get_by_role("button", name="Download file").click()
    assert "\npinned:\n  size: dn250\n" in Path(download.value.path()).read_text("utf-8")


def test_a_selection_that_rests_on_recalled_figures_is_provisional_and_says_what_to_confirm(
        worksheet: object, served_site: str):
    case = completed(CASES["chlor_alkali_brine"])
    opened(worksheet, served_site, case, {})
    best = select(PREPARED, read_application(PACK, typed_case(case)).application).selections[0]
    assert best.confirm
    head = worksheet.locator(".ws-buy > .ws-head").inner_text()
    assert f"{best.verdict}, provisional" in head and "Provisional: confirm general corrosion handbooks" in head
    tantalum = worksheet.locator('[data-decision=electrode_material][data-candidate=tantalum]')
    assert "suitable, provisional" in tantalum.locator(".ws-head").text_content()
    assert "confirm general corrosion handbooks" in tantalum.locator(".ws-confirm").text_content()
