"""A concession stands beside its verdict, never changes it, ends on its day, and is counted for the committee."""

import json
from pathlib import Path

import pytest

from generator.analyse.cases import answer_case
from generator.answers.concessions import is_day
from generator.commands.main import main
from generator.evaluate.prepared import prepare
from generator.render.concession_words import concession_sentence
from generator.render.concessions import concessions_pages
from generator.render.library import library
from tests import shipped
from tests.compile.test_knowledge import compiled
from tests.read.small_data import small_files

ROOT = Path(__file__).resolve().parents[2]
DATA = str(ROOT / "data")
POINT = """id: river
title: River water at 45 °C
normal: {medium: raw_river_water, concentration: not applicable, temperature_max: 45 degC}
"""
CONCEDED = POINT + """concessions:
  - {decision: liner, candidate: polyurethane, reason: Replaced in autumn., approver: A. Person, until: 2099-06-30}
  - {decision: liner, candidate: polyurethane, reason: One season., approver: B. Person, until: 2020-06-30}
  - {decision: liner, candidate: polyurethane, rule: liner_vacuum.ceramic_holds, reason: Asked., approver: C. Person, until: 2099-06-30}
"""


def answered(tmp_path: Path, text: str, capsys) -> dict:
    (tmp_path / "point.yml").write_text(text, "utf-8")
    assert main(["select", str(tmp_path / "point.yml"), "--data", DATA, "--base", "--json"]) == 0
    return json.loads(capsys.readouterr().out)["applications"][0]


def test_a_concession_is_shown_beside_the_verdict_and_changes_nothing_else(tmp_path, capsys) -> None:
    plain, conceded = (answered(tmp_path, text, capsys) for text in (POINT, CONCEDED))
    first, second, third = conceded["concessions"]
    # River water of 45 °C is above the 40 °C at which polyurethane ends: unsuitable with and without a signature.
    assert first["verdict"] == "unsuitable" and first["standing"] == "holds"
    assert "liner_temperature.polyurethane_too_hot" in first["rules"]
    assert concession_sentence(first) == "unsuitable; conceded by A. Person until 2099-06-30: Replaced in autumn."
    assert second["standing"] == "expired" and "expired on 2020-06-30" in concession_sentence(second)
    assert third["standing"] == "needless" and third["rules"] == []
    assert "liner_vacuum.ceramic_holds does not stand against it" in concession_sentence(third)
    assert {**conceded, "concessions": []} == {**plain, "concessions": []}


def test_a_concession_of_a_suitable_candidate_is_said_to_be_needless(tmp_path, capsys) -> None:
    text = (ROOT / "guide/examples/seawater_intake.yml").read_text("utf-8") + """concessions:
  - {decision: size, candidate: dn100, reason: Just in case., approver: A. Person, until: 2099-06-30}
"""
    one, = answered(tmp_path, text, capsys)["concessions"]
    assert (one["verdict"], one["standing"]) == ("suitable", "needless")
    assert concession_sentence(one).endswith("is needless: it departs from nothing")


def test_the_command_line_prints_concessions_with_what_to_buy_and_at_the_candidate(tmp_path, capsys) -> None:
    (tmp_path / "point.yml").write_text(CONCEDED, "utf-8")
    assert main(["select", str(tmp_path / "point.yml"), "--data", DATA, "--base"]) == 0
    printed = " ".join(capsys.readouterr().out.split())
    assert "Concessions; no verdict changes by them Liner Polyurethane: unsuitable; conceded by A. Person" in printed
    assert "Unsuitable; conceded by A. Person until 2099-06-30: Replaced in autumn." in printed


def test_concessions_are_counted_per_rule_with_who_and_until_when(tmp_path, capsys) -> None:
    (tmp_path / "points").mkdir()
    (tmp_path / "points" / "one.yml").write_text(CONCEDED, "utf-8")
    (tmp_path / "points" / "two.yml").write_text(CONCEDED.replace("45", "50"), "utf-8")
    (tmp_path / "points" / "offer.yml").write_text("offered: {liner: pfa}\n", "utf-8")
    assert main(["concessions", str(tmp_path), "--data", DATA, "--base", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["files"] == 3
    # In each file one concession holds and one has expired; both depart from the same rule.
    by_rule = {one["rule"]: one for one in told["rules"]}
    heat = by_rule["liner_temperature.polyurethane_too_hot"]
    assert heat["times"] == 4 and heat["because"].startswith("Hot water")
    assert {(one["approver"], one["until"], one["standing"]) for one in heat["concessions"]} == {
        ("A. Person", "2099-06-30", "holds"), ("B. Person", "2020-06-30", "expired")}
    assert len(told["needless"]) == 2
    assert main(["concessions", str(tmp_path), "--data", DATA, "--base"]) == 0
    printed = capsys.readouterr().out
    assert "liner_temperature.polyurethane_too_hot: conceded 4 times" in printed
    assert printed.splitlines()[-1].startswith("3 files, 6 concessions")


def test_a_bad_concession_in_a_folder_is_one_line_and_exit_1_and_no_folder_is_2(tmp_path, capsys) -> None:
    text = CONCEDED.replace("2020-06-30", "30.6.2020")
    column = text.splitlines()[5].index("30.6.2020") + 1
    (tmp_path / "bad.yml").write_text(text, "utf-8")
    assert main(["concessions", str(tmp_path), "--data", DATA, "--base"]) == 1
    line, count = capsys.readouterr().err.splitlines()
    assert f"bad.yml:6:{column}: A031: '30.6.2020' is not a day" in line and count == "1 problem"
    assert main(["concessions", str(tmp_path / "nowhere"), "--data", DATA, "--base"]) == 2


def test_the_page_of_concessions_stands_only_where_a_case_concedes(capsys) -> None:
    pack, texts = shipped.base()
    answered = tuple(answer_case(shipped.prepared_base(), case) for case in texts.cases if case.concessions)
    page, = concessions_pages(library(pack, texts), answered)
    assert "liner_temperature.polyurethane_too_hot" in page.body and "A. Person, corrosion engineer" in page.body
    small = library(*compiled(small_files()))
    assert concessions_pages(small, tuple(answer_case(prepare(small.pack), case) for case in small.texts.cases)) == ()


@pytest.mark.parametrize(("text", "is_one"), [
    ("2028-02-29", True), ("2027-02-29", False), ("2100-02-29", False), ("2000-02-29", True), ("2026-12-31", True),
    ("2026-13-01", False), ("2026-00-10", False), ("2026-04-31", False), ("2026-4-3", False), ("2026-04-30 ", False)])
def test_a_day_is_one_of_the_calendar(text: str, is_one: bool) -> None:
    assert is_day(text) is is_one
