"""An offer held against a measuring point in the worksheet, by the same rules as the command's."""

from __future__ import annotations

from generator.answers.application import read_application
from generator.evaluate.offer import Offer, compare_offer
from tests.browser.test_selection import CASES, PACK, opened
from tests.shipped import typed_case

STANDINGS = "all => all.map(({ dataset }) => [dataset.offer, dataset.standing])"


def test_an_offer_is_compared_decision_by_decision_as_the_command_compares_it(worksheet: object, served_site: str):
    case = CASES["chlor_alkali_brine"]
    opened(worksheet, served_site, case, {})
    block = worksheet.locator(".ws-offer")
    block.locator("summary").click()
    for decision, candidate in (("size", "dn80"), ("liner", "pfa"), ("electrode_material", "tantalum")):
        worksheet.select_option(f"#ws-offer-{decision}", candidate)
    worksheet.fill("#ws-offer-temperature_max", "80 degC")
    worksheet.locator("#ws-offer-temperature_max").blur()
    shown = dict(block.locator("[data-offer]").evaluate_all(STANDINGS))
    application = read_application(PACK, typed_case(case)).application
    expected = compare_offer(PACK, application, Offer(
        (("size", "dn80"), ("liner", "pfa"), ("electrode_material", "tantalum")), (("temperature_max", 80.0),)))
    assert shown == {**{one.decision: one.standing for one in expected.candidates},
                     **{one.input: one.standing for one in expected.figures}}
    # Chlorine passes PFA where a ceramic tube exists, and 80 °C does not cover 85 °C.
    assert shown["liner"] == "deviation" and shown["temperature_max"] == "deviation" and shown["earthing"] == "open"
    assert "liner_size_permeation.take_ceramic" in block.inner_text()
    worksheet.fill("#ws-offer-temperature_max", "80")
    worksheet.locator("#ws-offer-temperature_max").blur()
    assert "unit" in block.locator(".ws-message").inner_text()
