"""Gives back sets of numbers and of choices on an axis, and what two of them have in common.

A number axis runs from `low` to `high`, both ends belonging to it, and may hold one more atom beside its
numbers: `absent`, for an answer that does not apply. A choice axis is a row of ids. A box is one set per
axis.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, order=True, slots=True)
class Span:
    """Numbers between two ends; `low_in` and `high_in` say whether the end itself belongs."""

    low: float
    low_in: bool
    high: float
    high_in: bool


@dataclass(frozen=True, slots=True)
class NumberAxis:
    """The numbers from `low` to `high`, both included; with `may_be_absent` also the atom `absent`."""

    low: float
    high: float
    may_be_absent: bool = False


@dataclass(frozen=True, slots=True)
class ChoiceAxis:
    """The ids that a choice can have, in their order."""

    ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Numbers:
    """Spans in rising order that neither meet nor touch, and whether `absent` belongs."""

    spans: tuple[Span, ...]
    absent: bool = False


@dataclass(frozen=True, slots=True)
class Choices:
    """Some ids of a choice axis, in the axis' order."""

    ids: tuple[str, ...]


Axis = NumberAxis | ChoiceAxis
AxisSet = Numbers | Choices
Box = tuple[AxisSet, ...]


def whole(axis: Axis) -> AxisSet:
    """All that the axis holds."""
    if isinstance(axis, ChoiceAxis):
        return Choices(axis.ids)
    return Numbers((Span(axis.low, True, axis.high, True),), axis.may_be_absent)


def meet(axis: Axis, one: AxisSet, other: AxisSet) -> AxisSet:
    """What belongs to both."""
    cells = cells_of(axis, (one, other))
    return cells.set_of(cells.mask_of(one) & cells.mask_of(other))


def complement(axis: Axis, one: AxisSet) -> AxisSet:
    """What the axis holds beside the set; `absent` counts like any other atom."""
    cells = cells_of(axis, (one,))
    return cells.set_of(cells.full & ~cells.mask_of(one))


def is_empty(one: AxisSet) -> bool:
    """True when nothing belongs to the set."""
    return not one.ids if isinstance(one, Choices) else not one.spans and not one.absent


def holds(one: AxisSet, value: float | str | None) -> bool:
    """True when the value belongs to the set; None asks for `absent`."""
    if isinstance(one, Choices):
        return value in one.ids
    if value is None:
        return one.absent
    return any((span.low < value or span.low_in and span.low == value)
               and (value < span.high or span.high_in and span.high == value) for span in one.spans)


# Every set on an axis becomes one whole number, a bit per cell. Numbers are cut at every end in use: n ends
# give n points and n-1 open pieces between them, so that a point and its neighbours are never confused.

@dataclass(frozen=True, slots=True)
class NumberCells:
    """A number axis cut at `cuts`. Cell 2i is the point cuts[i], 2i+1 the piece after, the last `absent`."""

    cuts: tuple[float, ...]
    may_be_absent: bool

    @property
    def full(self) -> int:
        return (1 << (2 * len(self.cuts) - (0 if self.may_be_absent else 1))) - 1

    def mask_of(self, one: AxisSet) -> int:
        assert isinstance(one, Numbers)
        mask = self._absent_bit if one.absent and self.may_be_absent else 0
        for span in one.spans:
            mask |= self._mask_of_span(span)
        return mask

    def set_of(self, mask: int) -> Numbers:
        spans: list[Span] = []
        numbers = mask & (self._absent_bit - 1)
        while numbers:
            first = (numbers & -numbers).bit_length() - 1
            run = ~(numbers >> first)
            last = first + (run & -run).bit_length() - 2
            spans.append(
                Span(self.cuts[first // 2], first % 2 == 0, self.cuts[(last + 1) // 2], last % 2 == 0))
            numbers &= -1 << (last + 1)
        return Numbers(tuple(spans), bool(mask & self._absent_bit))

    @property
    def _absent_bit(self) -> int:
        return 1 << (2 * len(self.cuts) - 1)

    def _mask_of_span(self, span: Span) -> int:
        if span.low > self.cuts[-1] or span.high < self.cuts[0]:
            return 0
        end = 2 * len(self.cuts) - 2
        first = 0 if span.low < self.cuts[0] else 2 * bisect_left(self.cuts, span.low) + (not span.low_in)
        high = bisect_left(self.cuts, span.high)
        last = end if span.high > self.cuts[-1] else 2 * high - (not span.high_in)
        return ((1 << (last - first + 1)) - 1) << first if last >= first else 0


@dataclass(frozen=True, slots=True)
class ChoiceCells:
    """A choice axis: one cell per id."""

    places: dict[str, int]

    @property
    def full(self) -> int:
        return (1 << len(self.places)) - 1

    def mask_of(self, one: AxisSet) -> int:
        assert isinstance(one, Choices)
        mask = 0
        for id_ in one.ids:
            mask |= 1 << self.places[id_]
        return mask

    def set_of(self, mask: int) -> Choices:
        return Choices(tuple(id_ for id_, place in self.places.items() if mask >> place & 1))


Cells = NumberCells | ChoiceCells


def cells_of(axis: Axis, sets: Iterable[AxisSet]) -> Cells:
    """The axis cut fine enough that each of the sets is made of whole cells."""
    if isinstance(axis, ChoiceAxis):
        return ChoiceCells({id_: place for place, id_ in enumerate(axis.ids)})
    ends = {axis.low, axis.high}
    for one in sets:
        assert isinstance(one, Numbers)
        for span in one.spans:
            ends.update(end for end in (span.low, span.high) if axis.low < end < axis.high)
    return NumberCells(tuple(sorted(ends)), axis.may_be_absent)
