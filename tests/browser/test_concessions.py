"""A concession in the worksheet: entered in a form, kept in the link, shown beside a verdict that stays as it is."""

from __future__ import annotations

from tests.browser.test_selection import CASES, opened
from tests.browser.worksheet_page import settle, verdicts


def test_a_concession_is_added_shown_kept_in_the_link_and_removed_without_changing_a_verdict(
        worksheet: object, served_site: str):
    opened(worksheet, served_site, CASES["river_water_41"], {})
    before = verdicts(worksheet, "liner")
    block = worksheet.locator(".ws-concessions")
    block.locator("summary").click()
    worksheet.select_option("#ws-concede-candidate", "liner polyurethane")
    worksheet.fill("#ws-concede-reason", "Replaced in autumn")
    worksheet.fill("#ws-concede-approver", "A. Person")
    worksheet.fill("#ws-concede-until", "2099-06-30")
    block.get_by_role("button", name="Add the concession").click()
    settle(worksheet)
    line = block.locator("li")
    assert line.get_attribute("data-standing") == "holds"
    assert "Liner Polyurethane: unsuitable; conceded by A. Person until 2099-06-30: Replaced in autumn" in line.inner_text()
    assert verdicts(worksheet, "liner") == before
    worksheet.reload()
    worksheet.wait_for_selector("#worksheet[data-evaluated]")
    assert worksheet.locator(".ws-concessions li").get_attribute("data-standing") == "holds"
    worksheet.locator(".ws-concessions summary").click()
    worksheet.get_by_role("button", name="Remove concession 1").click()
    settle(worksheet)
    assert worksheet.locator(".ws-concessions li").count() == 0
    assert "concession" not in worksheet.evaluate("location.hash")


def test_the_example_with_a_concession_brings_it_along_and_the_assumed_values_stand_in_the_headline(
        worksheet: object, served_site: str):
    worksheet.select_option("#ws-example", "conceded_polyurethane")
    settle(worksheet)
    assert worksheet.locator(".ws-concessions li").get_attribute("data-standing") == "holds"
    assert "Assumed, not answered:" in worksheet.locator(".ws-buy .ws-assumed").inner_text()
