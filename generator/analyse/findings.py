"""Gives back what the committee should know of a pack's tables: failed proofs, waivers, idle columns.

The compiler already refuses gaps and overlaps that nobody waived. Here the finished pack is proved again,
from its own rows, and read for what is not wrong but worth a look. Kinds, in this order:

    gap, overlap       a unique table is not complete or not disjoint: the compiler is at fault
    waived             a finding of the compiler that the committee accepts for a time
    idle_column        a column that never changes the verdict
    never_suitable     a candidate that a table keeps from ever being suitable
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from generator.boxes.sets import Axis, AxisSet, Box, ChoiceAxis, Choices, NumberAxis, Numbers, Span, whole
from generator.boxes.split import merge, overlaps, uncovered
from generator.boxes.words import AxisWords, describe
from generator.pack.model import NOT_APPLICABLE, VERDICTS, ChoiceCell, Column, NumberCell, Pack, Row, Table
from generator.pack.texts import Texts

SUITABLE = VERDICTS.index("suitable")
OTHERWISE = "otherwise"


@dataclass(frozen=True, slots=True)
class Finding:
    """One line of the findings page. `rules` may be empty; `region` is in words with units, or empty."""

    kind: str
    table: str
    rules: tuple[str, ...]
    region: str
    message: str
    file: str
    line: int


def findings(pack: Pack, texts: Texts) -> tuple[Finding, ...]:
    """All findings, table by table in the pack's order, each table's in the order of the kinds."""
    found: list[Finding] = []
    for table in pack.tables:
        found += _proof(pack, texts, table)
        found += [Finding(
            "waived", table.id, (), "", f"{one.message}: waived until {one.until} by {one.approver}, because "
            f"{one.reason}", one.file,
            one.line) for one in texts.waived if one.finding.split()[1] == table.id]
        found += _idle_columns(texts, table, table_space(pack, table))
        found += _never_suitable(pack, texts, table)
    return tuple(found)


def left_over(pack: Pack, texts: Texts, table: Table) -> tuple[str, ...]:
    """What falls to the table's `otherwise`, as few regions in words."""
    axes = table_space(pack, table)
    boxes = [row_box(table, row, axes) for row in table.rows if row.rule == f"{table.id}.{OTHERWISE}"]
    words = axis_words(texts, table)
    return tuple(describe(axes, box, words) for box in merge(axes, boxes))


def table_space(pack: Pack, table: Table) -> tuple[Axis, ...]:
    """The axes of a table's columns: all that an answer or a value can be."""
    return tuple(_axis(pack, column) for column in table.columns)


def row_box(table: Table, row: Row, axes: tuple[Axis, ...]) -> Box:
    """A row's condition as a box."""
    return tuple(whole(axis) if cell < 0 else _set(column.cells[cell])
                 for column, cell, axis in zip(table.columns, row.cells, axes, strict=True))


def axis_words(texts: Texts, table: Table) -> tuple[AxisWords, ...]:
    """How a table's columns are spoken of."""
    return tuple(_words(texts, column) for column in table.columns)


# private

def _axis(pack: Pack, column: Column) -> Axis:
    if column.source == "derived":
        valid = next(one.valid for one in pack.derived if one.id == column.name)
        return NumberAxis(valid.low, valid.high)
    if column.source == "decision":
        return ChoiceAxis(tuple(one.id for decision in pack.decisions if decision.id == column.name
                                for one in decision.candidates))
    asked = next(one for one in pack.inputs if one.id == column.name)
    if column.kind == "number":
        return NumberAxis(asked.low, asked.high, asked.may_be_absent)
    ids = tuple(option.id for option in asked.options)
    return ChoiceAxis((*ids, NOT_APPLICABLE) if asked.may_be_absent and NOT_APPLICABLE not in ids else ids)


def _set(cell: NumberCell | ChoiceCell) -> AxisSet:
    if isinstance(cell, ChoiceCell):
        return Choices(cell.ids)
    return Numbers(
        tuple(Span(one.low, one.low_in, one.high, one.high_in) for one in cell.intervals), cell.absent)


def _words(texts: Texts, column: Column) -> AxisWords:
    if column.source == "derived":
        value = next(one for one in texts.derived if one.id == column.name)
        return AxisWords(value.title, value.unit_symbol)
    if column.source == "decision":
        decision = next(one for one in texts.decisions if one.id == column.name)
        return AxisWords(decision.title, titles={item.id: item.title for item in decision.items})
    asked = next(one for one in texts.inputs if one.id == column.name)
    return AxisWords(asked.title, asked.unit_symbol, dict(asked.options))


def _proof(pack: Pack, texts: Texts, table: Table) -> Iterator[Finding]:
    """A unique table covers everything and says nothing twice."""
    if table.hit_policy != "unique":
        return
    axes, words = table_space(pack, table), axis_words(texts, table)
    boxes = [row_box(table, row, axes) for row in table.rows]
    for gap in uncovered(axes, boxes):
        region = describe(axes, gap, words)
        yield Finding("gap", table.id, (), region, f"no row for {region}", *_place(texts, table))
    for i, j, shared in overlaps(axes, boxes):
        region = describe(axes, shared, words)
        rules = (table.rows[i].rule, table.rows[j].rule)
        yield Finding(
            "overlap", table.id, rules, region, f"two rows, {rules[0]} and {rules[1]}, for {region}",
            *_place(texts, table))


def _idle_columns(texts: Texts, table: Table, axes: tuple[Axis, ...]) -> Iterator[Finding]:
    """A column is idle when no rows of different verdict differ in it alone; in collect, when all is any."""
    boxes = [row_box(table, row, axes) for row in table.rows]
    for place, column in enumerate(table.columns):
        if column.source == "decision":
            continue                                       # naming a decision is what the table is for
        idle = not column.cells
        if not idle and table.hit_policy == "unique":
            others = tuple(axis for at, axis in enumerate(axes) if at != place)
            shadows = [(*box[:place], *box[place + 1:]) for box in boxes]
            idle = all(
                table.rows[i].verdict == table.rows[j].verdict for i, j, _ in overlaps(others, shadows))
        if idle:
            yield Finding(
                "idle_column", table.id, (), "", f"'{column.name}' never changes what the table says",
                *_place(texts, table))


def _never_suitable(pack: Pack, texts: Texts, table: Table) -> Iterator[Finding]:
    """A candidate that no row of a unique table ever calls suitable can never be suitable at all."""
    if table.hit_policy != "unique":
        return
    for place, column in enumerate(table.columns):
        if column.source != "decision":
            continue
        good: set[str] = set()
        for row in table.rows:
            if row.verdict == SUITABLE:
                cell = row.cells[place]
                axis = _axis(pack, column)
                assert isinstance(axis, ChoiceAxis)
                good.update(axis.ids if cell < 0 else column.cells[cell].ids)  # type: ignore[union-attr]
        for decision in pack.decisions:
            for candidate in decision.candidates if decision.id == column.name else ():
                if candidate.id not in good:
                    yield Finding(
                        "never_suitable", table.id, (), "",
                        f"'{candidate.id}' is never suitable by this table", *_place(texts, table))


def _place(texts: Texts, table: Table) -> tuple[str, int]:
    return next((one.file, one.line) for one in texts.tables if one.id == table.id)
