"""Gives back what an application is judged on: its parts, what every table says of them, and who is in play."""

from __future__ import annotations

from dataclasses import dataclass

from generator.evaluate.choice import NO_EFFECT, Partners, Readings, judge_group, partners
from generator.evaluate.mixtures import Part
from generator.evaluate.prepared import Prepared
from generator.evaluate.results import Application
from generator.evaluate.select import Judged, judge
from generator.evaluate.tables import Bounds, Combination


@dataclass(frozen=True, slots=True)
class Situation:
    """`parts` by state, `readings` as `read_tables` gives them, `own` per decision and candidate, `in_play` per
    decision, `groups` as `group_bounds` gives them."""

    prepared: Prepared
    parts: dict[str, tuple[Part, ...]]
    readings: Readings
    own: tuple[tuple[Bounds, ...], ...]
    in_play: tuple[Partners, ...]
    groups: dict[tuple[int, ...], dict[Combination, Bounds]]


def situation_of(prepared: Prepared, application: Application, judged: Judged | None = None) -> Situation:
    """The situation of an application, out of its verdicts if they are there already."""
    judged = judged or judge(prepared, application)
    return Situation(prepared, judged.parts, judged.readings, judged.own, partners(judged.own), judged.groups)


def shared_bounds(situation: Situation, decision: int, candidate: int) -> Bounds:
    """The worst of what the tables shared with other decisions leave a candidate with the partners in play."""
    bounds = NO_EFFECT
    for names, combinations in situation.groups.items():
        if decision in names:
            bounds = bounds.meet(judge_group(names, combinations, decision, candidate, situation.in_play,
                                             situation.prepared.sizes).bounds)
    return bounds
