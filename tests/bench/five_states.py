"""Gives back the applications that the promises of speed are measured on: five operating states, drawn around the
limits, and the same as typed text."""

from __future__ import annotations

from generator.evaluate.numbers import plain_text
from generator.evaluate.results import Answer, Application, ChoiceSet, StateAnswers
from generator.pack.model import MIXED_WITH, Pack
from tests.agreement.drawing import draw_application
from tests.agreement.limits import Limits

STATES = 5


def five_state_applications(limits: Limits, count: int) -> list[Application]:
    """The first five states of the pack, each drawn by itself; what all states share is that of the first."""
    shared = {item.id for item in limits.pack.inputs if not item.per_state}
    found = []
    for number in range(count):
        drawn = [dict(draw_application(limits, STATES * number + place).states[0].answers) for place in range(STATES)]
        found.append(Application(f"drawn_{number}", f"Drawn {number}", tuple(
            StateAnswers(state.id, tuple((name, drawn[0][name] if name in shared else answer)
                                         for name, answer in answers.items()))
            for state, answers in zip(limits.pack.states, drawn))))
    return found


def as_typed(pack: Pack, application: Application) -> dict[str, dict[str, str]]:
    """The application as a person would type it, without the answers that are blank. Nothing is mixed in: what is
    drawn for that is the kind of a pair, and nobody types it."""
    inputs = {item.id: item for item in pack.inputs}
    first = application.states[0].state
    return {state.state: {name: text for name, answer in state.answers
                          if (inputs[name].per_state or state.state == first) and name != MIXED_WITH
                          and (text := _text(answer, inputs[name].unit))}
            for state in application.states}


# private

def _text(answer: Answer, unit: str) -> str:
    """Empty for what cannot be typed in one line, such as two intervals: it is left blank."""
    if isinstance(answer, ChoiceSet):
        return " or ".join(answer.ids)
    if not answer.intervals:
        return "not applicable"
    (low, high), *others = answer.intervals
    if answer.absent or others:
        return ""
    return f"{plain_text(low)}{'' if low == high else f' to {plain_text(high)}'} {unit}"
