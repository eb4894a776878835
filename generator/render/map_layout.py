"""Gives back where a map's slots lie on the sheet, in pixels, and what stands beside its axes.

Bands between two limits are drawn equally wide, so that narrow ones stay visible. Twin of
browser/map_layout.js.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from generator.render import words
from generator.render.map_sheet import MapColumn
from generator.render.map_slots import Slot, slot_words

WIDTH = 960.0
LETTER = 0.55  # width of an average letter, in heights of the type
TYPE = 12.0
_MARGIN = 26.0  # right of the last tick
_TOP = 30.0
_APART = 14.0  # between the numbers and the slot of no number
_WEIGHTS = {"band": 1.0, "point": 0.45, "absent": 0.9, "option": 1.0, "any": 1.0}
_NARROWEST = {"number": 30.0, "choice": 24.0, "": 30.0}
_LABEL = 150.0  # room for the names of rows
_SLANT = 0.62  # cosine and sine of the slanted names, about


@dataclass(frozen=True, slots=True)
class Span:
    """The pixels of a slot: of its low end and of its high end (on the upright axis numbers rise as pixels
    fall).
    """

    low: float
    high: float

    @property
    def first(self) -> float:
        return min(self.low, self.high)

    @property
    def length(self) -> float:
        return abs(self.high - self.low)


@dataclass(frozen=True, slots=True)
class Tick:
    """A number at a limit or at an end. `side` is -1 where the number belongs to what lies below it, 1
    above, 0 neither. `level` counts the lines of text it is moved away from a neighbour."""

    at: float
    text: str
    side: int
    level: int


@dataclass(frozen=True, slots=True)
class Name:
    """The name of an option, in lines, at the middle of its slot; `slanted` where it would not fit beside
    the next.
    """

    at: float
    lines: tuple[str, ...]
    slanted: bool


@dataclass(frozen=True, slots=True)
class Layout:
    width: float
    height: float
    left: float
    top: float
    right: float
    bottom: float
    xs: tuple[Span, ...]
    ys: tuple[Span, ...]
    x_ticks: tuple[Tick, ...]
    y_ticks: tuple[Tick, ...]
    x_names: tuple[Name, ...]
    y_names: tuple[Name, ...]
    x_depth: float  # from the frame down to the end of what stands below it


def layout_of(xs: Sequence[Slot], ys: Sequence[Slot], x: MapColumn | None, y: MapColumn | None) -> Layout:
    """Where everything lies. A column is None where the axis has none."""
    left = _left(ys, y)
    top = _TOP
    room = WIDTH - left - _MARGIN
    spans_x = _spread(xs, left, max(room, _weight(xs) * _NARROWEST[x.kind if x else ""] + _gaps(xs)))
    right = max(span.high for span in spans_x)
    height = _height(ys, y)
    if y is not None and y.kind == "number":
        spans_y = tuple(
            Span(top + height - span.low, top + height - span.high) for span in _spread(ys, 0.0, height)
        )
    else:
        spans_y = _spread(ys, top, height)
    bottom = max(max(span.low, span.high) for span in spans_y)
    x_names = _names(xs, spans_x, x, False) if x else ()
    x_ticks = _levelled(_ticks(xs, spans_x, x), x_names) if x else ()
    y_ticks = _ticks(ys, spans_y, y) if y else ()
    y_names = _names(ys, spans_y, y, True) if y else ()
    depth = _depth(x_ticks, x_names)
    return Layout(
        right + _MARGIN,
        bottom + depth + 26.0,
        left,
        top,
        right,
        bottom,
        spans_x,
        spans_y,
        x_ticks,
        y_ticks,
        x_names,
        y_names,
        depth,
    )


def text_width(text: str, size: float) -> float:
    return len(text) * size * LETTER


def wrapped(text: str, letters: int) -> tuple[str, ...]:
    """The text in lines of at most so many letters, broken at blanks."""
    lines: list[str] = []
    for word in text.split(" "):
        if lines and len(lines[-1]) + 1 + len(word) <= letters:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    return tuple(lines)


def place_of(slot: Slot, span: Span, number: float, inset: float) -> float:
    """The pixel of a number within its slot, off the ends by `inset` so that it is seen on which side it
    lies.
    """
    middle = (span.low + span.high) / 2
    if slot.kind != "band" or slot.high == slot.low:
        return middle
    share = (number - slot.low) / (slot.high - slot.low)
    margin = min(inset, span.length / 2)
    return min(
        max(span.low + share * (span.high - span.low), span.first + margin), span.first + span.length - margin
    )


# private


def _left(ys: Sequence[Slot], y: MapColumn | None) -> float:
    if y is None:
        return 26.0
    if y.kind == "choice":
        longest = max(text_width(title, TYPE) for _, title in y.options)
        return min(_LABEL, math.ceil(longest)) + 16.0
    texts = [words.number_text(end) for slot in ys for end in (slot.low, slot.high)]
    absent = [y.absent] if any(slot.kind == "absent" for slot in ys) else []
    return max(48.0, math.ceil(max(text_width(text, TYPE) for text in (*texts, *absent))) + 22.0)


def _weight(slots: Sequence[Slot]) -> float:
    return sum(_WEIGHTS[slot.kind] for slot in slots)


def _gaps(slots: Sequence[Slot]) -> float:
    return _APART * sum(slot.kind == "absent" for slot in slots[1:])


def _height(ys: Sequence[Slot], y: MapColumn | None) -> float:
    if y is None:
        return 64.0
    if y.kind == "choice":
        return len(ys) * (34.0 if len(ys) <= 14 else 28.0 if len(ys) <= 30 else 20.0)
    return _weight(ys) * (44.0 if len(ys) <= 10 else 32.0) + _gaps(ys)


def _spread(slots: Sequence[Slot], start: float, room: float) -> tuple[Span, ...]:
    unit = (room - _gaps(slots)) / _weight(slots)
    spans: list[Span] = []
    at = start
    for place, slot in enumerate(slots):
        at += _APART if slot.kind == "absent" and place > 0 else 0.0
        end = at + unit * _WEIGHTS[slot.kind]
        spans.append(Span(at, end))
        at = end
    return tuple(spans)


def _ticks(slots: Sequence[Slot], spans: Sequence[Span], column: MapColumn) -> tuple[Tick, ...]:
    if column.kind != "number":
        return ()
    ticks: list[Tick] = []
    numbers = [place for place, slot in enumerate(slots) if slot.kind != "absent"]
    for place in numbers:
        slot, span = slots[place], spans[place]
        if slot.kind == "point":
            ticks.append(Tick((span.low + span.high) / 2, f"= {words.number_text(slot.low)}", 0, 0))
            continue
        before = slots[place - 1] if place > 0 else None
        if before is None:
            ticks.append(Tick(span.low, words.number_text(slot.low), 0, 0))
        elif before.kind == "band":
            ticks.append(Tick(span.low, words.number_text(slot.low), 1 if slot.low_in else -1, 0))
        if place == numbers[-1]:
            ticks.append(Tick(span.high, words.number_text(slot.high), 0, 0))
    return tuple(ticks)


def _levelled(ticks: tuple[Tick, ...], names: Sequence[Name]) -> tuple[Tick, ...]:
    """Ticks moved to a second or third line where their texts would meet each other or a name beside them."""
    ends = [-math.inf, -math.inf, -math.inf]
    wall = min(
        (name.at - max(text_width(line, TYPE) for line in name.lines) / 2 for name in names), default=math.inf
    )
    levelled: list[Tick] = []
    for tick in ticks:
        half = text_width(tick.text, TYPE) / 2 + 3.0
        lowest = 1 if tick.at + half > wall else 0
        level = next(
            (number for number in (0, 1, 2) if number >= lowest and tick.at - half >= ends[number]), lowest
        )
        ends[level] = tick.at + half
        levelled.append(Tick(tick.at, tick.text, tick.side, level))
    return tuple(levelled)


def _names(
    slots: Sequence[Slot], spans: Sequence[Span], column: MapColumn, upright: bool
) -> tuple[Name, ...]:
    shown = [
        (slot, span) for slot, span in zip(slots, spans, strict=True) if slot.kind in ("option", "absent")
    ]
    titles = [slot_words(column, slot) for slot, _ in shown]
    if upright:
        letters = int(_LABEL / (TYPE * LETTER))
        return tuple(
            Name((span.low + span.high) / 2, wrapped(title, letters), False)
            for title, (_, span) in zip(titles, shown, strict=True)
        )
    narrow = [
        word
        for title, (_, span) in zip(titles, shown, strict=True)
        for word in title.split(" ")
        if text_width(word, TYPE) > span.length - 4.0
    ]
    if narrow and column.kind == "choice":
        return tuple(
            Name((span.low + span.high) / 2, (title,), True)
            for title, (_, span) in zip(titles, shown, strict=True)
        )
    return tuple(
        Name((span.low + span.high) / 2, wrapped(title, int((span.length - 4.0) / (TYPE * LETTER))), False)
        for title, (_, span) in zip(titles, shown, strict=True)
    )


def _depth(ticks: Sequence[Tick], names: Sequence[Name]) -> float:
    depths = [24.0 + 14.0 * max((tick.level for tick in ticks), default=0)]
    depths += [
        10.0 + _SLANT * text_width(name.lines[0], TYPE) + 8.0
        if name.slanted
        else 10.0 + 14.0 * len(name.lines)
        for name in names
    ]
    return max(depths)
