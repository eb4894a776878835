"""Gives back how often each rule was conceded: for the committee, a rule that is often departed from is worth a look."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from generator.evaluate.conceded import NEEDLESS
from generator.evaluate.results import Conceded


@dataclass(frozen=True, slots=True)
class Use:
    """One concession, and the file or case in which it stands."""

    where: str
    conceded: Conceded


@dataclass(frozen=True, slots=True)
class ConcededRule:
    """A rule with every use of it, those that have expired among them, in the order given."""

    rule: str
    uses: tuple[Use, ...]


def conceded_rules(uses: Iterable[Use]) -> tuple[ConcededRule, ...]:
    """The rules that were conceded, the most often conceded first, then in the order in which they were met. A
    concession that names no rule counts for each rule that sets the verdict; a needless one for none."""
    found: dict[str, list[Use]] = {}
    for use in uses:
        for rule in use.conceded.rules:
            found.setdefault(rule, []).append(use)
    ranked = sorted(found.items(), key=lambda item: -len(item[1]))
    return tuple(ConcededRule(rule, tuple(of)) for rule, of in ranked)


def needless_uses(uses: Iterable[Use]) -> tuple[Use, ...]:
    """The concessions that depart from nothing."""
    return tuple(use for use in uses if use.conceded.standing == NEEDLESS)
