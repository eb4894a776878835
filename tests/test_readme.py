"""What the README shows is what the rules say. `WRITE_README=1 python -m pytest tests/test_readme.py` writes its block."""

import os
import re
from pathlib import Path

from generator.analyse.cases import answer_case
from generator.render.answer_document import answer_document
from generator.render.library import library
from generator.render.one_rule import one_rule_views
from tests import shipped

ROOT = Path(__file__).resolve().parent.parent
RULE, CASE = "liner_temperature.polyurethane_too_hot", "river_water_41"
BLOCK = re.compile(r"(<!-- one rule:[^\n]*-->\n).*?(<!-- end of one rule -->)", re.DOTALL)


def record_of(rule: str, file: str, line: int) -> str:
    """The rule's lines in its file: from its dash to the next rule."""
    lines = (ROOT / file).read_text("utf-8").splitlines()[line - 1:]
    after = next((place for place, text in enumerate(lines[1:], 1) if text.startswith("  - id:")), len(lines))
    return "\n".join(lines[:after])


def views() -> str:
    pack, texts = shipped.base()
    case = next(case for case in texts.cases if case.id == CASE)
    answered = answer_case(shipped.prepared_base(), case)
    document = answer_document(pack, texts, ((answered.reading.application, answered.selected, (), (), None),), "2026-11-25")
    expected = next(one for one in case.expect if one.rule == RULE)
    candidate = next(candidate for decision in document["applications"][0]["decisions"]
                     for candidate in decision["candidates"] if candidate["candidate"] == expected.candidate)
    rule = next(rule for rule in texts.rules if rule.rule == RULE)
    return one_rule_views(library(pack, texts), RULE, record_of(RULE, rule.file, rule.line), CASE, candidate, expected)


def test_the_readme_shows_one_rule_and_its_views_as_they_are_now() -> None:
    readme = (ROOT / "README.md").read_text("utf-8")
    fresh = BLOCK.sub(lambda match: f"{match[1]}{views()}\n{match[2]}", readme)
    if os.environ.get("WRITE_README"):
        (ROOT / "README.md").write_text(fresh, "utf-8")
        return
    assert readme == fresh, "run: WRITE_README=1 python -m pytest tests/test_readme.py"


def test_the_readme_names_only_commands_that_exist() -> None:
    from generator.commands.main import COMMANDS
    named = set(re.findall(r"`guide (\w+)", (ROOT / "README.md").read_text("utf-8")))
    assert named == {command.__name__.rsplit(".", 1)[1] for command in COMMANDS}
