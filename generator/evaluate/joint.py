"""Gives back which candidates go together: sets of candidates, narrowed by what the tables allow, and
searched in order.

A set of candidates of all decisions is one whole number with a bit per candidate. What one table says over
all states, or all tables of the same decisions, is a voice; what the voices leave of a wanted verdict is a
network. Narrowing takes away every candidate that a table leaves without a partner, again and again, until
nothing more falls away.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from generator.evaluate.choice import Reading, Readings
from generator.evaluate.tables import SUITABLE, Bounds, Combination, every_combination

Bits = int
Row = tuple[Bits, Bits]              # candidates that must all be chosen, and those of which one goes with

EVERY = -1                           # stands for a table: a voice is that of all tables of its decisions


@dataclass(frozen=True, slots=True)
class Layout:
    """`bits[decision][place]` is a candidate's bit, `masks[decision]` all bits of a decision."""

    bits: tuple[tuple[Bits, ...], ...]
    masks: tuple[Bits, ...]


@dataclass(frozen=True, slots=True)
class Voice:
    """The worst that one table says over its states, or (`table` is EVERY) that all tables of its decisions do.
    `heads` are the combinations of all its decisions but the last; `best[rank][i]` the candidates of the last
    that reach at least the rank with heads[i], by the upper bound, and `worst[rank][i]` by the lower one."""

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
    """One voice per table that takes anything away in some state, in pack order."""
    told: dict[int, tuple[tuple[int, ...], list[tuple[Combination, Bounds]]]] = {}
    before: Reading | None = None
    for decisions, shared in readings.items():
        for reading in shared:
            if before is None or reading.outcomes is not before.outcomes:        # many say the same in every state
                less = [(combination, outcome.bounds) for combination, outcome in reading.outcomes.items()
                        if outcome.bounds.worst < SUITABLE]
                if less:
                    told.setdefault(reading.table, (decisions, []))[1].extend(less)
            before = reading
    return tuple(_voice(layout, table, *told[table]) for table in sorted(told))


def hear_all(layout: Layout, own: tuple[tuple[Bounds, ...], ...],
             groups: dict[tuple[int, ...], dict[Combination, Bounds]]) -> tuple[Voice, ...]:
    """One voice per set of decisions that tables name: `own` are the bounds of each candidate by the tables of
    its decision, `groups` those of combinations by shared ones."""
    alone = [_voice(layout, EVERY, (decision,), (((place,), bounds) for place, bounds in enumerate(row)))
             for decision, row in enumerate(own)]
    return (*alone, *(_voice(layout, EVERY, decisions, bounds.items()) for decisions, bounds in groups.items()))


def join(voices: tuple[Voice, ...]) -> tuple[Voice, ...]:
    """The voices of the same decisions as one, that of the worst of them."""
    joined: dict[tuple[int, ...], Voice] = {}
    for voice in voices:
        known = joined.get(voice.decisions)
        joined[voice.decisions] = voice if known is None else Voice(
            EVERY, voice.decisions, voice.heads, _met(known.best, voice.best), _met(known.worst, voice.worst))
    return tuple(joined.values())


def network(layout: Layout, voices: tuple[Voice, ...], floor: Bounds, pinned: Bits) -> Network:
    """What reaches both bounds of `floor` by every voice. Of a decision with a bit in `pinned` only that is
    left."""
    start = 0
    for mask in layout.masks:
        start |= mask & pinned or mask
    shared: dict[tuple[int, ...], tuple[tuple[Bits, ...], list[Bits]]] = {}
    for voice in voices:
        best, worst = voice.best[floor.best], voice.worst[floor.worst]
        last = layout.masks[voice.decisions[-1]]
        if len(voice.decisions) == 1:
            start &= best[0] & worst[0] | ~last
            continue
        tails = [one & other for one, other in zip(best, worst)]
        if any(tail != last for tail in tails):
            before = shared.get(voice.decisions)
            merged = tails if before is None else [one & other for one, other in zip(before[1], tails)]
            shared[voice.decisions] = voice.heads, merged
    return Network(start, tuple(
        (sum(layout.masks[place] for place in decisions),
         tuple((head, tail) for head, tail in zip(heads, tails) if tail))
        for decisions, (heads, tails) in shared.items()))


def keeping(layout: Layout, net: Network, bit: Bits) -> Network:
    """The network with one candidate pinned."""
    mask = next(mask for mask in layout.masks if mask & bit)
    return Network(net.start & (bit | ~mask), net.groups)


def sparing(layout: Layout, net: Network, voice: Voice, rank: int) -> Network:
    """The network with what reaches the rank by this voice, whatever the answers come to."""
    tails = [one & other for one, other in zip(voice.best[rank], voice.worst[rank])]
    if len(voice.decisions) == 1:
        return Network(net.start & (tails[0] | ~layout.masks[voice.decisions[0]]), net.groups)
    scope = sum(layout.masks[place] for place in voice.decisions)
    return Network(net.start, (*net.groups, (scope, tuple((head, tail) for head, tail in zip(voice.heads, tails) if tail))))


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


def members(layout: Layout, net: Network, known: Bits) -> Bits:
    """Every candidate that belongs to some selection; `known` are some of those."""
    left = narrowed(layout, net)
    found = known
    for mask, row in zip(layout.masks, layout.bits):
        for bit in row:
            if left & bit & ~found:
                fixed = narrow(net.groups, left & ~mask | bit, left & mask & ~bit)
                if fixed:
                    orders = tuple((*(one for one in bits if not found & one), *(one for one in bits if found & one))
                                   for bits in layout.bits)
                    found |= next(iter(search(layout, Network(fixed, net.groups), orders, (), 1)), 0)
    return found


def places_of(layout: Layout, decisions: tuple[int, ...], chosen: Bits) -> Combination:
    """The places of the candidates chosen for these decisions."""
    return tuple(next(place for place, bit in enumerate(layout.bits[decision]) if chosen & bit)
                 for decision in decisions)


# private

def _voice(layout: Layout, table: int, decisions: tuple[int, ...],
           told: Iterable[tuple[Combination, Bounds]]) -> Voice:
    *first, last = decisions
    heads = tuple(sum(bits) for bits in every_combination(layout.bits[place] for place in first))
    best = [[layout.masks[last]] * len(heads) for _ in range(SUITABLE + 1)]
    worst = [[layout.masks[last]] * len(heads) for _ in range(SUITABLE + 1)]
    for combination, bounds in told:
        if bounds.worst < SUITABLE:
            at = 0
            for decision, place in zip(first, combination):
                at = at * len(layout.bits[decision]) + place
            rest = ~layout.bits[last][combination[-1]]
            for rank in range(bounds.worst + 1, SUITABLE + 1):
                worst[rank][at] &= rest
            for rank in range(bounds.best + 1, SUITABLE + 1):
                best[rank][at] &= rest
    return Voice(table, decisions, heads, tuple(map(tuple, best)), tuple(map(tuple, worst)))


def _met(one: tuple[tuple[Bits, ...], ...], other: tuple[tuple[Bits, ...], ...]) -> tuple[tuple[Bits, ...], ...]:
    return tuple(tuple(a & b for a, b in zip(these, those)) for these, those in zip(one, other))


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
