"""Gives back the open questions of an application, ranked: the one first whose answer alone settles most.

A verdict is open here while an answer could still move it. An answer settles it alone where it waits for no other
one. What all states share is asked once, in the first state of the pack.
"""

from __future__ import annotations

from generator.evaluate.results import Question, Selected
from generator.pack.model import Pack


def ranked_questions(pack: Pack, selected: Selected) -> tuple[Question, ...]:
    """Every open input: by the number of verdicts that it settles alone, then by the number that wait for it among
    others, then in the order of states and of the vocabulary."""
    shared = {item.id for item in pack.inputs if not item.per_state}
    alone: dict[tuple[str, str], dict[str, int]] = {}
    waiting: dict[tuple[str, str], dict[str, int]] = {}
    for decision in selected.decisions:
        for candidate in decision.candidates:
            asked = {(pack.states[0].id if name in shared else state, name) for state, name in candidate.open_inputs}
            for one in asked:
                _count(waiting, one, decision.decision)
                if len(asked) == 1:
                    _count(alone, one, decision.decision)
    states = [state.id for state in pack.states]
    inputs = [item.id for item in pack.inputs]
    ranked = sorted(waiting, key=lambda one: (-sum(alone.get(one, {}).values()), -sum(waiting[one].values()),
                                              states.index(one[0]), inputs.index(one[1])))
    return tuple(Question(state, name, tuple(alone.get((state, name), {}).items()),
                          tuple(waiting[state, name].items())) for state, name in ranked)


def next_question(pack: Pack, selected: Selected) -> Question | None:
    """The first of the ranked questions; None where no verdict waits for an answer."""
    return next(iter(ranked_questions(pack, selected)), None)


# private

def _count(counts: dict[tuple[str, str], dict[str, int]], asked: tuple[str, str], decision: str) -> None:
    known = counts.setdefault(asked, {})
    known[decision] = known.get(decision, 0) + 1
