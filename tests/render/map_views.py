"""Gives back views to try of a table's map, and what the engine says at a point of one."""

from __future__ import annotations

import random
from collections.abc import Iterator

from generator.evaluate.prepared import Prepared
from generator.evaluate.results import Answer, ChoiceSet, NumberSet
from generator.evaluate.tables import OPEN, read_table
from generator.render.map_sheet import Sheet
from generator.render.map_slots import Key, Slot
from generator.render.map_view import View, default_view, places_asked, selectors, settled_view


def some_views(sheet: Sheet, count: int, seed: int) -> tuple[View, ...]:
    """The default view, and others with axes and values drawn by lot."""
    lot = random.Random(seed)
    names = [sheet.columns[place].name for place in places_asked(sheet)]
    views = [default_view(sheet)]
    for _ in range(count):
        x, y = lot.sample(names, 2) if len(names) > 1 else (names[0], "")
        wanted = {
            one.column: lot.choice(one.options)[0] for one in selectors(sheet, settled_view(sheet, x, y, {}))
        }
        views.append(settled_view(sheet, x, y, wanted))
    return tuple(views)


def keys_in(slot: Slot) -> Iterator[Key]:
    """Values of a slot: its ends where they belong to it, points close to the ends, and one well inside."""
    if slot.kind != "band":
        yield slot.option if slot.kind == "option" else None if slot.kind in ("absent", "any") else slot.low
        return
    width = slot.high - slot.low
    if slot.low_in:
        yield slot.low
    if slot.high_in:
        yield slot.high
    yield from (slot.low + width * share for share in (1e-9, 0.37, 1 - 1e-9))


def decided(prepared: Prepared, sheet: Sheet, at: dict[str, Key]) -> tuple[str, int]:
    """What the engine says where the columns have these values: kind and rank, as an outcome of the map has
    them.

    A column that is not named may have any value; the first candidate stands for a decision that is not
    named.
    """
    place = next(number for number, one in enumerate(prepared.tables) if one.table.id == sheet.table.id)
    index = prepared.tables[place]
    answers = [_answer(sheet, number, at) for number in range(len(sheet.columns))]
    outcomes = read_table(
        index,
        {number: answers[number] for number in index.steady},
        {driven: {number: answers[number] for number in index.moving} for driven in index.driven},
    )
    candidates = {
        decision.id: [option.id for option in decision.candidates] for decision in prepared.pack.decisions
    }
    combination = tuple(
        candidates[name].index(at[name]) if name in at else 0 for name in sheet.table.decisions
    )
    outcome = outcomes.get(combination)
    if outcome is None or not outcome.entries:
        return ("none" if sheet.table.hit_policy == "collect" else "gap", -1)
    bounds = outcome.bounds
    rank = bounds.worst if bounds.worst == bounds.best else OPEN
    if sheet.table.hit_policy == "collect":
        return ("verdict", min(entry.rank for entry in outcome.entries))
    return ("verdict", rank)


# private


def _answer(sheet: Sheet, place: int, at: dict[str, Key]) -> Answer:
    column = sheet.columns[place]
    if column.kind == "choice":
        ids = tuple(name for name, _ in column.options)
        return ChoiceSet((at[column.name],) if column.name in at else ids)
    if column.name not in at:
        return NumberSet(((column.low, column.high),), bool(column.absent))
    key = at[column.name]
    return NumberSet((), True) if key is None else NumberSet(((key, key),))
