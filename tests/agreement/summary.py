"""Gives back everything an engine says about an application as words and numbers, so that two engines can be
compared.

Words hold every verdict, bound, rule id, order, partner, count and open input; numbers the bounds of every
derived value.
"""

from __future__ import annotations

import json
import subprocess
from array import array
from hashlib import sha1
from pathlib import Path

from generator.evaluate.results import Answer, Application, ChoiceSet, Reason, Selected
from generator.pack.document import to_document
from generator.pack.model import Pack

RUNNER = Path(__file__).with_suffix(".mjs")
TOLERANCE = 1e-12                                # relative, between the numbers of the two engines


def words_of(selected: Selected) -> str:
    """One line per decision, candidate, reason, list of open inputs, selection and derived value; the twin is
    in summary.mjs."""
    lines = [selected.application]
    for decision in selected.decisions:
        lines.append(f"{decision.decision} {int(decision.in_play)}")
        for one in decision.candidates:
            lines.append(f"{one.candidate} {one.verdict} {one.best} {one.worst}")
            lines += _reasons(one.reasons)
            lines.append(" ".join(".".join(pair) for pair in one.open_inputs))
            lines.append(" ".join(map(str, one.confirm)))
    for one in selected.selections:
        open_inputs = " ".join(".".join(pair) for pair in one.open_inputs)
        lines.append(f"{one.verdict} {one.best} {one.worst} {open_inputs} {','.join(map(str, one.confirm))}")
        lines += _reasons(one.limits)
        for part in one.chosen:
            lines.append(f"{part.decision} {part.candidate} {int(part.pinned)} "
                         f"{part.verdict} {part.best} {part.worst} {','.join(map(str, part.confirm))}")
            lines += _reasons(part.limits)
    for one in selected.together:
        lines.append(f"{one.decision} {one.candidate} {one.verdict} {one.best} {one.worst}")
        lines += _reasons(one.limits)
    if selected.conflict is not None:
        lines.append(f"{selected.conflict.left} {' '.join(selected.conflict.tables)}")
        lines += _reasons(selected.conflict.reasons)
    lines.append(" ".join(f"{one.id} {int(one.certain)}" for one in selected.advice))
    for value in selected.values:
        lines.append(f"{value.name} {value.formula} {value.candidate} {value.state} {value.unit} "
                     f"{int(value.low is None)} {int(value.absent)}")
    return "\n".join(lines)


def _reasons(reasons: tuple[Reason, ...]) -> list[str]:
    return [f"{one.rule} {one.table} {one.state} {one.verdict} "
            f"{','.join('='.join(pair) for pair in one.partner)} {one.others} {int(one.settled)} "
            f"{'+'.join(map(str, one.components))}" for one in reasons]


def numbers_of(selected: Selected) -> list[float]:
    """The bounds of every derived value that has any, in their order."""
    return [end for value in selected.values if value.low is not None for end in (value.low, value.high)]


def document_of(application: Application) -> dict[str, object]:
    """The application as the JavaScript engine reads it."""
    return {"id": application.id, "title": application.title, "pinned": application.pinned, "states": [
        {"state": state.state, "answers": [
            (name, _plain(answer)) for name, answer in state.answers], "components": [
                {"medium": _plain(one.medium), "concentration": _plain(one.concentration)}
                for one in state.components]}
        for state in application.states]}


def _plain(answer: Answer | None) -> dict[str, object] | None:
    if answer is None:
        return None
    return {"ids": answer.ids} if isinstance(answer, ChoiceSet) else {
        "intervals": answer.intervals, "absent": answer.absent}


def differences(ours: Selected, words: str, numbers: list[float]) -> list[str]:
    """Where the JavaScript engine's words and numbers are not ours; at most five lines."""
    found = [f"Python says {mine!r}, JavaScript {theirs!r}"
             for mine, theirs in zip(words_of(ours).split("\n"), words.split("\n")) if mine != theirs]
    mine = numbers_of(ours)
    if len(mine) != len(numbers) or words_of(ours).count("\n") != words.count("\n"):
        found.append("one engine gives more than the other")
    found += [f"Python gives {a!r}, JavaScript {b!r}" for a, b in zip(mine, numbers)
              if abs(a - b) > TOLERANCE * max(abs(a), abs(b))]
    return found[:5]


class Engine:
    """The JavaScript engine in one long-lived node process. Ask first, listen later: it works meanwhile."""

    def __init__(self) -> None:
        self._node = subprocess.Popen(["node", str(RUNNER)], stdin=subprocess.PIPE, stdout=subprocess.PIPE,
                                      text=True, encoding="utf-8")

    def take(self, pack: Pack) -> None:
        self.ask({"pack": to_document(pack, "")})
        assert self.listen() is True

    def ask(self, asked: dict[str, object]) -> None:
        self._node.stdin.write(json.dumps(asked, allow_nan=False) + "\n")
        self._node.stdin.flush()

    def listen(self) -> object:
        return json.loads(self._node.stdout.readline())

    def close(self) -> None:
        self._node.stdin.close()
        self._node.wait(timeout=10)


def compare(engine: Engine, applications: list[Application], ours: list[Selected]) -> tuple[list[str], int]:
    """The differences between our answers and those the engine was asked for, and how often all numbers are
    the same to the last bit. Digests are compared; only where they differ the answers themselves are
    fetched."""
    found: list[str] = []
    identical = 0
    for application, mine, (words, numbers) in zip(applications, ours, engine.listen(), strict=True):
        same_words = words == sha1(words_of(mine).encode()).hexdigest()
        same_numbers = numbers == sha1(array("d", numbers_of(mine)).tobytes()).hexdigest()
        identical += same_numbers
        if not (same_words and same_numbers):
            engine.ask({"applications": [document_of(application)], "full": True})
            found += [f"{application.id}: {line}" for line in differences(mine, *engine.listen()[0])]
    return found, identical
