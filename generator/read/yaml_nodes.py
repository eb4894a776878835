"""Gives back a YAML file as nodes with places: every scalar stays the text that was typed.

`010`, `NO` and `1:30` arrive as they stand. A fault is a problem, never an exception, and what can be read
after it is read. Anchors, aliases, merge keys, tags and several documents are refused: a record says
everything where it stands.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

import yaml

from generator.problems import Place, Problem
from generator.read.records import Word
from generator.read.shown import shown
from generator.read.yaml_advice import syntax_problems, unquoted_test

MOST_BYTES = 2_000_000
DEEPEST = 20

_LOADER = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


@dataclass(frozen=True, slots=True)
class Mapping:
    """Keys with their values, in the order of the file; no key stands twice."""

    entries: tuple[tuple[Word, Node], ...]
    place: Place


@dataclass(frozen=True, slots=True)
class Sequence:
    """The members of a list, in the order of the file."""

    items: tuple[Node, ...]
    place: Place


Node: TypeAlias = Word | Mapping | Sequence


def compose(file: str, data: bytes) -> tuple[Node | None, list[Problem]]:
    """The document of a file as nodes, or None where it cannot be read to its end; with all problems met."""
    text, problems = _decode(file, data)
    if text is None:
        return None, problems
    builder = _Builder(file, text)
    try:
        for event in yaml.parse(text, Loader=_LOADER):
            builder.take(event)
    except _TooDeep as deep:
        return None, [*problems, *builder.problems, _too_deep(deep.place)]
    except yaml.reader.ReaderError as fault:
        return None, [*problems, *builder.problems, _unreadable(file, text, fault)]
    except yaml.MarkedYAMLError as fault:
        if "nesting" in str(fault.problem):
            return None, [*problems, *builder.problems, _too_deep(_mark(file, fault.problem_mark))]
        return None, [*problems, *builder.problems, *syntax_problems(file, text, fault)]
    if not builder.documents:
        problems.append(Problem(Place(file), "Y004", "the file is empty",
                                "write its record, or delete the file"))
        return None, problems
    return builder.documents[0], [*problems, *builder.problems]


# private

class _TooDeep(Exception):
    """Leaves the event loop at the first node below DEEPEST; caught in `compose`."""

    def __init__(self, place: Place) -> None:
        self.place = place


class _Open:
    """A mapping or a list that has begun and not ended."""

    __slots__ = ("place", "is_mapping", "items", "entries", "key", "lines")

    def __init__(self, place: Place, is_mapping: bool) -> None:
        self.place = place
        self.is_mapping = is_mapping
        self.items: list[Node] = []
        self.entries: list[tuple[Word, Node]] = []
        self.key: Node | None = None
        self.lines: dict[str, int] = {}


class _Builder:
    """Builds nodes from parser events with a stack of its own; deep nesting cannot exhaust Python's."""

    def __init__(self, file: str, text: str) -> None:
        self.file = file
        self.lines = text.splitlines()
        self.problems: list[Problem] = []
        self.documents: list[Node] = []
        self._stack: list[_Open] = []
        self._begun = 0

    def take(self, event: yaml.Event) -> None:
        """Adds what one parser event says."""
        if isinstance(event, yaml.ScalarEvent):
            place = self._check(event)
            self._add(self._word(event, place))
        elif isinstance(event, (yaml.MappingStartEvent, yaml.SequenceStartEvent)):
            place = self._check(event)
            if len(self._stack) >= DEEPEST:
                raise _TooDeep(place)
            self._stack.append(_Open(place, isinstance(event, yaml.MappingStartEvent)))
        elif isinstance(event, (yaml.MappingEndEvent, yaml.SequenceEndEvent)):
            done = self._stack.pop()
            self._add(Mapping(tuple(done.entries), done.place) if done.is_mapping
                      else Sequence(tuple(done.items), done.place))
        elif isinstance(event, yaml.AliasEvent):
            place = _mark(self.file, event.start_mark)
            self._say(place, "Y007", f"`*{event.anchor}` is a YAML alias",
                      "write the value out again; a text that begins with `*` stands in double quotes")
            self._add(Word("", place))
        elif isinstance(event, yaml.DocumentStartEvent):
            self._begun += 1
            if self._begun == 2:
                self._say(_mark(self.file, event.start_mark), "Y009", "a second YAML document begins here",
                          "delete the line `---`, or move what follows into a file of its own")

    def _word(self, event: yaml.ScalarEvent, place: Place) -> Word:
        if not event.value.isprintable():
            # A line break may stand in a text; an escaped bell or NUL may not reach a page.
            odd = next((sign for sign in event.value if sign != "\n" and not sign.isprintable()), None)
            if odd is not None:
                self._say(place, "Y013", f"the text holds the unprintable character U+{ord(odd):04X}",
                          "delete the character, or its escape `\\...`")
        return Word(event.value, place, bool(event.style))

    def _check(self, event: yaml.NodeEvent) -> Place:
        place = _mark(self.file, event.start_mark)
        if event.anchor is not None:
            self._say(place, "Y007", f"`&{event.anchor}` is a YAML anchor",
                      f"delete `&{event.anchor}`; a text that begins with `&` stands in double quotes")
        if event.tag is not None:
            line = self.lines[place.line - 1] if place.line <= len(self.lines) else ""
            test = unquoted_test(line, place.column)
            if test:
                self._say(place, "Y003", f"the test `{test}` is not in double quotes", f'write "{test}"')
            else:
                self._say(place, "Y008", "a YAML tag (`!...`) stands here",
                          "delete the tag; a text that begins with `!` stands in double quotes")
        return place

    def _add(self, node: Node) -> None:
        if not self._stack:
            self.documents.append(node)
            return
        parent = self._stack[-1]
        if not parent.is_mapping:
            parent.items.append(node)
        elif parent.key is None:
            parent.key = node
        else:
            key, parent.key = parent.key, None
            self._add_entry(parent, key, node)

    def _add_entry(self, parent: _Open, key: Node, value: Node) -> None:
        if not isinstance(key, Word):
            self._say(key.place, "Y012", "a list or a mapping stands where a key belongs",
                      "write `key: value` with a plain word as key")
            return
        if key.text == "<<" and not key.quoted:
            self._say(key.place, "Y007", "`<<` is a YAML merge key", "write the keys out here")
            return
        first = parent.lines.get(key.text)
        if first is not None:
            self._say(key.place, "Y001",
                      f"the key '{shown(key.text)}' is given twice (first on line {first})",
                      f"delete one of the two '{shown(key.text)}' lines, or rename it")
            return
        parent.lines[key.text] = key.place.line
        parent.entries.append((key, value))

    def _say(self, place: Place, code: str, message: str, fix: str) -> None:
        self.problems.append(Problem(place, code, message, fix))


def _mark(file: str, mark: yaml.Mark | None) -> Place:
    return Place(file, mark.line + 1, mark.column + 1) if mark is not None else Place(file)


def _too_deep(place: Place) -> Problem:
    return Problem(place, "Y010", f"nested deeper than {DEEPEST} levels",
                   "close the brackets that are left open, or flatten the record")


def _decode(file: str, data: bytes) -> tuple[str | None, list[Problem]]:
    """The text of a file, or None; a file of spaces and a file with tabs are named here."""
    if len(data) > MOST_BYTES:
        return None, [Problem(Place(file), "Y011",
                              f"the file has {len(data)} bytes; {MOST_BYTES} are the most",
                              "split it into several files")]
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        good = data[:fault.start].decode("utf-8-sig")
        return None, [Problem(_spot(file, good), "Y005",
                              f"the file is not UTF-8 text (byte 0x{data[fault.start]:02X})",
                              "save it as UTF-8 in a text editor")]
    tabbed = [(number, line.index("\t")) for number, line in enumerate(text.split("\n"), 1) if "\t" in line]
    if tabbed:
        line, column = tabbed[0]
        more = f", and on {_counted(len(tabbed) - 1, 'more line')}" if len(tabbed) > 1 else ""
        return None, [Problem(Place(file, line, column + 1), "Y006", f"a tab stands here{more}",
                              "replace every tab by spaces")]
    return text, []


def _counted(number: int, what: str) -> str:
    return f"{number} {what}" if number == 1 else f"{number} {what}s"


def _unreadable(file: str, text: str, fault: yaml.reader.ReaderError) -> Problem:
    return Problem(_spot(file, text[:fault.position]), "Y005",
                   "the file holds a control character; it is not a text file",
                   "save it as UTF-8 text without control characters")


def _spot(file: str, before: str) -> Place:
    """The place just after `before`."""
    return Place(file, before.count("\n") + 1, len(before) - (before.rfind("\n") + 1) + 1)
