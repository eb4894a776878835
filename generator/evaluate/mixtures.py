"""Gives back the parts in which a liquid is read: the whole of it, each component by itself, and each pair.

A table about the medium is read for every component, so that the worst one decides; a table about pairs is read
for every kind that a pair is of. A medium by itself is one part, and costs nothing more.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import combinations

from generator.evaluate.formulas import derived_values
from generator.evaluate.memory import Memory, met_before, new_memory
from generator.evaluate.prepared import Derived, Prepared, all_answers
from generator.evaluate.results import Answer, ChoiceSet, StateAnswers
from generator.evaluate.tables import is_single
from generator.pack.model import CONCENTRATION, MEDIUM, MIXED_WITH, NOT_APPLICABLE


@dataclass(frozen=True, slots=True)
class Part:
    """What tables are asked of a state: `answers` names every input, `derived` every derived value. `components`
    are the places, from 1, of the components it is about; `asks` the inputs to ask instead where an input is not
    settled in this part."""

    state: str
    components: tuple[int, ...]
    answers: dict[str, Answer]
    derived: Derived
    asks: dict[str, tuple[str, ...]] = field(default_factory=dict)


def parts_of(prepared: Prepared, state: StateAnswers, memory: Memory | None = None) -> tuple[Part, ...]:
    """The whole, then every component, then every pair by each kind that it may be of."""
    memory = memory or new_memory()
    answers = met_before(memory, all_answers(prepared, state))
    derived = derived_values(prepared.formulas, answers, memory)
    whole = Part(state.state, (), answers, derived)
    if not state.components:
        return (whole,)
    liquids = ((answers[MEDIUM], answers[CONCENTRATION]),
               *((one.medium or prepared.blank[MEDIUM], one.concentration or prepared.blank[CONCENTRATION])
                 for one in state.components))
    alone = []
    for place, (medium, concentration) in enumerate(liquids, 1):
        known = answers | met_before(memory, {MEDIUM: medium, CONCENTRATION: concentration})
        asks = {} if place == 1 else {MEDIUM: (MIXED_WITH,), CONCENTRATION: (MIXED_WITH,)}
        alone.append(Part(state.state, (place,), known, derived_values(prepared.formulas, known, memory), asks))
    pairs = []
    for (one, (first, _)), (other, (second, _)) in combinations(enumerate(liquids, 1), 2):
        names = tuple(name for name, medium in ((MEDIUM if one == 1 else MIXED_WITH, first), (MIXED_WITH, second))
                      if not is_single(medium))
        for kind, certain in kinds_of(prepared, first.ids, second.ids):
            answer = ChoiceSet((kind,) if certain else (kind, NOT_APPLICABLE))
            known = answers | met_before(memory, {MIXED_WITH: answer})
            pairs.append(Part(state.state, (one, other), known, derived, {MIXED_WITH: names}))
    return (whole, *alone, *pairs)


def kinds_of(prepared: Prepared, one: tuple[str, ...], other: tuple[str, ...]) -> tuple[tuple[str, bool], ...]:
    """The kinds of mixture that some pair of these media is of, and whether every pair is."""
    counted: dict[str, int] = {}
    for first in one:
        for second in other:
            named = [kind for kind, these, those in prepared.mixtures
                     if (first in these and second in those) or (second in these and first in those)]
            for kind in named or prepared.no_kind:
                counted[kind] = counted.get(kind, 0) + 1
    order = (*(kind for kind, _, _ in prepared.mixtures), *prepared.no_kind)
    return tuple((kind, counted[kind] == len(one) * len(other)) for kind in order if kind in counted)


def parts_read(prepared: Prepared, table: int, parts: tuple[Part, ...]) -> list[Part]:
    """Those of one state that a table (a place in the pack) is read for."""
    wanted = prepared.asked_of[table] if len(parts) > 1 else 0
    return [part for part in parts if len(part.components) == wanted]
