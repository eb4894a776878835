"""The page that explains the rules: short, and every example on it decided alike by both engines and as argued."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from generator.analyse.cases import answer_case, check_cases
from generator.compile.knowledge import load_pack
from generator.evaluate.prepared import prepare
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
    told = str(resolve(lib, ["worked_answer", "cleaned_hot"]))
    assert "unsuitable" in told and "heat.soft_hot" in told and "in the state cleaning" in told
    asked = str(resolve(lib, ["worked_question", "try_first"]))
    assert asked.index("<summary>") < asked.index("caution")
    drawn = str(resolve(lib, ["worked_table", "heat"]))
    assert "<svg" in drawn and "href" not in drawn


def test_an_example_that_does_not_exist_is_refused_with_what_to_type(worked) -> None:
    pack, texts = worked
    with pytest.raises(Unknown, match="heet"):
        resolve(library(pack, texts, worked), ["worked_table", "heet"])
    with pytest.raises(Unknown, match="how_it_decides"):
        resolve(library(*load_pack(Path(__file__).parent / "small_data")), ["worked_table", "heat"])
