"""Gives back the leading selections, what goes together and the conflict by looking at every combination of
candidates.

It shares no code with `generator.evaluate.joint`, `selection` or `conflict`; it is given what each table
says.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import product

from generator.evaluate.choice import Reading, Readings
from generator.evaluate.mixtures import parts_of
from generator.evaluate.prepared import prepare
from generator.evaluate.results import Application
from generator.evaluate.select import read_tables
from generator.pack.model import Pack

Ranks = tuple[int, int]              # worst, best
Places = tuple[int, ...]             # a candidate per decision


@dataclass(frozen=True, slots=True)
class Everything:
    """Every combination, with its bounds by all tables, and by those that have a say in the choice."""

    pack: Pack
    tables: tuple[tuple[tuple[int, ...], tuple[Reading, ...]], ...]
    pinned: dict[int, int]
    bounds: dict[Places, Ranks]
    choice: dict[Places, Ranks]
    own: tuple[tuple[Ranks, ...], ...]
    sayings: tuple[tuple[tuple[tuple[int, ...], tuple[Reading, ...]], ...], ...]     # the tables with a say, by their decisions


def look_at_everything(pack: Pack, application: Application) -> Everything:
    """Of every table every combination; pinned decisions have one candidate."""
    tables = tables_of(readings_of(pack, application))
    decisions = {decision.id: place for place, decision in enumerate(pack.decisions)}
    candidates = [[option.id for option in decision.candidates] for decision in pack.decisions]
    pinned = {decisions[name]: candidates[decisions[name]].index(candidate)
              for name, candidate in application.pinned}
    pools = [(pinned[place],) if place in pinned else range(len(decision.candidates))
             for place, decision in enumerate(pack.decisions)]
    combinations = list(product(*pools))
    rest = tuple(table for table in tables if not set(table[0]) & set(pinned)
                 or any(bounds_by([table], one)[1] > 0 for one in combinations))
    bounds = {one: bounds_by(tables, one) for one in combinations}
    own = tuple(tuple(bounds_by([table for table in tables if table[0] == (place,)],
                                tuple(at if other == place else 0 for other in range(len(pack.decisions))))
                      for at in range(len(decision.candidates)))
                for place, decision in enumerate(pack.decisions))
    choice = bounds if len(rest) == len(tables) else {one: bounds_by(rest, one) for one in combinations}
    named = sorted({table[0] for table in rest}, key=lambda names: (len(names) > 1, names))
    sayings = tuple(tuple(table for table in rest if table[0] == names) for names in named)
    return Everything(pack, tables, pinned, bounds, choice, own, sayings)


def leading(seen: Everything) -> list[tuple[Places, Ranks]]:
    """The leading selections with their bounds: settled ones, then open ones, five of each (or five in
    all). Of those of one verdict the first are those that spare the most: falls below caution before
    falls below suitable, table set by table set."""
    def falls(one: Places) -> tuple[bool, ...]:
        worst = [bounds_by(tables, one)[0] for tables in seen.sayings]
        return tuple(rank < floor for floor in (2, 3) for rank in worst)

    least: dict[Ranks, tuple[bool, ...]] = {}
    for one, ranks in seen.choice.items():
        if ranks[1] > 0:
            least[ranks] = min(least.get(ranks, (True,) * len(seen.sayings) * 2), falls(one))

    def key(one: Places) -> tuple[object, ...]:
        worst, best = seen.choice[one]
        return (not (worst == best > 1), -best, -worst, best > 0 and falls(one) != least[worst, best],
                tuple((-seen.own[place][at][0], -seen.own[place][at][1], at) for place, at in enumerate(one)))

    ranked = sorted((one for one, (_, best) in seen.choice.items() if best > 0), key=key)
    settled = [one for one in ranked if not key(one)[0]][:5]
    others = [one for one in ranked if key(one)[0]][:5]
    found = (settled + others)[:5] if seen.choice is not seen.bounds else settled + others
    return [(one, seen.bounds[one]) for one in found]


def comes_to(seen: Everything, decision: int, candidate: int) -> Ranks | None:
    """The highest bounds of any selection with a candidate; None where it is pinned away."""
    with_it = [ranks for one, ranks in seen.choice.items() if one[decision] == candidate]
    return (max(worst for worst, _ in with_it), max(best for _, best in with_it)) if with_it else None


def conflicting_tables(seen: Everything) -> tuple[int, tuple[str, ...]] | None:
    """The best rank left, and the tables left when one after the other is dropped while that stays so."""
    left = max(best for _, best in seen.bounds.values())
    if left > 1:
        return None
    kept = list(seen.tables)
    for table in seen.tables:
        fewer = [other for other in kept if other is not table]
        if highest(seen, fewer) <= left:
            kept = fewer
    return left, tuple(seen.pack.tables[readings[0].table].id for _, readings in kept)


def highest(seen: Everything, tables: Iterable[tuple[tuple[int, ...], tuple[Reading, ...]]]) -> int:
    """The best rank of any combination by some of the tables."""
    return max(bounds_by(tables, one)[1] for one in seen.bounds)


def bounds_by(tables: Iterable[tuple[tuple[int, ...], tuple[Reading, ...]]], one: Places) -> Ranks:
    worst, best = 3, 3
    for decisions, readings in tables:
        for reading in readings:
            outcome = reading.outcomes.get(tuple(one[place] for place in decisions))
            if outcome is not None:
                worst, best = min(worst, outcome.bounds.worst), min(best, outcome.bounds.best)
    return worst, best


def shown(ranks: Ranks) -> int:
    return ranks[0] if ranks[0] == ranks[1] else 1


def readings_of(pack: Pack, application: Application) -> Readings:
    prepared = prepare(pack)
    return read_tables(prepared, {state.state: parts_of(prepared, state) for state in application.states})


def tables_of(readings: Readings) -> tuple[tuple[tuple[int, ...], tuple[Reading, ...]], ...]:
    """Per table, in pack order, its decisions and what it says in every state."""
    told: dict[int, tuple[tuple[int, ...], list[Reading]]] = {}
    for decisions, found in readings.items():
        for reading in found:
            told.setdefault(reading.table, (decisions, []))[1].append(reading)
    return tuple((told[table][0], tuple(told[table][1])) for table in sorted(told))
