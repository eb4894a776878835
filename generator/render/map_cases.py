"""Gives back where the reference cases lie among the columns of each rule table."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import product

from generator.answers.application import read_application
from generator.evaluate.formulas import derived_values
from generator.evaluate.mixtures import parts_of
from generator.evaluate.prepared import Prepared, all_answers
from generator.evaluate.results import Answer, ChoiceSet, NumberSet, StateAnswers
from generator.pack.model import Table
from generator.pack.texts import CaseText
from generator.render.library import Library
from generator.render.map_picture import CasePoint, Value

_Derived = dict[str, dict[tuple[int, ...], NumberSet]]


@dataclass(frozen=True, slots=True)
class AnsweredState:
    """One state of a reference case, or a part of its mixture, with its values as the engine computes them."""

    case: CaseText
    measuring: bool
    answers: dict[str, Answer]
    derived: _Derived


def answered_states(lib: Library, prepared: Prepared) -> tuple[AnsweredState, ...]:
    """Every described state of every case whose answers can be read, in the order of the data."""
    measuring = {state.id for state in lib.pack.states if state.measuring}
    asked = sorted(frozenset().union(*(prepared.behind[item.id] for item in lib.pack.derived)))
    known: dict[
        tuple[Answer, ...], _Derived
    ] = {}  # cases that differ in other answers only are computed once
    found: list[AnsweredState] = []
    for case in lib.texts.cases:
        typed: dict[str, object] = {"id": case.id, "title": case.title}
        typed |= {state: "none" if answers is None else dict(answers) for state, answers in case.application}
        reading = read_application(lib.pack, typed)
        for state in () if reading.problems else reading.application.states:
            for answers in _read_as(prepared, state):
                key = tuple(answers[name] for name in asked)
                if key not in known:
                    known[key] = derived_values(prepared.formulas, answers)
                found.append(AnsweredState(case, state.state in measuring, answers, known[key]))
    return tuple(found)


def case_points(lib: Library, table: Table, states: Sequence[AnsweredState]) -> tuple[CasePoint, ...]:
    """The points of one table: for each state that it applies to, each combination of candidates that the
    case expects something of, one by one or together. Equal points of one case stand once."""
    points: dict[tuple[object, ...], CasePoint] = {}
    for state in states:
        if not (table.always or state.measuring):
            continue
        named = [*product(*(_expected_of(state.case, decision) for decision in table.decisions)),
                 *(tuple(dict(line.keep)[decision] for decision in table.decisions) for line in state.case.together
                   if set(table.decisions) <= {decision for decision, _ in line.keep})]
        for several in named:
            candidates = dict(zip(table.decisions, several, strict=True))
            values = tuple(_values(lib, table, state, candidates))
            argued = any(
                candidates.get(line.decision) == line.candidate and line.rule.startswith(f"{table.id}.")
                for line in state.case.expect
            ) or any(
                candidates.items() <= dict(line.keep).items() and line.rule.startswith(f"{table.id}.")
                for line in state.case.together
            )
            key = (state.case.id, tuple((type(value).__name__, value) for value in values))
            before = points.get(key)
            points[key] = CasePoint(
                state.case.id, state.case.title, argued or bool(before and before.expected), values
            )
    return tuple(points.values())


# private

def _read_as(prepared: Prepared, state: StateAnswers) -> list[dict[str, Answer]]:
    """The answers by which tables read the state: those of each part of a mixture."""
    if not state.components:
        return [all_answers(prepared, state)]
    return [part.answers for part in parts_of(prepared, state)]



def _expected_of(case: CaseText, decision: str) -> tuple[str, ...]:
    return tuple(dict.fromkeys(line.candidate for line in case.expect if line.decision == decision))


def _values(lib: Library, table: Table, state: AnsweredState, candidates: dict[str, str]) -> Iterable[Value]:
    for column in table.columns:
        if column.source == "decision":
            yield candidates[column.name]
        elif column.source == "input":
            yield _single(state.answers[column.name])
        else:
            needed = lib.derived[column.name].decisions
            if any(decision not in candidates for decision in needed):
                yield False
                continue
            places = tuple(
                [option.id for option in lib.decisions[decision].candidates].index(candidates[decision])
                for decision in needed
            )
            yield _single(state.derived[column.name][places])


def _single(answer: Answer) -> Value:
    """The one value of an answer; False where there may be several."""
    if isinstance(answer, ChoiceSet):
        return answer.ids[0] if len(answer.ids) == 1 else False
    if not answer.intervals:
        return None if answer.absent else False
    low, high = answer.intervals[0]
    return float(low) if len(answer.intervals) == 1 and low == high and not answer.absent else False
