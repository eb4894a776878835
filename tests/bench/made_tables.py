"""Gives back made tables of known size: bands of numbers, groups of choices, some with rules grown or shrunk."""

from __future__ import annotations

import random
from itertools import product

from generator.boxes.sets import Axis, AxisSet, Box, ChoiceAxis, Choices, NumberAxis, Numbers, Span

_PARTS = {(60, 4): ((5, 3), (6, 4)), (500, 5): ((5, 5, 5), (6, 4))}      # bands of numbers; options in two groups each
SHAPES = tuple((rules, columns, state) for rules, columns in _PARTS for state in ("clean", "grown", "shrunk"))


def made_table(rules: int, columns: int, state: str) -> tuple[tuple[Axis, ...], list[Box]]:
    """clean: complete and disjoint. grown: each tenth rule reaches into others. shrunk: each tenth ends early."""
    bands, options = _PARTS[rules, columns]
    axes: list[Axis] = [NumberAxis(0.0, 100.0) for _ in bands]
    parts: list[list[AxisSet]] = [[_band(100 * at / count, 100 * (at + 1) / count, at == count - 1)
                                   for at in range(count)] for count in bands]
    for count in options:
        ids = tuple(f"o{at}" for at in range(count))
        axes.append(ChoiceAxis(ids))
        parts.append([Choices(ids[:count // 2]), Choices(ids[count // 2:])])
    boxes: list[Box] = list(product(*parts))
    assert len(boxes) == rules and len(axes) == columns
    draw = random.Random(rules)
    for at in range(0, len(boxes), 10) if state != "clean" else ():
        axis = draw.randrange(len(bands))
        span = boxes[at][axis].spans[0]  # type: ignore[union-attr]
        width = span.high - span.low
        low, high = (span.low - width / 2, span.high + width / 2) if state == "grown" else (
            span.low + width / 4, span.high - width / 4)
        changed = Numbers((Span(max(0.0, low), True, min(100.0, high), True),))
        boxes[at] = (*boxes[at][:axis], changed, *boxes[at][axis + 1:])
    return tuple(axes), boxes


# private

def _band(low: float, high: float, last: bool) -> Numbers:
    return Numbers((Span(low, True, high, last),))
