"""Gives back an application from a YAML file, or from the nodes of a case, with problems at their places.

`{between: [60, 80 degC]}` and `{one_of: [pfa, ptfe]}` say the same as `60 to 80 degC` and `pfa or ptfe`; a list of
components under `mixed_with` says the same as the components with semicolons between them.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, field, replace

from generator.answers import faults
from generator.answers.application import NAMES, AnswerProblem, ReadApplication, read_application
from generator.answers.concessions import CONCESSIONS
from generator.answers.figures import Fault, OtherUnit
from generator.answers.reading import read_answer
from generator.answers.wording import shown
from generator.pack.model import MIXED_WITH, Pack
from generator.problems import Place, Problem
from generator.read.records import Quantity, Word
from generator.read.shape import is_empty
from generator.read.yaml_nodes import Mapping, Node, Sequence, compose
from generator.units import any_spelling

_JOINED_BY = {"between": " to ", "one_of": " or "}
_NEEDED = "write `id: ...`, `title: ...` and the answers under `normal:`"
_NOT_QUOTED, _EMPTY = "Y003", "Y004"     # what `compose` says of a test without quotes, of an empty file
_KEY_BEFORE = re.compile(r"([A-Za-z_]\w*): *$")
_VALUE = re.compile(r"[^#,}]*")


def read_application_file(pack: Pack, file: str, data: bytes, other_unit: OtherUnit | None = None,
                          ) -> tuple[ReadApplication | None, list[Problem]]:
    """The application of a file, or None where the file is no mapping; with all problems of the file."""
    node, problems = compose(file, data)
    problems = [_in_an_application(pack, data, problem, other_unit) for problem in problems]
    if node is None:
        return None, problems
    if not isinstance(node, Mapping):
        message = "an application is written as keys with values"
        return None, [*problems, Problem(node.place, faults.WRONG_SHAPE, message, _NEEDED)]
    named = [key.text for key, value in node.entries if not (isinstance(value, Word) and is_empty(value))]
    problems += [Problem(node.place, faults.NO_NAME, f"the application has no `{name}`", f"add `{name}: ...`")
                 for name in NAMES if name not in named]
    read, found = read_application_nodes(pack, node.entries, node.place, other_unit)
    return read, [*problems, *found]


def read_application_nodes(pack: Pack, entries: Iterable[tuple[Word, Node]], place: Place,
                           other_unit: OtherUnit | None = None) -> tuple[ReadApplication, list[Problem]]:
    """The application that the entries of a mapping describe; `place` stands for what is not there at all."""
    written = _Written(place)
    for key, node in entries:
        written.take(key, node)
    read = read_application(pack, written.typed, other_unit)
    return read, [*written.problems, *(written.placed(problem) for problem in read.problems)]


def units_known_to_pint(quantities: Iterable[Quantity]) -> OtherUnit:
    """Exact conversions of spellings that the vocabulary does not list, as `read_answer` takes them."""
    pint_text = {spelling.text.text: spelling.pint.text for quantity in quantities
                 for spelling in quantity.spellings if spelling.text.text == quantity.unit.text}

    def other_unit(spelling: str, unit: str) -> tuple[int, int, int] | None:
        return any_spelling(spelling, pint_text[unit]) if unit in pint_text else None

    return other_unit


# private

def _in_an_application(pack: Pack, data: bytes, problem: Problem, other_unit: OtherUnit | None) -> Problem:
    """The same problem as it concerns an application: `> 60 degC` is an answer here, no test of a rule."""
    if problem.code == _EMPTY:
        return replace(problem, fix=_NEEDED)
    if problem.code != _NOT_QUOTED:
        return problem
    line = data.decode("utf-8-sig").split("\n")[problem.place.line - 1]
    key, value = (pattern.search(text) for pattern, text in (
        (_KEY_BEFORE, line[:problem.place.column - 1]), (_VALUE, line[problem.place.column - 1:])))
    asked = next((item for item in pack.inputs if key is not None and item.id == key[1]), None)
    typed = value[0].strip() if value is not None else ""
    found = read_answer(asked, typed, pack.inputs, other_unit) if asked is not None else None
    if isinstance(found, Fault):
        return Problem(problem.place, found.code, found.message, found.fix)
    return replace(problem, message=f"`{shown(typed)}` is not written as an answer",
                   fix="write one answer, like `60 to 80 degC` or `yes`")


@dataclass(slots=True)
class _Written:
    """What was typed, as `read_application` takes it, and where each state and each answer stands."""

    place: Place
    typed: dict[str, object] = field(default_factory=dict)
    keys: dict[tuple[str, str], Place] = field(default_factory=dict)
    values: dict[tuple[str, str], Place] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)

    def take(self, key: Word, node: Node) -> None:
        """Adds one entry of the application: a name, or a state with its answers."""
        self.keys[key.text, ""], self.values[key.text, ""] = key.place, node.place
        if isinstance(node, Word):
            self.typed[key.text] = _text(node)
        elif key.text in NAMES:
            self._say(node.place, f"`{key.text}` is not a text", f"write `{key.text}: ...` on one line")
        elif key.text == CONCESSIONS and isinstance(node, Sequence):
            self.typed[CONCESSIONS] = [self._concession(str(place), item) for place, item in enumerate(node.items)]
        elif isinstance(node, Sequence):
            self.typed[key.text] = {}
            self._say(node.place, f"`{key.text}` is a list",
                      "write the answers as `input: answer`, one on each line")
        else:
            self.typed[key.text] = {}
            for name, value in node.entries:
                self._take_answer(key.text, name, value)

    def placed(self, problem: AnswerProblem) -> Problem:
        """The problem at its line and column."""
        places = self.keys if problem.part == "key" else self.values
        place = places.get((problem.state, problem.input), self.place)
        return Problem(place, problem.code, problem.message, problem.fix)

    def _take_answer(self, state: str, name: Word, node: Node) -> None:
        self.keys[state, name.text], self.values[state, name.text] = name.place, node.place
        text = _text(node) if isinstance(node, Word) else _joined(node, "; " if name.text == MIXED_WITH else " or ")
        if text is None:
            self._say(node.place, f"the answer to `{name.text}` is neither a text nor a list of texts",
                      "write one answer, `{between: [60, 80 degC]}` or `{one_of: [a, b]}`")
        else:
            self.typed[state][name.text] = text

    def _concession(self, where: str, node: Node) -> object:
        """One entry of the list as it was typed, with its places; what it lacks is found by `read_application`."""
        self.keys[CONCESSIONS, where] = self.values[CONCESSIONS, where] = node.place
        if not isinstance(node, Mapping):
            return ""
        for key, value in node.entries:
            self.keys[CONCESSIONS, f"{where}.{key.text}"] = key.place
            self.values[CONCESSIONS, f"{where}.{key.text}"] = value.place
        return {key.text: _text(value) if isinstance(value, Word) else None for key, value in node.entries}

    def _say(self, place: Place, message: str, fix: str) -> None:
        self.problems.append(Problem(place, faults.WRONG_SHAPE, message, fix))


def _text(word: Word) -> str:
    return "" if is_empty(word) else word.text


def _joined(node: Node, joint: str) -> str | None:
    """A list, `{one_of: [...]}` or `{between: [a, b]}` as the text that says the same; None for all else. The
    members of a list are alternatives, those of a mixture its components: `joint` joins them."""
    members = node
    if isinstance(node, Mapping):
        if len(node.entries) != 1 or node.entries[0][0].text not in _JOINED_BY:
            return None
        (key, members), = node.entries
        joint = _JOINED_BY[key.text]
    if not isinstance(members, Sequence) or not members.items:
        return None
    if joint == " to " and len(members.items) != 2:
        return None
    if not all(isinstance(item, Word) and not is_empty(item) for item in members.items):
        return None
    return joint.join(item.text for item in members.items)
