"""Gives back the shape of an answer: sets in, verdicts with reasons out. No sentences and no formatting.

Sets: a number answer is closed intervals and whether it may be absent (not applicable, or without a value); a
choice answer is the ids it may still have, in the input's order.
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
class Component:
    """What the medium is mixed with; None where it is not answered."""

    medium: Answer | None
    concentration: Answer | None


@dataclass(frozen=True, slots=True)
class StateAnswers:
    """The answers of one state, per-application inputs included. An input that is not named is not
    answered. `components` are those beside the medium that the answers name, which is the first."""

    state: str
    answers: tuple[tuple[str, Answer], ...]
    components: tuple[Component, ...] = ()


@dataclass(frozen=True, slots=True)
class Concession:
    """A signed departure from a verdict, up to and with the day `until` (2026-12-31). `rule` and `state` are empty
    where it is about whatever sets the verdict."""

    decision: str
    candidate: str
    reason: str
    approver: str
    until: str
    rule: str = ""
    state: str = ""


@dataclass(frozen=True, slots=True)
class Conceded:
    """A concession beside the verdict that stays as it is: the rules it departs from, and whether it holds, has
    expired, or is needless."""

    concession: Concession
    verdict: str
    rules: tuple[str, ...]
    standing: str


@dataclass(frozen=True, slots=True)
class Application:
    """`states` in pack order, only those described. `ruled_out` and `undescribed` name the other states."""

    id: str
    title: str
    states: tuple[StateAnswers, ...]
    ruled_out: tuple[str, ...] = ()
    undescribed: tuple[str, ...] = ()
    assumed: tuple[tuple[str, str], ...] = ()        # (state, input) whose answer was assumed, not typed
    pinned: tuple[tuple[str, str], ...] = ()         # (decision, candidate) that every selection keeps
    concessions: tuple[Concession, ...] = ()
    unknown: tuple[tuple[str, str], ...] = ()        # (state, what is said of a name that the guide does not hold)


@dataclass(frozen=True, slots=True)
class Reason:
    """A rule that decides. `partner` names the candidates of other decisions (decision, candidate) it was
    read with; `others` counts further rules of the same table, state and verdict that the open answers still
    allow. `settled`: its table gives this verdict for every completion of the answers, so that the verdict
    may be told as a fact. `components` are the places, from 1, of the components of a mixture that the table was
    read for: one, or a pair of them."""

    rule: str
    table: str
    state: str
    verdict: str
    partner: tuple[tuple[str, str], ...] = ()
    others: int = 0
    settled: bool = True
    components: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class CandidateResult:
    """`verdict` is `best` where `best` and `worst` agree, else open."""

    candidate: str
    verdict: str
    best: str
    worst: str
    reasons: tuple[Reason, ...]
    open_inputs: tuple[tuple[str, str], ...]         # (state, input), in the vocabulary's order
    confirm: tuple[int, ...] = ()                    # places in Pack.recalled: with any, the verdict is provisional


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
class Chosen:
    """A candidate within a selection: the worst of the tables that name its decision, read with the other
    candidates. `limits` are the reasons that set this verdict; a suitable one has none. `partner` of a reason
    names every candidate that its table was read with, this one too."""

    decision: str
    candidate: str
    pinned: bool
    verdict: str
    best: str
    worst: str
    limits: tuple[Reason, ...]
    confirm: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Selection:
    """One candidate per decision, the same in every state. `limits` are the reasons that set its verdict."""

    verdict: str
    best: str
    worst: str
    chosen: tuple[Chosen, ...]                       # in the order of the decisions
    limits: tuple[Reason, ...]
    open_inputs: tuple[tuple[str, str], ...]         # (state, input), in the vocabulary's order
    confirm: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Together:
    """A candidate that no selection can have at the verdict it has by itself: the best verdict of any
    selection with it, and the reasons that set that verdict in the first such selection, or that leave it
    without any."""

    decision: str
    candidate: str
    verdict: str
    best: str
    worst: str
    limits: tuple[Reason, ...]


@dataclass(frozen=True, slots=True)
class Conflict:
    """Why no selection is better than `left` (unsuitable: there is none at all; open: none without a
    supplier's word): tables of which no one can be spared, in pack order, and the rules by which each takes
    away what those before leave. A reason's `partner` names the first candidates that it takes away, `others`
    counts the further ones."""

    left: str
    tables: tuple[str, ...]
    reasons: tuple[Reason, ...]


@dataclass(frozen=True, slots=True)
class Margin:
    """How far one column of a candidate's own tables may move on one side until its verdict changes from `now`: from
    `value` to `limit`, in the column's unit; `included`: the verdict still holds at the limit. There it becomes
    `verdict`, with its bounds, by the rule `rule`; where nothing gets worse, it is the rule that ends. `state` and
    `components` (of a mixture, places from 1) are those that the rule was read for."""

    decision: str
    candidate: str
    state: str
    column: str
    value: float
    limit: float
    above: bool
    included: bool
    now: str
    verdict: str
    best: str
    worst: str
    rule: str
    table: str
    components: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Question:
    """An open input of a state. `alone` counts the verdicts that it settles by itself, `waiting` those that wait for it,
    by itself or among others: (decision, number) in the pack's order."""

    state: str
    input: str
    alone: tuple[tuple[str, int], ...]
    waiting: tuple[tuple[str, int], ...]


@dataclass(frozen=True, slots=True)
class Asked:
    """An input that is open in some states, and the candidates by decision whose verdicts wait for it: `alone` for
    nothing else, `waiting` at all."""

    input: str
    states: tuple[str, ...]
    alone: tuple[tuple[str, tuple[str, ...]], ...]
    waiting: tuple[tuple[str, tuple[str, ...]], ...]


@dataclass(frozen=True, slots=True)
class Letter:
    """What is asked of those who usually know it."""

    asked_of: str
    asked: tuple[Asked, ...]


@dataclass(frozen=True, slots=True)
class Advised:
    """A caution or a hand-over item that goes with the result; not `certain` where it only may apply."""

    id: str
    certain: bool


@dataclass(frozen=True, slots=True)
class Selected:
    """Everything that is decided about one application. `selections` are the leading ones, best first: those
    whose verdict is settled, then the open ones, at most five of each."""

    application: str
    decisions: tuple[DecisionResult, ...]
    values: tuple[Value, ...]
    selections: tuple[Selection, ...] = ()
    together: tuple[Together, ...] = ()              # in the order of decisions and of preference
    conflict: Conflict | None = None
    advice: tuple[Advised, ...] = ()                 # cautions and hand-over items, in the pack's order
