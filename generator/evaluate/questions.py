"""Gives back the open inputs: the raw answers, traced through formulas, that could still move a verdict."""

from __future__ import annotations

from generator.evaluate.choice import GroupVerdict, Partners, Reading, Readings
from generator.evaluate.prepared import Prepared
from generator.evaluate.tables import NO_VALUE, Bounds, Combination, Outcome, is_single

OpenInput = tuple[str, str]          # state, input


def open_inputs(prepared: Prepared, readings: Readings, decision: int, candidate: int, verdict: Bounds,
                groups: tuple[GroupVerdict, ...], in_play: tuple[Partners, ...]) -> tuple[OpenInput, ...]:
    """Those behind every table whose outcome is unsettled and could be worse than the best still possible, in
    the order of states and of the vocabulary. A settled verdict has none."""
    if verdict.worst == verdict.best:
        return ()
    found: set[OpenInput] = set()
    for reading in readings.get((decision,), ()):
        found |= _behind(prepared, reading, (candidate,), verdict)
    for group in groups:
        if group.bounds.worst == group.bounds.best:
            continue
        for reading in readings[group.decisions]:
            found |= _behind(prepared, reading, group.partner, verdict)
        for other, place in zip(group.decisions, group.partner):
            if other != decision and place not in in_play[other].sure:
                for reading in readings.get((other,), ()):
                    found |= _behind(prepared, reading, (place,), verdict)
    return _in_order(prepared, found)


def open_inputs_of_selection(prepared: Prepared, readings: Readings, chosen: Combination,
                             verdict: Bounds) -> tuple[OpenInput, ...]:
    """The same for one candidate per decision."""
    if verdict.worst == verdict.best:
        return ()
    found: set[OpenInput] = set()
    for decisions, shared in readings.items():
        combination = tuple(chosen[place] for place in decisions)
        for reading in shared:
            found |= _behind(prepared, reading, combination, verdict)
    return _in_order(prepared, found)


# private

def _in_order(prepared: Prepared, found: set[OpenInput]) -> tuple[OpenInput, ...]:
    states, inputs = prepared.order
    return tuple(sorted(found, key=lambda item: (states[item[0]], inputs[item[1]])))


def _behind(prepared: Prepared, reading: Reading, combination: Combination, verdict: Bounds) -> set[OpenInput]:
    outcome = reading.outcomes.get(combination)
    if outcome is None or outcome.bounds.worst == outcome.bounds.best or outcome.bounds.worst >= verdict.best:
        return set()
    found: set[OpenInput] = set()
    part = reading.part
    for name in _columns(prepared, reading, outcome):
        for item in prepared.behind[name]:
            if not is_single(part.answers[item]):
                found.update((part.state, asked) for asked in part.asks.get(item, (item,)))
    return found


def _columns(prepared: Prepared, reading: Reading, outcome: Outcome) -> list[str]:
    """The columns in which the rows that count, or may lack a value, set a condition."""
    table = prepared.pack.tables[reading.table]
    places = (*(entry.row for entry in outcome.entries if entry.row != NO_VALUE), *outcome.lacking)
    return [column.name for at, column in enumerate(table.columns)
            if column.source != "decision" and any(table.rows[place].cells[at] >= 0 for place in places)]
