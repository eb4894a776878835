"""A result lists the cautions that apply to it, and what to hand over with the sensor."""

import json
from pathlib import Path

from generator.commands.main import main
from tests import shipped

ROOT = Path(__file__).resolve().parents[2]
DATA = str(ROOT / "data")
# Engineering rules: these go with every result, whatever is chosen.
ALWAYS = {"pressure_first", "protective_earth", "lifting", "welding", "flare", "oxidiser_cleanliness",
          "no_steam_without_check", "advice_only"}


def told(case: str, tmp_path: Path, capsys, *changes: tuple[str, str]) -> tuple[dict, dict]:
    """Cautions and hand-over items of a reference case, by id: whether they are certain."""
    text = (ROOT / "data" / "cases" / f"{case}.yml").read_text("utf-8")
    body = text[text.index("application:\n") + len("application:\n"):text.index("expect:")]
    lines = [f"id: {case}", f"title: {case}", *(line[2:] for line in body.splitlines())]
    point = "\n".join(lines) + "\n"
    for old, new in changes:
        assert old in point
        point = point.replace(old, new)
    (tmp_path / "point.yml").write_text(point, "utf-8")
    assert main(["select", str(tmp_path / "point.yml"), "--data", DATA, "--base", "--json"]) == 0
    application = json.loads(capsys.readouterr().out)["applications"][0]
    return ({one["id"]: one["certain"] for one in application["cautions"]},
            {one["id"]: one["certain"] for one in application["hand_over"]})


def test_chlorinated_brine_in_a_ceramic_tube_brings_what_concerns_rings_heat_poison_and_thermal_shock(
        tmp_path, capsys) -> None:
    cautions, hand_over = told("chlor_alkali_brine", tmp_path, capsys)
    assert set(cautions) >= ALWAYS
    # 85 °C in a closed line, chlorine in it, plastic pipe with rings, ceramic liner.
    assert {"ceramic_shock", "rings_in_pairs", "hot_line", "closed_line_cools", "toxic_medium"} <= set(cautions)
    # Nothing permeates alumina, and no cathodic protection, stray current or slurry is there.
    assert not {"permeated_gas", "protected_pipe", "stray_current_shock", "slurry_position"} & set(cautions)
    assert all(cautions.values())
    assert {"gasket_list", "heating_rate", "torque_sheet", "earthing_sketch", "calibration"} <= set(hand_over)
    assert not {"vacuum_breaker", "drinking_water_certificates", "wear_plan"} & set(hand_over)


def test_a_caution_that_an_open_answer_may_bring_is_shown_as_such(tmp_path, capsys) -> None:
    cautions, hand_over = told("chlor_alkali_brine", tmp_path, capsys,
                               ("cathodic_protection: none", "cathodic_protection: not answered"))
    assert cautions["protected_pipe"] is False and cautions["lifting"] is True
    _, answered = told("chlor_alkali_brine", tmp_path, capsys,
                       ("drinking_water_approval: no", "drinking_water_approval: not answered"))
    assert answered["drinking_water_certificates"] is False


def test_the_command_line_prints_what_applies_and_what_may_apply(tmp_path, capsys) -> None:
    example = (ROOT / "guide" / "examples" / "seawater_intake.yml").read_text("utf-8")
    (tmp_path / "point.yml").write_text(example.replace("  hygienic_required: no\n", ""), "utf-8")
    assert main(["select", str(tmp_path / "point.yml"), "--data", DATA, "--base"]) == 0
    printed = " ".join(capsys.readouterr().out.split())
    assert "To hand over with the sensor - Material certificates" in printed
    assert "May apply, an answer is open: Hygienic certificate" in printed


def test_every_always_caution_has_no_condition_and_conditions_are_told_in_words() -> None:
    pack, texts = shipped.base()
    free = {one.id for one in pack.advice if not one.conditions}
    assert ALWAYS <= free
    words = {one.id: one.where for one in texts.cautions}
    assert words["ceramic_shock"] == "liner Ceramic (alumina)" and words["lifting"] == ""
    assert "highest temperature above 60 °C" in words["hot_line"]


def test_a_liquid_that_turns_solid_in_the_cold_is_told(tmp_path, capsys) -> None:
    """Caustic of 50 % freezes near 12 °C and water at 0 °C; the same lines kept warm are not warned of."""
    warm, _ = told("caustic_whole", tmp_path, capsys)
    cold, _ = told("caustic_whole", tmp_path, capsys, ("25 mass %", "50 mass %"), ("temperature_min: 30 degC", "temperature_min: 5 degC"))
    assert "caustic_solidifies" not in warm and cold["caustic_solidifies"] is True
    mild, _ = told("drinking_water_whole", tmp_path, capsys)
    frost, _ = told("drinking_water_whole", tmp_path, capsys, ("temperature_min: 5 degC", "temperature_min: -3 degC"))
    assert "water_freezes" not in mild and frost["water_freezes"] is True
