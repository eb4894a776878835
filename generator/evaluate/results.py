"""Gives back the shape of an answer: sets in, verdicts with reasons out. No sentences and no formatting.

Sets: a number answer is closed intervals and whether it may be absent (not applicable, or without a value); a choice
answer is the ids it may still have, in the input's order.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class NumberSet:
    """Values a number may still have: closed intervals in rising order, and whether it may be absent."""

    intervals: tuple[tuple[float, float], ...]
    absent: bool = False


@dataclass(frozen=True, slots=True)
class ChoiceSet:
    """Ids a choice may still have, in the order of the input's options; `not_applicable` stands last."""

    ids: tuple[str, ...]


Answer = NumberSet | ChoiceSet


@dataclass(frozen=True, slots=True)
class StateAnswers:
    """The answers of one state, per-application inputs included. An input that is not named is not answered."""

    state: str
    answers: tuple[tuple[str, Answer], ...]


@dataclass(frozen=True, slots=True)
class Application:
    """`states` in pack order, only those described. `ruled_out` and `undescribed` name the other states."""

    id: str
    title: str
    states: tuple[StateAnswers, ...]
    ruled_out: tuple[str, ...] = ()
    undescribed: tuple[str, ...] = ()
    assumed: tuple[tuple[str, str], ...] = ()        # (state, input) whose answer was assumed, not typed


@dataclass(frozen=True, slots=True)
class Reason:
    """A rule that decides. `partner` names the candidates of other decisions (decision, candidate) it was read with;
    `others` counts further rules of the same table, state and verdict that the open answers still allow. `settled`: its
    table gives this verdict for every completion of the answers, so that the verdict may be told as a fact."""

    rule: str
    table: str
    state: str
    verdict: str
    partner: tuple[tuple[str, str], ...] = ()
    others: int = 0
    settled: bool = True


@dataclass(frozen=True, slots=True)
class CandidateResult:
    """`verdict` is `best` where `best` and `worst` agree, else open."""

    candidate: str
    verdict: str
    best: str
    worst: str
    reasons: tuple[Reason, ...]
    open_inputs: tuple[tuple[str, str], ...]         # (state, input), in the vocabulary's order


@dataclass(frozen=True, slots=True)
class DecisionResult:
    """`in_play` is False when every candidate is unsuitable by its own tables."""

    decision: str
    in_play: bool
    candidates: tuple[CandidateResult, ...]          # best first: by worst, by best, by the committee's order


@dataclass(frozen=True, slots=True)
class Value:
    """A derived value. `low` and `high` agree when it is single; both None when there is no value at all;
    `absent` when some of the still possible answers give no value. `candidate` is empty if it needs none."""

    name: str
    formula: str
    candidate: str
    state: str
    unit: str
    low: float | None
    high: float | None
    absent: bool = False


@dataclass(frozen=True, slots=True)
class Selected:
    """Everything that is decided about one application."""

    application: str
    decisions: tuple[DecisionResult, ...]
    values: tuple[Value, ...]
