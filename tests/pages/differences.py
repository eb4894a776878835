"""Gives back where a page and an engine part: page, table, row, cell and the point at which."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from generator.pack.model import ChoiceCell, NumberCell
from generator.pack.model import Column as PackColumn
from generator.pack.model import Table as PackTable
from tests.pages.conditions import Anything
from tests.pages.engines import Combination, Decided, Engine
from tests.pages.points import Value
from tests.pages.shown import VERDICT_WORDS, Row, Table


@dataclass(frozen=True, slots=True)
class Difference:
    """Where a page and an engine part: page, table, row, cell, the point at which, and what each says."""

    page: str
    table: str
    row: str
    cell: str
    point: str
    said: str

    def __str__(self) -> str:
        return (
            f"{self.page}: table {self.table}, row {self.row}, cell {self.cell}: at {self.point}: {self.said}"
        )


@dataclass(slots=True)
class Findings:
    """Differences, the first point of each cell; and how much was compared."""

    differences: dict[tuple[str, str, str, str], Difference] = field(default_factory=dict)
    counts: Counter[str] = field(default_factory=Counter)

    def add(self, difference: Difference) -> None:
        self.differences.setdefault(
            (difference.page, difference.table, difference.row, difference.cell), difference
        )

    def text(self) -> str:
        return "\n".join(str(difference) for difference in self.differences.values())


def difference_at(table: Table, rows: Sequence[Row], matched: Sequence[Row], combination: Combination,
                  point: Mapping[str, Value], engine: Engine, decided: Decided,
                  compiled: PackTable) -> Difference:
    """What the page and an engine say at a point for a combination of candidates, and the cell to look at."""
    whole = {**dict(zip(table.decisions, combination)), **point}
    titles = {column.name: column.title for column in table.columns}
    where = ", ".join(f"{name} {value}" for name, value in whole.items())
    shown = ", ".join(f"{row.verdict} by {row.rule}" for row in matched) or "nothing"
    verdict = (
        "no effect" if not decided.rules else f"{VERDICT_WORDS[decided.worst]} by {', '.join(decided.rules)}"
    )
    said = f"the page says {shown}; {engine.name} decides {verdict}"
    row, cell = _culprit(table, rows, matched, whole, decided, compiled)
    words = f" '{row.words[cell]}'" if row is not None and cell in row.words else ""
    if row is None:
        return Difference(table.page, table.id, cell, "the whole row", where, said)
    return Difference(row.page, table.id, row.cell, f"{titles.get(cell, cell)}{words}", where, said)


# private

def _culprit(
    table: Table,
    rows: Sequence[Row],
    matched: Sequence[Row],
    point: Mapping[str, Value],
    decided: Decided,
    compiled: PackTable,
) -> tuple[Row | None, str]:
    """The row and the column of it that part from the rule. No row: the id of a rule that no page shows."""
    for row in matched:
        if row.rule in decided.rules:
            if row.verdict != VERDICT_WORDS[decided.worst]:
                return row, "Verdict"
        elif not row.leftover:
            for column in compiled.columns:
                if not _rule_holds(compiled, row.rule, column, point[column.name]):
                    return row, column.name
    for rule in decided.rules:
        own = [row for row in rows if row.rule == rule]
        for row in own:
            for column in compiled.columns:
                if not row.leftover and not row.conditions.get(column.name, Anything()).holds(
                    point[column.name]
                ):
                    return row, column.name
        if not own:
            return None, rule
    return (matched[0], "Verdict") if matched else (None, "-")


def _rule_holds(compiled: PackTable, rule: str, column: PackColumn, value: Value) -> bool:
    place = compiled.columns.index(column)
    own = [row.cells[place] for row in compiled.rows if row.rule == rule]
    return not own or any(cell < 0 or _cell_holds(column.cells[cell], value) for cell in own)


def _cell_holds(cell: NumberCell | ChoiceCell, value: Value) -> bool:
    if isinstance(cell, ChoiceCell):
        return value in cell.ids
    if value is None:
        return cell.absent
    return any((part.low < value or (part.low_in and part.low == value)) and
               (value < part.high or (part.high_in and part.high == value)) for part in cell.intervals)
