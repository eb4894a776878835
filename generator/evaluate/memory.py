"""Gives back answers that were met before, and what was worked out from them, so that nothing is worked out twice.

Most tables and formulas ask only what all states share, or what has not changed since the application was last
looked at. A memory belongs to one pack; it makes nothing else, only sooner.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field

from generator.evaluate.results import Answer

Key = tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Memory:
    """`answers` are those met before, each by itself; `known` what was worked out, by what it is (a derived value or
    the place of a table) and then by the answers it was worked out from."""

    answers: dict[Answer, Answer] = field(default_factory=dict)
    known: dict[str | int, dict[Key, object]] = field(default_factory=dict)


def new_memory() -> Memory:
    """Of nothing."""
    return Memory()


def met_before(memory: Memory, answers: Mapping[str, Answer]) -> dict[str, Answer]:
    """The same answers, each the very object that stood for it before."""
    known = memory.answers
    return {name: known.setdefault(answer, answer) for name, answer in answers.items()}


def remembered(memory: Memory, what: str | int, names: Iterable[str], answers: Mapping[str, Answer],
               work: Callable[[], object]) -> object:
    """What `work` gives, which depends on the named answers alone; all of `answers` must be `met_before`."""
    known = memory.known.setdefault(what, {})
    key = tuple([id(answers[name]) for name in names])       # an answer that was met is kept, and so is its id
    found = known.get(key)
    if found is None:
        found = known[key] = work()
    return found
