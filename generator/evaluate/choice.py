"""Gives back the verdict of every candidate of every decision: its own, and together with the partners still
in play.

All bounds are ranks (places in pack.model.VERDICTS). What is equal from both sides stays so for every
completion.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

from generator.evaluate.mixtures import Part
from generator.evaluate.tables import SUITABLE, Bounds, Combination, Outcome, every_combination


@dataclass(frozen=True, slots=True)
class Reading:
    """What one table says of one part of a state: its place in the pack, the part, and the outcome per
    combination. `told` keeps the reasons of an outcome, which many candidates share, once they were asked for."""

    table: int
    part: Part
    outcomes: dict[Combination, Outcome]
    told: dict[int, list[Any]] = field(default_factory=dict, compare=False, repr=False)


NO_EFFECT = Bounds(SUITABLE, SUITABLE)


Readings = dict[tuple[int, ...], tuple[Reading, ...]]        # by the decisions that their tables name


@dataclass(frozen=True, slots=True)
class Partners:
    """The candidates of one decision that another may be joined with: `sure` stay in play for every
    completion of the answers, `possible` for some. `emptied`: none is sure, so that a completion may leave
    all of them or none."""

    sure: tuple[int, ...]
    possible: tuple[int, ...]
    emptied: bool


@dataclass(frozen=True, slots=True)
class GroupVerdict:
    """What the tables shared by `decisions` say about one candidate; `partner` is the combination shown for
    it."""

    decisions: tuple[int, ...]
    bounds: Bounds
    partner: Combination


def own_bounds(sizes: tuple[int, ...], readings: Readings) -> tuple[tuple[Bounds, ...], ...]:
    """Per decision and candidate the worst over states and over the tables that name only this decision."""
    found = []
    for decision, size in enumerate(sizes):
        row = [NO_EFFECT] * size
        for reading in _told_once(readings.get((decision,), ())):
            for (candidate,), outcome in reading.outcomes.items():
                row[candidate] = row[candidate].meet(outcome.bounds)
        found.append(tuple(row))
    return tuple(found)


def partners(own: tuple[tuple[Bounds, ...], ...]) -> tuple[Partners, ...]:
    """Per decision the candidates in play. A decision that has none puts all of them in play for its
    partners, so that one impossible decision does not blacken the others."""
    found = []
    for row in own:
        possible = tuple(place for place, bounds in enumerate(row) if bounds.best > 0)
        sure = tuple(place for place, bounds in enumerate(row) if bounds.worst > 0)
        everyone = tuple(range(len(row)))
        found.append(Partners(sure, possible, not sure) if possible else Partners(everyone, everyone, False))
    return tuple(found)


def group_bounds(readings: Readings) -> dict[tuple[int, ...], dict[Combination, Bounds]]:
    """Per set of decisions that share tables, the worst of those tables and states for each combination."""
    groups: dict[tuple[int, ...], dict[Combination, Bounds]] = {}
    for decisions, shared in readings.items():
        if len(decisions) > 1:
            group = groups.setdefault(decisions, {})
            for reading in _told_once(shared):
                for combination, outcome in reading.outcomes.items():
                    group[combination] = group.get(combination, NO_EFFECT).meet(outcome.bounds)
    return groups


def judge_group(decisions: tuple[int, ...], combinations: dict[Combination, Bounds], decision: int,
                candidate: int, in_play: tuple[Partners, ...], sizes: tuple[int, ...]) -> GroupVerdict:
    """The best that the tables shared by `decisions` allow `candidate` with any partner in play."""
    possible = tuple((candidate,) if place == decision else in_play[place].possible for place in decisions)
    sure = tuple((candidate,) if place == decision else in_play[place].sure for place in decisions)
    emptied = tuple(i for i, place in enumerate(decisions) if place != decision and in_play[place].emptied)
    shown, best, worst = _best_of(combinations, every_combination(possible))
    if not emptied:
        if sure != possible:
            worst = _best_of(combinations, every_combination(sure))[2]
        return GroupVerdict(decisions, Bounds(worst, best), shown)
    # A completion may leave any one candidate of an emptied decision: the lower bound must hold for each of
    # them.
    # Or it may leave none, which puts all of them in play: the upper bound must hold for all.
    remaining = every_combination(possible[i] for i in emptied)
    kept = (_replaced(sure, emptied, ((one,) for one in left)) for left in remaining)
    worst = min(_best_of(combinations, every_combination(pools))[2] for pools in kept)
    everyone = _replaced(possible, emptied, (tuple(range(sizes[decisions[i]])) for i in emptied))
    best = _best_of(combinations, every_combination(everyone))[1]
    return GroupVerdict(decisions, Bounds(worst, best), shown)


# private

def _told_once(readings: tuple[Reading, ...]) -> list[Reading]:
    """Without the readings that repeat, for another state, what the one before them says."""
    return [reading for place, reading in enumerate(readings)
            if place == 0 or reading.outcomes is not readings[place - 1].outcomes]


def _best_of(combinations: dict[Combination, Bounds],
             among: list[Combination]) -> tuple[Combination, int, int]:
    """The combination with the best upper bound, then the best lower one, then the committee's preference;
    and the highest upper and lower bounds of all."""
    shown = among[0]
    best = combinations.get(shown, NO_EFFECT)
    worst = best.worst
    for combination in among:
        bounds = combinations.get(combination, NO_EFFECT)
        if bounds.best > best.best or (bounds.best == best.best and bounds.worst > best.worst):
            shown, best = combination, bounds
        if bounds.worst > worst:
            worst = bounds.worst
    return shown, best.best, worst


def _replaced(pools: tuple[tuple[int, ...], ...], places: tuple[int, ...],
              others: Iterable[tuple[int, ...]]) -> tuple[tuple[int, ...], ...]:
    changed = dict(zip(places, others))
    return tuple(changed.get(i, pool) for i, pool in enumerate(pools))
