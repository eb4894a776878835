"""Gives back the candidates that an application keeps whatever else is chosen: `pinned: {liner: ptfe}`.

Twin of browser/engine/pins.js.
"""

from __future__ import annotations

from collections.abc import Mapping

from generator.answers import faults
from generator.answers.figures import LISTED, Fault
from generator.answers.wording import nearest, shown, squeeze
from generator.pack.model import Decision, Option, Pack

PINNED = "pinned"                    # where it stands in an application, beside its states

Pin = tuple[str, str, str]           # decision, what was typed, candidate
PinFault = tuple[str, str, Fault]    # decision, at its key or its value, what is wrong


def read_pins(pack: Pack, given: Mapping[str, object]) -> tuple[tuple[Pin, ...], tuple[PinFault, ...]]:
    """The pinned candidates in the order of the decisions, by id or by any name that the guide gives them."""
    decisions = [decision.id for decision in pack.decisions]
    found = [(name, "key", Fault(
        faults.UNKNOWN_PIN, f"there is no decision '{shown(name)}' to pin a candidate of",
        instead(name, decisions))) for name in given if name not in decisions]
    pins = []
    for decision in pack.decisions:
        typed = given.get(decision.id, "")
        if not isinstance(typed, str):
            found.append((decision.id, "value", Fault(
                faults.WRONG_SHAPE, f"the pinned candidate of '{decision.id}' is not a text",
                "name one candidate")))
        elif squeeze(typed):
            option = _named(decision, squeeze(typed))
            if option is None:
                found.append((decision.id, "value", Fault(
                    faults.UNKNOWN_PIN, f"'{shown(typed)}' is not a candidate of '{decision.id}'",
                    instead(typed, [one.id for one in decision.candidates]))))
            else:
                pins.append((decision.id, squeeze(typed), option.id))
    return tuple(pins), tuple(found)


def instead(name: str, known: list[str]) -> str:
    """The advice to write the nearest known word, or one of those there are."""
    near = nearest(name, known)
    if near is not None:
        return f"did you mean `{near}`?"
    listed = ", ".join(f"`{word}`" for word in known[:LISTED])
    return f"use one of: {listed}{', ...' if len(known) > LISTED else ''}"


# private

def _named(decision: Decision, typed: str) -> Option | None:
    return next((option for option in decision.candidates
                 if typed.lower() in (option.id, *option.spellings)), None)
