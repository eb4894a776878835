"""What is decided stays decided, and single answers mean what the design's words say."""

from __future__ import annotations

from random import Random

from hypothesis import given, settings
from hypothesis import strategies as st

from generator.evaluate.prepared import prepare
from generator.evaluate.results import Application, ChoiceSet, Selected
from generator.evaluate.select import select
from generator.evaluate.tables import is_single
from generator.pack.model import NOT_APPLICABLE, VERDICTS, Pack
from tests.agreement import meaning
from tests.agreement.random_packs import completion, random_application, random_pack

SEEDS = st.integers(0, 2 ** 32)


@settings(deadline=None, max_examples=300)
@given(SEEDS)
def test_select_gives_the_verdicts_of_the_words_when_every_answer_is_single(seed: int) -> None:
    random = Random(seed)
    pack = random_pack(random)
    application = random_application(random, pack, 0.0)
    selected = select(prepare(pack), application)
    expected = meaning.verdicts(pack, _points(application))
    for decision in selected.decisions:
        ranks = _by_candidate(pack, selected, decision.decision)
        assert ranks == tuple((rank, rank) for rank in expected[decision.decision]), decision.decision


@settings(deadline=None, max_examples=300)
@given(SEEDS)
def test_reasons_are_the_matching_rows_worst_first_then_by_table_state_and_row_when_every_answer_is_single(
        seed: int) -> None:
    random = Random(seed)
    pack = random_pack(random)
    application = random_application(random, pack, 0.0)
    states = _points(application)
    own = meaning.own_verdicts(pack, states)
    for decision in select(prepare(pack), application).decisions:
        options = next(item.candidates for item in pack.decisions if item.id == decision.decision)
        for result in decision.candidates:
            place = [option.id for option in options].index(result.candidate)
            expected = _matching_rows(pack, states, own, decision.decision, place)
            assert [(reason.rule, reason.state, reason.verdict) for reason in result.reasons] == expected


@settings(deadline=None, max_examples=300)
@given(SEEDS)
def test_bounds_hold_for_every_completion_when_answers_are_sets(seed: int) -> None:
    random = Random(seed)
    pack = random_pack(random)
    application = random_application(random, pack, 0.6)
    selected = select(prepare(pack), application)
    for _ in range(8):
        expected = meaning.verdicts(pack, _points(completion(random, pack, application)))
        for decision in pack.decisions:
            for (worst, best), verdict in zip(_by_candidate(pack, selected, decision.id), expected[decision.id]):
                assert worst <= verdict <= best, (decision.id, application)


@settings(deadline=None, max_examples=200)
@given(SEEDS)
def test_open_inputs_are_sets_and_are_named_exactly_when_the_verdict_is_not_settled(seed: int) -> None:
    random = Random(seed)
    pack = random_pack(random)
    application = random_application(random, pack, 0.6)
    answers = {state.state: dict(state.answers) for state in application.states}
    for decision in select(prepare(pack), application).decisions:
        for result in decision.candidates:
            assert bool(result.open_inputs) == (result.worst != result.best)
            assert not any(is_single(answers[state][name]) for state, name in result.open_inputs)


@settings(deadline=None, max_examples=200)
@given(SEEDS)
def test_the_lower_bound_is_reached_by_some_completion_when_no_table_is_shared_or_reads_a_formula(seed: int) -> None:
    random = Random(seed)
    pack = random_pack(random, with_derived=False)
    alone = Pack(pack.inputs, pack.states, pack.decisions, pack.formulas, (),
                 tuple(table for table in pack.tables if len(table.decisions) == 1))
    application = random_application(random, alone, 0.4)
    selected = select(prepare(alone), application)
    reached = {decision.id: [3] * len(decision.candidates) for decision in alone.decisions}
    for _ in range(400):
        for name, ranks in meaning.own_verdicts(alone, _points(completion(random, alone, application))).items():
            reached[name] = [min(pair) for pair in zip(reached[name], ranks)]
        if all([worst for worst, _ in _by_candidate(alone, selected, name)] == found
               for name, found in reached.items()):
            return
    raise AssertionError(f"a lower bound that no completion reaches, seed {seed}")


# private

def _points(application: Application) -> dict[str, meaning.Answers]:
    points: dict[str, meaning.Answers] = {}
    for state in application.states:
        points[state.state] = {
            name: (None if answer.ids[0] == NOT_APPLICABLE else answer.ids[0]) if isinstance(answer, ChoiceSet)
            else answer.intervals[0][0] if answer.intervals else None for name, answer in state.answers}
    return points


def _by_candidate(pack: Pack, selected: Selected, decision: str) -> tuple[tuple[int, int], ...]:
    results = {result.candidate: result for item in selected.decisions if item.decision == decision
               for result in item.candidates}
    options = next(item.candidates for item in pack.decisions if item.id == decision)
    return tuple((VERDICTS.index(results[option.id].worst), VERDICTS.index(results[option.id].best))
                 for option in options)


def _matching_rows(pack: Pack, states: dict[str, meaning.Answers], own: dict[str, tuple[int, ...]], decision: str,
                   place: int) -> list[tuple[str, str, str]]:
    """Rule, state and verdict of every row behind a verdict, in the order of the design."""
    found: set[tuple[int, int, int, int]] = set()
    for group in ((decision,), *meaning.groups_with(pack, states, decision)):
        best, partner = meaning.best_with_partners(pack, states, group, {decision: place}, own)
        failing = best == 0 and len(group) > 1
        for at, table in enumerate(pack.tables):
            if table.decisions != group:
                continue
            for turn, (state, answers) in enumerate(states.items()):
                if not meaning.applies(pack, table, state):
                    continue
                for chosen in _partners(group, {decision: place}, own) if failing else (partner,):
                    said = meaning.table_says(pack, table, answers, chosen)
                    if said is not None and failing and said.verdict == 0:
                        found.add((0, at, turn, next(row for row, verdict in said.rows if verdict == 0)))
                    elif said is not None and not failing:
                        found |= {(verdict, at, turn, row) for row, verdict in said.rows}
    names = tuple(states)
    return [(f"{pack.tables[at].id}.no_value" if row == len(pack.tables[at].rows) else pack.tables[at].rows[row].rule,
             names[turn], VERDICTS[verdict]) for verdict, at, turn, row in sorted(found)]


def _partners(group: tuple[str, ...], fixed: meaning.Chosen, own: dict[str, tuple[int, ...]]) -> list[meaning.Chosen]:
    pools = [(fixed[name],) if name in fixed else meaning.in_play(own[name]) for name in group]
    return [dict(zip(group, places)) for places in meaning.product(*pools)]
