"""Gives back what a printed condition means: `above 40 up to 60 °C`, `PFA, PTFE or ETFE`, `any but No ring`.

A reader of the printed language by its own grammar; nothing of what prints it is used. A phrase that can be
read in two ways, or in none, is refused.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

ABSENT = "not_applicable"
_NUMBER = r"-?\d+(?:\.\d+)?(?:[eE][+-]?\d+)?"
_FORMS = (
    ("two_ends", re.compile(rf"(from|above) ({_NUMBER})( and below| up to) ({_NUMBER})")),
    ("or_more", re.compile(rf"({_NUMBER})(.*?) or more")),
    ("one_end", re.compile(rf"(above|below|up to|exactly) ({_NUMBER})")),
)
_UNIT = re.compile(r"|(?: (?!(?:or|up|and|more|from|above|below|to)\b)[^\s,\d]+\d?(?:/[^\s,\d]+\d?)?){1,2}")
_NO_NUMBER = ("not applicable", "no value")


class Unreadable(Exception):
    """A printed condition that has no meaning, or more than one."""


@dataclass(frozen=True, slots=True)
class Span:
    """Numbers between two ends, as printed; an end that is not printed is infinite."""

    low: float
    low_in: bool
    high: float
    high_in: bool

    def holds(self, number: float) -> bool:
        return (self.low < number or (self.low_in and number == self.low)) and (
            number < self.high or (self.high_in and number == self.high))


@dataclass(frozen=True, slots=True)
class Numbers:
    """A number that lies in one of the spans; `absent`: there may also be none. `units` are printed ones."""

    spans: tuple[Span, ...]
    absent: bool
    units: frozenset[str] = frozenset()

    def holds(self, value: float | str | None) -> bool:
        return self.absent if value is None else any(span.holds(value) for span in self.spans)

    def ends(self) -> set[float]:
        return {end for span in self.spans for end in (span.low, span.high) if math.isfinite(end)}


@dataclass(frozen=True, slots=True)
class Names:
    """One of the ids."""

    ids: frozenset[str]

    def holds(self, value: float | str | None) -> bool:
        return value in self.ids


@dataclass(frozen=True, slots=True)
class Anything:
    """No condition."""

    def holds(self, value: float | str | None) -> bool:
        return True


Condition = Numbers | Names | Anything


@dataclass(frozen=True, slots=True)
class Choices:
    """What a choice column may name: id by title, flags by id as printed, ids in order of bore (or none)."""

    titles: Mapping[str, str]
    flags: Mapping[str, frozenset[str]]
    by_bore: tuple[str, ...] = ()


def read_number_condition(text: str) -> Condition:
    """A condition on a number. Raises Unreadable."""
    if text == "any":
        return Anything()
    if text == "any number":
        return Numbers((Span(-math.inf, False, math.inf, False),), False)
    found = _once(text, _number_readings(text, 0))
    spans = tuple(part[0] for part in found if part[0] is not None)
    units = frozenset(part[1] for part in found if part[0] is not None)
    return Numbers(spans, len(spans) < len(found), units)


def read_choice_condition(text: str, choices: Choices) -> Condition:
    """A condition on a choice. Raises Unreadable."""
    if text == "any":
        return Anything()
    if text == "not applicable":
        return Names(frozenset({ABSENT}))
    absent = text.endswith(" or not applicable")
    rest = text.removesuffix(" or not applicable") if absent else text
    everything = frozenset(choices.titles.values())
    flagged = re.fullmatch(r"any (?:medium|candidate) (not )?flagged (.+)", rest)
    if rest in ("any", "any but not applicable"):
        ids = everything
    elif flagged:
        carriers = frozenset(name for name, flags in choices.flags.items() if flagged[2] in flags)
        if not carriers:
            raise Unreadable(f"'{text}': nothing carries this flag")
        ids = everything - carriers if flagged[1] else carriers
    elif rest.startswith("any but "):
        ids = everything - _listed(rest.removeprefix("any but "), choices)
    else:
        ids = _listed(rest, choices)
    return Names(ids | {ABSENT} if absent else ids)


def read_number(text: str) -> tuple[float, str] | None:
    """A number with its printed unit, `0.3 m/s`; None if the text is none."""
    match = re.fullmatch(rf"({_NUMBER})(?: (\S.*))?", text)
    return (float(match[1]), match[2] or "") if match else None


# private

_Reading = tuple[tuple[Span | None, str], ...]


def _number_readings(text: str, begin: int) -> list[_Reading]:
    """Every way to read the text from `begin` on as conditions joined by commas and `or`."""
    found: list[_Reading] = []
    for stop in _stops(text, begin):
        part = _number_part(text[begin:stop])
        if part is None:
            continue
        if stop == len(text):
            found.append((part,))
        else:
            joint = 4 if text.startswith(" or ", stop) else 2
            found += [(part, *rest) for rest in _number_readings(text, stop + joint)
                      if (joint == 4) == (len(rest) == 1)]
    return found


def _stops(text: str, begin: int) -> list[int]:
    return [match.start() for match in re.finditer(r" or |, |$", text) if match.start() > begin]


def _number_part(text: str) -> tuple[Span | None, str] | None:
    if text in _NO_NUMBER:
        return None, ""
    for form, pattern in _FORMS:
        match = pattern.match(text)
        if match is None:
            continue
        unit = match[2] if form == "or_more" else text[match.end():]
        if (form == "or_more" and match.end() != len(text)) or not _UNIT.fullmatch(unit):
            continue
        unit = unit.strip()
        if form == "two_ends":
            return Span(float(match[2]), match[1] == "from", float(match[4]), match[3] == " up to"), unit
        number = float(match[1] if form == "or_more" else match[2])
        word = form if form == "or_more" else match[1]
        return {"or_more": Span(number, True, math.inf, False), "above": Span(number, False, math.inf, False),
                "up to": Span(-math.inf, False, number, True), "below": Span(-math.inf, False, number, False),
                "exactly": Span(number, True, number, True)}[word], unit
    return None


def _listed(text: str, choices: Choices) -> frozenset[str]:
    """Titles joined by commas and `or`; titles may hold both themselves."""
    readings = _once(text, _list_readings(text, 0, choices, sorted(choices.titles, key=len, reverse=True)))
    return frozenset(name for part in readings for name in part)


def _list_readings(
    text: str, begin: int, choices: Choices, titles: Sequence[str]
) -> list[tuple[frozenset[str], ...]]:
    found: list[tuple[frozenset[str], ...]] = []
    for ids, stop in _names_at(text, begin, choices, titles):
        if stop == len(text):
            found.append((ids,))
        elif text.startswith(" or ", stop):
            found += [
                (ids, *rest) for rest in _list_readings(text, stop + 4, choices, titles) if len(rest) == 1
            ]
        elif text.startswith(", ", stop):
            found += [
                (ids, *rest) for rest in _list_readings(text, stop + 2, choices, titles) if len(rest) > 1
            ]
    return found


def _names_at(
    text: str, begin: int, choices: Choices, titles: Sequence[str]
) -> list[tuple[frozenset[str], int]]:
    """The names that begin at a place: a title, or a run of sizes `DN 15 to DN 40`."""
    found: list[tuple[frozenset[str], int]] = []
    for title in titles:
        if not text.startswith(title, begin):
            continue
        stop = begin + len(title)
        found.append((frozenset((choices.titles[title],)), stop))
        if choices.by_bore and text.startswith(" to ", stop):
            for last in titles:
                if text.startswith(last, stop + 4):
                    first, end = (
                        choices.by_bore.index(choices.titles[title]),
                        choices.by_bore.index(choices.titles[last]),
                    )
                    found.append((frozenset(choices.by_bore[first:end + 1]), stop + 4 + len(last)))
    return found


def _once(text: str, readings: list[tuple]) -> tuple:
    meanings = set(readings)
    if len(meanings) != 1:
        raise Unreadable(f"'{text}' can be read in {len(meanings)} ways")
    return meanings.pop()
