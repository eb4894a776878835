"""Gives back the open inputs of an application by who usually knows them: what a letter to each of them asks."""

from __future__ import annotations

from generator.evaluate.results import Asked, Letter, Selected
from generator.pack.model import Pack


def letters(pack: Pack, selected: Selected) -> tuple[Letter, ...]:
    """One letter per addressee, in the order in which the vocabulary first names them; its questions are in the
    vocabulary's order too. An input that several states share, or leave open alike, is one question."""
    shared = {item.id for item in pack.inputs if not item.per_state}
    states: dict[str, set[str]] = {}
    alone: dict[str, dict[str, list[str]]] = {}
    waiting: dict[str, dict[str, list[str]]] = {}
    for decision in selected.decisions:
        for one in decision.candidates:
            names = {name for _, name in one.open_inputs}
            for state, name in one.open_inputs:
                states.setdefault(name, set()).add(pack.states[0].id if name in shared else state)
            for name in names:
                waiting.setdefault(name, {}).setdefault(decision.decision, []).append(one.candidate)
                if len(names) == 1:
                    alone.setdefault(name, {}).setdefault(decision.decision, []).append(one.candidate)
    found: dict[str, list[Asked]] = {item.asked_of: [] for item in pack.inputs}
    for item in pack.inputs:
        if item.id in states:
            found[item.asked_of].append(Asked(
                item.id, tuple(state.id for state in pack.states if state.id in states[item.id]),
                _pairs(alone.get(item.id, {})), _pairs(waiting[item.id])))
    return tuple(Letter(asked_of, tuple(asked)) for asked_of, asked in found.items() if asked)


# private

def _pairs(found: dict[str, list[str]]) -> tuple[tuple[str, tuple[str, ...]], ...]:
    return tuple((decision, tuple(candidates)) for decision, candidates in found.items())
