"""Gives back what to buy: the leading selections, the best that each candidate comes to in any, and why none
is better.

A selection is one candidate per decision, the same in every state; its bounds are the worst of all tables and
states. Its verdict is settled (suitable, caution), or open: an answer or a supplier's word is missing. From
the best verdict down, what reaches it is kept, narrowed and searched, decision by decision: own verdict
first, then the committee's preference.

Pinned candidates are in every selection. A table that rules them out whatever is chosen beside them has no
say in that choice, only in the verdict.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from generator.evaluate.choice import NO_EFFECT, Readings
from generator.evaluate.conflict import find_conflict, is_reached, least_tables, rules_against
from generator.evaluate.confirm import confirm_chosen
from generator.evaluate.joint import (Bits, Layout, Row, Voice, hear, lay_out, members, network, places_of,
                                      search, standing_at)
from generator.evaluate.prepared import Prepared
from generator.evaluate.questions import open_inputs_of_selection
from generator.evaluate.reasons import Found, chosen_reasons, ordered
from generator.evaluate.results import Answer, Chosen, Conflict, DecisionResult, Reason, Selection, Together
from generator.evaluate.tables import OPEN, SUITABLE, Bounds, Combination
from generator.pack.model import VERDICTS

MOST = 5                             # leading selections of each group
SETTLED = ((3, 3), (2, 2))           # ranks of the upper and the lower bound, best first
UNSETTLED = ((3, 2), (3, 1), (3, 0), (2, 1), (2, 0), (1, 1), (1, 0))


@dataclass(frozen=True, slots=True)
class Choosing:
    """What one application's selections are chosen from; `heard` are the voices that have a say in the
    choice."""

    prepared: Prepared
    readings: Readings
    answers: dict[str, dict[str, Answer]]
    layout: Layout
    voices: tuple[Voice, ...]
    heard: tuple[Voice, ...]
    orders: tuple[tuple[Bits, ...], ...]
    pinned: Bits


def choosing(prepared: Prepared, readings: Readings, answers: dict[str, dict[str, Answer]],
             own: tuple[tuple[Bounds, ...], ...], pinned: tuple[tuple[str, str], ...]) -> Choosing:
    """The bounds of all tables made ready; `own` are the bounds of each candidate by the tables of its
    decision."""
    layout = lay_out(prepared.sizes)
    voices = hear(layout, readings)
    kept = _bits_of(prepared, layout, pinned)
    heard = tuple(voice for voice in voices
                  if not any(layout.masks[place] & kept for place in voice.decisions)
                  or is_reached(layout, (voice,), Bounds(0, OPEN), kept))
    orders = tuple(tuple(bits[place] for place in sorted(
        range(len(bits)), key=lambda place, row=row: (-row[place].worst, -row[place].best)))
        for bits, row in zip(layout.bits, own))
    return Choosing(prepared, readings, answers, layout, voices, heard, orders, kept)


def leading_selections(given: Choosing) -> tuple[Selection, ...]:
    """At most five settled ones, best first, and after them at most five that are open. Those that keep a
    candidate which is ruled out are five in all."""
    if len(given.heard) < len(given.voices):
        return tuple(_selection(given, bits) for bits in _first(given, SETTLED + UNSETTLED))
    return tuple(_selection(given, bits) for classes in (SETTLED, UNSETTLED)
                 for bits in _first(given, classes))


def together(given: Choosing, decisions: tuple[DecisionResult, ...]) -> tuple[Together, ...]:
    """Every candidate that comes to less in a selection than its verdict by itself. None where there is no
    selection at all: the conflict says why."""
    best, worst = _reached(given, True), _reached(given, False)
    if not any(best):
        return ()
    found = []
    for place, decision in enumerate(decisions):
        verdicts = {one.candidate: one.verdict for one in decision.candidates}
        for option, bit in zip(given.prepared.pack.decisions[place].candidates, given.layout.bits[place]):
            if given.layout.masks[place] & given.pinned & ~bit == 0:
                bounds = Bounds(_highest(worst, bit), _highest(best, bit))
                if _shown(bounds) < VERDICTS.index(verdicts[option.id]):
                    found.append(Together(
                        decision.decision, option.id, VERDICTS[_shown(bounds)], VERDICTS[bounds.best],
                        VERDICTS[bounds.worst], _held_back(given, bit, bounds)))
    return tuple(found)


def conflict(given: Choosing) -> Conflict | None:
    """Why every selection is open at best, or unsuitable; None where one can be bought as far as is known."""
    return find_conflict(given.prepared.pack, given.layout, given.voices, given.readings,
                         tuple(given.answers), given.pinned)


# private

def _shown(bounds: Bounds) -> int:
    return bounds.worst if bounds.worst == bounds.best else OPEN


def _bits_of(prepared: Prepared, layout: Layout, pinned: tuple[tuple[str, str], ...]) -> Bits:
    bits = 0
    for place, decision in enumerate(prepared.pack.decisions):
        for option, bit in zip(decision.candidates, layout.bits[place]):
            if (decision.id, option.id) in pinned:
                bits |= bit
    return bits


def _first(given: Choosing, classes: tuple[tuple[int, int], ...]) -> Iterator[Bits]:
    """The leading selections of these classes, best class first."""
    left = MOST
    for best, worst in classes:
        for bits in _of_class(given, best, worst, left):
            left -= 1
            yield bits


def _of_class(given: Choosing, best: int, worst: int, most: int) -> list[Bits]:
    """The first selections whose bounds are these."""
    if not most:
        return []
    floor = Bounds(worst, best)
    exact: list[tuple[Row, ...]] = []
    if best < SUITABLE:
        exact.append(standing_at(given.heard, floor, True))
    if worst < best:
        exact.append(standing_at(given.heard, floor, False))
    net = network(given.layout, given.heard, floor, given.pinned)
    return search(given.layout, net, given.orders, tuple(exact), most)


def _reached(given: Choosing, upper: bool) -> tuple[Bits, ...]:
    """Per verdict from open upwards the candidates that some selection has whose upper (or lower) bound
    reaches it."""
    found = []
    for rank in range(OPEN, SUITABLE + 1):
        floor = Bounds(0, rank) if upper else Bounds(rank, 0)
        found.append(members(given.layout, network(given.layout, given.heard, floor, given.pinned)))
    return tuple(found)


def _highest(reached: tuple[Bits, ...], bit: Bits) -> int:
    return max((rank for rank, bits in enumerate(reached, OPEN) if bits & bit), default=0)


def _held_back(given: Choosing, bit: Bits, bounds: Bounds) -> tuple[Reason, ...]:
    """What sets the verdict of the first selection that brings this candidate as far as any; or what leaves
    it none."""
    pinned = given.pinned | bit
    if bounds.best == 0:
        floor = Bounds(0, OPEN)
        tables = least_tables(given.layout, given.heard, floor, pinned)
        return ordered(rules_against(given.prepared.pack, given.layout, tables, given.readings,
                                     tuple(given.answers), floor, pinned))
    for floor in (bounds, Bounds(0, bounds.best)):           # no one selection need reach both bounds
        found = search(given.layout, network(given.layout, given.heard, floor, pinned), given.orders, (), 1)
        if found:
            return _selection(given, found[0]).limits
    raise AssertionError("a bound that no selection reaches")


def _selection(given: Choosing, bits: Bits) -> Selection:
    pack, layout = given.prepared.pack, given.layout
    chosen = places_of(layout, tuple(range(len(layout.bits))), bits)
    parts = _parts(given, bits)
    whole = NO_EFFECT
    for part in parts:
        whole = whole.meet(part)
    states = tuple(given.answers)
    told = chosen_reasons(pack, given.readings, states, chosen) if whole.worst < SUITABLE else []
    return Selection(
        VERDICTS[_shown(whole)], VERDICTS[whole.best], VERDICTS[whole.worst],
        tuple(Chosen(decision.id, decision.candidates[chosen[place]].id,
                     bool(layout.masks[place] & given.pinned), VERDICTS[_shown(part)],
                     VERDICTS[part.best], VERDICTS[part.worst],
                     _limits([one for one in told if place in one[0]], part),
                     confirm_chosen(pack, given.readings, chosen, part, place))
              for place, (decision, part) in enumerate(zip(pack.decisions, parts))),
        _limits(told, whole),
        open_inputs_of_selection(given.prepared, given.readings, chosen, whole),
        confirm_chosen(pack, given.readings, chosen, whole))


def _parts(given: Choosing, bits: Bits) -> list[Bounds]:
    """Per decision the worst of the tables that name it, with the candidates chosen."""
    parts = [NO_EFFECT] * len(given.layout.bits)
    for voice in given.voices:
        at = next(at for at, head in enumerate(voice.heads) if bits & head == head)
        worst = next(rank for rank in range(SUITABLE, -1, -1) if voice.worst[rank][at] & bits)
        if worst < SUITABLE:
            best = next(rank for rank in range(SUITABLE, -1, -1) if voice.best[rank][at] & bits)
            for place in voice.decisions:
                parts[place] = parts[place].meet(Bounds(worst, best))
    return parts


def _limits(told: list[tuple[tuple[int, ...], Bounds, Found]], bounds: Bounds) -> tuple[Reason, ...]:
    """The reasons that set one of the bounds."""
    return ordered([found for _, table, found in told
                    if (table.worst == bounds.worst and found[0] == bounds.worst)
                    or (table.best == bounds.best < SUITABLE and found[0] == bounds.best)])
