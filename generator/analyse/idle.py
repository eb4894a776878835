"""Gives back columns that never change what their table says, and inputs that no table listens to. Both exact."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from generator.analyse.finding import KIND_OF, Finding
from generator.analyse.space import table_boxes, table_space
from generator.boxes.sets import Axis, Box, whole
from generator.boxes.split import covers, overlaps
from generator.evaluate.prepared import raw_inputs
from generator.pack.model import Pack, Table
from generator.pack.texts import Texts


def idle_columns(pack: Pack, texts: Texts, table: Table) -> Iterator[Finding]:
    """Columns that could be taken out of a table without changing one verdict. Decisions are what a table is for."""
    axes = table_space(pack, table)
    boxes = table_boxes(table, axes)
    place = next((one.file, one.line) for one in texts.tables if one.id == table.id)
    for at, column in enumerate(table.columns):
        if column.source != "decision" and (not column.cells or _is_idle(table, axes, boxes, at)):
            what = "a verdict of the table" if table.hit_policy == "collect" else "what the table says"
            yield Finding("idle_column", table.id, (), "", f"'{column.name}' never changes {what}", *place,
                          f"{KIND_OF['idle_column'].code} {table.id} {column.name}", subject=column.name)


def idle_inputs(pack: Pack, texts: Texts, idle: Iterable[Finding]) -> Iterator[Finding]:
    """Inputs that no column of a table is made of, and those whose every column is idle. An input that another one's
    assumed value is read from counts as read."""
    behind = raw_inputs(pack)
    silent = {one.key for one in idle}
    read: set[str] = set()
    heard: set[str] = set()
    for table in pack.tables:
        for column in table.columns:
            if column.source != "decision":
                read |= behind[column.name]
                if f"{KIND_OF['idle_column'].code} {table.id} {column.name}" not in silent:
                    heard |= behind[column.name]
    lent = {asked.assumed.split(".")[0] for asked in pack.inputs if "." in asked.assumed and asked.id in heard}
    for text in texts.inputs:
        if text.id not in heard | lent:
            why = "only columns that never matter read it" if text.id in read else "no table reads it"
            yield Finding("idle_input", "", (), "", f"'{text.id}' never changes a verdict: {why}", text.file, text.line,
                          f"{KIND_OF['idle_input'].code} {text.id}", subject=text.id)


# private

def _is_idle(table: Table, axes: tuple[Axis, ...], boxes: list[Box], at: int) -> bool:
    """unique: no rows of different verdict differ in the column alone. collect: each row, made to hold for all of the
    column, lies inside rows that are at least as bad."""
    if table.hit_policy == "unique":
        others = tuple(axis for place, axis in enumerate(axes) if place != at)
        shadows = [(*box[:at], *box[at + 1:]) for box in boxes]
        return all(table.rows[i].verdict == table.rows[j].verdict for i, j, _ in overlaps(others, shadows))
    return all(covers(axes, [box for other, box in zip(table.rows, boxes, strict=True) if other.verdict <= row.verdict],
                      (*own[:at], whole(axes[at]), *own[at + 1:]))
               for row, own in zip(table.rows, boxes, strict=True))
