"""Gives back why no selection is better: the tables that rule all of them out together, none of which can be
spared."""

from __future__ import annotations

from bisect import bisect_left

from generator.evaluate.choice import Readings
from generator.evaluate.joint import Bits, Layout, Voice, hear, narrowed, network, places_of, search
from generator.evaluate.reasons import Found, ordered, taking_away
from generator.evaluate.results import Conflict
from generator.evaluate.tables import OPEN, Bounds, Combination
from generator.pack.model import VERDICTS, Pack


def find_conflict(pack: Pack, layout: Layout, joined: tuple[Voice, ...], readings: Readings,
                  states: tuple[str, ...], pinned: Bits) -> Conflict | None:
    """Why every selection is open at best, or unsuitable; None where one can be bought as far as is known. `joined`
    are the voices of all tables, one per set of decisions."""
    for left in range(OPEN + 1):
        floor = Bounds(0, left + 1)
        if not is_reached(layout, joined, floor, pinned):
            tables = least_tables(layout, hear(layout, readings), floor, pinned)
            return Conflict(VERDICTS[left], tuple(pack.tables[voice.table].id for voice in tables),
                            ordered(rules_against(pack, layout, tables, readings, states, floor, pinned)))
    return None


def is_reached(layout: Layout, voices: tuple[Voice, ...], floor: Bounds, pinned: Bits) -> bool:
    """Whether some selection reaches both bounds by all of these voices."""
    return bool(search(layout, network(layout, voices, floor, pinned), layout.bits, (), 1))


def least_tables(layout: Layout, voices: tuple[Voice, ...], floor: Bounds, pinned: Bits) -> tuple[Voice, ...]:
    """Those voices left when one after the other is dropped, in pack order, wherever `floor` stays out of
    reach."""
    rest = tuple(voice for voice in voices if any(
        tails != layout.masks[voice.decisions[-1]]
        for tails in (*voice.best[floor.best], *voice.worst[floor.worst])))
    kept: tuple[Voice, ...] = ()
    while not kept or is_reached(layout, kept, floor, pinned):
        # The more of them are dropped the more is in reach: the first that cannot be is found by halving.
        at = bisect_left(range(len(rest)), True, key=lambda place: is_reached(
            layout, (*kept, *rest[place + 1:]), floor, pinned))
        kept, rest = (*kept, rest[at]), rest[at + 1:]
    return kept


def rules_against(pack: Pack, layout: Layout, tables: tuple[Voice, ...], readings: Readings,
                  states: tuple[str, ...], floor: Bounds, pinned: Bits) -> list[Found]:
    """The rules of a conflict, table by table, that take away what the tables before leave; each once, in the
    first state that has it."""
    found: list[Found] = []
    for at, voice in enumerate(tables):
        left = narrowed(layout, network(layout, tables[:at], floor, pinned))
        combinations = _taken_away(layout, voice, floor, left)
        told: set[str] = set()
        for reading in readings[voice.decisions]:
            if reading.table == voice.table:
                new = [one for one in taking_away(pack, reading, states, voice.decisions, combinations,
                                                  floor.best) if one[5].rule not in told]
                told.update(one[5].rule for one in new)
                found += new
    return found


# private

def _taken_away(layout: Layout, voice: Voice, floor: Bounds, left: Bits) -> list[Combination]:
    """The combinations of what is left that the voice holds below the floor, in the committee's order."""
    found = []
    last = voice.decisions[-1]
    for head, tails in zip(voice.heads, voice.best[floor.best]):
        if left & head == head:
            found += [places_of(layout, voice.decisions, head | bit) for bit in layout.bits[last]
                      if left & bit & ~tails]
    return found

