"""Gives back what drawing needs of a pack: its limits, its rows as aims, and the inputs behind derived
values."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Context, Decimal
from math import isfinite

from generator.evaluate.expressions import Compute, prepare_expression
from generator.evaluate.prepared import raw_inputs
from generator.pack.model import VERDICTS, ChoiceCell, Derived, Input, Interval, NumberCell, Pack, Table


Conditions = tuple[tuple[str, NumberCell | ChoiceCell], ...]

LONG_TABLE = 200                                 # rows; longer ones, of chemistry, are reached by their bands


@dataclass(frozen=True, slots=True)
class Aim:
    """A row as what its columns ask for: (column, condition), of inputs, derived values and decisions."""

    conditions: Conditions
    verdict: int


@dataclass(frozen=True, slots=True)
class Limits:
    """What drawing needs of a pack. `numbers` are the limits per input or derived value, `behind` the number
    inputs it is made of; `bands` the aims of rows that name a single option of a choice input, numbers only;
    `usual` the suitable aims of the tables that read a velocity. `formulas` are the expression and where each
    symbol is valid."""

    pack: Pack
    inputs: dict[str, Input]
    numbers: dict[str, tuple[float, ...]]
    aims: tuple[Aim, ...]
    bands: dict[tuple[str, str], tuple[Aim, ...]]
    usual: tuple[tuple[Aim, ...], ...]
    behind: dict[str, tuple[str, ...]]
    derived: dict[str, Derived]
    formulas: dict[str, tuple[Compute, dict[str, Interval]]]


def limits_of(pack: Pack) -> Limits:
    """The limits of all tables, collected once."""
    numbers = {item.id: {item.low, item.high} for item in pack.inputs if item.kind == "number"}
    behind = {name: tuple(sorted(inputs & numbers.keys())) for name, inputs in raw_inputs(pack).items()}
    bands: dict[tuple[str, str], dict[Conditions, Aim]] = {}
    aims: list[Aim] = []
    usual: list[tuple[Aim, ...]] = []
    for table in pack.tables:
        for column in table.columns:
            if column.kind == "number":
                parts = [part for cell in column.cells for part in cell.intervals]
                ends = {end for part in parts for end in (part.low, part.high)}
                numbers.setdefault(column.name, set()).update(filter(isfinite, ends))
        of_table = [aim_of(table, row.cells, row.verdict) for row in table.rows]
        if len(of_table) < LONG_TABLE:
            aims += of_table
        if any(column.source == "derived" and column.name.startswith("velocity") for column in table.columns):
            usual.append(tuple(aim for aim in of_table if aim.verdict == VERDICTS.index("suitable")))
        inputs = {column.name for column in table.columns if column.source == "input"}
        for aim in of_table:
            for name, cell in aim.conditions:
                if name in inputs and isinstance(cell, ChoiceCell) and len(cell.ids) == 1:
                    kept = tuple(pair for pair in aim.conditions if isinstance(pair[1], NumberCell))
                    bands.setdefault((name, cell.ids[0]), {}).setdefault(kept, Aim(kept, aim.verdict))
    formulas = {formula.id: (prepare_expression(formula.expression),
                             {symbol.id: symbol.valid for symbol in formula.symbols})
                for formula in pack.formulas}
    return Limits(pack, {item.id: item for item in pack.inputs},
                  {name: tuple(sorted(ends)) for name, ends in numbers.items()}, tuple(aims),
                  {key: tuple(found.values()) for key, found in bands.items()},
                  tuple(found for found in usual if found), behind,
                  {item.id: item for item in pack.derived}, formulas)


def aim_of(table: Table, cells: tuple[int, ...], verdict: int) -> Aim:
    """The row of these cells as an aim."""
    return Aim(tuple((column.name, column.cells[cell])
                     for column, cell in zip(table.columns, cells) if cell >= 0), verdict)


def neighbours(number: float) -> tuple[float, float]:
    """The 12-digit numbers next to a number, below and above."""
    if number == 0:
        return -1e-12, 1e-12
    context = Context(prec=12)
    exact = Decimal(repr(number))
    return float(context.next_minus(exact)), float(context.next_plus(exact))
