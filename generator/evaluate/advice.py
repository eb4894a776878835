"""Gives back which cautions and hand-over items go with a result: those whose condition holds, or may hold.

A condition is read in every described state, and there for every component of a mixture, with the candidates of
the first selection; where there is none, with every candidate that is still in play.
"""

from __future__ import annotations

from collections.abc import Mapping

from generator.evaluate.results import Advised, Answer, ChoiceSet, DecisionResult, Selection
from generator.pack.model import Advice, ChoiceCell, Interval, NumberCell, Pack


def advice_for(pack: Pack, answers: Mapping[object, Mapping[str, Answer]], decisions: tuple[DecisionResult, ...],
               selections: tuple[Selection, ...]) -> tuple[Advised, ...]:
    """In the order of the pack. `certain` is false where open answers, or the choice, may still make it idle."""
    chosen = _chosen(decisions, selections)
    told = []
    for one in pack.advice:
        met = [_met(one, {**known, **chosen}) for known in answers.values()]
        if any(possible for possible, _ in met):
            told.append(Advised(one.id, any(certain for _, certain in met)))
    return tuple(told)


# private

def _chosen(decisions: tuple[DecisionResult, ...], selections: tuple[Selection, ...]) -> dict[str, Answer]:
    if selections:
        return {one.decision: ChoiceSet((one.candidate,)) for one in selections[0].chosen}
    return {decision.decision: ChoiceSet(tuple(
        one.candidate for one in decision.candidates if one.best != "unsuitable" or not decision.in_play))
        for decision in decisions}


def _met(one: Advice, known: Mapping[str, Answer]) -> tuple[bool, bool]:
    """Whether the condition may hold, and whether it does for every completion of the answers."""
    parts = [_meets(known[condition.name], condition.cell) for condition in one.conditions]
    return all(possible for possible, _ in parts), all(certain for _, certain in parts)


def _meets(answer: Answer, cell: NumberCell | ChoiceCell) -> tuple[bool, bool]:
    if isinstance(answer, ChoiceSet):
        inside = [name in cell.ids for name in answer.ids]
    else:
        inside = [any(_holds(part, low, high) for part in cell.intervals) for low, high in answer.intervals]
        inside += [cell.absent] * answer.absent
        if any(_touches(part, low, high) for part in cell.intervals for low, high in answer.intervals):
            return True, all(inside)
    return any(inside), bool(inside) and all(inside)


def _holds(part: Interval, low: float, high: float) -> bool:
    return (part.low < low or (part.low_in and part.low == low)) and \
        (high < part.high or (part.high_in and high == part.high))


def _touches(part: Interval, low: float, high: float) -> bool:
    return (part.low < high or (part.low_in and part.low == high)) and \
        (low < part.high or (part.high_in and low == part.high))
