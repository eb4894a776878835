"""Gives back an axis of a map: the values of one column in slots that no rule in view tells apart.

Between two neighbouring limits lies one band, however wide. A limit belongs to the band below or above it;
where it belongs to neither it has a slot of its own. Twin of browser/map_slots.js.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby

from generator.boxes.sets import NumberAxis, NumberCells, Numbers, Span, cells_of
from generator.pack.model import ChoiceCell, Interval, NumberCell
from generator.render import words
from generator.render.map_sheet import MapColumn, Sheet

Key = float | str | None  # a value that stands for its slot; None: there is no number


@dataclass(frozen=True, slots=True)
class Slot:
    """`kind` is band, point, absent, option, or any. `rows` are the rows (bit i: the i-th in view) that the
    slot's values reach, `lacking` those of them that ask for a number where there is none."""

    kind: str
    option: str
    low: float
    low_in: bool
    high: float
    high_in: bool
    rows: int
    lacking: int


def column_slots(sheet: Sheet, place: int, rows: Sequence[int]) -> tuple[Slot, ...]:
    """The slots of the column at `place` as the given rows of the table cut it, from low to high or in
    order.
    """
    column = sheet.columns[place]
    cells = sheet.table.columns[place].cells
    asking = _rows_by_cell(sheet.table.rows[row].cells[place] for row in rows)
    every = (1 << len(rows)) - 1
    free = asking.pop(-1, 0)
    if column.kind == "choice":
        return tuple(
            Slot("option", option, 0.0, True, 0.0, True, _reached(asking, free, cells, option), 0)
            for option, _ in column.options
        )
    slots = _number_slots(column, [(_intervals(cells[cell]), bits) for cell, bits in asking.items()], free)
    if not column.absent:
        return slots
    if (
        column.source == "derived"
    ):  # whatever asks for the value finds none, and what does not ask is not concerned
        return (*slots, Slot("absent", "", 0.0, True, 0.0, True, every, every & ~free))
    return (*slots, Slot("absent", "", 0.0, True, 0.0, True, _reached(asking, free, cells, None), 0))


def any_slot(rows: Sequence[int]) -> Slot:
    """The one slot of an axis that no column stands on."""
    return Slot("any", "", 0.0, True, 0.0, True, (1 << len(rows)) - 1, 0)


def key_of(slot: Slot) -> Key:
    """A value of the slot: an end that belongs to it, else its middle."""
    if slot.kind == "option":
        return slot.option
    if slot.kind == "absent":
        return None
    if slot.low_in:
        return slot.low
    return slot.high if slot.high_in else (slot.low + slot.high) / 2


def has(slot: Slot, key: Key) -> bool:
    """Whether a value lies in the slot."""
    if slot.kind == "any":
        return True
    if slot.kind == "option":
        return key == slot.option
    if slot.kind == "absent" or key is None:
        return slot.kind == "absent" and key is None
    if isinstance(key, str):
        return False
    return (slot.low < key or slot.low_in and slot.low == key) and (
        key < slot.high or slot.high_in and slot.high == key
    )


def cells_holding(sheet: Sheet, place: int, key: Key) -> frozenset[int]:
    """The conditions of a column (-1 is none) that hold at a value; a derived value may be asked for in
    vain.
    """
    cells = sheet.table.columns[place].cells
    in_vain = key is None and sheet.columns[place].source == "derived"
    return frozenset((-1, *(number for number, cell in enumerate(cells) if in_vain or _holds(cell, key))))


def slot_words(column: MapColumn, slot: Slot) -> str:
    """The slot in words: `above 40 up to 60 °C`, `PFA`, `not applicable`."""
    if slot.kind == "option":
        return next(title for option, title in column.options if option == slot.option)
    if slot.kind == "absent":
        return column.absent
    interval = Interval(slot.low, slot.low_in, slot.high, slot.high_in)
    return words.interval_text(interval, column.low, column.high, column.unit)


# private


def _holds(cell: NumberCell | ChoiceCell, key: Key) -> bool:
    if isinstance(cell, ChoiceCell):
        return key in cell.ids
    if not isinstance(key, float):
        return key is None and cell.absent
    return any(
        (part.low < key or part.low_in and part.low == key)
        and (key < part.high or part.high_in and part.high == key)
        for part in cell.intervals
    )


def _number_slots(
    column: MapColumn, asking: Sequence[tuple[tuple[Interval, ...], int]], free: int
) -> tuple[Slot, ...]:
    """`asking` are the rows in view by their condition, `free` those without one."""
    axis = NumberAxis(column.low, column.high)
    sets = [
        (Numbers(tuple(Span(part.low, part.low_in, part.high, part.high_in) for part in one)), bits)
        for one, bits in asking
    ]
    lattice = cells_of(axis, (one for one, _ in sets))
    assert isinstance(lattice, NumberCells)
    cuts = lattice.cuts
    masks = [(lattice.mask_of(one), bits) for one, bits in sets]
    reached = [
        free | _union(bits for mask, bits in masks if mask >> atom & 1) for atom in range(2 * len(cuts) - 1)
    ]
    slots: list[Slot] = []
    for rows, group in groupby(range(len(reached)), key=lambda atom: reached[atom]):
        atoms = list(group)
        first, last = atoms[0], atoms[-1]
        kind = "point" if first == last and first % 2 == 0 else "band"
        slots.append(
            Slot(kind, "", cuts[first // 2], first % 2 == 0, cuts[(last + 1) // 2], last % 2 == 0, rows, 0)
        )
    return tuple(slots)


def _rows_by_cell(used: Iterable[int]) -> dict[int, int]:
    """The rows (as bits) that have each condition of a column; -1 is none."""
    found: dict[int, int] = {}
    for place, cell in enumerate(used):
        found[cell] = found.get(cell, 0) | 1 << place
    return found


def _reached(asking: dict[int, int], free: int, cells: Sequence[NumberCell | ChoiceCell], key: Key) -> int:
    return free | _union(bits for cell, bits in asking.items() if _holds(cells[cell], key))


def _union(parts: Iterable[int]) -> int:
    bits = 0
    for part in parts:
        bits |= part
    return bits


def _intervals(cell: NumberCell | ChoiceCell) -> tuple[Interval, ...]:
    return cell.intervals if isinstance(cell, NumberCell) else ()
