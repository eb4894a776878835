"""Gives back the margins of every decided candidate: how far one number may move until its verdict changes.

One column of the tables that name only the candidate's decision moves, all else stays: the other answers, the
partners in play and what shared tables say of them. An answer takes along every value of these tables that is made
of it, and moves in all states when they share it, and in all components of a mixture, except for a concentration,
which is that of one component; a derived value moves alone, in its own unit. Where other answers are open they stay
so, and a verdict that is no longer decided counts as another. What may be anything between two ends moves from either
end.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from functools import cache

from generator.evaluate.axes import Axis, axes
from generator.evaluate.choice import Reading
from generator.evaluate.columns import ColumnIndex, Reach, both, places_of, rows_reached
from generator.evaluate.courses import Course, course_of, reach_beside
from generator.evaluate.formulas import derived_values
from generator.evaluate.mixtures import Part
from generator.evaluate.prepared import Prepared, column_answers
from generator.evaluate.results import Margin, NumberSet, Selected
from generator.evaluate.situation import Situation, shared_bounds
from generator.evaluate.tables import (NO_VALUE, OPEN, SUITABLE, Bounds, Combination, Outcome, Reached, TableIndex,
                                       outcome_of)
from generator.pack.model import VERDICTS, Decision


def margins(situation: Situation, selected: Selected) -> tuple[Margin, ...]:
    """In the order of decisions, candidates, states and columns (inputs, then derived values), below before above."""
    found: list[Margin] = []
    for place, decision in enumerate(situation.prepared.pack.decisions):
        shown = {one.candidate: one.best for one in selected.decisions[place].candidates if one.best == one.worst}
        ranks = {candidate: VERDICTS.index(shown[option.id])
                 for candidate, option in enumerate(decision.candidates) if option.id in shown}
        if ranks:
            for several in _of_decision(situation, place, ranks).values():
                found += several
    return tuple(found)


def nearest_margin(found: Iterable[Margin]) -> Margin | None:
    """The one that is reached by the smallest change, as a share of the larger of where it starts and the limit; of
    equal ones the first."""
    return min(found, key=share_of, default=None)


def share_of(margin: Margin) -> float:
    """The change as a share of the larger of where it starts and the limit."""
    size = max(abs(margin.value), abs(margin.limit))
    return 0.0 if size == 0 else abs(margin.limit - margin.value) / size


# private

Told = tuple[tuple[tuple[int, int], ...], tuple[tuple[int, int], ...]]   # (rank, place of its reading), both rising
Place = tuple[float, int]            # a number, and whether it is meant itself (0), just below (-1) or just above (1)
Row = tuple[int, int, bool, int]     # place, bit, whether it is certain, how it may lack a value


@dataclass(frozen=True, slots=True)
class _Group:
    """A table and a part that the axis reaches: the column that moves (None: only values made of it), and the
    rows that count per candidate while it may be anything. `courses` are those of the made columns, by the candidates
    that they depend on; worked out when they are asked for."""

    part: Part
    index: TableIndex
    column: ColumnIndex | None
    place: int
    rows: dict[int, list[Row]]
    courses: Callable[[Combination], tuple[Course, ...]] | None


@dataclass(frozen=True, slots=True)
class _Moved:
    """A decided candidate, its rank, and what moves: the groups that speak of it, and what all else comes to."""

    decision: Decision
    candidate: int
    rank: int
    axis: Axis
    groups: list[_Group]
    base: Bounds


def _of_decision(situation: Situation, decision: int, ranks: dict[int, int]) -> dict[int, list[Margin]]:
    """Per decided candidate, whose rank is given."""
    prepared, readings = situation.prepared, situation.readings.get((decision,), ())
    found: dict[int, list[Margin]] = {candidate: [] for candidate in ranks}
    told = _told(readings, ranks)
    shared = cache(lambda candidate: shared_bounds(situation, decision, candidate))
    columns: dict[tuple[int, str], list[int]] = {}
    for axis in axes(situation, decision):
        among, moves = {id(part) for part in axis.parts}, {axis.column} | axis.made
        reached = {}
        for place, reading in enumerate(readings):
            if id(reading.part) in among:
                key = reading.table, axis.column
                if key not in columns:
                    columns[key] = [at for at, column in enumerate(prepared.tables[reading.table].table.columns)
                                    if column.name in moves and column.source != "decision"]
                if columns[key]:
                    reached[place] = columns[key]
        bases = {}
        for candidate, rank in ranks.items():
            base = Bounds(*(next((one for one, place in said if place not in reached), SUITABLE)
                            for said in told[candidate]))
            if rank > 0 or base.best > 0 and shared(candidate).best > 0:      # what is ruled out twice stays so
                bases[candidate] = base
        groups = [_group(prepared, axis, readings[place], moved, bases) for place, moved in reached.items()] \
            if bases else []
        for candidate, base in bases.items():
            touching = [group for group in groups if candidate in group.rows]
            start = _value(prepared, axis, candidate)
            rank = ranks[candidate]
            if touching and start.intervals and not start.absent and (
                    not _is(base, rank) or any(_may_be_worse(group, candidate, rank) for group in touching)):
                moved = _Moved(prepared.pack.decisions[decision], candidate, rank, axis, touching,
                               base.meet(shared(candidate)))
                for end, side in ((start.intervals[0][0], -1), (start.intervals[-1][1], 1)):
                    place = _first_change(moved, end, side)
                    if place is not None:
                        found[candidate].append(_margin(moved, end, side, place))
    return found


def _told(readings: tuple[Reading, ...], ranks: dict[int, int]) -> dict[int, Told]:
    """Per candidate what each reading says of it: lower bounds, and upper bounds."""
    found: dict[int, list[tuple[int, Bounds]]] = {candidate: [] for candidate in ranks}
    for place, reading in enumerate(readings):
        for (candidate,), outcome in reading.outcomes.items():
            if candidate in found:
                found[candidate].append((place, outcome.bounds))
    return {candidate: (tuple(sorted((bounds.worst, place) for place, bounds in said)),
                        tuple(sorted((bounds.best, place) for place, bounds in said)))
            for candidate, said in found.items()}


def _group(prepared: Prepared, axis: Axis, reading: Reading, moved: list[int],
           wanted: dict[int, Bounds]) -> _Group:
    index, part = prepared.tables[reading.table], reading.part
    steady, moving = column_answers(prepared, index, part.answers, part.derived)
    every = (1 << len(index.table.rows)) - 1
    reach = Reach(every, every, 0, 0)
    for place in index.steady:
        if place not in moved:
            reach = both(reach, rows_reached(index.columns[place], steady[place]))
    own = next((place for place in moved if index.table.columns[place].name == axis.column), None)
    made = [place for place in moved if place != own]
    rows: dict[int, list[Row]] = {}
    counted: dict[Combination, int] = {}
    for driven in index.driven:
        here = reach
        for at in index.moving:
            if at not in moved:
                here = both(here, rows_reached(index.columns[at], moving[driven][at]))
        counted[driven] = here.rows & index.speaking[driven]
        for row in places_of(counted[driven]):
            bit = 1 << row
            short = 2 if here.never & bit else 1 if here.perhaps & bit else 0
            for (candidate,) in index.named[row][driven]:
                if candidate in wanted:
                    rows.setdefault(candidate, []).append((row, bit, here.sure & bit != 0, short))

    courses = None if not made else cache(lambda driven: tuple(
        _course(prepared, axis, part, index, at, driven, counted[driven]) for at in made))
    return _Group(part, index, None if own is None else index.columns[own], -1 if own is None else own, rows, courses)


def _course(prepared: Prepared, axis: Axis, part: Part, index: TableIndex, place: int, driven: Combination,
            counted: int) -> Course:
    """Of one made column; only the rows that count matter."""
    name, formulas = index.table.columns[place].name, prepared.formulas
    chain = {name}
    for item in reversed(formulas.items):
        if item.derived.id in chain:
            chain.update(one.name for one in item.derived.arguments if one.kind == "derived")
    follow = replace(formulas, figures=part.derived, items=tuple(      # all else stays as it is
        item for item in formulas.items
        if item.derived.id in chain and axis.column in prepared.behind[item.derived.id]))
    at = driven if formulas.decisions[name] else ()

    @cache
    def reach(low: float, high: float) -> Reach:
        moved = part.answers | {axis.column: NumberSet(((low, high),))}
        found = rows_reached(index.columns[place], derived_values(follow, moved)[name][at])
        return Reach(found.rows & counted, found.sure & counted, found.perhaps & counted, found.never & counted)

    return course_of(reach, axis.range.low, axis.range.high)


def _is(bounds: Bounds, rank: int) -> bool:
    return bounds.worst == bounds.best == rank


def _may_be_worse(group: _Group, candidate: int, rank: int) -> bool:
    rows = group.index.table.rows
    return group.courses and rank > OPEN or any(
        rows[row].verdict < rank or (short > 0 and rank > OPEN) for row, _, _, short in group.rows[candidate])


def _value(prepared: Prepared, axis: Axis, candidate: int) -> NumberSet:
    if not axis.derived:
        return axis.parts[0].answers[axis.column]
    at = (candidate,) if prepared.formulas.decisions[axis.column] else ()
    return axis.parts[0].derived[axis.column][at]


def _first_change(moved: _Moved, start: float, side: int) -> Place | None:
    """The nearest place on this side of the start at which the verdict is another."""
    valid = moved.axis.range
    cuts = {cut for group in moved.groups for cut in _cuts(group, moved.candidate)}
    ahead = sorted((cut for cut in cuts if (cut - start) * side >= 0 and valid.low <= cut <= valid.high),
                   reverse=side < 0)
    for cut in ahead:
        outside = (cut, False) in ((valid.low, valid.low_in), (valid.high, valid.high_in))
        if cut != start and not outside and not _is(_bounds(moved, (cut, 0)), moved.rank):
            return cut, 0
        last = cut == (valid.high if side > 0 else valid.low)
        if not last and not _is(_bounds(moved, (cut, side)), moved.rank):
            return cut, side
    return None


def _cuts(group: _Group, candidate: int) -> Iterator[float]:
    if group.column is not None:
        column, rows = group.index.table.columns[group.place], group.index.table.rows
        for row, *_ in group.rows[candidate]:
            cell = rows[row].cells[group.place]
            if cell >= 0:
                for part in column.cells[cell].intervals:
                    yield part.low
                    yield part.high
    if group.courses:
        for course in group.courses(_driven(group, candidate)):
            yield from course.before


def _driven(group: _Group, candidate: int) -> Combination:
    return (candidate,) if group.index.driving else ()


def _outcome(group: _Group, candidate: int, place: Place) -> Outcome | None:
    """What the table says with the column at this place; None where it has no effect."""
    number, side = place
    reached = -1                                     # every row
    if group.column is not None:
        cuts, at = group.column.cuts, bisect_left(group.column.cuts, number)
        if at < len(cuts) and cuts[at] == number:
            reached = group.column.atoms[2 * at + 1 + side]
        else:
            reached = group.column.atoms[2 * bisect_right(cuts, number)]
    beside = [reach_beside(course, number, side) for course in group.courses(_driven(group, candidate))] \
        if group.courses else []
    states: list[Reached] = []
    for row, bit, certain, short in group.rows[candidate]:
        if not reached & bit:
            continue
        for one in beside:
            certain = certain and one.sure & bit != 0
            short = max(short, 2 if one.never & bit else 1 if one.perhaps & bit else 0)
        if all(one.rows & bit for one in beside):
            states.append((row, certain, short))
    if not states:
        return None
    if len(states) == 1 and states[0][1:] == (True, 0):
        return group.index.settled[states[0][0]]
    return outcome_of(group.index.table, states)


def _bounds(moved: _Moved, place: Place) -> Bounds:
    found = moved.base
    for group in moved.groups:
        outcome = _outcome(group, moved.candidate, place)
        if outcome is not None:
            found = found.meet(outcome.bounds)
    return found


def _margin(moved: _Moved, start: float, side: int, place: Place) -> Margin:
    bounds = _bounds(moved, place)
    group, row = _setting(moved, place, bounds.worst) if bounds.worst < moved.rank else \
        _setting(moved, (start, 0), moved.rank)
    table = group.index.table
    return Margin(
        moved.decision.id, moved.decision.candidates[moved.candidate].id, group.part.state, moved.axis.column, start,
        place[0], side > 0, place[1] != 0, VERDICTS[moved.rank],
        VERDICTS[bounds.worst if bounds.worst == bounds.best else OPEN], VERDICTS[bounds.best],
        VERDICTS[bounds.worst], f"{table.id}.no_value" if row == NO_VALUE else table.rows[row].rule, table.id,
        group.part.components)


def _setting(moved: _Moved, place: Place, rank: int) -> tuple[_Group, int]:
    """The first table and row that give this rank; a table that leaves nothing better stands before others."""
    outcomes = [(group, outcome) for group in moved.groups
                if (outcome := _outcome(group, moved.candidate, place)) is not None]
    settled = [(group, outcome) for group, outcome in outcomes if outcome.bounds.best == rank]
    return next((group, entry.row) for group, outcome in (*settled, *outcomes)
                for entry in outcome.entries if entry.rank == rank)
