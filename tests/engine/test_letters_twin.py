"""Compares the letters of both sides, word for word, and what the record says of margins and the next question."""

from __future__ import annotations

import json

import pytest

from generator.answers.application import read_application
from generator.evaluate.letters import letters
from generator.evaluate.margins import margins
from generator.evaluate.next_question import ranked_questions
from generator.evaluate.select import select
from generator.evaluate.situation import situation_of
from generator.render.answer_document import Understood
from generator.render.browser_texts import texts_document
from generator.render.component_words import component_names
from generator.render.letter_words import letter_text
from generator.render.margin_words import margin_records, margin_sentence
from generator.render.question_words import question_record, question_sentence
from tests import shipped
from tests.agreement.summary import document_of
from tests.engine.twin import Twin, plain

POINTS = {
    "blank": {"id": "blank", "title": "", "normal": {}},
    "brine": {"id": "brine_line", "title": "Brine to the cells",
              "normal": {"medium": "sodium_chloride_brine", "temperature_max": "60 to 120 degC", "pipe_size": "dn100"},
              "cleaning": {"medium": "drinking_water", "temperature_max": "40 degC"}, "steaming": "none"},
    "mixture": {"id": "mixed", "title": "Rinse", "normal": {
        "medium": "seawater", "mixed_with": "citric acid at 5 mass %", "temperature_min": "5 degC", "temperature_max": "45 degC",
        "flow_min": "20 m3/h", "flow_normal": "40 m3/h", "flow_max": "450 gpm", "pipe_size": "dn100"}},
}


@pytest.fixture(scope="module")
def held(twin: Twin) -> dict[str, dict]:
    twin.hold("letters_pack", shipped.base()[0])
    twin.hold("letters_texts", json.loads(texts_document(shipped.library_of_base())))
    return {"pack": {"$kept": "letters_pack"}, "texts": {"$kept": "letters_texts"}}


@pytest.mark.parametrize("point", POINTS)
def test_letters_say_the_same_on_both_sides_and_every_open_input_stands_in_one_of_them(
        twin: Twin, held: dict[str, dict], point: str) -> None:
    pack, texts = shipped.base()
    reading = read_application(pack, POINTS[point])
    assert not reading.problems
    selected = select(shipped.prepared_base(), reading.application)
    mine = letters(pack, selected)
    sparse = {"decisions": [{"decision": one.decision, "candidates": [
        {"candidate": each.candidate, "open_inputs": each.open_inputs} for each in one.candidates]}
        for one in selected.decisions]}
    assert twin.call("letters", "letters", held["pack"], sparse) == plain(mine)
    understood = tuple(Understood(one.state, one.input, one.typed, one.understood) for one in reading.understood)
    read = {"application": document_of(reading.application), "understood": plain(reading.understood)}
    for letter in mine:
        text = letter_text(pack, texts, reading.application, understood, letter)
        assert twin.call("../letter_words", "letterText", held["pack"], held["texts"], read, letter) == text
        assert "Given so far: 60 to 120 degC (Normal operation)" in text or point != "brine" or letter.asked_of != "process"
    open_inputs = {name for one in selected.decisions for each in one.candidates for _, name in each.open_inputs}
    asked = [one.input for letter in mine for one in letter.asked]
    assert sorted(asked) == sorted(open_inputs) and open_inputs
    for question in ranked_questions(pack, selected)[:20]:
        words = twin.call("../question_words", "questionWords", question)
        assert question_sentence(question_record(texts, question)).endswith(f"): {words}")


@pytest.mark.parametrize("point", POINTS)
def test_margins_are_told_in_the_same_words_on_both_sides(twin: Twin, point: str) -> None:
    pack, texts = shipped.base()
    prepared = shipped.prepared_base()
    application = read_application(pack, POINTS[point]).application
    found = margins(situation_of(prepared, application), select(prepared, application))
    names = component_names(texts, application)
    titles = {one.id: one for one in (*texts.inputs, *texts.derived)}
    view = {"inputs": {"$map": [[one.id, plain(one)] for one in texts.inputs]},
            "derived": {"$map": [[key, plain(one)] for key, one in titles.items()]},
            "liquids": {"$map": [[f"{state} {place}", name] for (state, place), name in names.items()]}}
    words = twin.batch("../margin_words", "marginWords", [(view, one) for one in found[:40]])
    assert [f"{mine} {one.rule}" for mine, one in zip(words, found)] == [
        margin_sentence(record) for record in margin_records(texts, names, found)[:40]]
    assert found or point == "blank"
    assert point != "mixture" or any(one.components for one in found)
