"""Tables made by hand with known gaps, overlaps and idle rules: the check tells them all, exactly, and nothing else."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.analyse.made_elsewhere import Rules, checked, told, write_folder

FAILING = ("gap", "contradiction", "said_twice", "never_matches")
ANY: dict[str, str] = {}

# name, hit policy, rules, what must be found and no more
TABLES: list[tuple[str, str, Rules, list[tuple[str, tuple[str, ...], str]]]] = [
    ("one rule for everything", "unique", [("all", ANY, "suitable")], []),
    ("an open and a closed end that touch", "unique",
     [("cool", {"heat": '"< 40"'}, "suitable"), ("hot", {"heat": '">= 40"'}, "unsuitable")], []),
    ("two open ends leave the limit itself", "unique",
     [("cool", {"heat": '"< 40"'}, "suitable"), ("hot", {"heat": '"> 40"'}, "unsuitable")],
     [("gap", (), "heat exactly 40 °C")]),
    ("two closed ends share the limit", "unique",
     [("cool", {"heat": '"<= 40"'}, "suitable"), ("hot", {"heat": '">= 40"'}, "unsuitable")],
     [("contradiction", ("cool", "hot"), "heat exactly 40 °C")]),
    ("a wide gap in the middle", "unique",
     [("cool", {"heat": '"<= 40"'}, "suitable"), ("hot", {"heat": '"> 60"'}, "unsuitable")],
     [("gap", (), "heat above 40 up to 60 °C")]),
    ("gaps at both ends of the range", "unique", [("middle", {"heat": '"[10..90]"'}, "suitable")],
     [("gap", (), "heat below 10 °C or above 90 °C")]),
    ("not applicable is forgotten", "unique",
     [("thin", {"share": '"<= 10"'}, "suitable"), ("thick", {"share": '"> 10"'}, "caution")],
     [("gap", (), "share not applicable")]),
    ("not applicable has a rule of its own", "unique",
     [("thin", {"share": '"<= 10"'}, "suitable"), ("thick", {"share": '"> 10"'}, "caution"),
      ("none", {"share": "not applicable"}, "open")], []),
    ("not applicable is said twice", "unique",
     [("all", ANY, "suitable"), ("none", {"share": "not applicable"}, "suitable")],
     [("said_twice", ("all", "none"), "share not applicable")]),
    ("a choice is forgotten", "unique",
     [("clean", {"service": "[clean]"}, "suitable"), ("slurry", {"service": "[slurry]"}, "caution")],
     [("gap", (), "service Pulp")]),
    ("a candidate is forgotten", "unique", [("pfa", {"liner": "[pfa]"}, "suitable")], [("gap", (), "liner EPDM")]),
    ("a choice and a number are forgotten together", "unique",
     [("pfa", {"liner": "[pfa]"}, "suitable"), ("epdm", {"liner": "[epdm]", "heat": '"<= 80"'}, "suitable")],
     [("gap", (), "liner EPDM, heat above 80 °C")]),
    ("two rules agree where they meet", "unique",
     [("low", {"heat": '"<= 50"'}, "suitable"), ("high", {"heat": '">= 30"'}, "suitable")],
     [("said_twice", ("low", "high"), "heat from 30 up to 50 °C")]),
    ("two rules disagree for one candidate", "unique",
     [("cool", {"heat": '"<= 60"'}, "suitable"), ("hot", {"heat": '"> 60"'}, "caution"),
      ("epdm", {"liner": "[epdm]", "heat": '"> 80"'}, "unsuitable")],
     [("contradiction", ("hot", "epdm"), "liner EPDM, heat above 80 °C")]),
    ("three rules meet in one region", "unique",
     [("a", {"heat": '"<= 50"'}, "suitable"), ("b", {"heat": '"[40..60]"'}, "caution"),
      ("c", {"heat": '">= 45"'}, "suitable")],
     [("contradiction", ("a", "b"), "heat from 40 up to 50 °C"),
      ("contradiction", ("b", "c"), "heat from 45 up to 60 °C"),
      ("said_twice", ("a", "c"), "heat from 45 up to 50 °C")]),
    ("three rules share one point", "unique",
     [("a", {"heat": '"<= 50"'}, "suitable"), ("b", {"heat": '"= 50"'}, "caution"), ("c", {"heat": '">= 50"'}, "open")],
     [("contradiction", ("a", "b"), "heat exactly 50 °C"), ("contradiction", ("a", "c"), "heat exactly 50 °C"),
      ("contradiction", ("b", "c"), "heat exactly 50 °C")]),
    ("a gap and an overlap at once", "unique",
     [("a", {"heat": '"[0..30]"'}, "suitable"), ("b", {"heat": '"[20..50)"'}, "open"),
      ("c", {"heat": '"(50..100]"'}, "open")],
     [("gap", (), "heat exactly 50 °C"), ("contradiction", ("a", "b"), "heat from 20 up to 30 °C")]),
    ("a gap with a corner is two boxes", "unique",
     [("cool", {"heat": '"<= 50"', "service": "[clean, slurry]"}, "suitable"),
      ("pulp", {"service": "[pulp]", "heat": '"<= 20"'}, "open")],
     [("gap", (), "heat above 50 °C, service any but Pulp"), ("gap", (), "heat above 20 °C, service Pulp")]),
    ("a hole of two numbers, and a limit that belongs to nobody", "unique",
     [("left", {"heat": '"[0..20)"'}, "suitable"), ("low", {"heat": '"[20..60)"', "share": '"[0..30)"'}, "suitable"),
      ("high", {"heat": '"[20..60)"', "share": '"(40..100], not applicable"'}, "caution"),
      ("right", {"heat": '"(60..100]"'}, "unsuitable")],
     [("gap", (), "heat from 20 to below 60 °C, share from 30 up to 40 mass %"), ("gap", (), "heat exactly 60 °C")]),
    ("a split choice with one region said twice and two said otherwise", "unique",
     [("cool", {"service": "[clean]", "heat": '"<= 40"'}, "suitable"),
      ("hot", {"service": "[clean]", "heat": '"> 40"'}, "open"),
      ("thin", {"service": "[slurry, pulp]", "share": '"<= 5"'}, "suitable"),
      ("pulp", {"service": "[pulp]", "share": '"(2..8]"'}, "caution"),
      ("again", {"service": "[slurry]", "share": '"(2..5]"', "heat": '"(10..20]"'}, "suitable"),
      ("thick", {"service": "[slurry, pulp]", "share": '"> 5"'}, "unsuitable")],
     [("gap", (), "share not applicable, service any but Clean"),
      ("contradiction", ("thin", "pulp"), "share above 2 up to 5 mass %, service Pulp"),
      ("contradiction", ("pulp", "thick"), "share above 5 up to 8 mass %, service Pulp"),
      ("said_twice", ("thin", "again"), "heat above 10 up to 20 °C, share above 2 up to 5 mass %, service Slurry")]),
    ("a point of two numbers is left for two choices", "unique",
     [("a", {"heat": '"not(= 50)"'}, "suitable"), ("b", {"heat": '"= 50"', "share": '"not(= 10)"'}, "open"),
      ("c", {"heat": '"= 50"', "share": '"= 10"', "service": "[clean]"}, "open")],
     [("gap", (), "heat exactly 50 °C, share not applicable"),
      ("gap", (), "heat exactly 50 °C, share exactly 10 mass %, service any but Clean")]),
    ("two bands that cross leave corners in two boxes", "unique",
     [("upright", {"heat": '"[40..60]"'}, "suitable"), ("level", {"share": '"[40..60]"'}, "caution"),
      ("corner", {"heat": '"< 40"', "share": '"< 40"'}, "open")],
     [("gap", (), "heat above 60 °C, share below 40 mass %"),
      ("gap", (), "heat below 40 °C or above 60 °C, share above 60 mass % or not applicable"),
      ("contradiction", ("upright", "level"), "heat from 40 up to 60 °C, share from 40 up to 60 mass %")]),
    ("the first of three hides the last", "first",
     [("cool", {"heat": '"<= 50"'}, "suitable"), ("rest", ANY, "open"), ("hot", {"heat": '"> 90"'}, "unsuitable")],
     [("never_matches", ("hot",), "")]),
    ("two earlier rules hide a third together", "first",
     [("cool", {"heat": '"<= 50"'}, "suitable"), ("hot", {"heat": '"> 50"'}, "open"),
      ("warm", {"heat": '"[40..60]"'}, "caution")],
     [("never_matches", ("warm",), "")]),
    ("the worse verdict hides the better", "priority",
     [("never", ANY, "unsuitable"), ("cool", {"heat": '"<= 50"'}, "suitable")], [("never_matches", ("cool",), "")]),
    ("rules that agree may overlap under any", "any",
     [("low", {"heat": '"<= 50"'}, "suitable"), ("high", {"heat": '">= 30"'}, "suitable")], []),
    ("rules that disagree may not overlap under any", "any",
     [("low", {"heat": '"<= 50"'}, "suitable"), ("high", {"heat": '">= 30"'}, "caution")],
     [("contradiction", ("low", "high"), "heat from 30 up to 50 °C")]),
    ("overlaps and gaps of collect are harmless", "collect",
     [("warm", {"heat": '"> 50"'}, "caution"), ("hot", {"heat": '"> 80"'}, "unsuitable")], []),
]


@pytest.mark.parametrize("policy, rules, expected", [case[1:] for case in TABLES], ids=[case[0] for case in TABLES])
def test_all_gaps_and_overlaps_of_a_table_are_told_with_their_regions_and_no_others(
        policy: str, rules: Rules, expected: list, tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    code, document = checked(write_folder(tmp_path / "data", rules, policy), capsys)
    assert sorted(told(document, *FAILING)) == sorted(expected)
    failing = [one for one in document["findings"] if one["fails"]]
    assert code == (1 if expected else 0) and len(document["problems"]) == len(failing) == len(expected)
    lines = {f"t.{name}": 8 + 5 * at for at, (name, _, _) in enumerate(rules)}
    for one in failing:
        assert one["file"] == "data/tables/t.yml"
        # An overlap is told at the later rule, a gap at a rule beside it or at the table.
        expected_lines = {max(lines[rule] for rule in one["rules"])} if one["rules"] else {1, *lines.values()}
        assert one["line"] in expected_lines


def test_a_region_of_many_rows_is_told_in_as_few_boxes_as_hold_it(tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    squares = [(f"r{x}_{y}", {"heat": f'"[{x}0..{x + 1}0)"', "share": f'"[{y}0..{y + 1}0)"'}, "suitable")
               for x in range(1, 9) for y in range(1, 9) if not (2 <= x < 6 and 3 <= y < 5)]
    code, document = checked(write_folder(tmp_path / "data", squares), capsys)
    assert code == 1 and sorted(region for _, _, region in told(document, "gap")) == [
        "heat below 10 °C or at least 90 °C",
        "heat from 10 to below 90 °C, share below 10 mass % or at least 90 mass % or not applicable",
        "heat from 20 to below 60 °C, share from 30 to below 50 mass %"]


def test_a_rule_that_only_repeats_what_others_say_under_any_never_decides(tmp_path: Path, capsys):
    rules: Rules = [("low", {"heat": '"<= 50"'}, "open"), ("high", {"heat": '">= 30"'}, "open"),
                    ("mid", {"heat": '"[20..60]"'}, "open")]
    code, document = checked(write_folder(tmp_path / "data", rules, "any"), capsys)
    assert told(document, *FAILING, "never_decides") == [("never_decides", ("mid",), "")] and code == 0


def test_a_waived_finding_says_who_waived_it_until_when_and_why_and_fails_nothing(tmp_path: Path, capsys):
    rules: Rules = [("cool", {"heat": '"< 40"'}, "suitable"), ("hot", {"heat": '"> 40"'}, "unsuitable")]
    waiver = "- {finding: G001 t heat exactly 40 °C, reason: Being asked., approver: A. Person, until: 2999-12-31}"
    code, document = checked(write_folder(tmp_path / "data", rules, waivers=waiver), capsys)
    assert code == 0 and document["problems"] == []
    assert [one["waived"] for one in document["findings"] if one["kind"] == "gap"] == [
        {"reason": "Being asked.", "approver": "A. Person", "until": "2999-12-31"}]


def test_a_waiver_past_its_day_fails_and_its_finding_with_it(tmp_path: Path, capsys):
    rules: Rules = [("cool", {"heat": '"< 40"'}, "suitable"), ("hot", {"heat": '"> 40"'}, "unsuitable")]
    waiver = "- {finding: G001 t heat exactly 40 °C, reason: Being asked., approver: A. Person, until: 2020-12-31}"
    code, document = checked(write_folder(tmp_path / "data", rules, waivers=waiver), capsys)
    assert code == 1 and [one["code"] for one in document["problems"]] == ["G001", "G006"]


def test_what_is_only_shown_may_be_waived_too_and_a_waiver_of_nothing_is_told(tmp_path: Path, capsys):
    rules: Rules = [("low", {"heat": '"<= 50"'}, "suitable"), ("high", {"heat": '"> 50"'}, "suitable")]
    same = {"low": "One reason.", "high": "One reason."}
    waiver = "- {finding: G012 t low high, reason: Two clauses., approver: A. Person, until: 2999-12-31}\n" \
             "- {finding: G012 t low other, reason: Old., approver: A. Person, until: 2999-12-31}"
    code, document = checked(write_folder(tmp_path / "data", rules, waivers=waiver, because=same), capsys)
    assert [one["code"] for one in document["problems"]] == ["G005"] and code == 1
    assert [one["waived"]["approver"] for one in document["findings"] if one["kind"] == "could_be_one"] == ["A. Person"]


ALIKE: list[tuple[str, Rules, dict[str, str], list[tuple[str, ...]]]] = [
    ("touching numbers, one reason",
     [("a", {"heat": '"<= 40"'}, "open"), ("b", {"heat": '"(40..60]"'}, "open"), ("c", {"heat": '"> 60"'}, "open")],
     {"a": "Same.", "b": "Same.", "c": "Same."}, [("a", "b", "c")]),
    ("two reasons", [("a", {"heat": '"<= 40"'}, "open"), ("b", {"heat": '"> 40"'}, "open")], {}, []),
    ("two verdicts", [("a", {"heat": '"<= 40"'}, "open"),
                      ("b", {"heat": '"> 40"'}, "caution")],
     {"a": "Same.", "b": "Same."}, []),
    ("numbers apart",
     [("a", {"heat": '"<= 40"'}, "open"), ("b", {"heat": '"(40..60]"'}, "caution"), ("c", {"heat": '"> 60"'}, "open")],
     {"a": "Same.", "c": "Same."}, []),
    ("choices side by side",
     [("a", {"service": "[clean]"}, "open"), ("b", {"service": "[slurry]"}, "caution"),
      ("c", {"service": "[pulp]"}, "open")],
     {"a": "Same.", "c": "Same."}, [("a", "c")]),
    ("different in two columns",
     [("a", {"liner": "[pfa]", "heat": '"<= 40"'}, "open"), ("b", {"liner": "[epdm]", "heat": '"> 40"'}, "open"),
      ("c", {"liner": "[pfa]", "heat": '"> 40"'}, "caution"), ("d", {"liner": "[epdm]", "heat": '"<= 40"'}, "caution")],
     dict.fromkeys("abcd", "Same."), []),
    ("four quarters of a whole",
     [("a", {"liner": "[pfa]", "heat": '"<= 40"'}, "open"), ("b", {"liner": "[epdm]", "heat": '"> 40"'}, "open"),
      ("c", {"liner": "[pfa]", "heat": '"> 40"'}, "open"), ("d", {"liner": "[epdm]", "heat": '"<= 40"'}, "open")],
     dict.fromkeys("abcd", "Same."), [("a", "b", "c", "d")]),
]


@pytest.mark.parametrize("rules, because, expected", [case[1:] for case in ALIKE], ids=[case[0] for case in ALIKE])
def test_rules_that_could_be_one_are_told_and_others_are_not(rules, because, expected, tmp_path: Path, capsys):
    _, document = checked(write_folder(tmp_path / "data", rules, because=because), capsys)
    assert [tuple(sorted(rules)) for _, rules, _ in told(document, "could_be_one")] == expected


def test_columns_and_inputs_that_never_matter_are_told(tmp_path: Path, capsys):
    rules: Rules = [("a", {"heat": '"<= 40"', "share": '"<= 5"'}, "suitable"),
                    ("b", {"heat": '"> 40"', "share": '"<= 5"'}, "open"),
                    ("c", {"heat": '"<= 40"', "share": '"> 5, not applicable"'}, "suitable"),
                    ("d", {"heat": '"> 40"', "share": '"> 5, not applicable"'}, "open")]
    _, document = checked(write_folder(tmp_path / "data", rules, columns="liner, heat, share"), capsys)
    assert [one["key"] for one in document["findings"] if one["kind"].startswith("idle")] == [
        "G013 t share", "G014 share", "G014 service"]


def test_a_column_of_collect_is_idle_when_other_rows_are_as_bad_without_it(tmp_path: Path, capsys):
    rules: Rules = [("hot", {"heat": '"> 80"'}, "unsuitable"),
                    ("hot_slurry", {"heat": '"> 80"', "service": "[slurry]"}, "caution"),
                    ("thick", {"share": '"> 5"'}, "caution")]
    _, document = checked(write_folder(tmp_path / "data", rules, "collect"), capsys)
    assert [one["key"] for one in document["findings"] if one["kind"] in ("idle_column", "never_decides")] == [
        "G011 t hot_slurry", "G013 t service"]


def test_a_rule_of_collect_inside_an_equal_one_is_told_only_where_the_reason_is_the_same(tmp_path: Path, capsys):
    rules: Rules = [("warm", {"heat": '"> 60"'}, "caution"), ("hot", {"heat": '"> 80"'}, "caution")]
    _, document = checked(write_folder(tmp_path / "one", rules, "collect"), capsys)
    assert told(document, "never_decides") == []
    _, document = checked(write_folder(
        tmp_path / "other", rules, "collect", because={"warm": "Same.", "hot": "Same."}), capsys)
    assert told(document, "never_decides") == [("never_decides", ("hot",), "")]


def test_candidates_that_tables_together_never_allow_are_told_with_these_tables(tmp_path: Path, capsys):
    rules: Rules = [("cool", {"heat": '"<= 40"'}, "suitable"), ("hot", {"heat": '"> 40"'}, "unsuitable")]
    folder = write_folder(tmp_path / "data", rules)
    other = (folder / "tables" / "t.yml").read_text("utf-8").replace("id: t", "id: u").replace(
        "then: suitable", "then: FIRST").replace("then: unsuitable", "then: suitable").replace("FIRST", "unsuitable")
    (folder / "tables" / "u.yml").write_text(other.replace("heat: \"> 40\"", "heat: \"> 40\", liner: [pfa]").replace(
        "because: Reason of hot.\n    basis: {kind: physics}\n",
        "because: Reason of hot.\n    basis: {kind: physics}\n  - id: u.epdm\n"
        "    when: {heat: \"> 40\", liner: [epdm]}\n"
        "    then: open\n    because: Unknown.\n    basis: {kind: physics}\n"), "utf-8")
    _, document = checked(folder, capsys)
    assert [(one["key"], one["message"]) for one in document["findings"] if one["kind"] == "never_suitable"] == [
        ("G015 liner pfa t u", "'pfa' is never suitable: t and u never allow it together"),
        ("G015 u epdm", "'epdm' is never suitable by this table")]
