"""Gives back how an offered sensor compares with what an application requires, decision by decision, by the same rules.

What is required is the first selection of the application, and for each figure the application's own extreme: a
sensor must bear at least its highest `..._max` and at most its lowest `..._min`. Offered candidates are judged
together, at the true bore if that is stated. What is offered as required, and falls short only beside another part
that is not, is left to that part.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from generator.evaluate.prepared import prepare
from generator.evaluate.results import Application, Chosen, NumberSet, Reason, Selection
from generator.evaluate.select import select
from generator.pack.model import VERDICTS, Pack

BORE = "nominal_bore"                # the number of a candidate that a true bore takes the place of
AS_REQUIRED, ACCEPTED, DEVIATION, OPEN = "as_required", "accepted", "deviation", "open"


@dataclass(frozen=True, slots=True)
class Offer:
    """What a supplier states: a candidate per decision, figures in the units of the inputs they are named for, and
    the true bore of the offered size in the unit of its nominal bore (None: not stated)."""

    chosen: tuple[tuple[str, str], ...]
    figures: tuple[tuple[str, float], ...] = ()
    true_bore: float | None = None


@dataclass(frozen=True, slots=True)
class ComparedCandidate:
    """`required` and `offered` are ids, empty where there is none; `verdict` and `reasons` are of the offered one."""

    decision: str
    required: str
    offered: str
    standing: str
    verdict: str
    reasons: tuple[Reason, ...]


@dataclass(frozen=True, slots=True)
class ComparedFigure:
    """In the unit of the input; `offered` is None where the supplier states nothing."""

    input: str
    required: float
    offered: float | None
    standing: str


@dataclass(frozen=True, slots=True)
class Comparison:
    candidates: tuple[ComparedCandidate, ...]
    figures: tuple[ComparedFigure, ...]


def compare_offer(pack: Pack, application: Application, offer: Offer) -> Comparison:
    """Candidates in the order of the decisions, figures in that of the inputs."""
    required = _first(pack, application)
    judged = _first(with_true_bore(pack, offer), replace(application, pinned=offer.chosen))
    stated = dict(offer.chosen)
    candidates = _each_to_its_own(required, tuple(
        _candidate(decision.id, _part(required, decision.id), _part(judged, decision.id), stated.get(decision.id, ""))
        for decision in pack.decisions))
    figures = dict(offer.figures)
    return Comparison(candidates, tuple(
        _figure(name, needed, figures.get(name)) for name, needed in required_figures(pack, application)))


def with_true_bore(pack: Pack, offer: Offer) -> Pack:
    """The pack in which the offered size has its true bore in place of the nominal one."""
    if offer.true_bore is None:
        return pack
    return replace(pack, decisions=tuple(
        replace(decision, candidates=tuple(
            replace(one, numbers=tuple((name, offer.true_bore if name == BORE else number) for name, number in one.numbers))
            if (decision.id, one.id) in offer.chosen else one for one in decision.candidates))
        for decision in pack.decisions))


def required_figures(pack: Pack, application: Application) -> tuple[tuple[str, float], ...]:
    """Per number input that ends in `_max` or `_min` the extreme of all states, as far as it is answered."""
    found = []
    for item in pack.inputs:
        ends = [end for state in application.states for name, answer in state.answers
                if name == item.id and isinstance(answer, NumberSet) for part in answer.intervals for end in part]
        if ends and item.id.endswith("_max"):
            found.append((item.id, max(ends)))
        elif ends and item.id.endswith("_min"):
            found.append((item.id, min(ends)))
    return tuple(found)


# private

def _first(pack: Pack, application: Application) -> Selection | None:
    selections = select(prepare(pack), application).selections
    return selections[0] if selections else None


def _part(selection: Selection | None, decision: str) -> Chosen | None:
    return None if selection is None else next(one for one in selection.chosen if one.decision == decision)


def _candidate(decision: str, required: Chosen | None, judged: Chosen | None, offered: str) -> ComparedCandidate:
    needed = required.candidate if required is not None else ""
    if not offered:
        return ComparedCandidate(decision, needed, "", OPEN, "", ())
    if judged is None:
        return ComparedCandidate(decision, needed, offered, DEVIATION, VERDICTS[0], ())
    return ComparedCandidate(decision, needed, offered, _standing(required, judged), judged.verdict, judged.limits)


def _standing(required: Chosen | None, judged: Chosen) -> str:
    if judged.verdict == "open":
        return OPEN
    if judged.verdict == VERDICTS[0] or (
            required is not None and VERDICTS.index(judged.verdict) < VERDICTS.index(required.verdict)):
        return DEVIATION
    return AS_REQUIRED if required is not None and judged.candidate == required.candidate else ACCEPTED


def _each_to_its_own(required: Selection | None, lines: tuple[ComparedCandidate, ...]) -> tuple[ComparedCandidate, ...]:
    """A line that is offered as required and stands as deviation or open only by rules that it shares with another
    line, which is not and stands so too, has its required verdict: the other line tells what is wrong."""
    if required is None:
        return lines
    changed = {(one.decision, one.offered): one.standing for one in lines if one.offered != one.required}

    def own(one: ComparedCandidate) -> ComparedCandidate:
        verdict = next(part.verdict for part in required.chosen if part.decision == one.decision)
        elsewhere = one.offered == one.required and one.standing in (DEVIATION, OPEN) and one.reasons and all(
            any(changed.get(partner) == one.standing for partner in reason.partner) for reason in one.reasons)
        return replace(one, standing=AS_REQUIRED, verdict=verdict, reasons=()) if (
            elsewhere and verdict in ("suitable", "caution")) else one

    return tuple(own(one) for one in lines)


def _figure(name: str, needed: float, offered: float | None) -> ComparedFigure:
    if offered is None:
        return ComparedFigure(name, needed, None, OPEN)
    enough = offered >= needed if name.endswith("_max") else offered <= needed
    standing = DEVIATION if not enough else AS_REQUIRED if offered == needed else ACCEPTED
    return ComparedFigure(name, needed, offered, standing)
