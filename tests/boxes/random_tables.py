"""Gives back strategies for small random tables, and the points at which two sets can differ."""

from __future__ import annotations

from itertools import product

from hypothesis import strategies as st

from generator.boxes.sets import Axis, Box, ChoiceAxis, Choices, NumberAxis, Numbers, Span, cells_of, holds

Point = tuple[float | str | None, ...]


@st.composite
def axes(draw: st.DrawFn) -> Axis:
    if draw(st.booleans()):
        return ChoiceAxis(tuple("abcde"[:draw(st.integers(1, 5))]))
    return NumberAxis(0.0, float(draw(st.integers(0, 5))), draw(st.booleans()))


@st.composite
def spans(draw: st.DrawFn) -> Span:
    low = draw(st.integers(-1, 6))
    high = draw(st.integers(low, 7))
    return Span(float(low), draw(st.booleans()), float(high), draw(st.booleans()))


@st.composite
def sets_on(draw: st.DrawFn, axis: Axis):
    if isinstance(axis, ChoiceAxis):
        return Choices(tuple(id_ for id_ in axis.ids if draw(st.booleans())))
    raw = Numbers(tuple(draw(st.lists(spans(), max_size=2))), draw(st.booleans()))
    cells = cells_of(axis, (raw,))
    return cells.set_of(cells.mask_of(raw))


@st.composite
def tables(draw: st.DrawFn, most_rows: int = 6) -> tuple[tuple[Axis, ...], tuple[Box, ...]]:
    chosen = tuple(draw(st.lists(axes(), min_size=1, max_size=3)))
    rows = draw(st.lists(st.tuples(*(sets_on(axis) for axis in chosen)), max_size=most_rows))
    return chosen, tuple(rows)


def points(chosen: tuple[Axis, ...]) -> list[Point]:
    """Every whole number of an axis, a number between any two, its absent atom, every id."""
    per_axis: list[list[float | str | None]] = []
    for axis in chosen:
        if isinstance(axis, ChoiceAxis):
            per_axis.append(list(axis.ids))
            continue
        numbers: list[float | str | None] = [
            half / 2 for half in range(int(axis.low) * 2, int(axis.high) * 2 + 1)]
        per_axis.append(numbers + [None] if axis.may_be_absent else numbers)
    return list(product(*per_axis))


def in_box(box: Box, point: Point) -> bool:
    return all(holds(one, value) for one, value in zip(box, point, strict=True))
