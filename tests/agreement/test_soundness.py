"""What is decided stays decided, and single answers mean what the design's words say."""

from __future__ import annotations

import os
from collections.abc import Callable
from itertools import product
from random import Random

from hypothesis import given, settings
from hypothesis import strategies as st

from generator.evaluate.prepared import prepare
from generator.evaluate.results import Answer, Application, ChoiceSet, Selected
from generator.evaluate.select import select
from generator.evaluate.tables import is_single
from generator.pack.model import NOT_APPLICABLE, VERDICTS, Column, Pack, Table
from tests.agreement import meaning
from tests.agreement.drawing import draw_set_application
from tests.agreement.random_packs import completion, random_application, random_pack
from tests.agreement.shipped import desk, share_out
from tests.agreement.summary import document_of

SET_APPLICATIONS = int(os.environ.get("SOUNDNESS_APPLICATIONS", 250))    # 5,000 make a run of 100,000 completions
COMPLETIONS = 20
SEEDS = st.integers(0, 2 ** 32)


@settings(deadline=None, max_examples=300)
@given(SEEDS)
def test_select_gives_the_verdicts_of_the_words_when_every_answer_is_single(seed: int) -> None:
    random = Random(seed)
    pack = random_pack(random)
    application = random_application(random, pack, 0.0)
    selected = select(prepare(pack), application)
    expected = meaning.verdicts(pack, points_of(application))
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
    states = points_of(application)
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
        expected = meaning.verdicts(pack, points_of(completion(random, pack, application)))
        for decision in pack.decisions:
            bounds = _by_candidate(pack, selected, decision.id)
            for (worst, best), verdict in zip(bounds, expected[decision.id]):
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
def test_the_lower_bound_is_reached_by_some_completion_when_no_table_is_shared_or_reads_a_formula(
        seed: int) -> None:
    random = Random(seed)
    pack = random_pack(random, with_derived=False)
    alone = Pack(pack.inputs, pack.states, pack.decisions, pack.formulas, (),
                 tuple(table for table in pack.tables if len(table.decisions) == 1))
    application = random_application(random, alone, 0.4)
    selected = select(prepare(alone), application)
    for decision in alone.decisions:
        reached = tuple(_lowest_reached(alone, application, decision.id, place)
                        for place in range(len(decision.candidates)))
        assert tuple(worst for worst, _ in _by_candidate(alone, selected, decision.id)) == reached


def test_decided_verdicts_of_shipped_rules_stay_so_for_sampled_completions(
        record_property: Callable[[str, object], None]) -> None:
    decided = completions = unsettled = unmoved = 0
    misses: list[str] = []
    for found in share_out(_complete_portion, SET_APPLICATIONS, 50):
        decided, completions, misses = decided + found[0], completions + found[1], misses + found[2]
        unsettled, unmoved = unsettled + found[3], unmoved + found[4]
    record_property("counted", f"{SET_APPLICATIONS} applications with sets, {completions} completions, "
                               f"{decided} decided verdicts looked at again; {len(misses)} misses; of {unsettled} "
                               f"unsettled verdicts {unmoved / unsettled:.1%} were the same in all "
                               f"{COMPLETIONS} completions")
    assert completions == SET_APPLICATIONS * COMPLETIONS
    assert decided > 100 * SET_APPLICATIONS
    assert not misses, misses[:5]


def points_of(application: Application) -> dict[str, meaning.Answers]:
    """Single answers as `meaning` reads them."""
    points: dict[str, meaning.Answers] = {}
    for state in application.states:
        points[state.state] = {name: _point(answer) for name, answer in state.answers}
    return points


# private

def _point(answer: Answer) -> float | str | None:
    if isinstance(answer, ChoiceSet):
        return None if answer.ids[0] == NOT_APPLICABLE else answer.ids[0]
    return answer.intervals[0][0] if answer.intervals else None


def _complete_portion(numbers: range) -> tuple[int, int, list[str], int, int]:
    """How many decided verdicts and completions were looked at, the verdicts that left their bounds, and how many
    verdicts were unsettled and yet came out alike in every completion."""
    place = desk()
    decided, completions, misses, unsettled, unmoved = 0, 0, [], 0, 0
    for number in numbers:
        random = Random(f"completions {number}")
        application = draw_set_application(place.limits, number)
        drawn = [completion(random, place.pack, application, place.limits.numbers)
                 for _ in range(COMPLETIONS)]
        place.engine.ask({"applications": [document_of(one) for one in drawn], "verdicts": True})
        selected = select(place.prepared, application)
        bounds = {f"{decision.id} {option.id}": found for decision in place.pack.decisions for option, found in
                  zip(decision.candidates, _by_candidate(place.pack, selected, decision.id))}
        seen: dict[str, set[str]] = {name: set() for name, (worst, best) in bounds.items() if worst != best}
        for verdicts in place.engine.listen():
            completions += 1
            for name, verdict in verdicts.items():
                worst, best = bounds[name]
                decided += worst == best
                if worst != best:
                    seen[name].add(verdict)
                if not worst <= VERDICTS.index(verdict) <= best:
                    misses.append(f"application {number}, {name}: {verdict} is outside {worst}..{best}")
        unsettled += len(seen)
        unmoved += sum(len(verdicts) == 1 for verdicts in seen.values())
    return decided, completions, misses, unsettled, unmoved


def _lowest_reached(pack: Pack, application: Application, decision: str, place: int) -> int:
    """The lowest verdict over tables, states and every point of the answers at which a table can change its
    mind."""
    lowest = VERDICTS.index("suitable")
    for state in application.states:
        answers = dict(state.answers)
        for table in pack.tables:
            if table.decisions != (decision,) or not meaning.applies(pack, table, state.state):
                continue
            columns = [column for column in table.columns if column.source == "input"]
            for values in product(*(_values_in(column, answers[column.name]) for column in columns)):
                point = {column.name: value for column, value in zip(columns, values)}
                said = meaning.table_says(pack, table, point, {decision: place})
                lowest = min(lowest, said.verdict if said else lowest)
    return lowest


def _values_in(column: Column, answer: Answer) -> list[float | str | None]:
    """The ids of a choice; of a number its ends, the limits inside, and one number between any two of
    these."""
    if isinstance(answer, ChoiceSet):
        return [None if name == NOT_APPLICABLE else name for name in answer.ids]
    values: list[float | str | None] = [None] if answer.absent else []
    for low, high in answer.intervals:
        limits = {end for cell in column.cells for part in cell.intervals for end in (part.low, part.high)}
        stops = sorted({low, high, *(limit for limit in limits if low < limit < high)})
        values += [*stops, *((left + right) / 2 for left, right in zip(stops, stops[1:]))]
    return values


def _by_candidate(pack: Pack, selected: Selected, decision: str) -> tuple[tuple[int, int], ...]:
    results = {result.candidate: result for item in selected.decisions if item.decision == decision
               for result in item.candidates}
    options = next(item.candidates for item in pack.decisions if item.id == decision)
    return tuple((VERDICTS.index(results[option.id].worst), VERDICTS.index(results[option.id].best))
                 for option in options)


def _matching_rows(pack: Pack, states: dict[str, meaning.Answers], own: dict[str, tuple[int, ...]],
                   decision: str, place: int) -> list[tuple[str, str, str]]:
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
    return [(_rule(pack.tables[at], row), names[turn], VERDICTS[verdict])
            for verdict, at, turn, row in sorted(found)]


def _rule(table: Table, row: int) -> str:
    return f"{table.id}.no_value" if row == len(table.rows) else table.rows[row].rule


def _partners(group: tuple[str, ...], fixed: meaning.Chosen,
              own: dict[str, tuple[int, ...]]) -> list[meaning.Chosen]:
    pools = [(fixed[name],) if name in fixed else meaning.in_play(own[name]) for name in group]
    return [dict(zip(group, places)) for places in product(*pools)]
