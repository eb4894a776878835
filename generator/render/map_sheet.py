"""Gives back a rule table with the words that its map prints: titles, units, options, reasons, links.

Twin of browser/map_sheet.js, which makes the same sheet of the two documents that the browser reads.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from generator.pack.model import NOT_APPLICABLE, Column, Table
from generator.render.library import Library, column_range, column_title, option_titles, rule_address

NO_VALUE = "no_value"  # what the rule of a table without a value is called after its table
LEFT_OVER = "otherwise"


@dataclass(frozen=True, slots=True)
class MapColumn:
    """`absent` says what it means that there is no number, and is empty where there always is one."""

    name: str
    title: str
    kind: str
    source: str
    unit: str
    low: float
    high: float
    absent: str
    options: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class RuleWords:
    """`link` is an address of the site."""

    because: str
    link: str


@dataclass(frozen=True, slots=True)
class Sheet:
    """A table as the pack has it, its columns in the same order, and its rules by id."""

    table: Table
    title: str
    columns: tuple[MapColumn, ...]
    rules: Mapping[str, RuleWords]


def sheet_of(lib: Library, table: Table) -> Sheet:
    """The sheet of one table."""
    names = [*dict.fromkeys(row.rule for row in table.rows), f"{table.id}.{NO_VALUE}"]
    return Sheet(
        table,
        lib.table_texts[table.id].title,
        tuple(_column(lib, column) for column in table.columns),
        {
            name: RuleWords(lib.rules[name].because, rule_address(lib, name))
            for name in names
            if name in lib.rules
        },
    )


# private


def _column(lib: Library, column: Column) -> MapColumn:
    absent = _absent_words(lib, column)
    if column.kind == "choice":
        options = tuple(option_titles(lib, column).items())
        if absent and all(name != NOT_APPLICABLE for name, _ in options):
            options += ((NOT_APPLICABLE, absent),)
        return MapColumn(
            column.name, column_title(lib, column), "choice", column.source, "", 0.0, 0.0, "", options
        )
    low, high, unit = column_range(lib, column)
    return MapColumn(
        column.name, column_title(lib, column), "number", column.source, unit, low, high, absent, ()
    )


def _absent_words(lib: Library, column: Column) -> str:
    if column.source == "derived":
        return "no value"
    return "not applicable" if column.source == "input" and lib.inputs[column.name].may_be_absent else ""
