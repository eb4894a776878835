"""Says that each calculator gives its formula's worked examples, and what it does beyond its limits."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.compile.knowledge import load_pack

_, TEXTS = load_pack(Path(__file__).resolve().parent.parent.parent / "data")
EXAMPLES = [(formula, number) for formula in TEXTS.formulas for number in range(len(formula.examples))]


def opened(context: object, address: str) -> object:
    page = context.new_page()
    page.goto(address)
    page.wait_for_selector("[data-symbol]")
    return page


def value(page: object) -> list[float]:
    return [float(part) for part in page.locator(".calc-result").get_attribute("data-value").split()]


@pytest.mark.parametrize(("formula", "number"), EXAMPLES, ids=[f"{f.id} {n + 1}" for f, n in EXAMPLES])
def test_calculator_gives_the_worked_example(context: object, served_site: str, formula, number):
    page = opened(context, f"{served_site}/formulas/{formula.id}/")
    page.get_by_role("button", name=f"worked example {number + 1}", exact=True).click()
    result = float(formula.examples[number].result.split()[0])
    assert value(page) == pytest.approx([result, result][:len(value(page))], rel=1e-4, abs=1e-12)


def test_calculator_gives_bounds_when_an_answer_lies_between_two_ends(context: object, served_site: str):
    page = opened(context, f"{served_site}/formulas/mean_velocity/")
    page.locator("[data-symbol=flow] input").fill("36 to 72")
    page.locator("[data-symbol=bore] input").fill("100")
    low, high = [float(part) for part in page.locator(".calc-result").get_attribute("data-value").split()]
    assert (low, high) == pytest.approx((1.273239544735, 2.54647908947), rel=1e-11)
    assert page.locator(".calc-result").inner_text() == "1.273 to 2.546\u00a0m/s"


@pytest.mark.parametrize(("flow", "bore", "outside"), [
    ("50", "0", "no value here: D is outside 1 to 3000\u00a0mm. Full, round bore"),
    ("-5", "100", "no value here: Q is outside 0 to 10000\u00a0m³/h. Full, round bore"),
    ("-5 to 50", "100",
     "0 to 1.768\u00a0m/s, and no value for a part of what was typed: Q is partly outside 0 to"),
])
def test_calculator_names_the_letter_and_its_range_when_it_lies_outside(
        context: object, served_site: str, flow: str, bore: str, outside: str):
    page = opened(context, f"{served_site}/formulas/mean_velocity/")
    page.locator("[data-symbol=flow] input").fill(flow)
    page.locator("[data-symbol=bore] input").fill(bore)
    assert page.locator(".calc-result").inner_text().startswith(outside)


def test_calculator_drops_a_typed_unit_when_the_number_is_retyped_without_one(
        context: object, served_site: str):
    page = opened(context, f"{served_site}/formulas/mean_velocity/")
    field = page.locator("[data-symbol=flow]")
    field.locator("input").fill("450 gpm")
    field.locator("input").press("Tab")
    assert field.locator("select").input_value() == "gpm"
    field.locator("input").fill("60")
    assert field.locator(".ws-said").inner_text() == "understood: 60\u00a0m³/h"


def test_calculator_shows_the_fix_when_the_unit_is_not_known(context: object, served_site: str):
    page = opened(context, f"{served_site}/formulas/mean_velocity/")
    page.locator("[data-symbol=flow] input").fill("50 kg/h")
    field = page.locator("[data-symbol=flow]")
    assert field.locator("input").get_attribute("aria-invalid") == "true"
    assert "m3/h" in field.locator(".ws-said").inner_text()


def test_calculation_opens_again_from_its_address(context: object, served_site: str):
    page = opened(context, f"{served_site}/formulas/mean_velocity/")
    page.locator("[data-symbol=flow] input").fill("450 gpm")
    page.locator("[data-symbol=bore] input").fill("100")
    page.wait_for_url("**/#mean_velocity.flow=450+gpm&mean_velocity.bore=100+mm")
    other = opened(context, page.url)
    assert value(other) == value(page)
