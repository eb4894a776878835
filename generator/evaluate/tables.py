"""Gives back what one rule table says in one state, for every candidate (or combination of candidates) it
names.

A row counts when its box meets the answers. With single answers that is exactly one row of a `unique` table;
with sets it is every row that some completion of the answers reaches, and so the bounds `worst` and `best`
hold for all of them.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import product

from generator.evaluate.columns import ColumnIndex, Reach, both, index_column, places_of, rows_reached
from generator.evaluate.results import Answer, ChoiceSet
from generator.pack.model import NOT_APPLICABLE, Decision, Input, Pack, Table

Combination = tuple[int, ...]        # candidate places, one per decision

# A row that counts: its place, whether every completion reaches it, how it may lack a value (0 no, 1 perhaps,
# 2 always).
Reached = tuple[int, bool, int]

NO_VALUE = -1                        # stands for a row: a derived column has no value
OPEN, SUITABLE = 1, 3                # ranks in pack.model.VERDICTS


@dataclass(frozen=True, slots=True)
class Bounds:
    """Ranks between which a verdict lies for every completion of the answers."""

    worst: int
    best: int

    def meet(self, other: Bounds) -> Bounds:
        """The worse of two verdicts, bound by bound."""
        if other.worst >= self.worst and other.best >= self.best:
            return self
        return Bounds(min(self.worst, other.worst), min(self.best, other.best))


@dataclass(frozen=True, slots=True)
class Entry:
    """A row that counts: its place (or NO_VALUE), its verdict's rank, and whether every completion reaches
    it."""

    row: int
    rank: int
    certain: bool


@dataclass(frozen=True, slots=True)
class Outcome:
    """Bounds of the verdict, and the rows behind them in their order; `lacking` are the rows (by place) that
    ask for a value which there may be none of."""

    bounds: Bounds
    entries: tuple[Entry, ...]
    lacking: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class TableIndex:
    """A table with what makes it quick to read. Columns are named by their place.

    `steady` columns hold the same answer for every candidate, `moving` ones a derived value per candidate,
    which is to say per combination of the `driving` decisions' candidates (all of those: `driven`).
    `speaking` are the rows that speak of such a combination, `named[row]` the full combinations that the row
    speaks of, by their driving part. `settled[row]` is the outcome where this row alone counts, for every
    completion. `fixed` is what a table that reads no answer always says.
    """

    table: Table
    columns: tuple[ColumnIndex | None, ...]
    steady: tuple[int, ...]
    moving: tuple[int, ...]
    driving: tuple[int, ...]         # places in table.decisions
    driven: tuple[Combination, ...]
    speaking: dict[Combination, int]
    named: tuple[dict[Combination, tuple[Combination, ...]], ...]
    settled: tuple[Outcome, ...]
    fixed: dict[Combination, Outcome] | None = None


def index_table(pack: Pack, table: Table) -> TableIndex:
    """The table with its indexes; made once per pack."""
    decisions = {decision.id: decision for decision in pack.decisions}
    derived = {item.id: item for item in pack.derived}
    ids = {item.id: option_ids(item) for item in pack.inputs}
    steady, moving, needed = [], [], set()
    for place, column in enumerate(table.columns):
        if column.source != "decision":
            needs = derived[column.name].decisions if column.source == "derived" else ()
            (moving if needs else steady).append(place)
            needed.update(needs)
    driving = tuple(place for place, name in enumerate(table.decisions) if name in needed)
    driven = every_combination(range(len(decisions[table.decisions[place]].candidates)) for place in driving)
    named = tuple(_named(table, row.cells, decisions, driving) for row in table.rows)
    index = TableIndex(
        table,
        tuple(None if column.source == "decision" else index_column(table, place, ids.get(column.name, ()))
              for place, column in enumerate(table.columns)),
        tuple(steady), tuple(moving), driving, tuple(driven),
        {part: sum(1 << row for row, combinations in enumerate(named) if part in combinations)
         for part in driven},
        named, tuple(outcome_of(table, [(place, True, 0)]) for place in range(len(table.rows))))
    return index if steady or moving else replace(index, fixed=read_table(index, {}, {}))


def read_table(index: TableIndex, steady: dict[int, Answer],
               moving: dict[Combination, dict[int, Answer]]) -> dict[Combination, Outcome]:
    """The outcome for every combination of candidate places, in the order of `table.decisions`.

    `steady` gives the answer of each steady column by place; `moving` those of the moving columns for each
    combination of the driving decisions' candidates. Combinations that no row reaches are left out: no
    effect.
    """
    if index.fixed is not None:
        return index.fixed
    every = (1 << len(index.table.rows)) - 1
    reach = Reach(every, every, 0, 0)
    for place in index.steady:
        reach = both(reach, rows_reached(index.columns[place], steady[place]))
    found: dict[Combination, list[Reached]] = {}
    for driven in index.driven:
        here = reach
        for place in index.moving:
            here = both(here, rows_reached(index.columns[place], moving[driven][place]))
        for row in places_of(here.rows & index.speaking[driven]):
            bit = 1 << row
            state = row, here.sure & bit != 0, 2 if here.never & bit else 1 if here.perhaps & bit else 0
            for combination in index.named[row][driven]:
                found.setdefault(combination, []).append(state)
    return {combination: index.settled[states[0][0]] if len(states) == 1 and states[0][1:] == (True, 0)
            else outcome_of(index.table, states) for combination, states in found.items()}


def outcome_of(table: Table, states: list[Reached]) -> Outcome:
    """What the rows that count come to."""
    entries = [Entry(row, table.rows[row].verdict, certain and short == 0)
               for row, certain, short in states if short < 2]
    lacking = tuple(row for row, _, short in states if short > 0)
    if lacking:                                     # several rows may lack the same value: it is said once
        entries.append(Entry(NO_VALUE, OPEN, any(certain and short == 2 for _, certain, short in states)))
    worst = min(entry.rank for entry in entries)
    if table.hit_policy == "unique":
        best = max(entry.rank for entry in entries)
    else:
        best = min((entry.rank for entry in entries if entry.certain), default=SUITABLE)
    return Outcome(Bounds(worst, best), tuple(entries), lacking)


def every_combination(pools: Iterable[Iterable[int]]) -> list[Combination]:
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
    low, high = answer.intervals[0]
    return not answer.absent and len(answer.intervals) == 1 and low == high


# private

def _named(table: Table, cells: tuple[int, ...], decisions: dict[str, Decision],
           driving: tuple[int, ...]) -> dict[Combination, tuple[Combination, ...]]:
    pools = []
    for name in table.decisions:
        candidates = decisions[name].candidates
        pool = tuple(range(len(candidates)))
        for place, column in enumerate(table.columns):
            if column.source == "decision" and column.name == name and cells[place] >= 0:
                ids = column.cells[cells[place]].ids
                pool = tuple(i for i in pool if candidates[i].id in ids)
        pools.append(pool)
    named: dict[Combination, list[Combination]] = {}
    for combination in every_combination(pools):
        named.setdefault(tuple(combination[place] for place in driving), []).append(combination)
    return {driven: tuple(combinations) for driven, combinations in named.items()}
