"""Gives back what a map shows: the two axes, the values chosen for the other columns, and what can be chosen.

Twin of browser/map_view.js.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from generator.render.map_sheet import LEFT_OVER, Sheet
from generator.render.map_slots import Key, Slot, cells_holding, column_slots, has, key_of, slot_words

_ROWS_AT_MOST = 40  # a choice of more options makes a poor axis, and so a selector by default


@dataclass(frozen=True, slots=True)
class View:
    """Names of the columns on the axes (`y` may be empty), and a value for each other column that the rules
    ask for.
    """

    x: str
    y: str
    fixed: tuple[tuple[str, Key], ...]


@dataclass(frozen=True, slots=True)
class Selector:
    """One column beside the axes: what may be chosen, in words, and the place of what is chosen."""

    column: str
    title: str
    options: tuple[tuple[Key, str], ...]
    slots: tuple[Slot, ...]
    chosen: int


def places_asked(sheet: Sheet) -> tuple[int, ...]:
    """The places of the columns in which some rule sets a condition."""
    return tuple(
        place for place in range(len(sheet.columns)) if any(row.cells[place] >= 0 for row in sheet.table.rows)
    )


def default_view(sheet: Sheet) -> View:
    """Choice against number where there are both, the columns that most rules ask for first."""
    asked = sorted(places_asked(sheet), key=lambda place: _telling(sheet, place), reverse=True)
    numbers = [place for place in asked if sheet.columns[place].kind == "number"]
    choices = [place for place in asked if sheet.columns[place].kind == "choice"]
    pair = [*numbers[:1], *choices[:1], *numbers[1:2], *choices[1:2]][:2]
    if not numbers and len(pair) == 2:  # the longer list reads better downwards
        pair.sort(key=lambda place: len(sheet.columns[place].options))
    names = [sheet.columns[place].name for place in pair]
    return settled_view(sheet, names[0] if names else "", names[1] if len(names) > 1 else "", {})


def settled_view(sheet: Sheet, x: str, y: str, wanted: Mapping[str, Key]) -> View:
    """The view of two columns. The others take what is wanted of them, or a value where the rules say most.
    """
    fixed: list[tuple[str, Key]] = []
    for place in _beside(sheet, x, y):
        name = sheet.columns[place].name
        slots = column_slots(sheet, place, rows_in_view(sheet, fixed))
        found = [slot for slot in slots if name in wanted and has(slot, wanted[name])]
        fixed.append((name, key_of(found[0] if found else _most_telling(sheet, slots, fixed))))
    return View(x, y, tuple(fixed))


def selectors(sheet: Sheet, view: View) -> tuple[Selector, ...]:
    """The columns beside the axes. What a number may be depends on what is chosen above it."""
    found: list[Selector] = []
    for place, (name, key) in zip(_beside(sheet, view.x, view.y), view.fixed, strict=True):
        column = sheet.columns[place]
        slots = column_slots(sheet, place, rows_in_view(sheet, view.fixed[: len(found)]))
        chosen = next(number for number, slot in enumerate(slots) if has(slot, key))
        options = tuple((key_of(slot), slot_words(column, slot)) for slot in slots)
        found.append(Selector(name, column.title, options, slots, chosen))
    return tuple(found)


def rows_in_view(sheet: Sheet, fixed: Sequence[tuple[str, Key]]) -> tuple[int, ...]:
    """The rows of the table that count at the chosen values."""
    places = {column.name: place for place, column in enumerate(sheet.columns)}
    holding = [(places[name], cells_holding(sheet, places[name], key)) for name, key in fixed]
    return tuple(
        number
        for number, row in enumerate(sheet.table.rows)
        if all(row.cells[place] in cells for place, cells in holding)
    )


# private


def _beside(sheet: Sheet, x: str, y: str) -> tuple[int, ...]:
    """The columns that are chosen by selector, choices before numbers."""
    asked = [place for place in places_asked(sheet) if sheet.columns[place].name not in (x, y)]
    return (
        *(place for place in asked if sheet.columns[place].kind == "choice"),
        *(place for place in asked if sheet.columns[place].kind == "number"),
    )


def _telling(sheet: Sheet, place: int) -> tuple[bool, bool, int, int, int]:
    column, rows = sheet.columns[place], sheet.table.rows
    asking = sum(row.cells[place] >= 0 for row in rows)
    return (
        len(column.options) <= _ROWS_AT_MOST,
        column.source == "decision",
        asking,
        len(sheet.table.columns[place].cells),
        -place,
    )


def _most_telling(sheet: Sheet, slots: Sequence[Slot], fixed: Sequence[tuple[str, Key]]) -> Slot:
    """The slot in which the rules come to most verdicts, then that of most rules; the first of equals."""
    rows = rows_in_view(sheet, fixed)
    left_over = f"{sheet.table.id}.{LEFT_OVER}"

    def score(slot: Slot) -> tuple[bool, int, int]:
        found = [sheet.table.rows[row] for place, row in enumerate(rows) if slot.rows >> place & 1]
        own = [row for row in found if row.rule != left_over]
        return slot.kind != "absent", len({row.verdict for row in own}), len({row.rule for row in own})

    return max(slots, key=score)
