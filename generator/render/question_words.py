"""Gives back open questions as records of an answer document and as sentences."""

from __future__ import annotations

from generator.evaluate.results import Question
from generator.pack.texts import Texts


def question_record(texts: Texts, question: Question | None) -> dict | None:
    """As it stands in an answer document; None where no verdict waits for an answer."""
    if question is None:
        return None
    titles = {one.id: one.title for one in texts.inputs}
    return {"state": question.state, "input": question.input, "title": titles[question.input],
            "settles": [{"decision": decision, "verdicts": count} for decision, count in question.alone],
            "waiting": [{"decision": decision, "verdicts": count} for decision, count in question.waiting]}


def question_sentence(record: dict) -> str:
    """`Highest temperature (normal): the only open answer of 14 verdicts of 3 decisions; 20 of 5 wait for it`."""
    alone, waiting = record["settles"], record["waiting"]
    settles = f"the only open answer of {_verdicts(alone)}" if alone else "one of several open answers"
    waits = "" if alone == waiting else f"; {_verdicts(waiting)} wait for it" if _total(waiting) > 1 else \
        f"; {_verdicts(waiting)} waits for it"
    return f"{record['title']} ({record['state']}): {settles}{waits}"


# private

def _total(counts: list[dict]) -> int:
    return sum(one["verdicts"] for one in counts)


def _verdicts(counts: list[dict]) -> str:
    total, places = _total(counts), len(counts)
    return f"{total} verdict{'s' * (total > 1)} of {places} decision{'s' * (places > 1)}"
