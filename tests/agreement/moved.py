"""Moves the one column of a margin through the engine, to just inside and just outside of what was told."""

from __future__ import annotations

from dataclasses import replace

from generator.evaluate.choice import own_bounds
from generator.evaluate.courses import STEP
from generator.evaluate.margins import margins
from generator.evaluate.mixtures import Part, parts_of
from generator.evaluate.numbers import round_to_12
from generator.evaluate.prepared import Prepared
from generator.evaluate.results import Application, Component, Margin, NumberSet
from generator.evaluate.select import read_tables, select
from generator.evaluate.situation import Situation, shared_bounds, situation_of
from generator.evaluate.tables import Bounds
from generator.pack.model import CONCENTRATION, VERDICTS
from tests.agreement.limits import neighbours


def confirm(prepared: Prepared, application: Application, most: int = 1000) -> int:
    """Asserts that both sides of every margin give what was told; at most `most` of them, spread evenly. Their number.

    Inside is the last 12-digit number at which the verdict holds and the middle of the way there, outside the first at
    which it does not.
    """
    situation = situation_of(prepared, application)
    found = margins(situation, select(prepared, application))
    for margin in found[::max(1, len(found) // most)]:
        below, above = _beside(margin.limit)
        before, beyond = (below, above) if margin.above else (above, below)
        inside, outside = (margin.limit, beyond) if margin.included else (before, margin.limit)
        side = 1 if margin.above else -1
        if (inside - margin.value) * side >= 0:
            middle = round_to_12((inside + margin.value) / 2)
            now = Bounds(VERDICTS.index(margin.now), VERDICTS.index(margin.now))
            assert bounds_at(situation, application, margin, inside) == now, (inside, margin)
            assert bounds_at(situation, application, margin, middle) == now, (middle, margin)
        assert bounds_at(situation, application, margin, outside) == Bounds(
            VERDICTS.index(margin.worst), VERDICTS.index(margin.best)), (outside, margin)
    return len(found)


def bounds_at(situation: Situation, application: Application, margin: Margin, number: float) -> Bounds:
    """The verdict of the margin's candidate with its column at this number: all of its own tables read anew, and the
    shared tables as they were."""
    prepared = situation.prepared
    decision = next(place for place, one in enumerate(prepared.pack.decisions) if one.id == margin.decision)
    candidate = next(place for place, one in enumerate(prepared.pack.decisions[decision].candidates)
                     if one.id == margin.candidate)
    answer = NumberSet(((number, number),))
    item = next((one for one in prepared.pack.inputs if one.id == margin.column), None)
    if item is not None:
        states = tuple(_answered(state, margin, answer) if state.state == margin.state or not item.per_state else state
                       for state in application.states)
        parts = {state.state: parts_of(prepared, state) for state in states}
    else:
        shared = prepared.behind[margin.column] <= {one.id for one in prepared.pack.inputs if not one.per_state}
        parts = {state: tuple(_derived(part, margin, answer) if shared or state == margin.state else part
                              for part in several) for state, several in situation.parts.items()}
    own = own_bounds(prepared.sizes, read_tables(prepared, parts))[decision][candidate]
    return own.meet(shared_bounds(situation, decision, candidate))


# private

def _beside(limit: float) -> tuple[float, float]:
    """The 12-digit neighbours; next to zero a formula's limit is told to 1e-12 only, as generator/evaluate/courses.py says."""
    return neighbours(limit) if limit == 0 or abs(limit) > 1e-9 else (limit - STEP, limit + STEP)


def _answered(state, margin: Margin, answer: NumberSet):
    """The state with another answer; a concentration is that of the component that the margin names."""
    place = margin.components[0] if margin.column == CONCENTRATION and margin.components else 1
    if place > 1:
        known: list[Component] = list(state.components)
        known[place - 2] = replace(known[place - 2], concentration=answer)
        return replace(state, components=tuple(known))
    return replace(state, answers=(*((name, one) for name, one in state.answers if name != margin.column),
                                   (margin.column, answer)))


def _derived(part: Part, margin: Margin, answer: NumberSet) -> Part:
    return replace(part, derived=part.derived | {
        margin.column: dict.fromkeys(part.derived[margin.column], answer)})
