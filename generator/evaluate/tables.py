"""Gives back what one rule table says in one state, for every candidate (or combination of candidates) it names.

A row counts when its box meets the answers. With single answers that is exactly one row of a `unique` table; with sets
it is every row that some completion of the answers reaches, and so the bounds `worst` and `best` hold for all of them.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import product

from generator.evaluate.results import Answer, ChoiceSet, NumberSet
from generator.pack.model import NOT_APPLICABLE, ChoiceCell, Input, NumberCell, Pack, Table

Combination = tuple[int, ...]        # candidate places, one per decision

NO_VALUE = -1                        # stands for a row: a derived column has no value
OPEN, SUITABLE = 1, 3                # ranks in pack.model.VERDICTS


@dataclass(frozen=True, slots=True)
class TableIndex:
    """A table with what makes it quick to read. Columns are named by their place.

    `steady` columns hold the same answer for every candidate, `moving` ones a derived value per candidate. `by_option`
    lists the rows (by place) that a single answer of column `key` can reach; `key` is -1 if no column serves.
    `members[row]` are the candidate places each decision's cell names, in the order of `table.decisions`.
    """

    table: Table
    steady: tuple[int, ...]
    moving: tuple[int, ...]
    driving: tuple[int, ...]         # places in table.decisions of the decisions that move a column
    sizes: tuple[int, ...]           # number of candidates per decision of the table
    key: int
    by_option: dict[str, tuple[int, ...]]
    members: tuple[tuple[tuple[int, ...], ...], ...]


@dataclass(frozen=True, slots=True)
class Entry:
    """A row that counts: its place (or NO_VALUE), its verdict's rank, and whether every completion reaches it."""

    row: int
    rank: int
    certain: bool


@dataclass(frozen=True, slots=True)
class Outcome:
    """Bounds of the verdict's rank, and the rows behind them in their order."""

    worst: int
    best: int
    entries: tuple[Entry, ...]


def index_table(pack: Pack, table: Table) -> TableIndex:
    """The table with its indexes; made once per pack."""
    decisions = {decision.id: decision for decision in pack.decisions}
    derived = {item.id: item for item in pack.derived}
    steady, moving, driving = [], [], set()
    for place, column in enumerate(table.columns):
        if column.source == "decision":
            continue
        needs = derived[column.name].decisions if column.source == "derived" else ()
        (moving if needs else steady).append(place)
        driving.update(table.decisions.index(name) for name in needs)
    sizes = tuple(len(decisions[name].candidates) for name in table.decisions)
    key, by_option = _key_column(pack, table, steady)
    return TableIndex(table, tuple(steady), tuple(moving), tuple(sorted(driving)), sizes, key, by_option,
                      tuple(_members(table, row.cells, decisions) for row in table.rows))


def read_table(index: TableIndex, steady: dict[int, Answer],
               moving: dict[Combination, dict[int, Answer]]) -> dict[Combination, Outcome]:
    """The outcome for every combination of candidate places, in the order of `table.decisions`.

    `steady` gives the answer of each steady column by place; `moving` those of the moving columns for each combination
    of the driving decisions' candidates. Combinations that no row reaches are left out: no effect.
    """
    table = index.table
    reached = _reached_rows(index, steady)
    found: dict[Combination, list[Entry]] = {}
    for driven in every_combination(tuple(tuple(range(index.sizes[place])) for place in index.driving)):
        at = dict(zip(index.driving, driven))
        checks = [_Check(table, place, moving[driven][place]) for place in index.moving]
        for row, certain, short in reached:
            members = index.members[row]
            if any(candidate not in members[place] for place, candidate in at.items()):
                continue
            state = _apply(checks, table.rows[row].cells, certain, short)
            if state is None:
                continue
            entries = _entries(row, table.rows[row].verdict, *state)
            pools = tuple((at[place],) if place in at else members[place] for place in range(len(members)))
            for combination in every_combination(pools):
                found.setdefault(combination, []).extend(entries)
    unique = table.hit_policy == "unique"
    return {combination: _outcome(entries, unique) for combination, entries in found.items()}


def every_combination(pools: Iterable[tuple[int, ...]]) -> list[Combination]:
    """One candidate place out of each pool, in every way; the last pool turns fastest."""
    return list(product(*pools))


def option_ids(item: Input) -> tuple[str, ...]:
    """Every id that an answer to a choice input may have, `not_applicable` last where it is allowed."""
    ids = tuple(option.id for option in item.options)
    return ids if not item.may_be_absent or NOT_APPLICABLE in ids else (*ids, NOT_APPLICABLE)


def is_single(answer: Answer) -> bool:
    """Whether the answer is settled: one number, one id, or certainly absent."""
    if isinstance(answer, ChoiceSet):
        return len(answer.ids) == 1
    if not answer.intervals:
        return True
    return not answer.absent and len(answer.intervals) == 1 and answer.intervals[0][0] == answer.intervals[0][1]


# private

class _Check:
    """The conditions of one column against one answer: each distinct cell is tried once, when first asked for."""

    __slots__ = ("place", "cells", "answer", "short", "known")

    def __init__(self, table: Table, place: int, answer: Answer) -> None:
        column = table.columns[place]
        self.place, self.cells, self.answer = place, column.cells, answer
        self.short = column.source == "derived" and isinstance(answer, NumberSet) and answer.absent
        self.known: dict[int, tuple[bool, bool]] = {}

    def meets_and_holds(self, cell: int) -> tuple[bool, bool]:
        known = self.known.get(cell)
        if known is None:
            known = self.known[cell] = _compare(self.cells[cell], self.answer)
        return known


def _compare(cell: NumberCell | ChoiceCell, answer: Answer) -> tuple[bool, bool]:
    """Whether the cell meets the answer, and whether it holds all of it."""
    if isinstance(answer, ChoiceSet):
        inside = [name in cell.ids for name in answer.ids]
        return any(inside), all(inside)
    meets = cell.absent and answer.absent
    holds = cell.absent or not answer.absent
    for low, high in answer.intervals:
        within = False
        for part in cell.intervals:
            if (low < part.high or (part.high_in and low == part.high)) and \
                    (high > part.low or (part.low_in and high == part.low)):
                meets = True
                within = (low > part.low or (part.low_in and low == part.low)) and \
                    (high < part.high or (part.high_in and high == part.high))
                if within:
                    break
        holds = holds and within
    return meets, holds


def _apply(checks: list[_Check], cells: tuple[int, ...], certain: bool, short: int) -> tuple[bool, int] | None:
    """Whether the row is certain and how it may lack a value (0 no, 1 perhaps, 2 always); None when out of reach."""
    for check in checks:
        cell = cells[check.place]
        if cell < 0:
            continue
        meets, holds = check.meets_and_holds(cell)
        if not meets:
            if not check.short:
                return None
            short = 2
        elif check.short:
            short = max(short, 1)
        certain = certain and (holds or (check.short and not check.answer.intervals))
    return certain, short


def _entries(row: int, rank: int, certain: bool, short: int) -> list[Entry]:
    if short == 0:
        return [Entry(row, rank, certain)]
    lacking = Entry(NO_VALUE, OPEN, certain and short == 2)
    return [lacking] if short == 2 else [Entry(row, rank, False), lacking]


def _reached_rows(index: TableIndex, steady: dict[int, Answer]) -> list[tuple[int, bool, int]]:
    table = index.table
    rows: tuple[int, ...] | range = range(len(table.rows))
    if index.key >= 0:
        answer = steady[index.key]
        if len(answer.ids) == 1:
            rows = index.by_option.get(answer.ids[0], ())
    checks = [_Check(table, place, steady[place]) for place in index.steady]
    reached = []
    for row in rows:
        state = _apply(checks, table.rows[row].cells, True, 0)
        if state is not None:
            reached.append((row, *state))
    return reached


def _outcome(entries: list[Entry], unique: bool) -> Outcome:
    lacking = [entry for entry in entries if entry.row == NO_VALUE]
    kept = [entry for entry in entries if entry.row != NO_VALUE]
    if lacking:                                     # several rows may lack the same value: it is said once
        kept.append(Entry(NO_VALUE, OPEN, any(entry.certain for entry in lacking)))
    worst = min(entry.rank for entry in kept)
    if unique:
        return Outcome(worst, max(entry.rank for entry in kept), tuple(kept))
    certain = [entry.rank for entry in kept if entry.certain]
    return Outcome(worst, min(certain, default=SUITABLE), tuple(kept))


def _key_column(pack: Pack, table: Table, steady: list[int]) -> tuple[int, dict[str, tuple[int, ...]]]:
    """The steady choice column with most distinct conditions, and the rows each of its options can reach."""
    choices = [place for place in steady if table.columns[place].kind == "choice"]
    if not choices:
        return -1, {}
    key = max(choices, key=lambda place: (len(table.columns[place].cells), -place))
    rows: dict[str, list[int]] = {}
    source = next(item for item in pack.inputs if item.id == table.columns[key].name)
    for place, row in enumerate(table.rows):
        cell = row.cells[key]
        for name in option_ids(source) if cell < 0 else table.columns[key].cells[cell].ids:
            rows.setdefault(name, []).append(place)
    return key, {name: tuple(places) for name, places in rows.items()}


def _members(table: Table, cells: tuple[int, ...], decisions: dict) -> tuple[tuple[int, ...], ...]:
    members = []
    for name in table.decisions:
        everyone = tuple(range(len(decisions[name].candidates)))
        named = everyone
        for place, column in enumerate(table.columns):
            if column.source == "decision" and column.name == name and cells[place] >= 0:
                ids = column.cells[cells[place]].ids
                named = tuple(i for i in everyone if decisions[name].candidates[i].id in ids)
        members.append(named)
    return tuple(members)
