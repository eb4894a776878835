"""Gives back what to buy: the leading selections, the best that each candidate comes to in any, and why none
is better.

A selection is one candidate per decision, the same in every state; its bounds are the worst of all tables and
states. Its verdict is settled (suitable, caution), or open: an answer or a supplier's word is missing. From
the best verdict down, what reaches it is kept, narrowed and searched, decision by decision: own verdict
first, then the committee's preference. Before that stand those in which nothing may fall below caution that need not,
and then nothing below suitable: of the tables of each decision, then of those that decisions share, one after the other.

Pinned candidates are in every selection. A table that rules them out whatever is chosen beside them has no
say in that choice, only in the verdict.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from generator.evaluate.choice import NO_EFFECT, Readings
from generator.evaluate.conflict import find_conflict, is_reached, least_tables, rules_against
from generator.evaluate.confirm import confirm_chosen
from generator.evaluate.joint import (Bits, Layout, Network, Row, Voice, hear, hear_all, join, keeping, lay_out,
                                      members, network, places_of, search, sparing, standing_at)
from generator.evaluate.prepared import Prepared
from generator.evaluate.questions import open_inputs_of_selection
from generator.evaluate.reasons import chosen_reasons, ordered
from generator.evaluate.results import Answer, Chosen, Conflict, DecisionResult, Reason, Selection, Together
from generator.evaluate.tables import OPEN, SUITABLE, Bounds, Combination
from generator.pack.model import VERDICTS

MOST = 5                             # leading selections of each group
SETTLED = ((3, 3), (2, 2))           # ranks of the upper and the lower bound, best first
UNSETTLED = ((3, 2), (3, 1), (3, 0), (2, 1), (2, 0), (1, 1), (1, 0))


Told = list[tuple[tuple[int, ...], Bounds]]          # what all tables of some decisions say of the candidates chosen


@dataclass(frozen=True, slots=True)
class Choosing:
    """What one application's selections are chosen from: `own` and `groups` as `evaluate.choice` gives them. `voices`
    are those of all tables, one per set of decisions, `heard` those of the tables that have a say in the choice
    (`outvoted`: some have none). `networks` keeps what was worked out, by its floor."""

    prepared: Prepared
    readings: Readings
    answers: dict[str, dict[str, Answer]]
    own: tuple[tuple[Bounds, ...], ...]
    groups: dict[tuple[int, ...], dict[Combination, Bounds]]
    layout: Layout
    voices: tuple[Voice, ...]
    heard: tuple[Voice, ...]
    outvoted: bool
    orders: tuple[tuple[Bits, ...], ...]
    pinned: Bits
    networks: dict[Bounds, Network] = field(default_factory=dict)


def choosing(prepared: Prepared, readings: Readings, answers: dict[str, dict[str, Answer]],
             own: tuple[tuple[Bounds, ...], ...], groups: dict[tuple[int, ...], dict[Combination, Bounds]],
             pinned: tuple[tuple[str, str], ...]) -> Choosing:
    """The bounds of all tables made ready; `own` are the bounds of each candidate by the tables of its
    decision, `groups` those of combinations by shared tables."""
    layout = lay_out(prepared.sizes)
    kept = _bits_of(prepared, layout, pinned)
    voices = hear_all(layout, own, groups)
    every = _with_a_say(layout, hear(layout, readings), kept) if kept else None
    heard = voices if every is None else join(every)
    orders = tuple(tuple(bits[place] for place in sorted(
        range(len(bits)), key=lambda place, row=row: (-row[place].worst, -row[place].best)))
        for bits, row in zip(layout.bits, own))
    return Choosing(prepared, readings, answers, own, groups, layout, voices, heard, every is not None, orders, kept)


def leading_selections(given: Choosing) -> tuple[Selection, ...]:
    """At most five settled ones, best first, and after them at most five that are open. Those that keep a
    candidate which is ruled out are five in all."""
    if given.outvoted:
        return tuple(_selection(given, bits) for bits in _first(given, SETTLED + UNSETTLED))
    return tuple(_selection(given, bits) for classes in (SETTLED, UNSETTLED)
                 for bits in _first(given, classes))


def together(given: Choosing, decisions: tuple[DecisionResult, ...]) -> tuple[Together, ...]:
    """Every candidate that comes to less in a selection than its verdict by itself. None where there is no
    selection at all: the conflict says why."""
    best, worst = _reached(given)
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


def _with_a_say(layout: Layout, voices: tuple[Voice, ...], kept: Bits) -> tuple[Voice, ...] | None:
    """Without the voices that rule out what is pinned whatever is chosen beside it; None where all have a say."""
    heard = tuple(voice for voice in voices
                  if not any(layout.masks[place] & kept for place in voice.decisions)
                  or is_reached(layout, (voice,), Bounds(0, OPEN), kept))
    return heard if len(heard) < len(voices) else None


def _network(given: Choosing, floor: Bounds) -> Network:
    """What reaches the floor by the voices heard, with what is pinned."""
    if floor not in given.networks:
        given.networks[floor] = network(given.layout, given.heard, floor, given.pinned)
    return given.networks[floor]


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
    net = _network(given, floor)
    spared = _spared(given, net, tuple(exact), worst)
    first = search(given.layout, spared, given.orders, tuple(exact), most) if spared else []
    if not first or len(first) == most:
        return first
    others = search(given.layout, net, given.orders, tuple(exact), most + len(first))
    return [*first, *(bits for bits in others if bits not in first)][:most]


def _spared(given: Choosing, net: Network, exact: tuple[tuple[Row, ...], ...], worst: int) -> Network | None:
    """What is left when one voice after the other is held to a caution at least, and then to suitable, where that leaves
    a selection; None where there is none to begin with. What the class holds anyway is not asked again."""
    if not search(given.layout, net, given.orders, exact, 1):
        return None
    voices = sorted(given.heard, key=lambda one: (len(one.decisions) > 1, one.decisions))
    for rank in range(max(worst, OPEN) + 1, SUITABLE + 1):
        for voice in voices:
            held = sparing(given.layout, net, voice, rank)
            if search(given.layout, held, given.orders, exact, 1):
                net = held
    return net


def _reached(given: Choosing) -> tuple[list[Bits], list[Bits]]:
    """Per verdict from open upwards the candidates that some selection has whose upper bound reaches it, and the
    same of the lower bound."""
    best: list[Bits] = []
    worst: list[Bits] = []
    for rank in range(SUITABLE, OPEN - 1, -1):               # what reaches more reaches less
        worst.insert(0, members(given.layout, _network(given, Bounds(rank, 0)), worst[0] if worst else 0))
        best.insert(0, members(given.layout, _network(given, Bounds(0, rank)), worst[0] | (best[0] if best else 0)))
    return best, worst


def _highest(reached: list[Bits], bit: Bits) -> int:
    return max((rank for rank, bits in enumerate(reached, OPEN) if bits & bit), default=0)


def _held_back(given: Choosing, bit: Bits, bounds: Bounds) -> tuple[Reason, ...]:
    """What sets the verdict of the first selection that brings this candidate as far as any; or what leaves
    it none."""
    if bounds.best == 0:
        floor, pinned = Bounds(0, OPEN), given.pinned | bit
        voices = hear(given.layout, given.readings)
        heard = (_with_a_say(given.layout, voices, given.pinned) if given.outvoted else None) or voices
        tables = least_tables(given.layout, heard, floor, pinned)
        return ordered(rules_against(given.prepared.pack, given.layout, tables, given.readings,
                                     tuple(given.answers), floor, pinned))
    for floor in (bounds, Bounds(0, bounds.best)):           # no one selection need reach both bounds
        net = keeping(given.layout, _network(given, floor), bit)
        found = search(given.layout, net, given.orders, (), 1)
        if found:
            chosen = _places(given, found[0])
            told = _told(given, chosen)
            return _limits(given, chosen, told, _worst_of(told))
    raise AssertionError("a bound that no selection reaches")


def _selection(given: Choosing, bits: Bits) -> Selection:
    pack, layout = given.prepared.pack, given.layout
    chosen = _places(given, bits)
    told = _told(given, chosen)
    whole = _worst_of(told)
    about = [[one for one in told if place in one[0]] for place in range(len(chosen))]
    parts = [_worst_of(some) for some in about]
    return Selection(
        VERDICTS[_shown(whole)], VERDICTS[whole.best], VERDICTS[whole.worst],
        tuple(Chosen(decision.id, decision.candidates[chosen[place]].id,
                     bool(layout.masks[place] & given.pinned), VERDICTS[_shown(part)],
                     VERDICTS[part.best], VERDICTS[part.worst], _limits(given, chosen, about[place], part),
                     confirm_chosen(pack, given.readings, chosen, part, place))
              for place, (decision, part) in enumerate(zip(pack.decisions, parts))),
        _limits(given, chosen, told, whole),
        open_inputs_of_selection(given.prepared, given.readings, chosen, whole),
        confirm_chosen(pack, given.readings, chosen, whole))


def _places(given: Choosing, bits: Bits) -> Combination:
    return places_of(given.layout, tuple(range(len(given.layout.bits))), bits)


def _told(given: Choosing, chosen: Combination) -> Told:
    """What all tables that are less than suitable say of the candidates chosen, by the decisions they name."""
    told = [((place,), given.own[place][candidate]) for place, candidate in enumerate(chosen)]
    told += [(decisions, bounds.get(tuple(chosen[place] for place in decisions), NO_EFFECT))
             for decisions, bounds in given.groups.items()]
    return [one for one in told if one[1].worst < SUITABLE]


def _worst_of(told: Told) -> Bounds:
    return Bounds(min((bounds.worst for _, bounds in told), default=SUITABLE),
                  min((bounds.best for _, bounds in told), default=SUITABLE))


def _limits(given: Choosing, chosen: Combination, told: Told, bounds: Bounds) -> tuple[Reason, ...]:
    """The reasons that set one of the bounds."""
    setting = [decisions for decisions, table in told
               if table.worst == bounds.worst or table.best == bounds.best < SUITABLE]
    return ordered([found for decisions in setting
                    for found in chosen_reasons(given.prepared.pack, given.readings[decisions], tuple(given.answers),
                                                decisions, chosen, bounds)])
