"""Tests that a margin is the nearest place where the verdict changes, against asking every place.

What is asked shares no code with the margins: the own tables of a decision in the design's words, one row after the
other, and the shared tables as they stand with the partners in play.
"""

from __future__ import annotations

from dataclasses import replace
from random import Random

from hypothesis import given, settings
from hypothesis import strategies as st

from generator.evaluate.margins import margins, nearest_margin
from generator.evaluate.prepared import prepare
from generator.evaluate.results import Application, ChoiceSet, Margin, StateAnswers
from generator.evaluate.select import select
from generator.evaluate.situation import situation_of
from generator.pack.model import VERDICTS, Column, Input, Interval, Pack
from tests.agreement.limits import neighbours
from tests.agreement.meaning import Answers, best_with_partners, derived_value, groups_with, own_verdicts
from tests.agreement.moved import confirm
from tests.agreement.random_packs import completion, random_application, random_pack

GRID = 60                                        # places looked at over a column's range, beside its limits


@given(st.integers(0, 10**9))
@settings(max_examples=60, deadline=None)
def test_margins_of_single_answers_are_the_first_changes_found_by_looking_everywhere(seed: int) -> None:
    random = Random(seed)
    pack = random_pack(random)
    application = completion(random, pack, random_application(random, pack, 0.2))
    found = _margins(pack, application)
    states = {state.state: _plain(state) for state in application.states}
    for axis, range_, asked in _axes(pack, states):
        decision, candidate, state, column, value = axis
        for above in (False, True):
            mine = [one for one in found if (one.decision, one.candidate, one.state, one.column, one.above)
                    == (decision, candidate, state or one.state, column, above)]
            _check(mine, value, range_, above, asked, _limits(pack, column))


@given(st.integers(0, 10**9))
@settings(max_examples=40, deadline=None)
def test_a_decided_candidate_of_open_answers_has_margins_that_the_engine_confirms_on_both_sides(seed: int) -> None:
    random = Random(seed)
    pack = random_pack(random)
    prepared = prepare(pack)
    confirm(prepared, random_application(random, pack, 0.5))


def test_nearest_margin_is_the_smallest_change_in_proportion() -> None:
    margin = Margin("liner", "pfa", "normal", "temperature_max", 41.0, 80.0, True, True, "suitable", "caution",
                    "caution", "caution", "a.b", "a")
    closer = replace(margin, column="pressure_min", value=1.0, limit=0.9, above=False)
    assert nearest_margin((margin, closer)) == closer
    assert nearest_margin((margin, replace(margin, column="x"))) == margin
    assert nearest_margin(()) is None


# private

def _margins(pack: Pack, application: Application) -> tuple[Margin, ...]:
    prepared = prepare(pack)
    return margins(situation_of(prepared, application), select(prepared, application))


def _plain(state: StateAnswers) -> Answers:
    return {name: answer.ids[0] if isinstance(answer, ChoiceSet) else
            answer.intervals[0][0] if answer.intervals else None for name, answer in state.answers}


def _limits(pack: Pack, column: str) -> set[float]:
    return {end for table in pack.tables for one in table.columns if one.name == column
            for cell in one.cells for part in cell.intervals for end in (part.low, part.high)}


def _axes(pack: Pack, states: dict[str, Answers]):
    """Every column of the own tables that has a value, per candidate: (decision, candidate, state, column, value), its
    range, and the own verdict with the column at any number."""
    first = next(iter(states))
    for decision in pack.decisions:
        own = [table for table in pack.tables if table.decisions == (decision.id,)]
        now = own_verdicts(pack, states)
        names = {(column.source, column.name) for table in own for column in table.columns if column.kind == "number"}
        for place, option in enumerate(decision.candidates):
            still = min((best_with_partners(pack, states, group, {decision.id: place}, now)[0]
                         for group in groups_with(pack, states, decision.id)), default=len(VERDICTS) - 1)
            for source, name in sorted(names):
                item = next((one for one in pack.inputs if one.id == name), None)
                derived = next((one for one in pack.derived if one.id == name), None)
                shared = not item.per_state if item else name == "load"      # made of the chloride, which is shared
                for state in (first,) if shared else states:
                    value = states[state][name] if item else derived_value(
                        pack, name, states[state], {decision.id: place})
                    if value is None:
                        continue
                    where = states if shared else {state: states[state]}

                    def asked(number: float, name=name, where=where, place=place, source=source,
                              decision=decision, still=still) -> int:
                        there = pack if source == "input" else _as_input(pack, decision.id, name)
                        moved = {one: known | {name: number} for one, known in states.items() if one in where}
                        others = {one: known for one, known in states.items() if one not in where}
                        return min(still, own_verdicts(there, moved)[decision.id][place],
                                   own_verdicts(pack, others)[decision.id][place])

                    range_ = Interval(item.low, True, item.high, True) if item else derived.valid
                    yield (decision.id, option.id, None if shared else state, name, value), range_, asked


def _as_input(pack: Pack, decision: str, name: str) -> Pack:
    """The pack with a derived value as an answer of its own, and only the decision's own tables."""
    def column(one: Column) -> Column:
        return replace(one, source="input") if one.name == name else one

    item = Input(name, "number", True, "process", True, "1", 0.0, 20.0)
    return replace(pack, inputs=(*pack.inputs, item), tables=tuple(
        replace(table, columns=tuple(column(one) for one in table.columns))
        for table in pack.tables if table.decisions == (decision,)))


def _check(mine: list[Margin], value: float, range_: Interval, above: bool, asked, limits: set[float]) -> None:
    now, side = asked(value), 1 if above else -1
    low, high = range_.low, range_.high
    places = {round(low + (high - low) * step / GRID, 9) for step in range(GRID + 1)}
    places |= {near for limit in limits for near in (limit, *neighbours(limit))}
    ahead = sorted((place for place in places if (place - value) * side > 0 and low <= place <= high),
                   reverse=not above)
    if not mine:
        assert all(asked(place) == now for place in ahead)
        return
    (margin,) = mine
    assert margin.value == value and (margin.limit - value) * side >= 0
    beside = neighbours(margin.limit)[1 if above else 0]
    assert all(asked(place) == now for place in ahead if (margin.limit - place) * side > 0)
    assert (asked(margin.limit) == now) is margin.included
    changed = asked(beside if margin.included else margin.limit)
    assert changed != now and margin.now == VERDICTS[now]
    assert VERDICTS[changed] == margin.verdict == margin.best == margin.worst
