"""Gives back a mutant's table as the engine reads it."""

from __future__ import annotations

from dataclasses import replace

from generator.analyse.mutants import Mutant, Piece, Space
from generator.boxes.sets import AxisSet, Box, Choices, whole
from generator.evaluate.tables import Bounds, Entry, Outcome, TableIndex, index_table, read_table
from generator.pack.model import ChoiceCell, Interval, NumberCell, Pack, Row, Table


def mutated_index(pack: Pack, space: Space, index: TableIndex, mutant: Mutant) -> TableIndex:
    """The mutated table with its indexes; where every box stays where it was those of `index` are kept."""
    if len(mutant.new) == len(mutant.gone) and all(
            piece.box == space.boxes[at] for at, piece in zip(mutant.gone, mutant.new)):
        return _with_pieces(index, dict(zip(mutant.gone, mutant.new)))
    return index_table(pack, mutated_table(space, mutant))


def mutated_table(space: Space, mutant: Mutant) -> Table:
    """The table with the mutant's rows in place of those that are gone, where the first of these stood."""
    table = space.table
    cells: list[dict[AxisSet, int]] = [{} for _ in table.columns]
    for row, box in zip(table.rows, space.boxes):
        for known, one, cell in zip(cells, box, row.cells):
            if cell >= 0:
                known[one] = cell
    cells = [dict(sorted(known.items(), key=lambda item: item[1])) for known in cells]
    new = [Row(piece.rule, piece.verdict, _places(space, cells, piece.box)) for piece in mutant.new]
    rows: list[Row] = []
    for at, row in enumerate(table.rows):
        if at == mutant.gone[0]:
            rows += new
        if at not in mutant.gone:
            rows.append(row)
    columns = tuple(
        replace(column, cells=tuple(map(_cell, known))) for column, known in zip(table.columns, cells)
    )
    return replace(table, columns=columns, rows=tuple(rows))


# private

def _with_pieces(index: TableIndex, pieces: dict[int, Piece]) -> TableIndex:
    rows, settled = list(index.table.rows), list(index.settled)
    for at, piece in pieces.items():             # a rule that loses its only choice gives its box to `otherwise`
        rows[at] = replace(rows[at], rule=piece.rule, verdict=piece.verdict)
        settled[at] = Outcome(Bounds(piece.verdict, piece.verdict), (Entry(at, piece.verdict, True),))
    changed = replace(index, table=replace(index.table, rows=tuple(rows)), settled=tuple(settled), fixed=None)
    return changed if index.fixed is None else replace(changed, fixed=read_table(changed, {}, {}))


def _places(space: Space, cells: list[dict[AxisSet, int]], box: Box) -> tuple[int, ...]:
    return tuple(-1 if one == whole(axis) else known.setdefault(one, len(known))
                 for one, axis, known in zip(box, space.axes, cells, strict=True))


def _cell(one: AxisSet) -> NumberCell | ChoiceCell:
    if isinstance(one, Choices):
        return ChoiceCell(one.ids)
    return NumberCell(
        tuple(Interval(span.low, span.low_in, span.high, span.high_in) for span in one.spans), one.absent)
