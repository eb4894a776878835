"""What the guide promises about limits, units, blanks and states, asked of the shipped rules as an engineer types them."""

from dataclasses import dataclass

import pytest

from generator.answers.application import read_application
from generator.evaluate.results import CandidateResult, Selected
from generator.evaluate.select import select
from tests.shipped import prepared_base

# A cold, clean river water line that leaves every liner but those of its size free.
QUIET = {
    "medium": "raw_river_water", "concentration": "not applicable", "solids": "none",
    "particle_hardness": "not applicable", "oil_or_solvent": "none", "conductivity": "400 uS/cm",
    "conductivity_temperature": "25 degC", "service": "clean", "flow_min": "20 m3/h", "flow_normal": "50 m3/h",
    "flow_max": "80 m3/h", "temperature_min": "5 degC", "temperature_max": "20 degC", "pressure_min": "1.2 bar abs",
    "pressure_max": "6 barg", "vacuum_protection": "documented", "temperature_step": "10 K", "pipe_size": "DN 100", "pipe_wall": "bare metal",
    "cathodic_protection": "none", "stray_current": "no", "hygienic_required": "no", "drinking_water_approval": "no"}


def guide():
    return prepared_base()


@dataclass(frozen=True)
class Answered:
    selected: Selected

    def of(self, decision: str, candidate: str) -> CandidateResult:
        found = next(one for one in self.selected.decisions if one.decision == decision)
        return next(one for one in found.candidates if one.candidate == candidate)

    def verdicts(self, decision: str) -> dict[str, str]:
        found = next(one for one in self.selected.decisions if one.decision == decision)
        return {one.candidate: one.verdict for one in found.candidates}


def answer(normal: dict[str, str], **states: object) -> Answered:
    """The verdicts for the quiet line with some answers changed (None: left blank) and other states."""
    typed = {name: text for name, text in {**QUIET, **normal}.items() if text is not None}
    reading = read_application(guide().pack, {"id": "asked", "title": "Asked", "normal": typed, **states})
    assert reading.problems == ()
    return Answered(select(guide(), reading.application))


@pytest.mark.parametrize(("celsius", "fahrenheit", "verdict"), [
    ("80 degC", "176 degF", None), ("0 degC", "32 degF", None), ("80.0000000001 degC", "176.00000001 degF", "unsuitable")])
def test_soft_rubber_is_judged_alike_in_celsius_and_fahrenheit(celsius, fahrenheit, verdict) -> None:
    name = "temperature_min" if celsius.startswith("0 ") else "temperature_max"
    one = answer({name: celsius}).of("liner", "soft_rubber")
    other = answer({name: fahrenheit}).of("liner", "soft_rubber")
    assert one.verdict == other.verdict
    assert [reason.rule for reason in one.reasons] == [reason.rule for reason in other.reasons]
    assert verdict is None or one.verdict == verdict


def test_eighty_degrees_still_belong_to_soft_rubber_and_zero_too() -> None:
    at_limit = answer({"temperature_max": "80 degC"}).of("liner", "soft_rubber")
    assert "liner_temperature.soft_rubber_within" in [reason.rule for reason in at_limit.reasons]
    assert answer({"temperature_min": "0 degC"}).of("liner", "soft_rubber").verdict == "suitable"
    assert answer({"temperature_min": "-0.000000000001 degC"}).of("liner", "soft_rubber").verdict != "suitable"


def test_polyurethane_at_41_is_unsuitable_by_a_rule_that_says_why() -> None:
    found = answer({"temperature_max": "41 degC"}).of("liner", "polyurethane")
    assert found.verdict == "unsuitable"
    assert found.reasons[0].rule == "liner_temperature.polyurethane_too_hot"


def test_a_blank_temperature_leaves_liners_open_and_names_it() -> None:
    found = answer({"temperature_max": None})
    for liner in ("pfa", "soft_rubber", "polyurethane", "epdm"):
        result = found.of("liner", liner)
        assert result.verdict == "open"
        assert ("normal", "temperature_max") in result.open_inputs


def test_a_blank_temperature_step_leaves_ceramic_open_and_no_other_liner() -> None:
    known, blank = answer({}), answer({"temperature_step": None})
    ceramic = blank.of("liner", "ceramic")
    assert known.of("liner", "ceramic").verdict == "suitable"
    assert (ceramic.verdict, ceramic.worst, ceramic.best) == ("open", "unsuitable", "suitable")
    assert ceramic.open_inputs == (("normal", "temperature_step"),)
    assert blank.verdicts("liner") == known.verdicts("liner") | {"ceramic": "open"}


def test_the_temperature_step_is_not_asked_of_liners_where_no_ceramic_tube_is_made() -> None:
    large = answer({"flow_min": "1500 m3/h", "flow_normal": "2000 m3/h", "flow_max": "2500 m3/h", "pipe_size": "DN 400",
                    "temperature_step": None, "temperature_max": None})
    assert large.of("liner", "ceramic").verdict == "unsuitable"
    liners = next(one for one in large.selected.decisions if one.decision == "liner").candidates
    for asking in (liners, large.selected.selections):
        asked = {name for one in asking for _, name in one.open_inputs}
        assert "temperature_max" in asked and "temperature_step" not in asked


def test_a_hot_cleaning_rules_out_soft_rubber_and_the_reason_says_cleaning() -> None:
    cleaning = {"temperature_max": "90 degC", "temperature_min": "10 degC", "medium": "raw_river_water",
                "concentration": "not applicable", "pressure_min": "same", "pressure_max": "same"}
    found = answer({"temperature_max": "40 degC"}, cleaning=cleaning).of("liner", "soft_rubber")
    assert found.verdict == "unsuitable"
    hot = next(reason for reason in found.reasons if reason.rule == "liner_temperature.soft_rubber_too_hot")
    assert hot.state == "cleaning"


def test_a_cleaning_with_a_blank_temperature_is_open_and_does_not_take_40_from_normal() -> None:
    found = answer({"temperature_max": "40 degC"}, cleaning={"medium": "raw_river_water"}).of("liner", "soft_rubber")
    assert (found.verdict, found.worst) == ("open", "unsuitable")
    assert ("cleaning", "temperature_max") in found.open_inputs


def test_a_decision_with_no_candidate_left_does_not_blacken_the_others() -> None:
    quiet, stuck = answer({}), answer({"flow_min": "9000 m3/h", "flow_normal": "9000 m3/h", "flow_max": "9000 m3/h"})
    assert set(stuck.verdicts("size").values()) == {"unsuitable"}
    assert not next(one for one in stuck.selected.decisions if one.decision == "size").in_play
    assert stuck.verdicts("liner")["pfa"] == quiet.verdicts("liner")["pfa"] == "suitable"
    assert stuck.verdicts("earthing") == quiet.verdicts("earthing")


def test_titanium_in_ten_percent_hydrochloric_acid_at_25_is_a_plain_no() -> None:
    found = answer({"medium": "muriatic acid", "concentration": "10 mass %", "temperature_max": "25 degC"})
    assert found.of("electrode_material", "titanium").verdict == "unsuitable"
