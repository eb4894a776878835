"""A requisition says what is required; an offer is held against it by the same rules, and what it leaves out is open."""

import json
import re
from pathlib import Path

import pytest

from generator.commands.main import main

ROOT = Path(__file__).resolve().parents[2]
DATA, EXAMPLE = str(ROOT / "data"), str(ROOT / "guide" / "examples" / "seawater_intake.yml")
OFFER = """supplier: Supplier A
offered: {size: dn100, liner: polyurethane, electrode_material: tantalum, ring_material: tantalum, earthing: ring_pair}
figures: {temperature_max: 30 degC, pressure_min: 0.2 bar abs, pressure_max: 6 barg, true_bore: 97 mm}
documents: [calibration]
"""


def compared(tmp_path: Path, capsys, text: str) -> dict[str, dict]:
    """The lines of the comparison by what they are about."""
    (tmp_path / "offer.yml").write_text(text, "utf-8")
    assert main(["select", EXAMPLE, "--data", DATA, "--base", "--offer", str(tmp_path / "offer.yml"), "--json"]) == 0
    document = json.loads(capsys.readouterr().out)
    assert document["cautions"] and "corrosion engineer" in document["defers"]
    return {line["required"] if line["subject"] == "Document" else line["subject"]: line for line in document["lines"]}


def test_each_decision_is_judged_by_the_same_rules_and_what_is_not_stated_is_open(tmp_path, capsys) -> None:
    lines = compared(tmp_path, capsys, OFFER)
    assert lines["Sensor size"]["standing"] == "as_required"
    # Tantalum in seawater is as untouched as titanium: another metal, no worse.
    assert (lines["Electrode material"]["standing"], lines["Electrode material"]["verdict"]) == ("accepted", "suitable")
    assert lines["Gasket"]["standing"] == "open" and lines["Gasket"]["offered"] == "not stated"
    # 30 °C does not cover the 35 °C of the data sheet; 0.2 bar abs is better than the 1.1 asked for; 6 barg is just it.
    assert lines["Highest temperature"]["standing"] == "deviation"
    assert lines["Lowest pressure"]["standing"] == "accepted"
    assert lines["Highest pressure"]["standing"] == "as_required"
    calibration = next(line for text, line in lines.items() if text.startswith("Calibration"))
    settings = next(line for text, line in lines.items() if text.startswith("List of settings"))
    assert (calibration["standing"], settings["standing"]) == ("as_required", "open")


def test_an_unsuitable_offer_is_a_deviation_with_rule_and_reason(tmp_path, capsys) -> None:
    lines = compared(tmp_path, capsys, OFFER.replace("electrode_material: tantalum", "electrode_material: 316L"))
    steel = lines["Electrode material"]
    # Seawater pits 316L.
    assert (steel["standing"], steel["verdict"]) == ("deviation", "unsuitable")
    assert any(reason["rule"].startswith("electrode_chemistry.seawater") and reason["because"] and reason["basis"]["kind"]
               for reason in steel["reasons"])


def test_a_part_that_is_as_required_does_not_answer_for_its_partner(tmp_path, capsys) -> None:
    # A spiral-wound gasket cuts the flare of PFA: the gasket departs from what is required, the liner does not.
    offer = OFFER.replace("liner: polyurethane", "liner: pfa, gasket: spiral_wound").replace("tantalum", "titanium")
    lines = compared(tmp_path, capsys, offer)
    assert (lines["Gasket"]["standing"], lines["Gasket"]["verdict"]) == ("deviation", "unsuitable")
    assert (lines["Liner"]["standing"], lines["Liner"]["verdict"]) == ("as_required", "suitable")
    # A steel electrode is pitted by seawater; the titanium ring that was asked for is not to blame.
    lines = compared(tmp_path, capsys, offer.replace("electrode_material: titanium", "electrode_material: 316L"))
    assert lines["Electrode material"]["standing"] == "deviation"
    assert lines["Earthing ring material"]["standing"] == "as_required"


def test_a_true_bore_is_judged_by_the_velocity_in_it(tmp_path, capsys) -> None:
    # 60.2 m3/h through 97 mm is 2.26 m/s, through 60 mm 5.9 m/s and at most 8.9 m/s: outside the usual range when clean.
    plain = compared(tmp_path, capsys, OFFER.replace("liner: polyurethane", "liner: pfa"))
    narrow = compared(tmp_path, capsys, OFFER.replace("liner: polyurethane", "liner: pfa").replace("97 mm", "60 mm"))
    assert plain["Sensor size"]["verdict"] == "suitable"
    assert (narrow["Sensor size"]["standing"], narrow["Sensor size"]["verdict"]) == ("deviation", "caution")


def test_the_lines_tell_deviations_first_and_defer_to_the_corrosion_engineer(tmp_path, capsys) -> None:
    (tmp_path / "offer.yml").write_text(OFFER, "utf-8")
    assert main(["select", EXAMPLE, "--data", DATA, "--base", "--offer", str(tmp_path / "offer.yml")]) == 0
    printed = " ".join(capsys.readouterr().out.split())
    assert printed.startswith("Offer of Supplier A: ")
    assert printed.index("Deviation") < printed.index("Open") < printed.index("As required") < printed.index("Cautions")
    assert "Highest temperature: 35 °C required, 30 °C offered" in printed and "licensed practice decide" in printed


@pytest.fixture(scope="module")
def requisition(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    folder = tmp_path_factory.mktemp("requisition")
    for name in ("r.html", "r.yml"):
        assert main(["select", EXAMPLE, "--data", DATA, "--base", "--requisition", str(folder / name), "--json"]) == 0
    return {name: folder / name for name in ("r.html", "r.yml")}


def test_a_requisition_asks_for_limits_data_and_documents_and_loads_nothing(requisition) -> None:
    page = requisition["r.html"].read_text("utf-8")
    text = " ".join(re.sub(r"<[^>]+>", " ", page.partition("</style>")[2]).split()).replace("\u00a0", " ")
    for said in ("Requisition, electromagnetic flowmeter sensor", "Highest temperature at least 35 °C",
                 "Lowest pressure down to 1.1 bar abs", "Inside of the neighbouring pipe (Normal operation): Metal, lined inside", "Liner PFA", "PTFE, ETFE", "Refused:",
                 "The true bore under the offered liner", "Material certificates of every wetted part"):
        assert said in text, said
    assert not re.search(r"https?:|url\(|@import|<script|<link|<img|src=", page)


def test_the_requisition_as_yaml_is_the_form_of_an_offer(requisition, tmp_path, capsys) -> None:
    form = requisition["r.yml"].read_text("utf-8")
    (tmp_path / "form.yml").write_text(form, "utf-8")
    assert main(["select", EXAMPLE, "--data", DATA, "--base", "--offer", str(tmp_path / "form.yml")]) == 1
    assert "A033: the offer does not say whose it is" in capsys.readouterr().err
    lines = compared(tmp_path, capsys, form.replace('supplier: ""', "supplier: Supplier A"))
    assert all(line["standing"] == "open" for line in lines.values())


def test_a_bad_offer_gives_one_line_for_each_fault_at_its_place(tmp_path, capsys) -> None:
    (tmp_path / "bad.yml").write_text("""supplier: Supplier A
offered: {lner: pfa, size: DN 98, liner: [pfa]}
figures: {temperature_max: 130, velocity: 3 m/s, pressure_max: 6 to 10 barg}
documents: [calibratoin]
price: 100
""", "utf-8")
    assert main(["select", EXAMPLE, "--data", DATA, "--base", "--offer", str(tmp_path / "bad.yml")]) == 1
    lines = capsys.readouterr().err.splitlines()
    expected = (":2:11: A033: there is no decision 'lner'", ":2:28: A033: 'DN 98' is not a candidate of 'size'",
                ":2:42: A033: `liner` is not one text", ":3:28: A012: ", ":3:33: A033: an offer states no figure 'velocity'",
                ":3:64: A033: the figure of 'pressure_max' is not one number",
                ":4:13: A033: there is no document 'calibratoin'", ":5:1: A033: an offer has no key 'price'")
    assert len(lines) == len(expected) + 1
    for said in expected:
        assert any(f"bad.yml{said}" in line for line in lines), (said, lines)


def test_an_application_in_the_place_of_an_offer_is_told_in_one_line(tmp_path, capsys) -> None:
    assert main(["select", EXAMPLE, "--data", DATA, "--base", "--offer", EXAMPLE]) == 1
    said, count = capsys.readouterr().err.splitlines()
    assert said.endswith("A033: this file is no offer; fix: write the form of an offer with `guide select FILE "
                         "--requisition OFFER.yml` and fill it in")
    assert count == "1 problem"


def test_an_offer_or_requisition_of_another_ending_is_refused_in_a_line(tmp_path, capsys) -> None:
    assert main(["select", EXAMPLE, "--data", DATA, "--base", "--requisition", str(tmp_path / "r.pdf")]) == 2
    assert "Y017: a requisition is written as a page or as YAML" in capsys.readouterr().err
    assert main(["select", EXAMPLE, "--data", DATA, "--base", "--offer", str(tmp_path / "o.csv")]) == 2
    assert "Y017: a comparison is read from YAML" in capsys.readouterr().err
