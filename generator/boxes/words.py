"""Gives back a box in words: "highest temperature above 40 up to 60 °C, liner PFA or PTFE".

Two different boxes on the same axes never read the same, as long as titles differ.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal

from generator.boxes.sets import Axis, AxisSet, Box, ChoiceAxis, Choices, NumberAxis, Numbers, Span, whole


@dataclass(frozen=True, slots=True)
class AxisWords:
    """How an axis is spoken of: its title, its unit as printed, and the titles of its ids."""

    title: str
    unit: str = ""
    titles: Mapping[str, str] = field(default_factory=dict)


def describe(axes: Sequence[Axis], box: Box, words: Sequence[AxisWords]) -> str:
    """The box in words; an axis that is not restricted is not mentioned; the whole space is "everything"."""
    parts = [f"{word.title} {describe_set(axis, one, word)}"
             for axis, one, word in zip(axes, box, words, strict=True) if one != whole(axis)]
    return ", ".join(parts) or "everything"


def describe_set(axis: Axis, one: AxisSet, words: AxisWords) -> str:
    """One set in words, without the axis' title: "above 40 up to 60 °C", "PFA or PTFE", "none"."""
    if isinstance(axis, ChoiceAxis):
        assert isinstance(one, Choices)
        return _choices(axis, one, words)
    assert isinstance(one, Numbers)
    return _numbers(axis, one, words)


def plain(number: float) -> str:
    """A number as a person writes it: no exponent, no trailing `.0`."""
    text = format(Decimal(repr(number)), "f")
    return text.rstrip("0").rstrip(".") if "." in text else text


# private

def _choices(axis: ChoiceAxis, one: Choices, words: AxisWords) -> str:
    if not one.ids:
        return "none"
    if one == whole(axis):
        return "any"
    rest = tuple(id_ for id_ in axis.ids if id_ not in one.ids)
    if len(rest) < len(one.ids):
        return "any but " + _listed(rest, words, "and")
    return _listed(one.ids, words, "or")


def _listed(ids: tuple[str, ...], words: AxisWords, joint: str) -> str:
    titles = [words.titles.get(id_, id_.replace("_", " ")) for id_ in ids]
    return titles[0] if len(titles) == 1 else ", ".join(titles[:-1]) + f" {joint} {titles[-1]}"


def _numbers(axis: NumberAxis, one: Numbers, words: AxisWords) -> str:
    if one == whole(axis):
        return "any"
    unit = f" {words.unit}" if words.unit and words.unit != "1" else ""
    if one.spans == (Span(axis.low, True, axis.high, True),):
        parts = ["any number"]
    else:
        parts = [_span(axis, span) + unit for span in one.spans]
    if one.absent:
        parts.append("not applicable")
    return " or ".join(parts) or "none"


def _span(axis: NumberAxis, span: Span) -> str:
    low, high = plain(span.low), plain(span.high)
    if span.low == span.high:
        return f"exactly {low}"
    from_the_start = span.low == axis.low and span.low_in
    to_the_end = span.high == axis.high and span.high_in
    if from_the_start:
        return f"up to {high}" if span.high_in else f"below {high}"
    if to_the_end:
        return f"at least {low}" if span.low_in else f"above {low}"
    start = f"from {low}" if span.low_in else f"above {low}"
    return f"{start} up to {high}" if span.high_in else f"{start} to below {high}"
