"""Gives back readers: small functions that turn a node into a record or say what is wrong with its shape.

A reader takes a node and the list of problems, and returns what it made, or None after it has said why not.
Readers are put together in `forms`, one for each key. A bad member never hides its neighbours: the rest is
still read.
"""

from __future__ import annotations

import keyword
import math
import re
from collections.abc import Callable
from dataclasses import dataclass, fields
from datetime import date
from typing import TypeAlias, TypeVar

from generator.problems import Place, Problem
from generator.read.records import Cell, Word
from generator.read.shown import instead, nearest, shown
from generator.read.yaml_nodes import Mapping, Node, Sequence

T = TypeVar("T")
Problems: TypeAlias = list[Problem]
Reader: TypeAlias = Callable[[Node, Problems], T | None]

NUMBER = re.compile(r"-?(0|[1-9][0-9]*)(\.[0-9]+)?([eE][+-]?[0-9]+)?")
MOST_DIGITS = 12                     # of a number that is compared; an answer of more digits is refused too
MOST_DIGITS_OF_A_FIGURE = 17         # of a figure that only tests compare, within its tolerance
_ID = re.compile(r"[a-z][a-z0-9]*(_[a-z0-9]+)*")
_EMPTY = ("~", "null", "Null", "NULL")
_TEST_SIGNS = re.compile(r"[<>=!\[\](),]|\.\.")


@dataclass(frozen=True, slots=True)
class Field:
    """How the value of one key is read. `example` shows a missing value, `among` says what it may be; `default`
    is an optional one.
    """

    read: Reader[object]
    required: bool
    example: str = "..."
    default: object = None
    among: str = ""


def must(read: Reader[T], example: str = "...", among: str = "") -> Field:
    """A key that a record cannot do without."""
    return Field(read, True, example, among=among)


def may(read: Reader[T], default: object = None) -> Field:
    """A key that a record may leave out."""
    return Field(read, False, "...", default)


def record(make: type[T], name: str, keys: dict[str, Field],
           check: Callable[[T, Problems], None] | None = None) -> Reader[T]:
    """Reads a mapping as `make`; messages call it `name` ("a rule"); `check` looks at the whole record."""
    has_place = any(field.name == "place" for field in fields(make))

    def read(node: Node, problems: Problems) -> T | None:
        found = read_keys(node, name, keys, problems)
        if found is None:
            return None
        made = make(**found, **({"place": node.place} if has_place else {}))
        if check is not None:
            check(made, problems)
        return made

    return read


def read_keys(node: Node, name: str, keys: dict[str, Field], problems: Problems) -> dict[str, object] | None:
    """The values of a mapping by field name, or None where a required one is missing or bad."""
    if not isinstance(node, Mapping):
        example = ", ".join(f"{key}: {field.example}" for key, field in keys.items() if field.required)
        needed = [field for field in keys.values() if field.required]
        among = needed[0].among if len(needed) == 1 else ""
        _wrong_shape(node, f"{name} is written as keys with values", f"write {{ {example} }}{among}", problems)
        return None
    given = {key.text: value for key, value in node.entries}
    missing = [key for key, field in keys.items() if field.required and key not in given]
    for key, _ in node.entries:
        if key.text in keys:
            continue
        problems.append(Problem(key.place, "L003", f"{name} has no key '{shown(key.text)}'",
                                instead(key.text, keys, "key")))
        near = nearest(key.text, keys)
        if near in missing:
            missing.remove(near)     # one typing mistake gets one line
    problems += [Problem(node.place, "L004", f"{name} needs the key '{key}'",
                         f"add `{key}: {keys[key].example}`{keys[key].among}")
                 for key in missing]
    read = {key: field.read(given[key], problems) if key in given else None for key, field in keys.items()}
    if any(read[key] is None for key, field in keys.items() if field.required):
        return None
    return {key + "_" if keyword.iskeyword(key) else key: keys[key].default if value is None else value
            for key, value in read.items()}


def list_of(read: Reader[T], what: str, at_least: int = 0,
            at_most: int | None = None) -> Reader[tuple[T, ...]]:
    """Reads a list; the members that cannot be read are said and left out."""
    def read_list(node: Node, problems: Problems) -> tuple[T, ...] | None:
        if not isinstance(node, Sequence):
            if isinstance(node, Word) and not is_empty(node):
                fix = f"write [{shown(node.text)}]"
            else:
                fix = "write [a, b], or one line for each member that begins with `- `"
            return _wrong_shape(node, f"`{what}` is a list", fix, problems)
        made = [read(item, problems) for item in node.items]
        if len(made) < at_least or (at_most is not None and len(made) > at_most):
            wanted = f"{at_least} or more" if at_most is None else at_most
            problems.append(Problem(node.place, "L016",
                                    f"the list `{what}` needs {wanted} members, but has {len(made)}",
                                    "add what is missing" if len(made) < at_least
                                    else "take out what is too much"))
            return None
        return tuple(item for item in made if item is not None)

    return read_list


def pairs(read_key: Reader[Word], read_value: Reader[T], what: str) -> Reader[tuple[tuple[Word, T], ...]]:
    """Reads a mapping with free keys as (key, value) pairs in the order of the file."""
    def read(node: Node, problems: Problems) -> tuple[tuple[Word, T], ...] | None:
        if not isinstance(node, Mapping):
            return _wrong_shape(node, f"`{what}` is written as keys with values", "write { key: value }",
                                problems)
        both = [(read_key(key, problems), read_value(value, problems)) for key, value in node.entries]
        return tuple((key, value) for key, value in both if key is not None and value is not None)

    return read


def text(node: Node, problems: Problems) -> Word | None:
    """One text that is not empty."""
    if not isinstance(node, Word):
        return _wrong_shape(node, "a text belongs here",
                            "write one text, in double quotes when it holds brackets", problems)
    if is_empty(node):
        return _say(node, "L006", "nothing is written here",
                    "write a text, or delete the key where it may be left out", problems)
    return node


def or_nothing(read: Reader[Word]) -> Reader[Word]:
    """What `read` reads, or an empty text where nothing is written yet."""
    def read_or_nothing(node: Node, problems: Problems) -> Word | None:
        return Word("", node.place) if isinstance(node, Word) and is_empty(node) else read(node, problems)

    return read_or_nothing


def symbol(node: Node, problems: Problems) -> Word | None:
    """How a unit is printed; a plain number has none, which is written `""`."""
    return node if isinstance(node, Word) and node.quoted and not node.text else text(node, problems)


def identifier(node: Node, problems: Problems) -> Word | None:
    """An id: small letters, figures and underscores."""
    word = text(node, problems)
    if word is not None and not _ID.fullmatch(word.text):
        near = re.sub(r"[^a-z0-9]+", "_", word.text.lower()).strip("_")
        fix = f"write {near}" if _ID.fullmatch(near) and len(near) < 60 else "write a word like soft_rubber"
        return _say(word, "L010",
                    f"'{shown(word.text)}' is not an id of small letters, figures and underscores", fix,
                    problems)
    return word


def dotted(node: Node, problems: Problems) -> Word | None:
    """A rule's id: two or more ids joined by dots, broad to narrow."""
    word = text(node, problems)
    if word is not None:
        parts = word.text.split(".")
        if len(parts) < 2 or not all(_ID.fullmatch(part) for part in parts):
            return _say(word, "L010",
                        f"'{shown(word.text)}' is not a rule id: small letters, figures, underscores, a dot",
                        "write the table's id, a dot and a reason: liner_temperature.too_hot", problems)
    return word


def one_of(what: str, *words: str) -> Reader[Word]:
    """One of a few fixed words."""
    def read(node: Node, problems: Problems) -> Word | None:
        word = text(node, problems)
        if word is not None and word.text not in words:
            return _say(word, "L009", f"'{shown(word.text)}' is not {what}", _fixed_word(word.text, words),
                        problems)
        return word

    return read


def yes_no(node: Node, problems: Problems) -> Word | None:
    """The words yes and no, as they are; `NO`, `true` and `on` are named."""
    return one_of("yes or no", "yes", "no")(node, problems)


def number(node: Node, problems: Problems) -> Word | None:
    """A plain number without a unit, at most 12 significant digits."""
    word = text(node, problems)
    if word is not None:
        fault = number_fault(word.text)
        if fault:
            return _say(word, "L007", f"'{shown(word.text)}' {fault[0]}", fault[1], problems)
    return word


def number_with_unit(most_digits: int = MOST_DIGITS) -> Reader[Word]:
    """A number, a space and a unit, as `100 mm`; or a bare number where the unit is `1`."""
    def read(node: Node, problems: Problems) -> Word | None:
        word = text(node, problems)
        if word is not None:
            figure, _, _ = word.text.partition(" ")
            fault = number_fault(figure, most_digits)
            if fault:
                return _say(word, "L013",
                            f"'{shown(word.text)}' is no number with a unit: '{shown(figure)}' {fault[0]}",
                            "write a number, a space and a unit: 100 mm", problems)
        return word

    return read


def test(node: Node, problems: Problems) -> Word | None:
    """A condition: S-FEEL in double quotes; a bare number or words may stand without."""
    if isinstance(node, Sequence) and _holds_dots(node) and len(node.items) == 1:
        return _unquoted(node.place, f"[{node.items[0].text}]", problems)
    word = text(node, problems)
    if word is not None and not word.quoted and _TEST_SIGNS.search(word.text):
        return _unquoted(word.place, word.text, problems)
    return word


def when(node: Node, problems: Problems) -> tuple[Cell, ...] | None:
    """The conditions of a rule, column by column."""
    if not isinstance(node, Mapping):
        return _wrong_shape(node, "`when` is written as columns with conditions",
                            'write { temperature_max: "<= 40" }', problems)
    cells = [_cell(column, value, problems) for column, value in node.entries]
    return tuple(cell for cell in cells if cell is not None)


def day(node: Node, problems: Problems) -> Word | None:
    """A date as 2026-12-31."""
    word = text(node, problems)
    if word is not None:
        try:
            date.fromisoformat(word.text)
        except ValueError:
            return _say(word, "L014", f"'{shown(word.text)}' is not a date",
                        "write year-month-day: 2026-12-31", problems)
    return word


def raw(node: Node, problems: Problems) -> Node | None:
    """The node as it is: its meaning is another room's."""
    return node


def is_empty(word: Word) -> bool:
    """Yes for a missing value, spaces, and YAML's ways to write nothing."""
    return not word.text.strip() or (not word.quoted and word.text in _EMPTY)


def number_fault(typed: str, most_digits: int = MOST_DIGITS) -> tuple[str, str] | None:
    """What is wrong with a number and what to type instead, or None."""
    found = NUMBER.fullmatch(typed)
    if not found:
        plain = re.fullmatch(r"(-?)0+([0-9]+(?:\.[0-9]+)?)", typed)
        if plain:
            return "begins with a zero that means nothing", f"write {plain[1]}{plain[2]}"
        return "is not a plain number", "write it like 40, -5, 0.3 or 1e-6"
    digits = re.sub(r"[eE].*|[-.]", "", typed).lstrip("0")
    if len(digits) > most_digits:
        return f"has {len(digits)} digits; {most_digits} are the most", "round it"
    if len(typed) > 40 or not math.isfinite(float(typed)):
        return "is too large", "write a number of the trade"
    return None


# private

def _cell(column: Word, value: Node, problems: Problems) -> Cell | None:
    if isinstance(value, Mapping):
        if len(value.entries) == 1 and value.entries[0][0].text == "not" and isinstance(value.entries[0][1],
                                                                                        Sequence):
            items = list_of(text, "not", 1)(value.entries[0][1], problems)
            return None if items is None else Cell(column, value.place, items=items, negated=True)
        return _wrong_shape(value, f"the condition on '{shown(column.text)}' is a text or a list",
                            "write {not: [a, b]} for all but a and b",
                            problems)
    if isinstance(value, Sequence) and not _holds_dots(value):
        items = list_of(text, shown(column.text), 1)(value, problems)
        return None if items is None else Cell(column, value.place, items=items)
    word = test(value, problems)
    return None if word is None else Cell(column, value.place, test=word)


def _holds_dots(node: Sequence) -> bool:
    """Yes for `[0..5]`, which YAML reads as a list."""
    return any(isinstance(item, Word) and ".." in item.text for item in node.items)


def _fixed_word(typed: str, words: tuple[str, ...]) -> str:
    if words == ("yes", "no"):
        lower = typed.lower()
        if lower in ("yes", "true", "on", "y", "no", "false", "off", "n"):
            return f"write {'yes' if lower in ('yes', 'true', 'on', 'y') else 'no'}"
    return instead(typed, words, "word") if nearest(typed, words) else f"write one of: {', '.join(words)}"


def _wrong_shape(node: Node, message: str, fix: str, problems: Problems) -> None:
    if isinstance(node, Word):
        here = "nothing stands here" if is_empty(node) else f"the text '{shown(node.text)}' stands here"
    else:
        here = "a list stands here" if isinstance(node, Sequence) else "keys with values stand here"
    problems.append(Problem(node.place, "L005", f"{message}, but {here}", fix))


def _unquoted(place: Place, typed: str, problems: Problems) -> None:
    problems.append(Problem(place, "L008", f"the test `{shown(typed)}` is not in double quotes",
                            f'write "{shown(typed)}"'))


def _say(word: Word, code: str, message: str, fix: str, problems: Problems) -> None:
    problems.append(Problem(word.place, code, message, fix))
