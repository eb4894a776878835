"""Says how the command tells the rules behind a verdict: each with its partner once, with all its states."""

from __future__ import annotations

from generator.render.answer_words import reason_sentences

RULE = {"rule": "liner_wear.sand", "because": "Sand cuts it.", "with": [], "others": 0, "settled": True, "components": [],
        "state": "normal", "basis": {"kind": "common_practice", "source": "", "clause": "", "checked": ""}}


def test_a_rule_of_several_states_is_told_once_with_all_of_them():
    assert reason_sentences([RULE, RULE | {"state": "flushing"}, RULE | {"state": "flushing"}]) == [
        "Sand cuts it. [liner_wear.sand; normal, flushing; common practice]"]


def test_what_is_not_settled_and_another_partner_stand_by_themselves():
    partner = [{"decision": "size", "candidate": "dn80"}]
    assert reason_sentences([RULE, RULE | {"state": "flushing", "settled": False}, RULE | {"with": partner}]) == [
        "Sand cuts it. [liner_wear.sand; normal; common practice]",
        "Not ruled out yet: Sand cuts it. [liner_wear.sand; flushing; common practice]",
        "Sand cuts it. [liner_wear.sand; normal with size dn80; common practice]"]
