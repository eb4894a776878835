"""Which cautions and hand-over items go with a result: those that hold, and those that open answers may bring."""

from __future__ import annotations

from dataclasses import replace
from random import Random

from hypothesis import given, settings
from hypothesis import strategies as st

from generator.evaluate.prepared import prepare
from generator.evaluate.select import select
from generator.pack.model import NOT_APPLICABLE, Advice, Pack
from tests.agreement import meaning
from tests.agreement.random_packs import completion, random_application, random_pack
from tests.agreement.test_soundness import points_of

SEEDS = st.integers(0, 2 ** 32)


@settings(deadline=None, max_examples=150)
@given(SEEDS)
def test_with_single_answers_and_one_selection_exactly_what_holds_in_a_state_goes_with_the_result(seed: int) -> None:
    random = Random(seed)
    pack = random_pack(random)
    application = random_application(random, pack, 0.0)
    selected = select(prepare(pack), application)
    if selected.selections:
        chosen = {one.decision: one.candidate for one in selected.selections[0].chosen}
        expected = {one.id for one in pack.advice
                    if any(_holds(one, answers, chosen) for answers in points_of(application).values())}
        assert {one.id for one in selected.advice} == expected
        assert all(one.certain for one in selected.advice)


@settings(deadline=None, max_examples=150)
@given(SEEDS)
def test_what_any_completion_brings_is_shown_and_what_is_certain_stays(seed: int) -> None:
    random = Random(seed)
    pack = random_pack(random)
    pinned = tuple((decision.id, random.choice(decision.candidates).id) for decision in pack.decisions)
    application = replace(random_application(random, pack, 0.6), pinned=pinned)
    shown = {one.id: one.certain for one in select(prepare(pack), application).advice}
    assert shown["always"] is True
    for _ in range(5):
        one = replace(completion(random, pack, application), pinned=pinned)
        found = {each.id for each in select(prepare(pack), one).advice}
        assert found <= set(shown)
        assert {name for name, certain in shown.items() if certain} <= found


# private

def _holds(one: Advice, answers: meaning.Answers, chosen: dict[str, str]) -> bool:
    for condition in one.conditions:
        answer = chosen.get(condition.name, answers.get(condition.name))
        if hasattr(condition.cell, "ids"):
            if (NOT_APPLICABLE if answer is None else answer) not in condition.cell.ids:
                return False
        elif not (condition.cell.absent if answer is None else any(
                (part.low < answer or (part.low_in and part.low == answer))
                and (answer < part.high or (part.high_in and answer == part.high)) for part in condition.cell.intervals)):
            return False
    return True
