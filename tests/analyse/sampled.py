"""Gives back points at which the engine and a comparison of two tables part: none, if the comparison is exact.

`python -m tests.analyse.sampled 100000` tries so many points on edited versions of the shipped tables.
"""

from __future__ import annotations

import random
import sys
from collections.abc import Iterator, Sequence
from dataclasses import replace

from generator.analyse.comparison import NO_EFFECT, NOT_ASKED, Comparison, Said, compare_tables
from generator.analyse.space import column_axis
from generator.boxes.sets import Axis, ChoiceAxis, holds
from generator.evaluate.numbers import round_to_12
from generator.evaluate.results import Answer, ChoiceSet, NumberSet
from generator.evaluate.tables import Combination, Outcome, index_table, read_table
from generator.pack.model import VERDICTS, ChoiceCell, Interval, NumberCell, Pack, Row, Table
from generator.pack.texts import Texts

Value = float | str | None


class Told:
    """What the engine says of a table in one version. Answers are kept: a point is asked for every candidate."""

    def __init__(self, pack: Pack, table: Table) -> None:
        self.pack, self.table, self.index = pack, table, index_table(pack, table)
        self.axes = {column.name: column_axis(pack, column) for column in table.columns}
        self.ids = {one.id: [candidate.id for candidate in one.candidates] for one in pack.decisions}
        self._known: dict[tuple[Value, ...], dict[Combination, Outcome]] = {}

    def at(self, point: dict[str, Value]) -> Said:
        """The verdict and the rules that give it; a point beyond the version's own ranges cannot be asked."""
        if not all(_in(axis, point[name]) for name, axis in self.axes.items()):
            return Said(NOT_ASKED)
        named = tuple(self.ids[name].index(str(point[name])) for name in self.table.decisions)
        outcome = self._outcomes(point).get(named)
        if outcome is None:
            return Said(NO_EFFECT)
        rules = [self.table.rows[entry.row].rule for entry in outcome.entries if entry.rank == outcome.bounds.worst]
        return Said(VERDICTS[outcome.bounds.worst], tuple(dict.fromkeys(rules)))

    def _outcomes(self, point: dict[str, Value]) -> dict[Combination, Outcome]:
        columns = self.table.columns
        key = tuple(point[column.name] for column in columns if column.source != "decision")
        if key not in self._known:
            answers = {place: _answer(column.kind, point[column.name]) for place, column in enumerate(columns)
                       if column.source != "decision"}
            self._known[key] = read_table(self.index, answers, {driven: answers for driven in self.index.driven})
        return self._known[key]


def disagreements(old: Told, new: Told, comparison: Comparison, count: int, draw: random.Random) -> Iterator[str]:
    """Points, a good part of them on limits and beside them, where the comparison says other than the two engines."""
    ends = [_values(name, axis, (old, new)) for name, axis in zip(comparison.names, comparison.axes, strict=True)]
    for _ in range(count):
        values = [draw.choice(every) if isinstance(axis, ChoiceAxis) or draw.random() < .7
                  else draw.uniform(axis.low, axis.high) for axis, every in zip(comparison.axes, ends, strict=True)]
        point = dict(zip(comparison.names, values, strict=True))
        before, after = old.at(point), new.at(point)
        there = [one for one in comparison.differences if all(map(holds, one.box, values))]
        said = (there[0].old, there[0].new) if there else None
        if len(there) > 1 or said != ((before, after) if before != after else None):
            yield f"{comparison.table} at {point}: {before} -> {after}, but compared: {said or 'no difference'}"


def edited(table: Table, draw: random.Random, edits: int = 3) -> Table:
    """The table as a hasty committee might leave it: verdicts, limits and names of rules changed. The rows of a unique
    table stay disjoint and complete: a limit moves in every condition that has it."""
    for _ in range(edits):
        kind = draw.choice(("verdict", "rename", "limit", "limit", "swap"))
        at = draw.randrange(len(table.rows))
        rows = list(table.rows)
        if kind == "verdict":
            rows[at] = replace(rows[at], verdict=draw.randrange(3))
        elif kind == "rename":
            rows[at] = replace(rows[at], rule=f"{rows[at].rule}_again")
        elif kind == "swap":
            other = draw.randrange(len(rows))
            rows[at], rows[other] = (Row(rows[at].rule, rows[other].verdict, rows[at].cells),
                                     Row(rows[other].rule, rows[at].verdict, rows[other].cells))
        else:
            table = _moved(table, draw)
            rows = list(table.rows)
        table = replace(table, rows=tuple(rows))
    return table


def main(count: int) -> int:
    """Counts points over all shipped tables, each edited anew for every share of the points."""
    from tests import shipped
    pack, texts = shipped.base()
    draw = random.Random(7)
    tried = regions = changed = 0
    wrong: list[str] = []
    share = max(1, count // (3 * len(pack.tables)))
    for table in pack.tables * 3:
        comparison, old, new = compared(pack, texts, table, edited(table, draw))
        wrong += disagreements(old, new, comparison, share, draw)
        tried, regions = tried + share, regions + len(comparison.differences)
        changed += any(one.changes_verdict for one in comparison.differences)
    print(f"{tried} points, {regions} regions, {changed} of {3 * len(pack.tables)} tables with changed verdicts, "
          f"{len(wrong)} disagreements")
    print("\n".join(wrong[:5]))
    return 1 if wrong else 0


def compared(pack: Pack, texts: Texts, before: Table, after: Table) -> tuple[Comparison, Told, Told]:
    """Two versions of a table of one pack."""
    return compare_tables((pack, texts, before), (pack, texts, after)), Told(pack, before), Told(pack, after)


# private

def _moved(table: Table, draw: random.Random) -> Table:
    """One limit of one column moved in every condition that has it, not beyond its neighbours."""
    places = [at for at, column in enumerate(table.columns) if column.kind == "number" and column.cells]
    if not places:
        return table
    at = draw.choice(places)
    column = table.columns[at]
    ends = sorted({end for cell in column.cells if isinstance(cell, NumberCell)
                   for one in cell.intervals for end in (one.low, one.high)})
    if len(ends) < 3:
        return table
    place = draw.randrange(1, len(ends) - 1)
    end = ends[place]
    moved = round_to_12(draw.uniform(end, ends[place + 1])) if draw.random() < .5 else round_to_12(
        draw.uniform(ends[place - 1], end))
    if moved in ends:
        return table
    cells = tuple(NumberCell(tuple(Interval(moved if one.low == end else one.low, one.low_in,
                                            moved if one.high == end else one.high, one.high_in)
                                   for one in cell.intervals), cell.absent)
                  for cell in column.cells if isinstance(cell, NumberCell))
    return replace(table, columns=(*table.columns[:at], replace(column, cells=cells), *table.columns[at + 1:]))


def _values(name: str, axis: Axis, versions: Sequence[Told]) -> list[Value]:
    """What is worth trying on an axis: its options, or its ends and every limit with what lies just beside it."""
    if isinstance(axis, ChoiceAxis):
        return list(axis.ids)
    ends = {axis.low, axis.high}
    for told in versions:
        for column in told.table.columns:
            if column.name == name:
                own = told.axes[name]
                ends |= {own.low, own.high}  # type: ignore[union-attr]
                ends |= {end for cell in column.cells if not isinstance(cell, ChoiceCell)
                         for one in cell.intervals for end in (one.low, one.high)}
    near = {value for end in ends for step in (0.0, 1e-9, -1e-9)
            if axis.low <= (value := end + step * max(1.0, abs(end))) <= axis.high}
    return [*sorted(near), *([None] if axis.may_be_absent else [])]


def _in(axis: Axis, value: Value) -> bool:
    if isinstance(axis, ChoiceAxis):
        return value in axis.ids
    return axis.may_be_absent if value is None else axis.low <= value <= axis.high  # type: ignore[operator]


def _answer(kind: str, value: Value) -> Answer:
    if kind == "choice":
        return ChoiceSet((str(value),))
    return NumberSet((), True) if value is None else NumberSet(((value, value),))  # type: ignore[arg-type]


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 100_000))
