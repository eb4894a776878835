"""Tests what a reader is told about the next question."""

from __future__ import annotations

from generator.render.question_words import question_sentence

HOT = {"state": "normal", "input": "temperature_max", "title": "Highest temperature",
       "settles": [{"decision": "liner", "verdicts": 9}, {"decision": "gasket", "verdicts": 5}],
       "waiting": [{"decision": "liner", "verdicts": 9}, {"decision": "gasket", "verdicts": 6}]}


def test_the_next_question_tells_what_only_it_keeps_open_and_what_waits_for_it() -> None:
    assert question_sentence(HOT) == \
        "Highest temperature (normal): the only open answer of 14 verdicts of 2 decisions; 15 verdicts of 2 decisions wait for it"


def test_what_only_this_answer_keeps_open_is_told_once() -> None:
    one = [{"decision": "liner", "verdicts": 1}]
    assert question_sentence(HOT | {"settles": one, "waiting": one}) == "Highest temperature (normal): the only open answer of 1 verdict of 1 decision"


def test_a_question_that_settles_nothing_by_itself_is_told_so() -> None:
    one = [{"decision": "liner", "verdicts": 1}]
    assert question_sentence(HOT | {"settles": [], "waiting": one}) == \
        "Highest temperature (normal): one of several open answers; 1 verdict of 1 decision waits for it"
