"""The worksheet takes a mixture row by row, keeps it in the address, and names the component that decides."""

from __future__ import annotations

from tests.browser.worksheet_page import answer, open_with, said, settle

ACID = {"normal": {"medium": "citric_acid", "concentration": "5 mass %", "temperature_max": "20 degC"}}


def test_components_are_added_row_by_row_and_understood(worksheet, served_site) -> None:
    open_with(worksheet, served_site, ACID)
    field = worksheet.locator('[data-input="mixed_with"][data-state="normal"]')
    for medium, strength in (("NaCl", "2 mass %"), ("unlisted", "")):
        field.get_by_text("add a component").click()
        row = field.locator(".ws-component").last
        row.locator("input").first.fill(medium)
        row.locator("input").last.fill(strength)
    settle(worksheet)
    assert said(worksheet, "mixed_with") == (
        "understood: Sodium chloride brine at 2 mass %; Another medium, not in this guide")
    assert "mixed_with" in worksheet.url
    reasons = worksheet.locator('[data-rule="electrode_mixture.no_record"]').first.text_content()
    assert "(Citric acid and Another medium, not in this guide" in reasons
    field.get_by_text("take out").last.click()
    settle(worksheet)
    assert said(worksheet, "mixed_with") == "understood: Sodium chloride brine at 2 mass %"
    assert worksheet.locator('[data-rule="electrode_mixture.chloride_in_acid"]').count() > 0


def test_the_address_brings_the_rows_back(worksheet, served_site) -> None:
    mixed = {"normal": ACID["normal"] | {"mixed_with": "sodium_chloride_brine at 2 mass %; brin"}}
    open_with(worksheet, served_site, mixed)
    rows = worksheet.locator('[data-input="mixed_with"][data-state="normal"] .ws-component')
    assert [[box.input_value() for box in row.locator("input").all()] for row in rows.all()] == [
        ["sodium_chloride_brine", "2 mass %"], ["brin", ""]]
    assert said(worksheet, "mixed_with").endswith(
        "Another medium, not in this guide; 'brin' is no name in this guide; perhaps 'sodium_chloride_brine' is meant")
    answer(worksheet, "medium", "seawater")
    assert rows.count() == 2
