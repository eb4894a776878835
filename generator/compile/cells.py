"""Gives back the set that a rule's condition picks on its column, or the one problem that is wrong with it.

A number cell is a list of S-FEEL unary tests in quotes, in the unit of its column:

    "-"                     any answer, also `not applicable`
    "<= 40"  "> 5"  "= 5"  "!= 5"  "5"
    "[20..40]"  "(20..40]"  "]20..40["          a round or turned bracket leaves the end out
    "[1..3), > 5"           a comma means or
    "not(< 5)"              all other numbers; `not applicable` is not a number
    "not applicable"

A choice cell is a list of ids, `{not: [ids]}`, `with <flag>`, `without <flag>`, `not applicable`, or `-`.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from difflib import get_close_matches
from itertools import pairwise

from generator.boxes.sets import (
    Axis, AxisSet, ChoiceAxis, Choices, NumberAxis, Numbers, Span, cells_of, is_empty, whole)
from generator.boxes.words import plain
from generator.pack.model import NOT_APPLICABLE
from generator.problems import Place, Problem
from generator.read.records import Cell, Word

NUMBER = r"-?(?:0|[1-9][0-9]*)(?:\.[0-9]+)?(?:[eE][+-]?[0-9]+)?"


@dataclass(frozen=True, slots=True)
class ColumnDomain:
    """What a column can hold: its axis, its unit as printed, and for choices which ids bear which flag."""

    name: str
    axis: Axis
    unit: str = ""
    flags: Mapping[str, frozenset[str]] | None = None


class Unreadable(Exception):
    """A condition that means nothing; `problem` says where and what to type instead."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        super().__init__(str(problem))


def cell_set(cell: Cell, column: ColumnDomain) -> AxisSet | Problem:
    """The set of a rule's condition on its column; the whole axis for `-`."""
    try:
        if isinstance(column.axis, ChoiceAxis):
            return _choices(cell, column, column.axis)
        if cell.test is None:
            raise _problem(
                cell.place, "C004", f"'{column.name}' is a number and cannot be compared with a list",
                'write a test in quotes, such as "<= 40"')
        return number_set(cell.test, column)
    except Unreadable as fault:
        return fault.problem


def number_set(test: Word, column: ColumnDomain) -> Numbers:
    """The numbers that a text of unary tests picks. Raises `Unreadable`."""
    assert isinstance(column.axis, NumberAxis)
    text = test.text.strip()
    if text == "-":
        picked = whole(column.axis)
        assert isinstance(picked, Numbers)
        return picked
    picked = _Tests(test, column, column.axis).read()
    if is_empty(picked):
        raise _problem(test.place, "C003", f"the test \"{text}\" picks no value of '{column.name}'",
                       f"widen it, or take the rule out; {_range_words(column)}")
    return picked


def interval(text: Word) -> Span | Problem:
    """One interval such as `[0..100]` or `(0..5]`, wherever it lies."""
    found = re.fullmatch(rf"\s*([\[(\]])\s*({NUMBER})\s*\.\.\s*({NUMBER})\s*([\])\[])\s*", text.text)
    if found is None:
        return Problem(
            text.place, "C007", f"'{text.text}' is not a range", 'write both ends, such as "[0..100]"')
    low, high = float(found[2]), float(found[3])
    if low > high:
        return Problem(text.place, "C007", f"the range '{text.text}' ends before it begins",
                       f'write "[{found[3]}..{found[2]}]"')
    return Span(low, found[1] == "[", high, found[4] == "]")


def inside(word: Word, offset: int) -> Place:
    """The place of a character of a scalar that stands on one line."""
    place = word.place
    return replace(place, column=place.column + offset + (1 if word.quoted else 0)) if place.line else place


# private

_TOKEN = re.compile(rf"\s*(?:(?P<number>{NUMBER})|(?P<sign><=|>=|!=|[<>=])|(?P<dots>\.\.)"
                    r"|(?P<mark>[\[\](),])|(?P<absent>not\s+applicable\b)|(?P<word>not\b))")
_TYPOS = {"≤": "<=", "≥": ">=", "≠": "!=", "−": "-", "–": "..", "…": "..", ";": ",", "=<": "<=", "=>": ">="}


def _problem(place: Place, code: str, message: str, fix: str) -> Unreadable:
    return Unreadable(Problem(place, code, message, fix))


def _range_words(column: ColumnDomain) -> str:
    assert isinstance(column.axis, NumberAxis)
    unit = f" {column.unit}" if column.unit not in ("", "1") else ""
    return f"the range of '{column.name}' is {plain(column.axis.low)} to {plain(column.axis.high)}{unit}"


class _Tests:
    """A reader of one text of unary tests."""

    def __init__(self, word: Word, column: ColumnDomain, axis: NumberAxis) -> None:
        self.word, self.column, self.axis = word, column, axis
        self.tokens = self._lex()
        self.next = 0

    def read(self) -> Numbers:
        if not self.tokens:
            raise self._fault(0, "is empty", 'write "-" when any answer will do')
        if self._kind() == "word":
            self.next += 1
            self._expect("(", 'write "not(< 5)"')
            picked = self._complement(self._list())
            self._expect(")", "close the bracket of not(...)")
        else:
            picked = self._list()
        if self.next < len(self.tokens):
            raise self._fault(self._column(), "goes on after its end", "put a comma between two tests")
        return picked

    def _lex(self) -> list[tuple[str, str, int]]:
        text, tokens, at = self.word.text.rstrip(), [], 0
        while at < len(text):
            found = _TOKEN.match(text, at)
            if found is None:
                raise self._bad_character(text, at + len(text[at:]) - len(text[at:].lstrip()))
            kind = str(found.lastgroup)
            tokens.append((kind, found[kind], found.start(kind)))
            at = found.end()
        self._refuse_runs(tokens)
        return tokens

    def _refuse_runs(self, tokens: list[tuple[str, str, int]]) -> None:
        """`010` and `1,5` read as two numbers; both are slips."""
        for one, other in pairwise(tokens):
            if one[0] == other[0] == "number":
                raise self._fault(one[2], f"has two numbers side by side, '{one[1]}' and '{other[1]}'",
                                  "write a number without leading zeros, and a comma and a space between two")
        for one, comma, other in zip(tokens, tokens[1:], tokens[2:], strict=False):
            if one[0] == other[0] == "number" and comma[1] == "," and other[2] == comma[2] + 1:
                raise self._fault(
                    comma[2], "has a comma inside a number, or no space after a comma",
                    f"write `{one[1]}.{other[1]}` for one number, `{one[1]}, {other[1]}` for two")

    def _bad_character(self, text: str, at: int) -> Unreadable:
        for wrong, right in _TYPOS.items():
            if text.startswith(wrong, at):
                return self._fault(at, f"has `{wrong}`", f"write `{right}`")
        rest = text[at:]
        if re.match(r"[A-Za-z°%µ]", rest):
            unit = f" in {self.column.unit}" if self.column.unit not in ("", "1") else " without a unit"
            return self._fault(at, f"has the word '{rest.split()[0]}'",
                               f"leave units and names out: limits of '{self.column.name}' are numbers{unit}")
        return self._fault(
            at, f"cannot be read from '{rest}' on", 'write a test such as "<= 40" or "[20..40]"')

    def _fault(self, at: int, what: str, fix: str, code: str = "C001") -> Unreadable:
        return _problem(inside(self.word, at), code, f'the test "{self.word.text}" {what}', fix)

    def _kind(self) -> str:
        return self.tokens[self.next][0] if self.next < len(self.tokens) else ""

    def _text(self) -> str:
        return self.tokens[self.next][1] if self.next < len(self.tokens) else ""

    def _column(self) -> int:
        return self.tokens[self.next][2] if self.next < len(self.tokens) else len(self.word.text)

    def _expect(self, text: str, fix: str) -> None:
        if self._text() != text:
            raise self._fault(self._column(), f"lacks '{text}'", fix)
        self.next += 1

    def _list(self) -> Numbers:
        parts = [self._test()]
        while self._text() == ",":
            self.next += 1
            parts.append(self._test())
        raw = Numbers(
            tuple(span for part in parts for span in part.spans), any(part.absent for part in parts))
        cells = cells_of(self.axis, (raw,))
        picked = cells.set_of(cells.mask_of(raw))
        assert isinstance(picked, Numbers)
        return picked

    def _test(self) -> Numbers:
        kind, at = self._kind(), self._column()
        if kind == "absent":
            self.next += 1
            if not self.axis.may_be_absent:
                raise self._fault(at, f"asks for `not applicable`, which '{self.column.name}' can never be",
                                  "take it out, or allow it with `not_applicable: yes` at the input", "C006")
            return Numbers((), absent=True)
        if kind == "sign":
            sign = self._text()
            self.next += 1
            return self._compared(sign, self._number())
        if kind == "number":
            value = self._number()
            if self._kind() == "dots":
                raise self._fault(
                    at, "is an interval without brackets", f"write `[{self.word.text.strip()}]`")
            return self._compared("=", value)
        if kind == "mark" and self._text() in "[(]":
            return self._interval()
        raise self._fault(at, "lacks a test here", 'write a test such as "<= 40" or "[20..40]"')

    def _interval(self) -> Numbers:
        at, opening = self._column(), self._text()
        self.next += 1
        low = self._number()
        if self._kind() != "dots":
            raise self._fault(self._column(), "lacks `..` between the ends", "write `[20..40]`")
        self.next += 1
        high = self._number()
        if self._text() not in ("]", ")", "["):
            raise self._fault(self._column(), "lacks the closing bracket of an interval", "write `[20..40]`")
        closing = self._text()
        self.next += 1
        if low > high:
            raise self._fault(at, "ends before it begins", f"write `[{plain(high)}..{plain(low)}]`")
        return Numbers((Span(low, opening == "[", high, closing == "]"),))

    def _number(self) -> float:
        if self._kind() != "number":
            raise self._fault(self._column(), "lacks a number here", "write a number such as 40 or 0.5")
        value, at = float(self._text()), self._column()
        self.next += 1
        if not self.axis.low <= value <= self.axis.high:
            raise self._fault(at, f"has the limit {plain(value)}, which no answer can reach",
                              f"stay inside: {_range_words(self.column)}", "C002")
        return value

    def _compared(self, sign: str, value: float) -> Numbers:
        low, high = self.axis.low, self.axis.high
        spans = {"<": (Span(low, True, value, False),), "<=": (Span(low, True, value, True),),
                 ">": (Span(value, False, high, True),), ">=": (Span(value, True, high, True),),
                 "=": (Span(value, True, value, True),),
                 "!=": (Span(low, True, value, False), Span(value, False, high, True))}
        return Numbers(spans[sign])

    def _complement(self, picked: Numbers) -> Numbers:
        cells = cells_of(self.axis, (picked,))
        rest = cells.set_of(cells.full & ~cells.mask_of(picked))
        assert isinstance(rest, Numbers)
        # `not(< 5)` is still about numbers; `not(not applicable)` is any number.
        return Numbers(rest.spans, absent=False)


def _choices(cell: Cell, column: ColumnDomain, axis: ChoiceAxis) -> Choices:
    flags = column.flags or {}
    real = tuple(id_ for id_ in axis.ids if id_ != NOT_APPLICABLE)
    if cell.test is not None:
        picked = _choice_text(cell.test, column, axis, flags, real)
    else:
        named: set[str] = set()
        for word in cell.items or ():
            named |= _one_choice(word, column, axis, flags, real)
        # Like `not(< 5)`: what does not apply is none of the ids, and not one of the others either.
        picked = {id_ for id_ in real if id_ not in named} if cell.negated else named
    if not picked:
        raise _problem(cell.place, "C003", f"the condition on '{column.name}' picks nothing",
                       "name at least one id, or take the rule out")
    return Choices(tuple(id_ for id_ in axis.ids if id_ in picked))


def _choice_text(word: Word, column: ColumnDomain, axis: ChoiceAxis, flags: Mapping[str, frozenset[str]],
                 real: tuple[str, ...]) -> set[str]:
    text = " ".join(word.text.split())
    if text == "-":
        return set(axis.ids)
    if text.startswith(("with ", "without ")) or text == "not applicable":
        return _one_choice(word, column, axis, flags, real)
    raise _problem(word.place, "C004", f"'{word.text}' is not a condition on the choice '{column.name}'",
                   f"write a list of ids, such as [{real[0] if real else 'id'}], `with <flag>`, or \"-\"")


def _one_choice(word: Word, column: ColumnDomain, axis: ChoiceAxis, flags: Mapping[str, frozenset[str]],
                real: tuple[str, ...]) -> set[str]:
    text = " ".join(word.text.split())
    if text in ("not applicable", NOT_APPLICABLE):
        if NOT_APPLICABLE in axis.ids:
            return {NOT_APPLICABLE}
        raise _problem(word.place, "C006", f"'{column.name}' can never be `not applicable`",
                       "take it out, or allow it with `not_applicable: yes` at the input")
    start, _, flag = text.partition(" ")
    if start in ("with", "without") and flag:
        if flag not in flags:
            raise _problem(word.place, "C005", f"no option of '{column.name}' has the flag '{flag}'",
                           _did_you_mean(flag, flags))
        return {id_ for id_ in real if (id_ in flags[flag]) == (start == "with")}
    if text in real:
        return {text}
    raise _problem(word.place, "C005", f"'{column.name}' has no option '{text}'", _did_you_mean(text, real))


def _did_you_mean(text: str, known: Mapping[str, object] | tuple[str, ...]) -> str:
    close = get_close_matches(text, list(known), 1)
    if close:
        return f"write `{close[0]}`"
    if not known:
        return "take it out"
    return f"write one of {', '.join(list(known)[:8])}{' ...' if len(known) > 8 else ''}"
