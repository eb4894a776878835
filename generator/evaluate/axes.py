"""Gives back what may move: the number columns of the tables that name only one decision, each with the states and
components in which it moves at once."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from generator.evaluate.mixtures import Part
from generator.evaluate.situation import Situation
from generator.pack.model import CONCENTRATION, MEDIUM, Interval


@dataclass(frozen=True, slots=True)
class Axis:
    """A column that moves within `range`, in every one of `parts` at once. `made` are the derived values that follow
    it."""

    column: str
    derived: bool
    parts: tuple[Part, ...]
    range: Interval
    made: frozenset[str]


def axes(situation: Situation, decision: int) -> Iterator[Axis]:
    """State by state every number column of the decision's own tables; what all states share in the first one."""
    prepared = situation.prepared
    read = {column.name for place, names in enumerate(prepared.decisions) if names == (decision,)
            for column in prepared.tables[place].table.columns if column.kind == "number"}
    inputs = [item for item in prepared.pack.inputs if item.id in read]
    derived = [item for item in prepared.pack.derived if item.id in read]
    made = {item.id: frozenset(one.id for one in derived if item.id in prepared.behind[one.id]) for item in inputs}
    shared = {item.id for item in prepared.pack.inputs if not item.per_state}
    every = tuple(part for several in situation.parts.values() for part in several)
    first = next(iter(situation.parts))
    for state, several in situation.parts.items():
        for item in inputs:
            valid = Interval(item.low, True, item.high, True)
            if item.per_state:
                for parts in _by_component(several) if item.id == CONCENTRATION else (several,):
                    yield Axis(item.id, False, parts, valid, made[item.id])
            elif state == first:
                yield Axis(item.id, False, every, valid, made[item.id])
        for one in derived:
            behind = prepared.behind[one.id]
            if not behind <= shared:
                for parts in _by_component(several) if behind & {MEDIUM, CONCENTRATION} else (several,):
                    yield Axis(one.id, True, parts, one.valid, frozenset())
            elif state == first:
                yield Axis(one.id, True, every, one.valid, frozenset())


# private

def _by_component(parts: tuple[Part, ...]) -> tuple[tuple[Part, ...], ...]:
    """The parts by the component whose medium and concentration they are asked with: the whole and the pairs go with
    the first."""
    others = [part for part in parts if len(part.components) == 1 and part.components != (1,)]
    return (tuple(part for part in parts if part not in others), *((part,) for part in others))
