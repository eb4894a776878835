"""What the record of a medium says is not asked for, and a figure that is typed counts in every medium."""

from __future__ import annotations

import json
import subprocess

import pytest

from generator.evaluate.prepared import all_answers, prepare
from generator.evaluate.results import Answer, ChoiceSet, NumberSet, StateAnswers
from generator.pack.document import to_document
from generator.pack.model import Input, Option, Pack, State
from tests.agreement.summary import RUNNER

PACK = Pack(
    (Input("medium", "choice", True, "process", False, options=(Option("pure"), Option("spent"))),
     Input("fluoride", "number", True, "laboratory", False, "mg/L", 0.0, 100.0, recorded=True, asked_for=("spent",))),
    (State("normal", True),), (), (), (), ())
WHOLE, ABSENT, SOME = NumberSet(((0.0, 100.0),)), NumberSet((), True), NumberSet(((7.0, 7.0),))


@pytest.mark.parametrize(("media", "typed", "taken"), [
    (("pure",), None, ABSENT),               # its record says it
    (("spent",), None, WHOLE),               # its record says nothing of it
    (("pure", "spent"), None, WHOLE),        # it may be the one whose record says nothing
    (None, None, WHOLE),
    (("pure",), SOME, SOME),                 # a figure counts whatever the record says
    (("spent",), SOME, SOME)])
def test_a_recorded_input_that_is_blank_is_open_only_while_the_medium_may_be_one_whose_record_is_silent(
        media: tuple[str, ...] | None, typed: Answer | None, taken: Answer) -> None:
    answers = (() if media is None else (("medium", ChoiceSet(media)),)) + (
        () if typed is None else (("fluoride", typed),))
    assert all_answers(prepare(PACK), StateAnswers("normal", answers))["fluoride"] == taken
    assert _in_javascript(answers) == {"intervals": [list(one) for one in taken.intervals], "absent": taken.absent}


# private

def _in_javascript(answers: tuple[tuple[str, Answer], ...]) -> object:
    module = RUNNER.parents[2] / "generator" / "browser" / "engine" / "prepared.js"
    plain = [(name, {"ids": one.ids} if isinstance(one, ChoiceSet)
              else {"intervals": one.intervals, "absent": one.absent}) for name, one in answers]
    asked = json.dumps([to_document(PACK, ""), {"state": "normal", "answers": plain}])
    script = f"""
      import {{ allAnswers, prepare }} from {json.dumps(module.as_uri())};
      const [pack, state] = {asked};
      console.log(JSON.stringify(allAnswers(prepare(pack), state).get("fluoride")));"""
    done = subprocess.run(["node", "--input-type=module", "-e", script], capture_output=True, text=True, check=True)
    return json.loads(done.stdout)
