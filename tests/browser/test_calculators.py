"""Says that each calculator gives its formula's worked examples, and what it does beyond its limits."""

from __future__ import annotations

import pytest

from tests import shipped

_, TEXTS = shipped.whole()
EXAMPLES = [(formula, number) for formula in TEXTS.formulas if formula.calculator
            for number in range(len(formula.examples))]


def opened(context: object, address: str) -> object:
    page = context.new_page()
    page.goto(address)
    page.wait_for_selector("[data-symbol]")
    return page


def value(page: object) -> list[float]:
    return [float(part) for part in page.locator(".calc-result").get_attribute("data-value").split()]


def test_every_calculator_gives_its_worked_examples(context: object, served_site: str):
    """All calculators are opened on one page: a page for each would take minutes."""
    page = opened(context, f"{served_site}/formulas/mean_velocity/")
    shown = page.evaluate(OPEN_ALL, [formula.id for formula, _ in EXAMPLES])
    wrong = [f"{formula.id} {number + 1}: {shown[formula.id][number]}" for formula, number in EXAMPLES
             if not is_near(shown[formula.id][number], formula.examples[number])]
    assert wrong == []
    assert len(EXAMPLES) > 60


def is_near(shown: str, example: object) -> bool:
    values = [float(part) for part in shown.split()] if shown and shown != "none" else []
    return bool(values) and values == pytest.approx(
        [example.expected] * len(values), rel=max(1e-9, float(example.tolerance)), abs=1e-12)


OPEN_ALL = """async (ids) => {
  const { openCalculators } = await import(new URL("../../assets/calculators.js", location.href));
  const places = [...new Set(ids)].map((id) => {
    const place = document.createElement("div");
    Object.assign(place.dataset, { calculator: id, pack: "../../assets/pack.json", texts: "../../assets/texts.json" });
    document.body.append(place);
    return place;
  });
  await openCalculators(places);
  return Object.fromEntries(places.map((place) => {
    const buttons = [...place.querySelectorAll("button")].filter((one) => one.textContent.startsWith("worked"));
    return [place.dataset.calculator, buttons.map((button) => {
      button.click();
      return place.querySelector(".calc-result").dataset.value;
    })];
  }));
}"""


def test_a_formula_to_read_has_no_calculator(context: object, served_site: str):
    page = context.new_page()
    page.goto(f"{served_site}/formulas/skin_depth/")
    assert page.locator("[data-calculator]").count() == 0
    assert page.get_by_role("heading", name="Worked examples").count() == 1


def test_calculator_reads_the_units_of_the_quantity_though_no_line_of_the_data_sheet_has_it(
        context: object, served_site: str):
    page = opened(context, f"{served_site}/formulas/bolt_load/")
    page.locator("[data-symbol=torque] input").fill("47.2 lbf.ft")
    page.locator("[data-symbol=friction] input").fill("0.2")
    page.locator("[data-symbol=diameter] input").fill("16 mm")
    assert value(page) == pytest.approx([47.2 * 1.3558179483 / 0.2 / 16] * len(value(page)), rel=1e-9)


def test_calculator_names_a_number_of_the_validity_when_it_cannot_read_one(context: object, served_site: str):
    page = opened(context, f"{served_site}/formulas/mean_velocity/")
    bore = page.locator("[data-symbol=bore]")
    bore.locator("input").fill("wide")
    assert bore.locator(".ws-said").inner_text() == "'wide' is not a number with its unit: write it like 100 mm"
    bore.locator("input").fill("1e305 mm")
    assert bore.locator(".ws-said").inner_text() == \
        "'1e305 mm' is beyond every quantity that is asked for here: write a number like 100 mm"
    bore.locator("input").fill("5000 mm")
    assert bore.locator(".ws-said").inner_text().startswith("understood: 5")


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
