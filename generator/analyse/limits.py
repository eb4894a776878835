"""Gives back the limits of a table: each cut on a number axis with the rows that meet at it, and where it may
move to.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from generator.boxes.sets import Axis, AxisSet, Box, Choices, NumberAxis, Numbers, Span
from generator.boxes.words import plain
from generator.evaluate.numbers import round_to_12
from generator.pack.model import Table

STEP = 0.05                          # of the width

Cut = tuple[float, bool]  # a number, and whether the cut lies behind it (it belongs to what is below)


@dataclass(frozen=True, slots=True)
class Limit:
    """A cut with the rows that end or begin there (places in the table), and the cuts it may become, each in
    words.
    """

    axis: int
    cut: Cut
    rows: tuple[int, ...]
    moves: tuple[tuple[Cut, str], ...]


def limits_of(table: Table, axes: Sequence[Axis], boxes: Sequence[Box], written: set[str]) -> Iterator[Limit]:
    """Every limit that one of the rules `written` has, axis by axis in rising order."""
    for axis, kind in enumerate(axes):
        if not isinstance(kind, NumberAxis):
            continue
        below, above = _cuts(table, kind, axis, boxes)
        cuts = sorted({*below, *above})
        numbers = [cut[0] for cut in cuts]
        width = _width(kind, numbers)
        for cut in cuts:
            if not any(table.rows[at].rule in written for at in (*below.get(cut, ()), *above.get(cut, ()))):
                continue                             # a limit of letters alone
            for rows in _meeting(axis, boxes, below.get(cut, []), above.get(cut, [])):
                if any(table.rows[at].rule in written for at in rows):
                    yield Limit(axis, cut, rows, tuple(_moves(kind, axis, boxes, rows, cut, width)))


def moved(box: Box, limit: Limit, cut: Cut) -> Box:
    """The box with its ends at the limit moved to another cut; a span of which nothing is left vanishes."""
    one = box[limit.axis]
    assert isinstance(one, Numbers)
    spans = []
    for span in one.spans:
        low = cut if _low(span) == limit.cut else _low(span)
        high = cut if _high(span) == limit.cut else _high(span)
        if low < high:                               # a cut before a number is less than one behind it
            spans.append(Span(low[0], not low[1], high[0], high[1]))
    return (*box[:limit.axis], Numbers(tuple(spans), one.absent), *box[limit.axis + 1:])


# private

def _low(span: Span) -> Cut:
    return span.low, not span.low_in


def _high(span: Span) -> Cut:
    return span.high, span.high_in


def _cuts(table: Table, kind: NumberAxis, axis: int,
          boxes: Sequence[Box]) -> tuple[dict[Cut, list[int]], dict[Cut, list[int]]]:
    """Rows by the cut at which they end, and by that at which they begin; the ends of the axis are no cuts.
    """
    below: dict[Cut, list[int]] = {}
    above: dict[Cut, list[int]] = {}
    for at, box in enumerate(boxes):
        if table.rows[at].cells[axis] < 0:
            continue
        for span in box[axis].spans:  # type: ignore[union-attr]
            if _low(span) != (kind.low, False):
                above.setdefault(_low(span), []).append(at)
            if _high(span) != (kind.high, True):
                below.setdefault(_high(span), []).append(at)
    return below, above


def _width(kind: NumberAxis, numbers: Sequence[float]) -> float:
    if not numbers:
        return 0.0
    return numbers[-1] - numbers[0] or abs(numbers[0]) or kind.high - kind.low


def _meeting(
    axis: int, boxes: Sequence[Box], below: list[int], above: list[int]
) -> Iterator[tuple[int, ...]]:
    """The rows at one cut in groups: rows from both sides belong together when they touch beside this axis.
    """
    joined: list[set[int]] = []
    for at in dict.fromkeys((*below, *above)):
        facing = {other for other in (*(above if at in below else ()), *(below if at in above else ()))
                  if _touch(axis, boxes[at], boxes[other])}
        near = [group for group in joined if group & {at, *facing}]
        joined = [group for group in joined if group not in near] + [{at}.union(facing, *near)]
    yield from sorted(tuple(sorted(group)) for group in joined)


def _touch(axis: int, one: Box, other: Box) -> bool:
    return all(at == axis or _meets(a, b) for at, (a, b) in enumerate(zip(one, other, strict=True)))


def _meets(one: AxisSet, other: AxisSet) -> bool:
    if isinstance(one, Choices):
        return not set(one.ids).isdisjoint(other.ids)  # type: ignore[union-attr]
    assert isinstance(other, Numbers)
    return one.absent and other.absent or any(max(_low(a), _low(b)) < min(_high(a), _high(b))
                                              for a in one.spans for b in other.spans)


def _moves(kind: NumberAxis, axis: int, boxes: Sequence[Box], rows: tuple[int, ...], cut: Cut,
           width: float) -> Iterator[tuple[Cut, str]]:
    number, behind = cut
    spans = [span for at in rows for span in boxes[at][axis].spans]  # type: ignore[union-attr]
    ends = {end for span in spans for end in (span.low, span.high)}
    next_up = min((end for end in ends if end > number), default=kind.high)
    next_down = max((end for end in ends if end < number), default=kind.low)
    at_a_point = {_low(span) if _high(span) == cut else _high(span) for span in spans
                  if span.low == span.high == number}
    up = round_to_12(number + min(STEP * width, (next_up - number) / 2))
    down = round_to_12(number - min(STEP * width, (number - next_down) / 2))
    if up > number and not any(other[1] for other in at_a_point):
        yield (up, behind), f"{plain(number)} to {plain(up)}"
    if down < number and not any(not other[1] for other in at_a_point):
        yield (down, behind), f"{plain(number)} to {plain(down)}"
    yield (number, not behind), f"{plain(number)} itself on the other side"
