"""Gives back the rules behind a candidate's verdict, in one order: verdict (worst first), what applies before
what only may, table, state, row."""

from __future__ import annotations

from operator import itemgetter

from generator.evaluate.choice import GroupVerdict, Partners, Reading, Readings
from generator.evaluate.results import Reason
from generator.evaluate.tables import (NO_VALUE, SUITABLE, Bounds, Combination, Entry, Outcome,
                                       every_combination)
from generator.pack.model import VERDICTS, Pack


Found = tuple[int, bool, int, int, int, Reason]  # a reason behind what orders it: verdict, only perhaps, table, state, row


def own_reasons(pack: Pack, readings: Readings, states: tuple[str, ...], decision: int,
                candidate: int) -> list[Found]:
    """The rules of the tables that name only this decision."""
    found = []
    for reading in readings.get((decision,), ()):
        outcome = reading.outcomes.get((candidate,))
        if outcome is not None:
            told = reading.told.get(id(outcome))     # the reading keeps the outcome, and so its id
            if told is None:
                told = reading.told[id(outcome)] = _of_outcome(pack, reading, states, outcome, ())
            found += told
    return found


def group_reasons(pack: Pack, readings: Readings, states: tuple[str, ...], decision: int, candidate: int,
                  verdict: GroupVerdict, in_play: tuple[Partners, ...]) -> list[Found]:
    """The rules of the shared tables: with the best partner, or, where every partner fails, why each one
    does."""
    shared = readings[verdict.decisions]
    if verdict.bounds.best > 0:
        partner = _named(pack, verdict.decisions, verdict.partner, decision)
        return [found for reading in shared if verdict.partner in reading.outcomes
                for found in _of_outcome(pack, reading, states, reading.outcomes[verdict.partner], partner)]
    return _of_failures(pack, shared, states, decision, candidate, verdict, in_play)


def chosen_reasons(pack: Pack, shared: tuple[Reading, ...], states: tuple[str, ...], decisions: tuple[int, ...],
                   chosen: Combination, bounds: Bounds) -> list[Found]:
    """The rules of the tables that name these decisions which set one of the bounds for one candidate per decision.
    Each names every candidate that its table was read with."""
    combination = tuple(chosen[place] for place in decisions)
    partner = _named(pack, decisions, combination, -1)
    told = []
    for reading in shared:
        outcome = reading.outcomes.get(combination)
        if outcome is None or outcome.bounds.worst == SUITABLE:
            continue
        at_worst, at_best = outcome.bounds.worst == bounds.worst, outcome.bounds.best == bounds.best < SUITABLE
        if at_worst or at_best:
            told += [found for found in _of_outcome(pack, reading, states, outcome, partner)
                     if (at_worst and found[0] == bounds.worst) or (at_best and found[0] == bounds.best)]
    return told


def taking_away(pack: Pack, reading: Reading, states: tuple[str, ...], decisions: tuple[int, ...],
                combinations: list[Combination], below: int) -> list[Found]:
    """The rules by which one table holds these combinations below a verdict for certain: each with the first
    combination that it takes away, counting the others."""
    first: dict[int, tuple[Outcome, Entry, Combination]] = {}
    others: dict[int, int] = {}
    for combination in combinations:
        outcome = reading.outcomes.get(combination)
        if outcome is not None and outcome.bounds.best < below:
            collects = pack.tables[reading.table].hit_policy == "collect"
            entry = next(entry for entry in outcome.entries
                         if entry.rank == outcome.bounds.best and (entry.certain or not collects))
            first.setdefault(entry.row, (outcome, entry, combination))
            others[entry.row] = others.get(entry.row, -1) + 1
    return [_found(pack, reading, states, outcome, entry, _named(pack, decisions, combination, -1),
                   others[row])
            for row, (outcome, entry, combination) in first.items()]


def ordered(found: list[Found]) -> tuple[Reason, ...]:
    """The reasons in the order in which they are shown."""
    return tuple(item[5] for item in sorted(found, key=itemgetter(0, 1, 2, 3, 4)))


# private

def _of_outcome(pack: Pack, reading: Reading, states: tuple[str, ...], outcome: Outcome,
                partner: tuple[tuple[str, str], ...]) -> list[Found]:
    """One reason per verdict that the open answers still allow; every row that is certain in a collect
    table."""
    if len(outcome.entries) == 1:
        return [_found(pack, reading, states, outcome, outcome.entries[0], partner, 0)]
    table = pack.tables[reading.table]
    first: dict[tuple[int, int], Entry] = {}
    others: dict[tuple[int, int], int] = {}
    for entry in outcome.entries:
        alone = table.hit_policy == "collect" and entry.certain
        key = (entry.rank, entry.row if alone else len(table.rows))
        first.setdefault(key, entry)
        others[key] = others.get(key, -1) + 1
    return [_found(pack, reading, states, outcome, entry, partner, others[key]) for key, entry in first.items()]


def _of_failures(pack: Pack, shared: tuple[Reading, ...], states: tuple[str, ...], decision: int,
                 candidate: int, verdict: GroupVerdict, in_play: tuple[Partners, ...]) -> list[Found]:
    """Each rule that fails a partner in play, once per part of a state, naming the first such partner and counting the
    others."""
    first: dict[tuple[int, str, tuple[int, ...], int], tuple[Reading, Entry, Combination]] = {}
    others: dict[tuple[int, str, tuple[int, ...], int], int] = {}
    playing = every_combination((candidate,) if place == decision else in_play[place].possible
                                for place in verdict.decisions)
    for reading in shared:
        for combination in playing:
            outcome = reading.outcomes.get(combination)
            if outcome is None or outcome.bounds.worst > 0:
                continue
            entry = next(entry for entry in outcome.entries if entry.rank == outcome.bounds.worst)
            key = (reading.table, reading.part.state, reading.part.components, entry.row)
            first.setdefault(key, (reading, entry, combination))
            others[key] = others.get(key, -1) + 1
    return [_found(pack, reading, states, reading.outcomes[combination], entry,
                   _named(pack, verdict.decisions, combination, decision), others[key])
            for key, (reading, entry, combination) in first.items()]


def _found(pack: Pack, reading: Reading, states: tuple[str, ...], outcome: Outcome, entry: Entry,
           partner: tuple[tuple[str, str], ...], others: int) -> Found:
    table = pack.tables[reading.table]
    lacking = entry.row == NO_VALUE
    decided = outcome.bounds.worst == outcome.bounds.best == entry.rank
    # Beside a row that does apply, one of the same table that only may settles nothing.
    perhaps = not entry.certain and not (decided and table.hit_policy == "unique")
    settled = decided and not perhaps
    return (entry.rank, perhaps, reading.table, states.index(reading.part.state), len(table.rows) if lacking else entry.row,
            Reason(f"{table.id}.no_value" if lacking else table.rows[entry.row].rule, table.id,
                   reading.part.state, VERDICTS[entry.rank], partner, others, settled, reading.part.components))


def _named(pack: Pack, decisions: tuple[int, ...], combination: Combination,
           decision: int) -> tuple[tuple[str, str], ...]:
    return tuple((pack.decisions[other].id, pack.decisions[other].candidates[place].id)
                 for other, place in zip(decisions, combination) if other != decision)
