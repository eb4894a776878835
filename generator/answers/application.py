"""Gives back an application from typed answers, with every problem in them and what each was understood as.

What is typed is a mapping: `id`, `title`, and per state either `none` or a mapping of inputs to texts. Inputs
of the whole application stand under `normal` and hold in every state. `pinned` maps decisions to the
candidates that are kept; `concessions` lists signed departures. Twin of browser/engine/application.js.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from generator.answers import faults
from generator.answers.components import read_components
from generator.answers.concessions import CONCESSIONS, read_concessions
from generator.answers.figures import Fault, OtherUnit
from generator.answers.pins import PINNED, instead, read_pins
from generator.answers.reading import BLANK, read_answer
from generator.answers.wording import shown, squeeze
from generator.evaluate.results import Answer, Application, ChoiceSet, Component, StateAnswers
from generator.pack.model import MEDIUM, MIXED_WITH, Input, Pack

NORMAL = "normal"
NAMES = ("id", "title")              # what an application says about itself, beside its states
RULED_OUT = "none"
SAME = "same"

Typed = Mapping[str, object]         # a state's name: `none`, or a mapping of inputs to typed texts


@dataclass(frozen=True, slots=True)
class AnswerProblem:
    """A problem in what was typed, at the key or the value of a state or an input; `input` may be empty."""

    state: str
    input: str
    part: str                        # key or value
    code: str
    message: str
    fix: str


@dataclass(frozen=True, slots=True)
class UnderstoodAnswer:
    """What was typed (empty: it was assumed) and what it was taken for."""

    state: str
    input: str
    typed: str
    understood: str


@dataclass(frozen=True, slots=True)
class ReadApplication:
    """The application as far as it was understood; with problems it is not what the engineer meant."""

    application: Application
    problems: tuple[AnswerProblem, ...]
    understood: tuple[UnderstoodAnswer, ...]


def read_application(pack: Pack, typed: Typed, other_unit: OtherUnit | None = None) -> ReadApplication:
    """Every answer of every state. `other_unit` is what `read_answer` takes."""
    problems = _unknown_states(pack, typed)
    ruled_out: list[str] = []
    undescribed: list[str] = []
    described: list[tuple[str, Mapping[str, object]]] = []
    for state in pack.states:
        given = typed.get(state.id)
        if isinstance(given, Mapping):
            described.append((state.id, given))
        elif state.id == NORMAL:
            problems.append(_not_described(state.id, state.id in typed))
        elif isinstance(given, str) and squeeze(given) == RULED_OUT:
            ruled_out.append(state.id)
        elif state.id not in typed:
            undescribed.append(state.id)
        else:
            problems.append(_not_described(state.id, True))
    normal = _StateReader(pack, NORMAL, None, other_unit)
    normal.read(dict(described).get(NORMAL, {}))
    readers = [normal]
    for name, given in described:
        if name != NORMAL:
            readers.append(_StateReader(pack, name, normal, other_unit))
            readers[-1].read(given)
    for reader in readers:
        reader.assume()
    known = {reader.state: reader for reader in readers}
    kept = typed.get(PINNED, {})
    if not isinstance(kept, Mapping):
        problems.append(AnswerProblem(PINNED, "", "value", faults.WRONG_SHAPE,
                                      f"`{PINNED}` is not written as decisions with a candidate each",
                                      f"write `{PINNED}: {{liner: ptfe}}`"))
    pins, wrong = read_pins(pack, kept if isinstance(kept, Mapping) else {})
    conceded, unclear = read_concessions(pack, typed.get(CONCESSIONS, ()))
    application = Application(
        _name(typed, "id"), _name(typed, "title"),
        tuple(StateAnswers(name, known[name].all_answers(), known[name].components) for name, _ in described),
        tuple(ruled_out), tuple(undescribed), tuple(pair for reader in readers for pair in reader.assumed),
        tuple((decision, candidate) for decision, _, candidate in pins), conceded,
        tuple((name, words) for name, _ in described for words in known[name].unknown))
    problems += [AnswerProblem(PINNED, decision, part, fault.code, fault.message, fault.fix)
                 for decision, part, fault in wrong]
    problems += [AnswerProblem(CONCESSIONS, where, part, fault.code, fault.message, fault.fix)
                 for where, part, fault in unclear]
    problems += [problem for reader in readers for problem in reader.problems]
    return ReadApplication(application, tuple(problems),
                           (*(line for reader in readers for line in reader.lines()),
                            *(UnderstoodAnswer(PINNED, *pin) for pin in pins)))


# private

class _StateReader:
    """Reads the answers of one state; `normal` is the reader of the normal state, None for itself."""

    def __init__(self, pack: Pack, state: str, normal: _StateReader | None,
                 other_unit: OtherUnit | None) -> None:
        self.pack, self.state, self.normal, self.other_unit = pack, state, normal, other_unit
        self.answers: dict[str, Answer] = {}
        self.components: tuple[Component, ...] = ()
        self.texts: dict[str, tuple[str, str]] = {}          # input: typed, understood
        self.problems: list[AnswerProblem] = []
        self.assumed: list[tuple[str, str]] = []
        self.unknown: list[str] = []                         # of names that are taken for `unlisted`

    def read(self, given: Mapping[str, object]) -> None:
        """Takes what was typed for this state; normal must have been read before the others."""
        ids = [item.id for item in self.pack.inputs]
        for name in given:
            if name not in ids:
                self._say(name, "key", Fault(faults.UNKNOWN_INPUT, f"there is no input '{shown(name)}'",
                                             instead(name, ids)))
        for item in self.pack.inputs:
            if item.id in given:
                self._read_one(item, given[item.id])

    def assume(self) -> None:
        """Fills in the assumed values of inputs that have one and were not answered."""
        for item in self.pack.inputs:
            answered_elsewhere = self.normal is not None and not item.per_state
            if not item.assumed or item.id in self.answers or answered_elsewhere:
                continue
            understood = read_answer(item, self._assumed_text(item))
            if not isinstance(understood, Fault) and understood.answer is not None:
                self.answers[item.id] = understood.answer
                self.texts[item.id] = ("", understood.text)
                self.assumed.append((self.state, item.id))

    def all_answers(self) -> tuple[tuple[str, Answer], ...]:
        """The answers that hold in this state, in the order of the vocabulary."""
        shared = {} if self.normal is None else self.normal.answers
        found = []
        for item in self.pack.inputs:
            answers = self.answers if item.per_state or self.normal is None else shared
            if item.id in answers:
                found.append((item.id, answers[item.id]))
        return tuple(found)

    def lines(self) -> list[UnderstoodAnswer]:
        """What was typed in this state, or assumed for it, in the order of the vocabulary."""
        return [UnderstoodAnswer(self.state, item.id, *self.texts[item.id])
                for item in self.pack.inputs if item.id in self.texts]

    def _read_one(self, item: Input, typed: object) -> None:
        if not isinstance(typed, str):
            self._say(item.id, "value", Fault(faults.WRONG_SHAPE, f"the answer to '{item.id}' is not a text",
                                              "write one answer, like `60 to 80 degC` or `yes`"))
        elif self.normal is not None and not item.per_state:
            self._say(item.id, "key", Fault(faults.SHARED_INPUT, f"'{item.id}' is the same in every state",
                                            f"answer it once, under `{NORMAL}`"))
        elif squeeze(typed).lower() == SAME:
            self._copy(item, typed)
        elif item.id == MIXED_WITH:
            self._read_mixture(item, typed)
        else:
            understood = read_answer(item, typed, self.pack.inputs, self.other_unit)
            if isinstance(understood, Fault):
                self._say(item.id, "value", understood)
            elif understood.answer is not None:
                self.answers[item.id] = understood.answer
                self.texts[item.id] = (squeeze(typed), understood.text)
                self.unknown += understood.unknown

    def _read_mixture(self, item: Input, typed: str) -> None:
        understood = read_components(self.pack, typed, self.other_unit)
        if isinstance(understood, Fault):
            self._say(item.id, "value", understood)
        elif understood.text != BLANK:
            self.components = understood.components
            self.texts[item.id] = (squeeze(typed), understood.text)
            self.unknown += understood.unknown

    def _copy(self, item: Input, typed: str) -> None:
        if self.normal is None:
            self._say(item.id, "value",
                      Fault(faults.NOTHING_TO_COPY, f"`{SAME}` takes the answer of '{NORMAL}', which is here",
                            f"type the answer, or `{BLANK}`"))
        elif item.id == MIXED_WITH and item.id in self.normal.texts:
            self.components = self.normal.components
            self.texts[item.id] = (squeeze(typed), self.normal.texts[item.id][1])
        elif item.id in self.normal.answers:
            self.answers[item.id] = self.normal.answers[item.id]
            self.texts[item.id] = (squeeze(typed), self.normal.texts[item.id][1])

    def _assumed_text(self, item: Input) -> str:
        """The assumed answer as text; `X.y` is the word y of the option chosen for X, empty if not known. The
        components of a mixture must have the same word, or nothing is assumed."""
        source, _, word = item.assumed.partition(".")
        origin = next((other for other in self.pack.inputs if other.id == source), None)
        if origin is None:
            return item.assumed
        reader = self if origin.per_state or self.normal is None else self.normal
        answers = [reader.answers.get(source)]
        if source == MEDIUM:
            answers += [one.medium for one in reader.components]
        if not all(isinstance(answer, ChoiceSet) and len(answer.ids) == 1 for answer in answers):
            return ""
        chosen = {answer.ids[0] for answer in answers}
        words = {dict(option.words).get(word, "") for option in origin.options if option.id in chosen}
        return words.pop() if len(words) == 1 else ""

    def _say(self, name: str, part: str, fault: Fault) -> None:
        self.problems.append(AnswerProblem(self.state, name, part, fault.code, fault.message, fault.fix))


def _unknown_states(pack: Pack, typed: Typed) -> list[AnswerProblem]:
    states = [state.id for state in pack.states]
    inputs = [item.id for item in pack.inputs]
    problems = []
    for name in typed:
        if name not in states and name not in (*NAMES, PINNED, CONCESSIONS):
            fix = f"move it under `{NORMAL}`" if name in inputs else instead(name, states)
            problems.append(AnswerProblem(name, "", "key", faults.UNKNOWN_STATE,
                                          f"there is no state '{shown(name)}'", fix))
    return problems


def _not_described(state: str, given: bool) -> AnswerProblem:
    if state == NORMAL:
        return AnswerProblem(state, "", "value" if given else "key", faults.NORMAL_MISSING,
                             f"the state '{NORMAL}' is not described", f"write the answers under `{NORMAL}`")
    return AnswerProblem(
        state, "", "value", faults.WRONG_SHAPE, f"'{state}' has neither answers nor `{RULED_OUT}`",
        f"write its answers, `{{}}` where none is known, or `{RULED_OUT}` where it never happens")


def _name(typed: Typed, key: str) -> str:
    text = typed.get(key)
    return squeeze(text) if isinstance(text, str) else ""
