"""Gives back a pack made ready for many applications: its indexes are worked out once."""

from __future__ import annotations

from dataclasses import dataclass

from generator.evaluate.formulas import PreparedFormulas, prepare_formulas
from generator.evaluate.results import Answer, ChoiceSet, NumberSet, StateAnswers
from generator.evaluate.tables import Combination, TableIndex, index_table, option_ids
from generator.pack.model import CONCENTRATION, MEDIUM, MIXED_WITH, NOT_APPLICABLE, Input, Pack, Table

Derived = dict[str, dict[Combination, NumberSet]]    # values by id, then by the candidates they need


@dataclass(frozen=True, slots=True)
class Prepared:
    """`blank` is the answer that says nothing, per input; `recorded` the inputs that a medium's record may
    answer; `decisions` the places of each table's decisions; `behind` the raw inputs that an input or a derived
    value is made of. `mixtures` are the kinds of pairs with the media of both sides, `no_kind` the kind of a pair
    of no other. `asks` are the inputs behind each table's columns, and `asked_of` says for how many components at
    once it is read: none, one or two. `order` is that of the states and of the inputs."""

    pack: Pack
    tables: tuple[TableIndex, ...]
    decisions: tuple[tuple[int, ...], ...]
    sizes: tuple[int, ...]
    blank: dict[str, Answer]
    recorded: tuple[Input, ...]
    behind: dict[str, frozenset[str]]
    mixtures: tuple[tuple[str, frozenset[str], frozenset[str]], ...]
    no_kind: tuple[str, ...]
    asks: tuple[tuple[str, ...], ...]
    asked_of: tuple[int, ...]
    order: tuple[dict[str, int], dict[str, int]]
    formulas: PreparedFormulas


def prepare(pack: Pack) -> Prepared:
    """The pack with its indexes."""
    places = {decision.id: place for place, decision in enumerate(pack.decisions)}
    behind = raw_inputs(pack)
    asks = tuple(_asked(table, behind) for table in pack.tables)
    return Prepared(pack, tuple(index_table(pack, table) for table in pack.tables),
                    tuple(tuple(places[name] for name in table.decisions) for table in pack.tables),
                    tuple(len(decision.candidates) for decision in pack.decisions),
                    {item.id: whole_range(item) for item in pack.inputs},
                    tuple(item for item in pack.inputs if item.recorded), behind,
                    tuple((kind.id, frozenset(kind.one), frozenset(kind.other)) for kind in pack.mixtures if kind.one),
                    tuple(kind.id for kind in pack.mixtures if not kind.one),
                    asks, tuple(_components_asked(asked) for asked in asks),
                    ({state.id: place for place, state in enumerate(pack.states)},
                     {item.id: place for place, item in enumerate(pack.inputs)}),
                    prepare_formulas(pack))


def whole_range(item: Input) -> Answer:
    """The set of all answers that an input allows: what a blank means."""
    if item.kind == "choice":
        return ChoiceSet(option_ids(item))
    return NumberSet(((item.low, item.high),), item.may_be_absent)


def all_answers(prepared: Prepared, state: StateAnswers) -> dict[str, Answer]:
    """The answers of a state with every input in them, those not answered as what their blank means."""
    known = dict(state.answers)
    answers = prepared.blank | known
    for item in prepared.recorded:
        if item.id not in known and not _may_be(prepared, answers, state, item.asked_for):
            answers[item.id] = absent(item)
    return answers


def absent(item: Input) -> Answer:
    """The answer `not applicable`."""
    return ChoiceSet((NOT_APPLICABLE,)) if item.kind == "choice" else NumberSet((), True)


def raw_inputs(pack: Pack) -> dict[str, frozenset[str]]:
    """Per input and derived value the inputs it is made of, traced through formulas."""
    behind = {item.id: frozenset((item.id,)) for item in pack.inputs}
    for item in pack.derived:
        behind[item.id] = frozenset().union(*(behind[argument.name] for argument in item.arguments
                                              if argument.kind not in ("candidate", "figure")))
    return behind


def column_answers(prepared: Prepared, index: TableIndex, answers: dict[str, Answer],
                   derived: Derived) -> tuple[dict[int, Answer], dict[Combination, dict[int, Answer]]]:
    """What a table is asked in one state: its steady columns' answers by place, and the moving ones' per
    combination of the driving decisions' candidates. `answers` names every input, `derived` every derived
    value."""
    columns = index.table.columns
    steady = {place: derived[columns[place].name][()] if columns[place].source == "derived"
              else answers[columns[place].name] for place in index.steady}
    moving: dict[Combination, dict[int, Answer]] = {}
    if index.moving:
        names = tuple(index.table.decisions[place] for place in index.driving)
        for driven in index.driven:
            at = dict(zip(names, driven))
            moving[driven] = {
                place: derived[columns[place].name][tuple(
                    at[name] for name in prepared.formulas.decisions[columns[place].name])]
                for place in index.moving}
    return steady, moving


# private

def _may_be(prepared: Prepared, answers: dict[str, Answer], state: StateAnswers, media: tuple[str, ...]) -> bool:
    """Whether a component of the liquid may be one of these media."""
    every = (answers[MEDIUM], *(one.medium or prepared.blank[MEDIUM] for one in state.components))
    return any(name in media for medium in every for name in medium.ids)


def _asked(table: Table, behind: dict[str, frozenset[str]]) -> tuple[str, ...]:
    asked = {item for column in table.columns if column.source != "decision" for item in behind[column.name]}
    return tuple(sorted(asked))


def _components_asked(asked: tuple[str, ...]) -> int:
    return 2 if MIXED_WITH in asked else 1 if MEDIUM in asked or CONCENTRATION in asked else 0
