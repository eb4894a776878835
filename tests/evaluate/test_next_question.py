"""Tests which question comes next, and that its answer settles a verdict that waits for nothing else.

Where a partner has a say an answer can bring another partner to the front, and with it another question."""

from __future__ import annotations

from dataclasses import replace
from random import Random

from hypothesis import given, settings
from hypothesis import strategies as st

from generator.evaluate.next_question import next_question, ranked_questions
from generator.evaluate.prepared import prepare, whole_range
from generator.evaluate.results import Application, CandidateResult, DecisionResult, Question, Selected
from generator.evaluate.select import select
from generator.pack.model import Pack
from tests.agreement.random_packs import one_of, random_application, random_pack

PACK = random_pack(Random(0))                    # flow per state, chloride shared; normal and cleaning


def test_the_question_that_settles_most_alone_comes_first_then_the_one_that_most_wait_for() -> None:
    decisions = (_decision("size", [("normal", "flow")], [("normal", "flow"), ("normal", "medium")],
                           [("normal", "medium"), ("cleaning", "medium")]),
                 _decision("liner", [("normal", "flow")], [("cleaning", "medium")], []))
    ranked = ranked_questions(PACK, Selected("x", decisions, ()))
    assert ranked == (
        Question("normal", "flow", (("size", 1), ("liner", 1)), (("size", 2), ("liner", 1))),
        Question("cleaning", "medium", (("liner", 1),), (("size", 1), ("liner", 1))),
        Question("normal", "medium", (), (("size", 2),)))


def test_what_all_states_share_is_one_question_of_the_first_state() -> None:
    decisions = (_decision("size", [("normal", "chloride"), ("cleaning", "chloride")]),)
    assert next_question(PACK, Selected("x", decisions, ())) == Question(
        "normal", "chloride", (("size", 1),), (("size", 1),))


def test_of_equal_questions_the_first_of_the_vocabulary_comes_first() -> None:
    decisions = (_decision("size", [("normal", "medium")], [("normal", "flow")]),)
    assert next_question(PACK, Selected("x", decisions, ())).input == "flow"


def test_there_is_no_next_question_where_nothing_waits() -> None:
    assert next_question(PACK, Selected("x", (_decision("size", []),), ())) is None


@given(st.integers(0, 10**9))
@settings(max_examples=100, deadline=None)
def test_any_answer_to_the_next_question_settles_every_own_verdict_that_waits_for_it_alone(seed: int) -> None:
    random = Random(seed)
    pack = random_pack(random)
    prepared = prepare(pack)
    application = random_application(random, pack, 0.5)
    before = select(prepared, application)
    question = next_question(pack, before)
    if question is None:
        return
    shared = {item.id for item in pack.inputs if not item.per_state}
    joined = {name for table in pack.tables if len(table.decisions) > 1 for name in table.decisions}
    after = select(prepared, _answered(random, pack, application, question))
    for old, new in zip(before.decisions, after.decisions):
        now = {one.candidate: one for one in new.candidates}
        for one in old.candidates if old.decision not in joined else ():
            asked = {(pack.states[0].id if name in shared else state, name) for state, name in one.open_inputs}
            if asked == {(question.state, question.input)}:
                assert now[one.candidate].best == now[one.candidate].worst, (question, one)


# private

def _decision(name: str, *waiting: list[tuple[str, str]]) -> DecisionResult:
    return DecisionResult(name, True, tuple(
        CandidateResult(f"{name}_{place}", "open", "suitable", "unsuitable", (), tuple(asked))
        for place, asked in enumerate(waiting)))


def _answered(random: Random, pack: Pack, application: Application, question: Question) -> Application:
    item = next(one for one in pack.inputs if one.id == question.input)
    known = next(dict(state.answers) for state in application.states if state.state == question.state)
    answer = one_of(random, known.get(item.id, whole_range(item)), ())
    return replace(application, states=tuple(
        replace(state, answers=tuple((name, answer if name == item.id else one) for name, one in state.answers))
        if state.state == question.state or not item.per_state else state for state in application.states))
