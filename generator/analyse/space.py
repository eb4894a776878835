"""Gives back a table's space: the axis of each column, each row as a box, and how the columns are spoken of."""

from __future__ import annotations

from collections.abc import Iterable

from generator.boxes.sets import Axis, AxisSet, Box, ChoiceAxis, Choices, NumberAxis, Numbers, Span, whole
from generator.boxes.words import AxisWords
from generator.pack.model import NOT_APPLICABLE, ChoiceCell, Column, NumberCell, Pack, Row, Table
from generator.pack.texts import Texts


def table_space(pack: Pack, table: Table) -> tuple[Axis, ...]:
    """The axes of a table's columns: all that an answer or a value can be."""
    return tuple(column_axis(pack, column) for column in table.columns)


def table_boxes(table: Table, axes: tuple[Axis, ...]) -> list[Box]:
    """The conditions of all rows as boxes, in their order."""
    sets = [[cell_set(cell) for cell in column.cells] for column in table.columns]
    every = [whole(axis) for axis in axes]
    return [tuple(every[at] if cell < 0 else sets[at][cell] for at, cell in enumerate(row.cells)) for row in table.rows]


def row_box(table: Table, row: Row, axes: tuple[Axis, ...]) -> Box:
    """A row's condition as a box."""
    return tuple(whole(axis) if cell < 0 else cell_set(column.cells[cell])
                 for column, cell, axis in zip(table.columns, row.cells, axes, strict=True))


def axis_words(texts: Texts, table: Table) -> tuple[AxisWords, ...]:
    """How a table's columns are spoken of."""
    return tuple(column_words(texts, column) for column in table.columns)


def column_axis(pack: Pack, column: Column) -> Axis:
    """All that a column can hold; `absent` belongs where `not applicable` may be answered."""
    if column.source == "derived":
        valid = next(one.valid for one in pack.derived if one.id == column.name)
        return NumberAxis(valid.low, valid.high)
    if column.source == "decision":
        return ChoiceAxis(candidates_of(pack, column.name))
    asked = next(one for one in pack.inputs if one.id == column.name)
    if column.kind == "number":
        return NumberAxis(asked.low, asked.high, asked.may_be_absent)
    ids = tuple(option.id for option in asked.options)
    return ChoiceAxis((*ids, NOT_APPLICABLE) if asked.may_be_absent and NOT_APPLICABLE not in ids else ids)


def column_words(texts: Texts, column: Column) -> AxisWords:
    """A column's title, unit and the titles of its options."""
    if column.source == "derived":
        value = next(one for one in texts.derived if one.id == column.name)
        return AxisWords(value.title, value.unit_symbol)
    if column.source == "decision":
        decision = next(one for one in texts.decisions if one.id == column.name)
        return AxisWords(decision.title, titles={item.id: item.title for item in decision.items})
    asked = next(one for one in texts.inputs if one.id == column.name)
    return AxisWords(asked.title, asked.unit_symbol, dict(asked.options))


def cell_set(cell: NumberCell | ChoiceCell) -> AxisSet:
    """A condition as a set on its axis."""
    if isinstance(cell, ChoiceCell):
        return Choices(cell.ids)
    return Numbers(
        tuple(Span(one.low, one.low_in, one.high, one.high_in) for one in cell.intervals), cell.absent)


def candidates_of(pack: Pack, decision: str) -> tuple[str, ...]:
    """The ids of a decision's candidates, in the committee's order."""
    return tuple(one.id for item in pack.decisions if item.id == decision for one in item.candidates)


def listed(names: Iterable[str]) -> str:
    """`a`, `a and b`, `a, b and c`."""
    every = tuple(names)
    return " and ".join((", ".join(every[:-1]), every[-1])) if len(every) > 1 else "".join(every)
