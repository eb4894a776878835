"""Gives back the records of what is expected of the rules: reference cases, and witnesses to be judged."""

from __future__ import annotations

from dataclasses import dataclass

from generator.problems import Place
from generator.read.word import Word


@dataclass(frozen=True, slots=True)
class Expected:
    decision: Word
    candidate: Word
    verdict: Word
    rule: Word | None
    because: Word | None


@dataclass(frozen=True, slots=True)
class ExpectedTogether:
    """What the tables say of some candidates together, with the best partners beside them."""

    place: Place
    keep: tuple[tuple[Word, Word], ...]            # (decision, candidate)
    verdict: Word
    rule: Word | None
    because: Word | None


@dataclass(frozen=True, slots=True)
class Case:
    """A reference case: an application (as in an application file) and the verdicts argued before the rules were run."""

    id: Word
    place: Place
    title: Word
    story: Word
    application: tuple[tuple[Word, object], ...]   # raw nodes, read by answers/
    expect: tuple[Expected, ...] = ()    # a starter sheet expects nothing
    selection: tuple[tuple[Word, Word], ...] = ()  # (decision, candidate) of the leading selection, where it is expected
    together: tuple[ExpectedTogether, ...] = ()


@dataclass(frozen=True, slots=True)
class Witness:
    """An application that `guide pin` proposed, for a person to judge; `approver` is an empty text until then."""

    id: Word
    place: Place
    title: Word
    application: tuple[tuple[Word, object], ...]   # as in a case
    judge: tuple[Expected, ...]      # `verdict` and `because` are empty texts until a person has judged
    approver: Word
    together: tuple[ExpectedTogether, ...] = ()    # the same of these
