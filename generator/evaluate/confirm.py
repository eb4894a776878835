"""Gives back the documents that a verdict still waits to be confirmed against: figures quoted from memory.

A suitable or cautious verdict rests on every rule that was read for it. An unsuitable one stands by itself as
soon as one table rules the candidate out without such a figure. An open verdict claims nothing.
"""

from __future__ import annotations

from collections.abc import Iterable

from generator.evaluate.choice import GroupVerdict, Partners, Reading, Readings
from generator.evaluate.tables import NO_VALUE, OPEN, Bounds, Combination, Outcome, every_combination
from generator.pack.model import Pack

Read = tuple[int, Outcome]           # a table's place in the pack, and what it says of one combination


def confirm_candidate(pack: Pack, readings: Readings, decision: int, candidate: int, bounds: Bounds,
                      verdicts: tuple[GroupVerdict, ...], in_play: tuple[Partners, ...]) -> tuple[int, ...]:
    """Places in `pack.recalled`, rising: what the verdict of a candidate by itself rests on."""
    own = _read(readings.get((decision,), ()), (candidate,))
    if bounds.worst == bounds.best > OPEN:
        return _all(pack, own + [one for verdict in verdicts
                                 for one in _read(readings[verdict.decisions], verdict.partner)])
    if bounds.best > 0:
        return ()
    ways = [_failing(pack, own)] if any(outcome.bounds.best == 0 for _, outcome in own) else []
    for verdict in verdicts:
        if verdict.bounds.best == 0:
            playing = every_combination((candidate,) if place == decision else in_play[place].possible
                                        for place in verdict.decisions)
            ways.append(tuple({place for one in playing
                               for place in _failing(pack, _read(readings[verdict.decisions], one))}))
    return _rising(ways)


def confirm_chosen(pack: Pack, readings: Readings, chosen: Combination, bounds: Bounds,
                   decision: int | None = None) -> tuple[int, ...]:
    """The same for one candidate per decision; with a decision, by the tables that name it."""
    read = [one for decisions, shared in readings.items() if decision is None or decision in decisions
            for one in _read(shared, tuple(chosen[place] for place in decisions))]
    if bounds.worst == bounds.best > OPEN:
        return _all(pack, read)
    return _failing(pack, read) if bounds.best == 0 else ()


# private

def _read(readings: Iterable[Reading], combination: Combination) -> list[Read]:
    return [(reading.table, reading.outcomes[combination]) for reading in readings
            if combination in reading.outcomes]


def _recalled(pack: Pack, table: int, outcome: Outcome) -> set[int]:
    rows = pack.tables[table].rows
    return {place for entry in outcome.entries if entry.row != NO_VALUE for place in rows[entry.row].recalled}


def _all(pack: Pack, read: list[Read]) -> tuple[int, ...]:
    return tuple(sorted({place for table, outcome in read for place in _recalled(pack, table, outcome)}))


def _failing(pack: Pack, read: list[Read]) -> tuple[int, ...]:
    """What the tables that rule out rest on; nothing where one of them rests on no such figure. Of a collect
    table each row that holds for certain rules out by itself."""
    ways: list[tuple[int, ...]] = []
    for table, outcome in read:
        if outcome.bounds.best == 0 and pack.tables[table].hit_policy == "collect":
            ways += [pack.tables[table].rows[entry.row].recalled for entry in outcome.entries
                     if entry.rank == 0 and entry.certain]
        elif outcome.bounds.best == 0:
            ways.append(tuple(_recalled(pack, table, outcome)))
    return _rising(ways)


def _rising(ways: list[tuple[int, ...]]) -> tuple[int, ...]:
    """All of them; nothing where one way to the same verdict rests on nothing."""
    return tuple(sorted({place for way in ways for place in way})) if all(ways) else ()
