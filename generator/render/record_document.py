"""Gives back the selection record as a document that can be kept, read back, and compared with the rules of today.

It holds the application as it was typed, the whole answer, and by which edition and rules it was made.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import asdict, dataclass
from hashlib import sha256

from generator.evaluate.results import Application
from generator.pack.document import write_pack
from generator.pack.model import Pack
from generator.pack.texts import Texts
from generator.render.answer_document import Understood

RECORD, FORMAT = "record", 1
CONCESSIONS = "concessions"


@dataclass(frozen=True, slots=True)
class Made:
    """When a record was made, and by what: the day, the edition, and the mark of its rules."""

    day: str
    edition: str
    rules: str


def rules_mark(pack: Pack) -> str:
    """Twelve letters that change with any rule, limit or candidate."""
    return sha256(write_pack(pack, "").encode("utf-8")).hexdigest()[:12]


def record_document(pack: Pack, texts: Texts, application: Application, understood: tuple[Understood, ...],
                    answer: dict, day: str) -> dict:
    """`answer` is one application of an answer document."""
    return {RECORD: FORMAT, "company": texts.edition.company, "edition": texts.edition.edition,
            "overlay": texts.overlay.title if texts.overlay else "", "rules": rules_mark(pack), "made": day, "notice": texts.edition.notice,
            "application": typed_application(application, understood), "answer": answer}


def typed_application(application: Application, understood: Iterable[Understood]) -> dict[str, object]:
    """The application as a file says it: only what was typed, states that are ruled out as `none`."""
    typed: dict[str, object] = {"id": application.id, "title": application.title}
    typed |= {state.state: {} for state in application.states} | dict.fromkeys(application.ruled_out, "none")
    for one in understood:
        if one.typed:
            typed.setdefault(one.state, {})[one.input] = one.typed       # type: ignore[index]
    if application.concessions:
        typed[CONCESSIONS] = [{key: text for key, text in asdict(one).items() if text}
                              for one in application.concessions]
    return typed


def write_record(record: dict) -> str:
    """The record as JSON text."""
    return json.dumps(record, ensure_ascii=False, indent=1) + "\n"


def made_by(record: dict) -> Made:
    """Who made a record that was read back."""
    return Made(str(record["made"]), str(record["edition"]), str(record["rules"]))


def changes_since(record: dict, answer: dict) -> list[str]:
    """What the rules of today say otherwise than the answer that was recorded, a line each."""
    before, now = record["answer"], answer
    lines = []
    old = {(one["decision"], each["candidate"]): (one["title"], each) for one in before["decisions"]
           for each in one["candidates"]}
    new = {(one["decision"], each["candidate"]): (one["title"], each) for one in now["decisions"]
           for each in one["candidates"]}
    for key, (title, each) in old.items():
        verdict = new[key][1]["verdict"] if key in new else "no longer in the guide"
        if verdict != each["verdict"]:
            lines.append(f"{title} {each['title']}: {each['verdict']}, now {verdict}")
    lines += [f"{title} {each['title']}: not in the guide then, now {each['verdict']}"
              for key, (title, each) in new.items() if key not in old]
    chosen, today = _chosen(before), _chosen(now)
    lines += [f"What to buy, {decision}: {chosen.get(decision, 'none')}, now {today.get(decision, 'none')}"
              for decision in {**chosen, **today} if chosen.get(decision) != today.get(decision)]
    return lines


def compared(file: str, record: dict, answer: dict) -> dict:
    """What an answer document says of a record that was read back."""
    made = made_by(record)
    return {"file": file, "made": made.day, "edition": made.edition, "rules": made.rules,
            "changed": changes_since(record, answer)}


def changed_words(record: dict, answer: dict, rules: str) -> list[str]:
    """What to say of a record that was read back, as lines."""
    made = made_by(record)
    by = f"This record was made on {made.day} with edition \"{made.edition}\" (rules {made.rules})"
    lines = changes_since(record, answer)
    if not lines:
        return [f"{by}; " + ("the rules are the same." if made.rules == rules
                             else f"the rules are others now ({rules}), and every verdict is still the same.")]
    return [f"{by}; by the rules of today ({rules}) these verdicts have changed:", *lines]


# private

def _chosen(answer: dict) -> dict[str, str]:
    """Per decision the title of the candidate of the first selection."""
    titles = {one["decision"]: one["title"] for one in answer["decisions"]}
    return {titles[one["decision"]]: one["title"] for selection in answer["selections"][:1]
            for one in selection["chosen"] if one["decision"] in titles}
