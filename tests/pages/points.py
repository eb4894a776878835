"""Gives back the points at which a printed table is tried: inside cells, on every limit, and beside it."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from decimal import Context, Decimal
from itertools import product

from generator.evaluate.numbers import round_to_12
from generator.pack.model import ChoiceCell, Pack
from generator.pack.model import Table as PackTable
from tests.pages.conditions import ABSENT, Anything, Names, Numbers
from tests.pages.shown import Row

Value = float | str | None

_TWELVE = Context(prec=12)
_BESIDE_ZERO = 1e-12
_AT_MOST = 6000                    # points of one choice of ids; beyond it one number varies at a time


def neighbours(number: float) -> tuple[float, float]:
    """The numbers of 12 significant digits just below and just above."""
    if number == 0:
        return -_BESIDE_ZERO, _BESIDE_ZERO
    exact = Decimal(repr(number))
    return float(exact.next_minus(_TWELVE)), float(exact.next_plus(_TWELVE))


def around(cuts: Iterable[float], low: float, high: float) -> list[float]:
    """Every cut and its neighbours, what lies between cuts, the ends of the range; all within the range."""
    inside = sorted({low, high, *(cut for cut in cuts if low <= cut <= high)})
    found = set(inside)
    for cut in inside:
        found.update(number for number in neighbours(cut) if low <= number <= high)
    found.update(round_to_12((first + second) / 2) for first, second in zip(inside, inside[1:]))
    return sorted(found)


def table_points(pack: Pack, table: PackTable, rows: Sequence[Row],
                 only: Collection[str] = ()) -> list[tuple[Value, ...]]:
    """Answers of the columns that are no decisions. Limits are those that the page prints and those of the
    pack. `only` are the media to try; all if none is named."""
    columns = [column for column in table.columns if column.source != "decision"]
    choices = [column for column in columns if column.kind == "choice"]
    numbers = [column for column in columns if column.kind == "number"]
    ranges = {column.name: number_range(pack, column.name) for column in numbers}
    shown = {name: _masks(rows, name, options) for name, options in
             ((column.name, option_ids(pack, column.name)) for column in choices)}
    compiled = {
        column.name: _compiled_masks(table, column.name, option_ids(pack, column.name)) for column in choices
    }
    ends = {column.name: _compiled_ends(table, column.name) for column in numbers}
    found = []
    for ids in product(*(_tried(pack, column.name, only) for column in choices)):
        named = dict(zip((column.name for column in choices), ids))
        here, there = (1 << len(rows)) - 1, (1 << len(table.rows)) - 1
        for name, identifier in named.items():
            here &= shown[name][identifier]
            there &= compiled[name][identifier]
        values = []
        for column in numbers:
            low, high, absent = ranges[column.name]
            cuts = {end for row in _of(rows, here) if isinstance(row.conditions.get(column.name), Numbers)
                    for end in row.conditions[column.name].ends()}
            cuts |= {end for own in _of(ends[column.name], there) for end in own}
            values.append([*around(cuts, low, high), *((None,) if absent else ())])
        for combination in _combined(values):
            named.update(zip((column.name for column in numbers), combination))
            found.append(tuple(named[column.name] for column in columns))
    return found


def option_ids(pack: Pack, name: str) -> tuple[str, ...]:
    """Every id that a choice input may take."""
    item = next(item for item in pack.inputs if item.id == name)
    ids = tuple(option.id for option in item.options)
    return (*ids, ABSENT) if item.may_be_absent and ABSENT not in ids else ids


def number_range(pack: Pack, name: str) -> tuple[float, float, bool]:
    """Lowest and highest number of an input or a computed value, and whether there may be none."""
    for item in pack.inputs:
        if item.id == name:
            return item.low, item.high, item.may_be_absent
    valid = next(item.valid for item in pack.derived if item.id == name)
    return valid.low, valid.high, False


def points_inside(pack: Pack, table: PackTable, row: Row) -> list[tuple[Value, ...]]:
    """Points of the region that a row prints: its corners and its middle."""
    values: list[list[Value]] = []
    for column in table.columns:
        if column.source == "decision":
            continue
        condition = row.conditions.get(column.name, Anything())
        if column.kind == "choice":
            ids = [name for name in option_ids(pack, column.name) if condition.holds(name)]
            values.append(ids if len(ids) <= 3 else [ids[0], ids[len(ids) // 2], ids[-1]])
        else:
            low, high, absent = number_range(pack, column.name)
            cuts = condition.ends() if isinstance(condition, Numbers) else ()
            numbers = [number for number in around(cuts, low, high) if condition.holds(number)]
            values.append([*numbers, *((None,) if absent and condition.holds(None) else ())])
    return list(_combined(values))


# private

def _tried(pack: Pack, name: str, only: Collection[str]) -> tuple[str, ...]:
    ids = option_ids(pack, name)
    return (
        tuple(identifier for identifier in ids if identifier in only)
        if only and set(only) <= set(ids)
        else ids
    )


def _combined(values: list[list[Value]]) -> Iterable[tuple[Value, ...]]:
    size = 1
    for own in values:
        size *= len(own)
    if size <= _AT_MOST:
        yield from product(*values)
        return
    middle = [own[len(own) // 2] for own in values]
    for place, own in enumerate(values):
        for value in own:
            yield tuple(middle[:place] + [value] + middle[place + 1:])


def _masks(rows: Sequence[Row], name: str, ids: Sequence[str]) -> dict[str, int]:
    """Per id the rows, as bits, whose condition in a column it meets."""
    found = dict.fromkeys(ids, 0)
    for place, row in enumerate(rows):
        condition = row.conditions.get(name)
        for identifier in condition.ids if isinstance(condition, Names) else ids:
            if identifier in found:
                found[identifier] |= 1 << place
    return found


def _compiled_masks(table: PackTable, name: str, ids: Sequence[str]) -> dict[str, int]:
    place = next(place for place, column in enumerate(table.columns) if column.name == name)
    cells = table.columns[place].cells
    found = dict.fromkeys(ids, 0)
    for number, row in enumerate(table.rows):
        cell = cells[row.cells[place]] if row.cells[place] >= 0 else None
        for identifier in cell.ids if isinstance(cell, ChoiceCell) else ids:
            found[identifier] |= 1 << number
    return found


def _compiled_ends(table: PackTable, name: str) -> list[set[float]]:
    place = next(place for place, column in enumerate(table.columns) if column.name == name)
    cells = [
        {end for part in cell.intervals for end in (part.low, part.high)}
        for cell in table.columns[place].cells
    ]
    return [cells[row.cells[place]] if row.cells[place] >= 0 else set() for row in table.rows]


def _of(items: Sequence, bits: int) -> Iterable:
    while bits:
        lowest = bits & -bits
        yield items[lowest.bit_length() - 1]
        bits ^= lowest
