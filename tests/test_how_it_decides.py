"""The page that explains the rules: short, and every example on it decided alike by both engines and as argued."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from generator.analyse.cases import answer_case, check_cases
from generator.compile.knowledge import load_pack
from generator.evaluate.margins import margins
from generator.evaluate.next_question import ranked_questions
from generator.evaluate.prepared import prepare
from generator.evaluate.situation import situation_of
from generator.publish.load import load_worked
from generator.render.library import library
from generator.render.references import Unknown, resolve
from tests.agreement.summary import Engine, compare, document_of

GUIDE = Path(__file__).resolve().parent.parent / "guide"
PAGE = GUIDE / "how-it-decides.md"
MOST_LINES = 150                     # a definition of the rules that is longer than this is not read


@pytest.fixture(scope="module")
def worked():
    return load_worked(GUIDE)


def test_the_page_is_short_and_shows_every_example_and_every_table(worked) -> None:
    pack, texts = worked
    text = PAGE.read_text("utf-8")
    assert len(text.splitlines()) <= MOST_LINES
    shown = set(re.findall(r"\{\{ worked_(?:answer|question) (\w+) \}\}", text))
    assert shown == {case.id for case in texts.cases}
    assert set(re.findall(r"\{\{ worked_table (\w+) \}\}", text)) == {table.id for table in pack.tables}
    assert text.count("{{ worked_question ") == 5


def test_both_engines_decide_every_example_alike_and_as_argued(worked) -> None:
    pack, texts = worked
    prepared = prepare(pack)
    assert check_cases(prepared, texts) == []
    answered = [answer_case(prepared, case) for case in texts.cases]
    applications = [one.reading.application for one in answered]
    engine = Engine()
    engine.take(pack)
    engine.ask({"applications": [document_of(one) for one in applications]})
    assert compare(engine, applications, [one.selected for one in answered])[0] == []


def test_an_example_prints_what_the_engine_says_and_not_what_was_argued(worked) -> None:
    pack, texts = worked
    lib = library(pack, texts, worked)
    told = str(resolve(lib, ["worked_answer", "cleaned_hot"])).replace("<wbr>", "")
    assert "unsuitable" in told and "heat.soft_hot" in told and "in the state cleaning" in told
    asked = str(resolve(lib, ["worked_question", "try_first"]))
    assert asked.index("<summary>") < asked.index("caution")
    drawn = str(resolve(lib, ["worked_table", "heat"]))
    assert "<svg" in drawn and "href" not in drawn


def test_an_example_states_every_answer_and_every_blank(worked) -> None:
    lib = library(*worked, worked)
    told = str(resolve(lib, ["worked_answer", "blank"]))
    assert "Normal operation: temperature not answered, solids gritty, flow not answered, pipe wall not answered." in told
    assert "Cleaning: does not occur." in told
    kept = str(resolve(lib, ["worked_answer", "pinned"]))
    assert "Pinned: Stone." in kept
    assert "Leading selection: none is left; Size against velocity and Size and liner together cannot all be met" in kept


def test_the_formula_of_the_page_says_where_it_holds_and_for_which_bores(worked) -> None:
    told = str(resolve(library(*worked, worked), ["worked_formula", "velocity"])).replace("\u00a0", " ")
    assert "<math" in told and "up to 120 m³/h" in told and "Small: bore 50 mm; Large: bore 100 mm" in told


def test_an_example_that_does_not_exist_is_refused_with_what_to_type(worked) -> None:
    pack, texts = worked
    with pytest.raises(Unknown, match="heet"):
        resolve(library(pack, texts, worked), ["worked_table", "heet"])
    with pytest.raises(Unknown, match="how_it_decides"):
        resolve(library(*load_pack(Path(__file__).parent / "small_data")), ["worked_table", "heat"])


# Argued from the tables on the page before the engine was asked. The 36 m³/h are 5.093 m/s through 50 mm and 1.273 m/s
# through 100 mm; from 1 to 3 m/s both ends belong to "good".
MARGINS = [
    ("size", "small", "velocity", False, 3.0, False, "suitable", "speed.fast"),      # too fast: 3 m/s would do already
    ("size", "large", "velocity", False, 1.0, True, "caution", "speed.slow"),
    ("size", "large", "velocity", True, 3.0, True, "unsuitable", "speed.fast"),
]


def test_the_margins_on_the_page_are_as_argued(worked) -> None:
    pack, texts = worked
    prepared = prepare(pack)
    answered = answer_case(prepared, next(case for case in texts.cases if case.id == "too_fast_for_small"))
    found = [one for one in margins(situation_of(prepared, answered.reading.application), answered.selected)
             if one.decision == "size"]
    assert [(one.decision, one.candidate, one.column, one.above, one.limit, one.included, one.verdict, one.rule)
            for one in found] == MARGINS
    assert [round(one.value, 3) for one in found] == [5.093, 1.273, 1.273]
    told = str(resolve(library(pack, texts, worked), ["worked_margins", "too_fast_for_small"]))
    assert told.count("<li>") == 3 and "ends before 3 m/s, 2.09296 m/s below; from there suitable by the end of speed.fast" in told


def test_the_next_question_on_the_page_is_as_argued(worked) -> None:
    # Both sizes wait for the flow alone, and Stone with them; the straps alone wait for the wall.
    pack, texts = worked
    selected = answer_case(prepare(pack), next(case for case in texts.cases if case.id == "next_question")).selected
    assert [(one.input, one.alone) for one in ranked_questions(pack, selected)] == [
        ("flow", (("size", 2), ("liner", 1))), ("wall", (("earthing", 1),))]
    told = str(resolve(library(pack, texts, worked), ["worked_next", "next_question"]))
    assert told == "<p>Next question: Flow (normal): the only open answer of 3 verdicts of 2 decisions.</p>"
