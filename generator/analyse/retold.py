"""Gives back what a case still says when one table is another: only that table is read again, and only where
it differs.

`notices` agrees with checking the case against the whole mutated pack; it is only quicker.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from generator.answers.application import read_application
from generator.evaluate.choice import (
    GroupVerdict,
    Partners,
    Reading,
    Readings,
    group_bounds,
    judge_group,
    own_bounds,
    partners,
)
from generator.evaluate.mixtures import Part, parts_of, parts_read
from generator.evaluate.prepared import Prepared, column_answers
from generator.evaluate.reasons import group_reasons, own_reasons
from generator.evaluate.results import Answer, Application
from generator.evaluate.tables import NO_VALUE, OPEN, Bounds, Combination, Outcome, TableIndex, read_table
from generator.pack.model import VERDICTS, Pack, Table
from generator.pack.texts import CaseText

Asked = tuple[dict[int, Answer], dict[Combination, dict[int, Answer]]]
Signature = tuple[object, ...]


@dataclass(frozen=True, slots=True)
class Expectation:
    """A verdict that is expected of a candidate, by places; `rule` may be empty. It holds under the table as
    it is.
    """

    decision: int
    candidate: int
    verdict: int
    rule: str


@dataclass(frozen=True, slots=True)
class Told:
    """An application with all that the tables say of it. `asked` and `signatures` are by table, and in it by the
    parts of the states that it is read for; `reached` are the rows of each table that some answer reaches.
    """

    id: str
    states: tuple[str, ...]
    asked: dict[int, tuple[tuple[Part, Asked], ...]]
    readings: Readings
    own: tuple[tuple[Bounds, ...], ...]
    in_play: tuple[Partners, ...]
    groups: dict[tuple[int, ...], dict[Combination, Bounds]]
    reached: dict[int, frozenset[int]]
    signatures: dict[tuple[int, int], dict[Combination, Signature]]
    expect: tuple[Expectation, ...] = ()


@dataclass(frozen=True, slots=True)
class Swap:
    """Another table at `place`. `changed` are the combinations of which it says something else than the table
    there, where it reads no answer and so says the same of every application; else None.
    """

    place: int
    index: TableIndex
    changed: frozenset[Combination] | None


def swap(prepared: Prepared, place: int, index: TableIndex) -> Swap:
    """The table at `place` replaced by another of the same columns."""
    was = prepared.tables[place]
    if was.fixed is None or index.fixed is None:
        return Swap(place, index, None)
    before = {key: _signature(was.table, one) for key, one in was.fixed.items()}
    return Swap(place, index, _changed(before, index.table, index.fixed))


def tell_case(prepared: Prepared, case: CaseText) -> Told | None:
    """The case with those of its expectations that hold; None where its answers cannot be read."""
    typed: dict[str, object] = {"id": case.id, "title": case.title}
    typed |= {state: "none" if answers is None else dict(answers) for state, answers in case.application}
    reading = read_application(prepared.pack, typed)
    if reading.problems:
        return None
    told = tell(prepared, reading.application)
    decisions = [decision.id for decision in prepared.pack.decisions]
    expect = []
    for one in case.expect:
        if one.verdict not in VERDICTS:
            continue                                 # a judgement that nobody has made yet
        decision = decisions.index(one.decision)
        candidate = [item.id for item in prepared.pack.decisions[decision].candidates].index(one.candidate)
        expected = Expectation(decision, candidate, VERDICTS.index(one.verdict), one.rule)
        if _holds(prepared, prepared.pack, told, expected):
            expect.append(expected)
    return replace(told, expect=tuple(expect))


def tell(prepared: Prepared, application: Application) -> Told:
    """The application, read in every table."""
    parts = {state.state: parts_of(prepared, state) for state in application.states}
    measuring = {state.id for state in prepared.pack.states if state.measuring}
    asked = {place: tuple((part, column_answers(prepared, index, part.answers, part.derived))
                          for state, several in parts.items() if index.table.always or state in measuring
                          for part in parts_read(prepared, place, several))
             for place, index in enumerate(prepared.tables)}
    found: dict[tuple[int, ...], list[Reading]] = {}
    signatures: dict[tuple[int, int], dict[Combination, Signature]] = {}
    reached: dict[int, set[int]] = {}
    for place, index in enumerate(prepared.tables):
        for at, (part, asking) in enumerate(asked[place]):
            outcomes = read_table(index, *asking)
            found.setdefault(prepared.decisions[place], []).append(Reading(place, part, outcomes))
            signatures[place, at] = {key: _signature(index.table, one) for key, one in outcomes.items()}
            rows = reached.setdefault(place, set())
            for outcome in outcomes.values():
                rows.update(entry.row for entry in outcome.entries)
                rows.update(outcome.lacking)
    readings = {decisions: tuple(several) for decisions, several in found.items()}
    own = own_bounds(prepared.sizes, readings)
    return Told(application.id, tuple(parts), asked, readings, own, partners(own), group_bounds(readings),
                {place: frozenset(rows) for place, rows in reached.items()}, signatures)


def retell(prepared: Prepared, told: Told, other: Swap) -> Told | None:
    """The same application when one table is another; None where that table says the same of it.

    The result's `asked`, `reached` and `signatures` are still those of the table as it was.
    """
    place, decisions = other.place, prepared.decisions[other.place]
    changed: set[Combination] = set(other.changed or ())
    after: list[Reading] = []
    for at, (part, asking) in enumerate(told.asked[place]):
        outcomes = read_table(other.index, *asking)
        if other.changed is None:
            changed |= _changed(told.signatures[place, at], other.index.table, outcomes)
        after.append(Reading(place, part, outcomes))
    if not changed or not after:
        return None
    again = iter(after)                              # the readings of one table stand in this same order
    shared = tuple(next(again) if reading.table == place else reading for reading in told.readings[decisions])
    readings = told.readings | {decisions: shared}
    if len(decisions) > 1:
        group = dict(told.groups[decisions])
        group.update({key: bounds for key, bounds in group_bounds({decisions: tuple(
            Reading(one.table, one.part, {key: one.outcomes[key] for key in changed if key in one.outcomes})
            for one in shared)})[decisions].items()})
        for key in changed:
            if not any(key in one.outcomes for one in shared):
                group.pop(key, None)
        return replace(told, readings=readings, groups=told.groups | {decisions: group})
    rows = list(told.own)
    rows[decisions[0]] = own_bounds(prepared.sizes, {decisions: shared})[decisions[0]]
    own = tuple(rows)
    return replace(told, readings=readings, own=own, in_play=partners(own))


def notices(prepared: Prepared, told: Told, other: Swap) -> bool:
    """Whether an expectation of the case no longer holds when one table is another."""
    again = retell(prepared, told, other)
    if again is None:
        return False
    tables = prepared.pack.tables
    pack = replace(
        prepared.pack, tables=(*tables[: other.place], other.index.table, *tables[other.place + 1 :])
    )
    return any(not _holds(prepared, pack, again, one) for one in told.expect)


def verdict_of(
    prepared: Prepared, told: Told, decision: int, candidate: int
) -> tuple[Bounds, tuple[GroupVerdict, ...]]:
    """The bounds of a candidate's verdict, and what the groups of shared tables say of it."""
    bounds = told.own[decision][candidate]
    verdicts = tuple(judge_group(names, combinations, decision, candidate, told.in_play, prepared.sizes)
                     for names, combinations in told.groups.items() if decision in names)
    for verdict in verdicts:
        bounds = bounds.meet(verdict.bounds)
    return bounds, verdicts


def shown(bounds: Bounds) -> int:
    """The rank of the verdict that is shown."""
    return bounds.worst if bounds.worst == bounds.best else OPEN


# private

def _holds(prepared: Prepared, pack: Pack, told: Told, one: Expectation) -> bool:
    bounds, verdicts = verdict_of(prepared, told, one.decision, one.candidate)
    if shown(bounds) != one.verdict:
        return False
    if not one.rule:
        return True
    found = own_reasons(pack, told.readings, told.states, one.decision, one.candidate)
    for verdict in verdicts:
        found += group_reasons(
            pack, told.readings, told.states, one.decision, one.candidate, verdict, told.in_play
        )
    return any(reason.rule == one.rule for *_, reason in found)


def _changed(was: dict[Combination, Signature], table: Table,
             outcomes: dict[Combination, Outcome]) -> frozenset[Combination]:
    return frozenset(key for key in outcomes.keys() | was.keys()
                     if key not in outcomes or was.get(key) != _signature(table, outcomes[key]))


def _signature(table: Table, outcome: Outcome) -> Signature:
    """What an outcome says, by rules and not by their places."""
    return (
        outcome.bounds,
        tuple(
            ("" if entry.row == NO_VALUE else table.rows[entry.row].rule, entry.rank, entry.certain)
            for entry in outcome.entries
        ),
    )
