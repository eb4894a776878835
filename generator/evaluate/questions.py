"""Gives back the open inputs: the raw answers, traced through formulas, that could still move a verdict."""

from __future__ import annotations

from generator.evaluate.choice import Bounds, Combination, GroupVerdict, Partners, Reading
from generator.evaluate.prepared import Prepared
from generator.evaluate.results import Answer
from generator.evaluate.tables import NO_VALUE, Outcome, is_single

OpenInput = tuple[str, str]          # state, input


def open_inputs(prepared: Prepared, readings: tuple[Reading, ...], answers: dict[str, dict[str, Answer]], decision: int,
                candidate: int, verdict: Bounds, groups: tuple[GroupVerdict, ...],
                in_play: tuple[Partners, ...]) -> tuple[OpenInput, ...]:
    """Those behind every table whose outcome is unsettled and could be worse than the best still possible, in the
    order of states and of the vocabulary. A settled verdict has none."""
    if verdict.worst == verdict.best:
        return ()
    found: set[OpenInput] = set()
    for reading in readings:
        if reading.decisions == (decision,):
            found |= _behind(prepared, reading, (candidate,), verdict, answers)
    for group in groups:
        if group.bounds.worst == group.bounds.best:
            continue
        for reading in readings:
            if reading.decisions == group.decisions:
                found |= _behind(prepared, reading, group.partner, verdict, answers)
            elif len(reading.decisions) == 1 and reading.decisions[0] in group.decisions:
                place = group.partner[group.decisions.index(reading.decisions[0])]
                if reading.decisions[0] != decision and place not in in_play[reading.decisions[0]].sure:
                    found |= _behind(prepared, reading, (place,), verdict, answers)
    states = [state.id for state in prepared.pack.states]
    inputs = [item.id for item in prepared.pack.inputs]
    return tuple(sorted(found, key=lambda item: (states.index(item[0]), inputs.index(item[1]))))


# private

def _behind(prepared: Prepared, reading: Reading, combination: Combination, verdict: Bounds,
            answers: dict[str, dict[str, Answer]]) -> set[OpenInput]:
    outcome = reading.outcomes.get(combination)
    if outcome is None or outcome.worst == outcome.best or outcome.worst >= verdict.best:
        return set()
    found: set[OpenInput] = set()
    for name in _columns(prepared, reading, outcome):
        for item in prepared.behind[name]:
            if not is_single(answers[reading.state][item]):
                found.add((reading.state, item))
    return found


def _columns(prepared: Prepared, reading: Reading, outcome: Outcome) -> list[str]:
    """The columns in which the rows that count set a condition, and those that may lack a value."""
    table = prepared.pack.tables[reading.table]
    rows = [table.rows[entry.row] for entry in outcome.entries if entry.row != NO_VALUE]
    lacking = any(entry.row == NO_VALUE for entry in outcome.entries)
    return [column.name for place, column in enumerate(table.columns) if column.source != "decision"
            and (any(row.cells[place] >= 0 for row in rows) or (lacking and column.source == "derived"))]
