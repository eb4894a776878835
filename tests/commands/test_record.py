"""The selection record: a page to sign, and a file that gives the same result again or says what has changed."""

import json
import re
from pathlib import Path

import pytest

from generator.commands.main import main
from tests.shipped import copy_to

ROOT = Path(__file__).resolve().parents[2]
DATA, EXAMPLE = str(ROOT / "data"), str(ROOT / "guide" / "examples" / "seawater_intake.yml")
TAG = re.compile(r"<[^>]+>")


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    """The record of the example as page and as JSON."""
    folder = tmp_path_factory.mktemp("record")
    for name in ("record.html", "record.json"):
        assert main(["select", EXAMPLE, "--data", DATA, "--base", "--record", str(folder / name), "--json"]) == 0
    return {name: (folder / name).read_text("utf-8") for name in ("record.html", "record.json")}


def test_the_page_holds_answers_choice_reasons_bases_cautions_hand_over_and_signatures(made) -> None:
    page = made["record.html"]
    text = " ".join(TAG.sub(" ", page.partition("</style>")[2]).split())
    for said in ("Seawater intake, pump discharge to the filters", "caution, provisional: confirm", "Sensor size DN 100",
                 "90 gpm 20.4412 m3/h (US gallons per minute)", "Assumed, not answered",
                 "electrode_chemistry.seawater.b1.titanium; handbook corrosion_handbooks, recalled; normal",
                 "Velocity in the sensor at normal flow: 2.129", "Take the pressure off and drain the line",
                 "Material certificates of every wetted part", "Selected by", "Owner's corrosion engineer",
                 "Local codes and regulations, the owner's corrosion engineer and licensed practice decide"):
        assert said in text.replace("&#39;", "'"), said


def test_the_page_says_what_was_understood_in_titles_and_never_in_ids(made) -> None:
    answers = re.findall(r"<dt>(.*?)</dt><dd>(.*?)</dd>", made["record.html"])
    said = {title: " ".join(TAG.sub(" ", words).split()) for title, words in answers}
    assert len(said) > 10 and not [words for words in said.values() if re.search("[a-z]_[a-z]", words)], said
    assert ("Medium", "Seawater") in answers
    assert said["Conductivity"] == "50000 uS/cm"


def test_the_page_loads_nothing_and_names_its_language_and_heads(made) -> None:
    page = made["record.html"]
    assert page.startswith("<!doctype html>") and '<html lang="en">' in page and "<h1>" in page
    assert not re.search(r"https?:|url\(|@import|<script|<link|<img|src=", page)
    assert page.count("<th scope=") > 20


def test_a_record_read_back_gives_the_same_answer_and_says_that_the_rules_are_the_same(made, tmp_path, capsys) -> None:
    (tmp_path / "kept.json").write_text(made["record.json"], "utf-8")
    main(["select", EXAMPLE, "--data", DATA, "--base", "--json"])
    first = json.loads(capsys.readouterr().out)
    assert main(["select", str(tmp_path / "kept.json"), "--data", DATA, "--base", "--json"]) == 0
    again = json.loads(capsys.readouterr().out)
    assert again["applications"] == first["applications"]
    assert again["records"][0]["changed"] == [] and first["records"] == []
    assert main(["select", str(tmp_path / "kept.json"), "--data", DATA, "--base"]) == 0
    assert capsys.readouterr().out.splitlines()[0].endswith("the rules are the same.")


def test_a_record_of_other_rules_says_which_verdicts_have_changed(made, tmp_path, capsys) -> None:
    # A committee lowers what PFA may bear in seawater: the record of before must say so.
    copy_to(tmp_path)
    data = tmp_path / "data"
    medium = data / "media" / "seawater.yml"
    text = medium.read_text("utf-8")
    assert "pfa: A" in text
    medium.write_text(text.replace("pfa: A", "pfa: C"), "utf-8")
    (tmp_path / "kept.json").write_text(made["record.json"], "utf-8")
    assert main(["select", str(tmp_path / "kept.json"), "--data", str(data), "--base", "--json"]) == 0
    changed = json.loads(capsys.readouterr().out)["records"][0]["changed"]
    assert "Liner PFA: suitable, now caution" in changed
    assert any(line.startswith("What to buy, Liner: PFA, now ") for line in changed)
    assert main(["select", str(tmp_path / "kept.json"), "--data", str(data), "--base"]) == 0
    printed = capsys.readouterr().out
    assert "by the rules of today" in printed.splitlines()[0] and "these verdicts have changed:" in printed
    assert "Liner PFA: suitable, now caution" in printed


def test_a_record_keeps_pins_concessions_and_states_that_are_ruled_out(tmp_path, capsys) -> None:
    text = (ROOT / "guide/examples/seawater_intake.yml").read_text("utf-8") + """pinned: {liner: ceramic}
concessions:
  - {decision: liner, candidate: hard_rubber, state: normal, reason: "Spare: one.", approver: A. Person, until: 2099-06-30}
"""
    (tmp_path / "point.yml").write_text(text, "utf-8")
    kept = tmp_path / "kept.json"
    assert main(["select", str(tmp_path / "point.yml"), "--data", DATA, "--base", "--record", str(kept), "--json"]) == 0
    first = json.loads(capsys.readouterr().out)
    assert main(["select", str(kept), "--data", DATA, "--base", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["applications"] == first["applications"]
    typed = json.loads(kept.read_text("utf-8"))["application"]
    assert typed["steaming"] == "none" and typed["pinned"] == {"liner": "ceramic"}
    assert typed["concessions"][0]["reason"] == "Spare: one."


def test_a_record_of_a_point_that_nothing_stands_says_so_and_names_the_conflict(tmp_path, capsys) -> None:
    # No lined tube stands 230 °C: every liner's limit lies below.
    text = (ROOT / "guide/examples/seawater_intake.yml").read_text("utf-8").replace("95 degF", "230 degC")
    (tmp_path / "point.yml").write_text(text, "utf-8")
    assert main(["select", str(tmp_path / "point.yml"), "--data", DATA, "--base", "--record", str(tmp_path / "r.html"), "--json"]) == 0
    conflict = json.loads(capsys.readouterr().out)["applications"][0]["conflict"]
    page = (tmp_path / "r.html").read_text("utf-8")
    assert conflict["left"] == "unsuitable" and "No selection is left by these rules" in page
    assert conflict["reasons"][0]["because"].replace("'", "&#39;") in page
    assert "Selected by" in page


def test_bad_records_and_targets_give_one_line_each(made, tmp_path, capsys) -> None:
    broken = json.loads(made["record.json"])
    broken["application"]["normal"]["temperature_max"] = "35"
    (tmp_path / "unit.json").write_text(json.dumps(broken, indent=1), "utf-8")
    assert main(["select", str(tmp_path / "unit.json"), "--data", DATA, "--base"]) == 1
    line = capsys.readouterr().err.splitlines()[0]
    assert re.search(r"unit\.json:\d+:\d+: A012: ", line)
    del broken["answer"]
    (tmp_path / "part.json").write_text(json.dumps(broken), "utf-8")
    assert main(["select", str(tmp_path / "part.json"), "--data", DATA, "--base"]) == 1
    assert "part.json:1:1: A032: the record lacks `answer`" in capsys.readouterr().err
    assert main(["select", EXAMPLE, "--data", DATA, "--base", "--record", str(tmp_path / "r.pdf")]) == 2
    assert "r.pdf: Y017: a record is written as a page or as JSON" in capsys.readouterr().err
    assert main(["select", EXAMPLE, EXAMPLE, "--data", DATA, "--base", "--record", str(tmp_path / "r.json")]) == 2
    assert "of one application, not of 2" in capsys.readouterr().err
