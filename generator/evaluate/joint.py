"""Gives back which candidates go together: sets of candidates, narrowed by what the tables allow, and
searched in order.

A set of candidates of all decisions is one whole number with a bit per candidate. What one table says over
all states is a voice; what the voices leave of a wanted verdict is a network. Narrowing takes away every
candidate that a table leaves without a partner, again and again, until nothing more falls away.
"""

from __future__ import annotations

from dataclasses import dataclass

from generator.evaluate.choice import Readings
from generator.evaluate.tables import SUITABLE, Bounds, Combination, Outcome, every_combination

Bits = int
Row = tuple[Bits, Bits]              # candidates that must all be chosen, and those of which one goes with


@dataclass(frozen=True, slots=True)
class Layout:
    """`bits[decision][place]` is a candidate's bit, `masks[decision]` all bits of a decision."""

    bits: tuple[tuple[Bits, ...], ...]
    masks: tuple[Bits, ...]


@dataclass(frozen=True, slots=True)
class Voice:
    """The worst that one table says over its states. `heads` are the combinations of all its decisions but
    the last; `best[rank][i]` the candidates of the last that reach at least the rank with heads[i], by the
    upper bound, and `worst[rank][i]` by the lower one."""

    table: int
    decisions: tuple[int, ...]
    heads: tuple[Bits, ...]
    best: tuple[tuple[Bits, ...], ...]
    worst: tuple[tuple[Bits, ...], ...]


@dataclass(frozen=True, slots=True)
class Network:
    """Candidates to start from, and per set of decisions that share tables its bits and what is allowed."""

    start: Bits
    groups: tuple[tuple[Bits, tuple[Row, ...]], ...]


def lay_out(sizes: tuple[int, ...]) -> Layout:
    """A bit for every candidate."""
    bits, at = [], 0
    for size in sizes:
        bits.append(tuple(1 << at + place for place in range(size)))
        at += size
    return Layout(tuple(bits), tuple(sum(row) for row in bits))


def hear(layout: Layout, readings: Readings) -> tuple[Voice, ...]:
    """One voice per table that applies in any state, in pack order."""
    told: dict[int, tuple[tuple[int, ...], list[dict[Combination, Outcome]]]] = {}
    for decisions, shared in readings.items():
        for reading in shared:
            known = told.setdefault(reading.table, (decisions, []))[1]
            if not known or known[-1] is not reading.outcomes:       # many tables say the same in every state
                known.append(reading.outcomes)
    return tuple(_voice(layout, table, *told[table]) for table in sorted(told))


def network(layout: Layout, voices: tuple[Voice, ...], floor: Bounds, pinned: Bits) -> Network:
    """What reaches both bounds of `floor` by every voice. Of a decision with a bit in `pinned` only that is
    left."""
    start = 0
    for mask in layout.masks:
        start |= mask & pinned or mask
    shared: dict[tuple[int, ...], tuple[tuple[Bits, ...], list[Bits]]] = {}
    for voice in voices:
        tails = [best & worst for best, worst in zip(voice.best[floor.best], voice.worst[floor.worst])]
        last = layout.masks[voice.decisions[-1]]
        if len(voice.decisions) == 1:
            start &= tails[0] | ~last
        elif any(tail != last for tail in tails):
            before = shared.get(voice.decisions)
            merged = tails if before is None else [one & other for one, other in zip(before[1], tails)]
            shared[voice.decisions] = voice.heads, merged
    return Network(start, tuple(
        (sum(layout.masks[place] for place in decisions),
         tuple((head, tail) for head, tail in zip(heads, tails) if tail))
        for decisions, (heads, tails) in shared.items()))


def standing_at(voices: tuple[Voice, ...], floor: Bounds, upper: bool) -> tuple[Row, ...]:
    """What keeps the upper (or the lower) bound of a selection from rising above the floor: it has to hold
    one of these."""
    found = []
    for voice in voices:
        above = voice.best[floor.best + 1] if upper else voice.worst[floor.worst + 1]
        rows = zip(voice.heads, voice.best[floor.best], voice.worst[floor.worst], above)
        for head, best, worst, rest in rows:
            if best & worst & ~rest:
                found.append((head, best & worst & ~rest))
    return tuple(found)


def narrow(groups: tuple[tuple[Bits, tuple[Row, ...]], ...], left: Bits, changed: Bits) -> Bits:
    """What is left when every candidate without a partner is gone; 0 when a decision is left with none. Only
    groups that share a decision with `changed` are looked at first."""
    while changed:
        now, changed = changed, 0
        for scope, rows in groups:
            if scope & (now | changed):
                seen = 0
                for head, tails in rows:
                    if left & head == head and left & tails:
                        seen |= head | left & tails
                if not seen:
                    return 0
                kept = left & (seen | ~scope)
                changed |= left ^ kept
                left = kept
    return left


def narrowed(layout: Layout, net: Network) -> Bits:
    """What is left of the start; 0 when a decision is left with no candidate."""
    if not all(net.start & mask for mask in layout.masks):
        return 0
    return narrow(net.groups, net.start, net.start)


def search(layout: Layout, net: Network, orders: tuple[tuple[Bits, ...], ...],
           exact: tuple[tuple[Row, ...], ...], most: int) -> list[Bits]:
    """The first `most` selections, decision by decision in the order of `orders`, that hold one of each rows
    of `exact`."""
    found: list[Bits] = []
    left = narrowed(layout, net)
    if left and most and _holds(exact, left):
        _search(layout, net, orders, exact, most, found, left, 0)
    return found


def members(layout: Layout, net: Network) -> Bits:
    """Every candidate that belongs to some selection."""
    left = narrowed(layout, net)
    found = 0
    for row in layout.bits:
        for bit in row:
            if left & bit & ~found:
                orders = tuple(tuple(sorted(bits, key=lambda one: found & one != 0)) for bits in layout.bits)
                mask = sum(row)
                fixed = Network(narrow(net.groups, left & ~mask | bit, left & mask & ~bit), net.groups)
                found |= next(iter(search(layout, fixed, orders, (), 1)), 0)
    return found


def places_of(layout: Layout, decisions: tuple[int, ...], chosen: Bits) -> Combination:
    """The places of the candidates chosen for these decisions."""
    return tuple(next(place for place, bit in enumerate(layout.bits[decision]) if chosen & bit)
                 for decision in decisions)


# private

def _voice(layout: Layout, table: int, decisions: tuple[int, ...],
           told: list[dict[Combination, Outcome]]) -> Voice:
    *first, last = decisions
    heads = tuple(sum(bits) for bits in every_combination(layout.bits[place] for place in first))
    best = [[layout.masks[last]] * len(heads) for _ in range(SUITABLE + 1)]
    worst = [[layout.masks[last]] * len(heads) for _ in range(SUITABLE + 1)]
    for outcomes in told:
        for combination, outcome in outcomes.items():
            if outcome.bounds.worst < SUITABLE:
                at = 0
                for decision, place in zip(first, combination):
                    at = at * len(layout.bits[decision]) + place
                rest = ~layout.bits[last][combination[-1]]
                for rank in range(outcome.bounds.worst + 1, SUITABLE + 1):
                    worst[rank][at] &= rest
                for rank in range(outcome.bounds.best + 1, SUITABLE + 1):
                    best[rank][at] &= rest
    return Voice(table, decisions, heads, tuple(map(tuple, best)), tuple(map(tuple, worst)))


def _holds(exact: tuple[tuple[Row, ...], ...], left: Bits) -> bool:
    return all(any(left & head == head and left & tails for head, tails in rows) for rows in exact)


def _search(layout: Layout, net: Network, orders: tuple[tuple[Bits, ...], ...],
            exact: tuple[tuple[Row, ...], ...], most: int, found: list[Bits], left: Bits,
            decision: int) -> None:
    if decision == len(orders):
        found.append(left)
        return
    for bit in orders[decision]:
        if left & bit:
            gone = left & layout.masks[decision] & ~bit
            kept = narrow(net.groups, left & ~gone, gone)
            if kept and _holds(exact, kept):
                _search(layout, net, orders, exact, most, found, kept, decision + 1)
                if len(found) == most:
                    return
