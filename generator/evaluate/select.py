"""Gives back everything that is decided about one application: verdicts with reasons and open inputs, and
what to buy."""

from __future__ import annotations

from collections.abc import Container
from dataclasses import dataclass
from itertools import product

from generator.evaluate.advice import advice_for
from generator.evaluate.choice import (GroupVerdict, Partners, Reading, Readings, group_bounds, judge_group,
                                       own_bounds, partners)
from generator.evaluate.confirm import confirm_candidate
from generator.evaluate.memory import Memory, new_memory, remembered
from generator.evaluate.mixtures import Part, parts_of, parts_read
from generator.evaluate.prepared import Derived, Prepared, column_answers
from generator.evaluate.questions import open_inputs
from generator.evaluate.reasons import group_reasons, ordered, own_reasons
from generator.evaluate.results import Answer, Application, CandidateResult, DecisionResult, Selected, Value
from generator.evaluate.selection import choosing, conflict, leading_selections, together
from generator.evaluate.tables import OPEN, Bounds, Combination, Outcome, read_table
from generator.pack.model import VERDICTS


@dataclass(frozen=True, slots=True)
class Judged:
    """The verdicts of one application, with what they were found from."""

    parts: dict[str, tuple[Part, ...]]
    readings: Readings
    own: tuple[tuple[Bounds, ...], ...]
    groups: dict[tuple[int, ...], dict[Combination, Bounds]]
    decisions: tuple[DecisionResult, ...]


def select(prepared: Prepared, application: Application, memory: Memory | None = None) -> Selected:
    """Every decision of one application.

    Answers are sets, so a verdict comes with its bounds: `worst` and `best` hold for every completion of the
    answers. With the memory of an application like it only what has changed is worked out.
    """
    return choose(prepared, application, judge(prepared, application, memory))


def judge(prepared: Prepared, application: Application, memory: Memory | None = None,
          wanted: Container[str] | None = None) -> Judged:
    """The verdicts of every decision, or of those `wanted` only; they can be shown before anything is chosen."""
    memory = memory or new_memory()
    parts = {state.state: parts_of(prepared, state, memory) for state in application.states}
    answers = {state: whole.answers for state, (whole, *_) in parts.items()}
    readings = read_tables(prepared, parts, memory)
    own = own_bounds(prepared.sizes, readings)
    in_play = partners(own)
    groups = group_bounds(readings)
    return Judged(parts, readings, own, groups, tuple(
        _decide(prepared, readings, answers, own, in_play, groups, decision)
        for decision, one in enumerate(prepared.pack.decisions) if wanted is None or one.id in wanted))


def choose(prepared: Prepared, application: Application, judged: Judged) -> Selected:
    """What to buy, and everything else that follows from the verdicts."""
    answers = {state: whole.answers for state, (whole, *_) in judged.parts.items()}
    every = {(part.state, place): part.answers
             for several in judged.parts.values() for place, part in enumerate(several)}
    derived = {state: whole.derived for state, (whole, *_) in judged.parts.items()}
    given = choosing(prepared, judged.readings, answers, judged.own, judged.groups, application.pinned)
    selections = leading_selections(given)
    return Selected(application.id, judged.decisions, _values(prepared, derived), selections,
                    together(given, judged.decisions), conflict(given),
                    advice_for(prepared.pack, every, judged.decisions, selections))


def read_tables(prepared: Prepared, parts: dict[str, tuple[Part, ...]], memory: Memory | None = None) -> Readings:
    """What every table says of every part of every state it applies to, by the decisions it names, then by table
    and state. With a memory, it is that of the parts."""
    measuring = {state.id for state in prepared.pack.states if state.measuring}
    readings: dict[tuple[int, ...], list[Reading]] = {}
    for place, index in enumerate(prepared.tables):
        found = readings.setdefault(prepared.decisions[place], [])
        for state, several in parts.items():
            if index.table.always or state in measuring:
                for part in parts_read(prepared, place, several):
                    found.append(Reading(place, part, _read(prepared, place, part, memory)))
    return {decisions: tuple(found) for decisions, found in readings.items() if found}


# private

def _read(prepared: Prepared, place: int, part: Part, memory: Memory | None) -> dict[Combination, Outcome]:
    index = prepared.tables[place]

    def read() -> dict[Combination, Outcome]:
        return read_table(index, *column_answers(prepared, index, part.answers, part.derived))
    return read() if memory is None else remembered(memory, place, prepared.asks[place], part.answers, read)


def _decide(prepared: Prepared, readings: Readings, answers: dict[str, dict[str, Answer]],
            own: tuple[tuple[Bounds, ...], ...], in_play: tuple[Partners, ...],
            groups: dict[tuple[int, ...], dict[Combination, Bounds]], decision: int) -> DecisionResult:
    shared = [(names, combinations) for names, combinations in groups.items() if decision in names]
    results = []
    for candidate in range(prepared.sizes[decision]):
        verdicts = tuple(judge_group(names, combinations, decision, candidate, in_play, prepared.sizes)
                         for names, combinations in shared)
        results.append(_candidate(prepared, readings, answers, own[decision][candidate], in_play, verdicts,
                                  decision, candidate))
    ranked = sorted(range(len(results)), key=lambda place: _rank(results[place], place))
    return DecisionResult(prepared.pack.decisions[decision].id,
                          any(bounds.best > 0 for bounds in own[decision]),
                          tuple(results[place] for place in ranked))


def _candidate(prepared: Prepared, readings: Readings, answers: dict[str, dict[str, Answer]], bounds: Bounds,
               in_play: tuple[Partners, ...], verdicts: tuple[GroupVerdict, ...], decision: int,
               candidate: int) -> CandidateResult:
    pack, states = prepared.pack, tuple(answers)
    found = own_reasons(pack, readings, states, decision, candidate)
    for verdict in verdicts:
        bounds = bounds.meet(verdict.bounds)
        found += group_reasons(pack, readings, states, decision, candidate, verdict, in_play)
    shown = bounds.worst if bounds.worst == bounds.best else OPEN
    unsettled = open_inputs(prepared, readings, decision, candidate, bounds, verdicts, in_play)
    return CandidateResult(pack.decisions[decision].candidates[candidate].id, VERDICTS[shown],
                           VERDICTS[bounds.best], VERDICTS[bounds.worst], ordered(found), unsettled,
                           confirm_candidate(pack, readings, decision, candidate, bounds, verdicts, in_play))


def _rank(result: CandidateResult, place: int) -> tuple[int, int, int]:
    """By the worst that may still come, then by the best, then by the committee's order: who can only be better stands
    before who is settled."""
    return -VERDICTS.index(result.worst), -VERDICTS.index(result.best), place


def _values(prepared: Prepared, derived: dict[str, Derived]) -> tuple[Value, ...]:
    ids = {decision.id: tuple(candidate.id for candidate in decision.candidates)
           for decision in prepared.pack.decisions}
    named = [(item, any(argument.kind == "figure" for argument in item.arguments),
              [" ".join(names) for names in product(*(ids[name] for name in item.decisions))])
             for item in prepared.pack.derived]
    values = []
    for state, known in derived.items():
        for item, figured, candidates in named:
            for candidate, found in zip(candidates, known[item.id].values()):
                if found.intervals:
                    values.append(Value(item.id, item.formula, candidate, state, item.unit, found.intervals[0][0],
                                        found.intervals[-1][1], found.absent))
                elif not figured:                    # a pair without a figure has nothing to show
                    values.append(Value(item.id, item.formula, candidate, state, item.unit, None, None, found.absent))
    return tuple(values)
