"""Gives back which rows of a table an answer reaches, as the bits of one whole number: bit i is the row at
place i.

The conditions of a column cut its values into atoms: for numbers every interval end, what lies between two
ends, and absence; for choices every option. All values of an atom reach the same rows. So an answer, whatever
its set, reaches the rows of any of its atoms, and is held by the rows that all of its atoms have.
"""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass
from typing import NamedTuple

from generator.evaluate.results import Answer, ChoiceSet
from generator.pack.model import Interval, NumberCell, Table


class Reach(NamedTuple):
    """`rows` that some completion of the answers reaches, and those that every completion reaches (`sure`).
    Of these, `perhaps` may and `never` will find no value where they ask for one."""

    rows: int
    sure: int
    perhaps: int
    never: int


@dataclass(frozen=True, slots=True)
class ColumnIndex:
    """Rows per atom. Numbers: `atoms` are those below the first of the rising `cuts`, at it, between it and
    the next, and so on; `absent` is one more. Choices: `options`. `asking` are the rows that set a condition
    in this column."""

    cuts: tuple[float, ...]
    atoms: tuple[int, ...]
    absent: int
    options: dict[str, int]
    asking: int
    every: int
    derived: bool


def index_column(table: Table, place: int, ids: tuple[str, ...]) -> ColumnIndex:
    """The column at `place`; `ids` are all that an answer to a choice column may have."""
    column = table.columns[place]
    holding = [0] * len(column.cells)                # rows per condition
    asking = 0
    for row, content in enumerate(table.rows):
        if content.cells[place] >= 0:
            holding[content.cells[place]] |= 1 << row
            asking |= 1 << row
    every = (1 << len(table.rows)) - 1

    def rows_where(matches) -> int:
        return (every & ~asking) | sum(rows for cell, rows in zip(column.cells, holding) if matches(cell))

    if column.kind == "choice":
        options = {name: rows_where(lambda cell: name in cell.ids) for name in ids}
        return ColumnIndex((), (), 0, options, asking, every, False)
    ends = {end for cell in column.cells for part in cell.intervals for end in (part.low, part.high)}
    cuts = tuple(sorted(ends))
    atoms = tuple(rows_where(lambda cell: _has_atom(cell, cuts, atom)) for atom in range(2 * len(cuts) + 1))
    return ColumnIndex(cuts, atoms, rows_where(lambda cell: cell.absent), {}, asking, every,
                       column.source == "derived")


def rows_reached(column: ColumnIndex, answer: Answer) -> Reach:
    """The rows that the answer reaches in this column. A derived value that may be absent leaves every row in
    reach: those that ask for it may lack it."""
    if isinstance(answer, ChoiceSet):
        atoms = [column.options[name] for name in answer.ids]
    elif len(answer.intervals) == 1 and not answer.absent and \
            answer.intervals[0][0] == answer.intervals[0][1]:
        rows = column.atoms[_atom_at(column.cuts, answer.intervals[0][0])]
        return Reach(rows, rows, 0, 0)
    else:
        atoms = [rows for low, high in answer.intervals
                 for rows in column.atoms[_atom_at(column.cuts, low):_atom_at(column.cuts, high) + 1]]
        if answer.absent and not column.derived:
            atoms.append(column.absent)
    rows, sure = 0, column.every
    for atom in atoms:
        rows |= atom
        sure &= atom
    if isinstance(answer, ChoiceSet) or not (answer.absent and column.derived):
        return Reach(rows, sure, 0, 0)
    if not answer.intervals:
        return Reach(column.every, column.every, 0, column.asking)
    return Reach(column.every, column.every & ~column.asking, column.asking & rows, column.asking & ~rows)


def both(one: Reach, other: Reach) -> Reach:
    """What is reached in two columns at once."""
    return Reach(one.rows & other.rows, one.sure & other.sure,
                 one.perhaps | other.perhaps, one.never | other.never)


def places_of(rows: int) -> list[int]:
    """The places of the rows, in their order."""
    places = []
    while rows:
        lowest = rows & -rows
        places.append(lowest.bit_length() - 1)
        rows ^= lowest
    return places


# private

def _atom_at(cuts: tuple[float, ...], number: float) -> int:
    place = bisect_left(cuts, number)
    return 2 * place + 1 if place < len(cuts) and cuts[place] == number else 2 * place


def _has_atom(cell: NumberCell, cuts: tuple[float, ...], atom: int) -> bool:
    return any(_interval_has_atom(part, cuts, atom) for part in cell.intervals)


def _interval_has_atom(part: Interval, cuts: tuple[float, ...], atom: int) -> bool:
    if atom % 2 == 1:
        number = cuts[atom // 2]
        return (part.low < number or (part.low_in and part.low == number)) and \
            (number < part.high or (part.high_in and number == part.high))
    if atom == 0 or atom == 2 * len(cuts):
        return False                                 # every end is a cut: nothing lies beyond the outermost
    return part.low <= cuts[atom // 2 - 1] and cuts[atom // 2] <= part.high
