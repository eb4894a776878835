"""Tests what a reader is told about margins."""

from __future__ import annotations

from generator.render.margin_words import NEAREST_SHOWN, margin_lines, margin_sentence

HOT = {"decision": "liner", "candidate": "soft", "title": "Soft", "state": "normal", "column": "temperature_max",
       "column_title": "Highest temperature", "unit": "°C", "value": 41.0, "limit": 70.0, "above": True,
       "included": True, "nearest": True, "share": 29 / 70, "now": "suitable", "verdict": "caution", "best": "caution",
       "worst": "caution", "rule": "a.warm", "table": "a", "components": []}
SLOW = HOT | {"column_title": "Velocity", "unit": "m/s", "value": 2.0, "limit": 0.5, "above": False,
              "included": False, "nearest": False}


def test_a_margin_tells_limit_change_and_rule_and_a_change_of_temperature_is_in_kelvin() -> None:
    assert margin_sentence(HOT) == \
        "Highest temperature 41 °C (normal): ends at 70 °C, 29 K above; then caution by a.warm"


def test_a_limit_that_is_no_longer_part_of_the_verdict_is_told_so() -> None:
    assert margin_sentence(SLOW) == "Velocity 2 m/s (normal): ends before 0.5 m/s, 1.5 m/s below; from there caution by a.warm"


def test_a_rule_that_ends_is_told_apart_from_one_that_begins() -> None:
    better = HOT | {"now": "unsuitable", "above": False, "limit": 40.0}
    assert margin_sentence(better).endswith("ends at 40 °C, 1 K below; then caution by the end of a.warm")


def test_a_verdict_that_open_answers_leave_unsettled_is_told_at_its_worst() -> None:
    assert "then not settled, at worst unsuitable by a.warm" in margin_sentence(HOT | {"worst": "unsuitable"})


def test_a_margin_in_a_mixture_names_the_component() -> None:
    brine = {"components": [{"place": 2, "medium": "Sodium chloride brine"}]}
    assert "41 °C (normal for Sodium chloride brine): " in margin_sentence(HOT | brine)


def test_the_nearest_limits_of_what_leads_are_shown_nearest_first_and_all_on_request() -> None:
    closer = HOT | {"decision": "ring", "title": "Ring", "share": 0.1}
    many = [HOT | {"decision": "ring", "title": f"Ring {place}", "share": 1.0} for place in range(NEAREST_SHOWN)]
    selection = {"chosen": [{"decision": "liner", "candidate": "soft"}, {"decision": "ring", "candidate": "soft"}]}
    application = {"margins": [HOT, SLOW, HOT | {"candidate": "hard", "title": "Hard"}, closer, *many],
                   "selections": [selection],
                   "decisions": [{"decision": "liner", "title": "Liner"}, {"decision": "ring", "title": "Ring"}]}
    short = margin_lines(application, False)
    assert [line.split(",")[0] for line in short if ", suitable:" in line][:2] == ["  Ring Ring", "  Liner Soft"]
    assert short[-1] == "  and 2 more (`--reasons` prints all margins)"
    assert sum("then caution" in line or "from there" in line for line in margin_lines(application, True)) == 4 + NEAREST_SHOWN
