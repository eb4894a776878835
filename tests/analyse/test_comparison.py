"""Two versions of a table are compared exactly: every region where they part, with what each says, and no other."""

from __future__ import annotations

import json
import random
from pathlib import Path

import pytest

from generator.analyse.comparison import NOT_ASKED, compare_packs, compare_tables
from generator.commands.main import main
from generator.compile.knowledge import load_pack, load_with_findings
from tests import shipped
from tests.analyse.made_elsewhere import Rules, write_folder
from tests.analyse.sampled import Told, compared, disagreements, edited

SAMPLED = 6000                       # points in the suite; `python -m tests.analyse.sampled 100000` tries more

COOL_HOT: Rules = [("cool", {"heat": '"<= 40"'}, "suitable"), ("hot", {"heat": '"> 40"'}, "unsuitable")]

# name, old rules, new rules, what must be told: (region, old verdict, new verdict, old rules, new rules)
EDITS: list[tuple[str, Rules, Rules, list[tuple[str, str, str, tuple[str, ...], tuple[str, ...]]]]] = [
    ("nothing changed", COOL_HOT, COOL_HOT, []),
    ("the rules stand in another order", COOL_HOT, COOL_HOT[::-1], []),
    ("a limit moved", COOL_HOT, [("cool", {"heat": '"<= 45"'}, "suitable"), ("hot", {"heat": '"> 45"'}, "unsuitable")],
     [("Heat above 40 up to 45 °C", "unsuitable", "suitable", ("t.hot",), ("t.cool",))]),
    ("a limit changed sides", COOL_HOT,
     [("cool", {"heat": '"< 40"'}, "suitable"), ("hot", {"heat": '">= 40"'}, "unsuitable")],
     [("Heat exactly 40 °C", "suitable", "unsuitable", ("t.cool",), ("t.hot",))]),
    ("a verdict changed", COOL_HOT, [COOL_HOT[0], ("hot", {"heat": '"> 40"'}, "caution")],
     [("Heat above 40 °C", "unsuitable", "caution", ("t.hot",), ("t.hot",))]),
    ("a rule has another name only", COOL_HOT, [COOL_HOT[0], ("too_hot", {"heat": '"> 40"'}, "unsuitable")],
     [("Heat above 40 °C", "unsuitable", "unsuitable", ("t.hot",), ("t.too_hot",))]),
    ("a rule was cut in two", COOL_HOT,
     [COOL_HOT[0], ("hot", {"heat": '"(40..60]"'}, "unsuitable"), ("very_hot", {"heat": '"> 60"'}, "unsuitable")],
     [("Heat above 60 °C", "unsuitable", "unsuitable", ("t.hot",), ("t.very_hot",))]),
    ("a choice was split off", COOL_HOT,
     [COOL_HOT[0], ("hot", {"heat": '"> 40"', "service": "[clean, slurry]"}, "unsuitable"),
      ("hot_pulp", {"heat": '"> 40"', "service": "[pulp]"}, "open")],
     [("Heat above 40 °C, Service Pulp", "unsuitable", "open", ("t.hot",), ("t.hot_pulp",))]),
    ("two candidates part", [("all", {}, "suitable")],
     [("pfa", {"liner": "[pfa]"}, "suitable"), ("epdm", {"liner": "[epdm]", "heat": '"<= 80"'}, "suitable"),
      ("epdm_hot", {"liner": "[epdm]", "heat": '"> 80"'}, "unsuitable")],
     [("Liner EPDM, Heat above 80 °C", "suitable", "unsuitable", ("t.all",), ("t.epdm_hot",)),
      ("Liner PFA", "suitable", "suitable", ("t.all",), ("t.pfa",)),
      ("Liner EPDM, Heat up to 80 °C", "suitable", "suitable", ("t.all",), ("t.epdm",))]),
    ("not applicable got a rule", [("all", {}, "suitable")],
     [("thin", {"share": '"<= 100"'}, "suitable"), ("none", {"share": "not applicable"}, "open")],
     [("Share not applicable", "suitable", "open", ("t.all",), ("t.none",)),
      ("Share any number", "suitable", "suitable", ("t.all",), ("t.thin",))]),
]


def versions(tmp_path: Path, old: Rules, new: Rules, policy: str = "unique"):
    for name, rules in (("old", old), ("new", new)):
        write_folder(tmp_path / name / "data", rules, policy)
    return (load_pack(tmp_path / "old" / "data"), load_pack(tmp_path / "new" / "data"))


@pytest.mark.parametrize("old, new, expected", [case[1:] for case in EDITS], ids=[case[0] for case in EDITS])
def test_an_edit_is_told_as_the_regions_it_moves_with_old_and_new(old, new, expected, tmp_path: Path):
    (before, before_texts), (after, after_texts) = versions(tmp_path, old, new)
    one = compare_tables((before, before_texts, before.tables[0]), (after, after_texts, after.tables[0]))
    assert [(each.region, each.old.verdict, each.new.verdict, each.old.rules, each.new.rules)
            for each in one.differences] == expected
    assert [each.changes_verdict for each in one.differences] == sorted(
        (each[1] != each[2] for each in expected), reverse=True)


def test_worse_rules_of_collect_are_compared_by_what_they_take_away(tmp_path: Path):
    old: Rules = [("warm", {"heat": '"> 50"'}, "caution"), ("hot", {"heat": '"> 80"'}, "unsuitable")]
    new: Rules = [("warm", {"heat": '"> 60"'}, "caution"), ("hot", {"heat": '"> 80"'}, "unsuitable"),
                  ("pulp", {"service": "[pulp]"}, "caution")]
    (before, before_texts), (after, after_texts) = versions(tmp_path, old, new, "collect")
    one = compare_tables((before, before_texts, before.tables[0]), (after, after_texts, after.tables[0]))
    assert {(each.region, each.old.verdict, each.new.verdict, each.new.rules) for each in one.differences} == {
        ("Heat above 50 up to 60 °C, Service any but Pulp", "caution", "no effect", ()),
        ("Heat up to 50 °C, Service Pulp", "no effect", "caution", ("t.pulp",)),
        ("Heat above 50 up to 60 °C, Service Pulp", "caution", "caution", ("t.pulp",)),
        ("Heat above 60 up to 80 °C, Service Pulp", "caution", "caution", ("t.warm", "t.pulp"))}


def test_a_wider_range_and_a_new_option_cannot_be_asked_of_the_old_version(tmp_path: Path):
    for name in ("old", "new"):
        write_folder(tmp_path / name / "data", COOL_HOT)
    inputs = tmp_path / "new" / "data" / "inputs.yml"
    inputs.write_text(inputs.read_text("utf-8").replace('"[0..100]"', '"[0..150]"', 1).replace(
        "{id: pulp, title: Pulp}", "{id: pulp, title: Pulp}, {id: foam, title: Foam}"), "utf-8")
    (before, before_texts), (after, after_texts) = (load_pack(tmp_path / name / "data") for name in ("old", "new"))
    one = compare_tables((before, before_texts, before.tables[0]), (after, after_texts, after.tables[0]))
    assert {(each.region, each.old.verdict, each.new.verdict) for each in one.differences} == {
        ("Heat up to 40 °C, Service Foam", NOT_ASKED, "suitable"),
        ("Heat above 40 °C, Service Foam", NOT_ASKED, "unsuitable"),
        ("Heat above 100 °C, Service any but Foam", NOT_ASKED, "unsuitable")}
    told = Told(before, before.tables[0]), Told(after, after.tables[0])
    assert list(disagreements(*told, one, 3000, random.Random(3))) == []


def test_a_column_more_is_any_to_the_version_without_it(tmp_path: Path):
    write_folder(tmp_path / "old" / "data", COOL_HOT, columns="liner, heat")
    write_folder(tmp_path / "new" / "data", [
        COOL_HOT[0], ("hot", {"heat": '"> 40"', "service": "[clean]"}, "unsuitable"),
        ("rest", {"heat": '"> 40"', "service": "{not: [clean]}"}, "open")])
    (before, before_texts), (after, after_texts) = (load_pack(tmp_path / name / "data") for name in ("old", "new"))
    one = compare_tables((before, before_texts, before.tables[0]), (after, after_texts, after.tables[0]))
    assert [(each.region, each.old.verdict, each.new.verdict) for each in one.differences] == [
        ("Heat above 40 °C, Service any but Clean", "unsuitable", "open")]


def test_comparing_and_comparing_backwards_give_the_same_regions_turned_round():
    pack, texts = shipped.base()
    draw = random.Random(5)
    for table in pack.tables[:12]:
        after = edited(table, draw)
        there = compare_tables((pack, texts, table), (pack, texts, after)).differences
        back = compare_tables((pack, texts, after), (pack, texts, table)).differences
        assert {(one.box, one.old, one.new) for one in there} == {(one.box, one.new, one.old) for one in back}


def test_no_two_regions_of_one_change_could_be_one_box():
    pack, texts = shipped.base()
    draw = random.Random(9)
    for table in pack.tables:
        found = compare_tables((pack, texts, table), (pack, texts, edited(table, draw))).differences
        for at, one in enumerate(found):
            for other in found[at + 1:]:
                if (one.old, one.new) == (other.old, other.new):
                    assert sum(a != b for a, b in zip(one.box, other.box, strict=True)) > 1, one.region


def test_the_engine_and_the_comparison_agree_at_sampled_points_of_edited_shipped_tables(record_property):
    pack, texts = shipped.base()
    draw = random.Random(11)
    regions = 0
    share = SAMPLED // len(pack.tables)
    for table in pack.tables:
        comparison, old, new = compared(pack, texts, table, edited(table, draw))
        regions += len(comparison.differences)
        assert list(disagreements(old, new, comparison, share, draw)) == []
    assert regions > len(pack.tables)
    record_property("counted", f"{share * len(pack.tables)} points, {regions} regions, 0 disagreements")


def test_a_wrong_region_is_noticed_by_sampling():
    pack, texts = shipped.base()
    table = next(one for one in pack.tables if one.id == "liner_temperature")
    comparison, old, new = compared(pack, texts, table, edited(table, random.Random(2), edits=4))
    assert comparison.differences
    _, _, wrong = compared(pack, texts, table, table)
    assert list(disagreements(old, wrong, comparison, 2000, random.Random(1)))


def test_the_shipped_pack_compared_with_itself_says_the_same_everywhere():
    pack, texts = shipped.base()
    assert compare_packs(pack, texts, pack, texts) == ()


def test_guide_compare_prints_regions_and_their_rules_and_the_same_as_json(tmp_path: Path, capsys):
    write_folder(tmp_path / "old", COOL_HOT)
    write_folder(tmp_path / "new", EDITS[2][2])
    assert main(["compare", str(tmp_path / "old"), "--data", str(tmp_path / "new")]) == 0
    assert capsys.readouterr().out == (
        "t:\n  unsuitable -> suitable: Heat above 40 up to 45 °C [t.hot -> t.cool]\n")
    assert main(["compare", str(tmp_path / "old"), "--data", str(tmp_path / "new"), "--json"]) == 0
    assert json.loads(capsys.readouterr().out) == {"tables": [{"table": "t", "notes": [], "differences": [
        {"region": "Heat above 40 up to 45 °C", "changes_verdict": True,
         "old": {"verdict": "unsuitable", "rules": ["t.hot"]},
         "new": {"verdict": "suitable", "rules": ["t.cool"]}}]}]}
    assert main(["compare", str(tmp_path / "old"), "--data", str(tmp_path / "old")]) == 0
    assert capsys.readouterr().out == "both say the same everywhere\n"


def test_tables_with_gaps_and_contradictions_are_compared_as_if_these_were_waived(tmp_path: Path):
    write_folder(tmp_path / "old", COOL_HOT)
    write_folder(tmp_path / "new", [("cool", {"heat": '"< 40"'}, "suitable"), COOL_HOT[1]])
    old, old_texts, none = load_with_findings(tmp_path / "old")
    new, new_texts, standing = load_with_findings(tmp_path / "new")
    (one,) = compare_packs(old, old_texts, new, new_texts)
    assert none == [] and [problem.code for problem in standing] == ["G001"]
    assert [(each.region, each.old.verdict, each.new.verdict, each.new.rules) for each in one.differences] == [
        ("Heat exactly 40 °C", "suitable", "open", ("t.otherwise",))]
