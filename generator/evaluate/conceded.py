"""Gives back how each concession stands beside the verdict that it departs from, which it never changes."""

from __future__ import annotations

from collections.abc import Iterable

from generator.evaluate.results import CandidateResult, Conceded, Concession, Reason, Selected

HOLDS, EXPIRED, NEEDLESS = "holds", "expired", "needless"


def conceded(selected: Selected, concessions: Iterable[Concession], today: str) -> tuple[Conceded, ...]:
    """In the order given; `today` as 2026-12-31. A concession holds through its last day. It is needless where the
    candidate is suitable, or where the rule or the state that it names does not stand against it."""
    return tuple(_stand(selected, one, today) for one in concessions)


# private

def _stand(selected: Selected, one: Concession, today: str) -> Conceded:
    result = next(candidate for decision in selected.decisions if decision.decision == one.decision
                  for candidate in decision.candidates if candidate.candidate == one.candidate)
    rules = tuple(dict.fromkeys(reason.rule for reason in _against(selected, result, one)))
    standing = NEEDLESS if not rules else EXPIRED if one.until < today else HOLDS
    return Conceded(one, result.verdict, rules, standing)


def _against(selected: Selected, result: CandidateResult, one: Concession) -> list[Reason]:
    """The reasons that the concession is about: those of the rule it names, or those that set the verdict."""
    reasons = [reason for reason in (*result.reasons, *_joint(selected, one))
               if reason.verdict != "suitable" and one.state in ("", reason.state)]
    if one.rule:
        return [reason for reason in reasons if reason.rule == one.rule]
    if result.verdict == "suitable":
        return []
    deciding = [reason for reason in reasons if reason.verdict == result.worst]
    return [reason for reason in deciding if reason.settled] or deciding


def _joint(selected: Selected, one: Concession) -> list[Reason]:
    """What stands against the candidate only together with others: it may be conceded by the rule's name."""
    if not one.rule:
        return []
    parts = [part for selection in selected.selections for part in selection.chosen]
    return [reason for part in (*parts, *selected.together)
            if (part.decision, part.candidate) == (one.decision, one.candidate) for reason in part.limits]
