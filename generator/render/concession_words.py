"""Gives back a concession beside the verdict that it departs from, as a record and as a sentence."""

from __future__ import annotations

from dataclasses import asdict

from generator.evaluate.conceded import EXPIRED, HOLDS
from generator.evaluate.results import Conceded
from generator.pack.texts import Texts


def concession_records(texts: Texts, conceded: tuple[Conceded, ...]) -> list[dict]:
    """As they stand in an answer document."""
    titles = {(decision.id, item.id): item.title for decision in texts.decisions for item in decision.items}
    return [{**asdict(one.concession), "title": titles[one.concession.decision, one.concession.candidate],
             "verdict": one.verdict, "rules": list(one.rules), "standing": one.standing} for one in conceded]


def concession_sentence(record: dict) -> str:
    """`unsuitable; conceded by A. Person until 2027-06-30: reason`, or that it has expired or concedes nothing."""
    by = f"by {record['approver']}"
    if record["standing"] == HOLDS:
        return f"{record['verdict']}; conceded {by} until {record['until']}: {record['reason']}"
    if record["standing"] == EXPIRED:
        return f"{record['verdict']}; the concession {by} expired on {record['until']}: {record['reason']}"
    against = " and ".join(part for part in (record["rule"], record["state"]) if part)
    why = f"{against} does not stand against it" if against and record["verdict"] != "suitable" else "it departs from nothing"
    return f"{record['verdict']}; the concession {by} until {record['until']} is needless: {why}"
