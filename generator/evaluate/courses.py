"""Gives back the course of a derived value while one answer moves: where it comes to other rows.

The answer runs through the 12-digit numbers of its range. Halves in which the value reaches the same rows throughout
are left alone, the others halved again, down to two neighbouring numbers. Where a formula bounds its value so
widely that halving does not end, the value is taken to rise or fall within a half whose ends reach the same.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable
from dataclasses import dataclass

from generator.evaluate.columns import Reach
from generator.evaluate.numbers import round_to_12

MOST = 1000                          # looks between two ends before these are taken at their word
STEP = 1e-12                         # the number next to zero

ReachAt = Callable[[float, float], Reach]


@dataclass(frozen=True, slots=True)
class Course:
    """`before` are the last numbers before each change, `after` the first ones behind it, rising; `reaches` what the
    value reaches up to the first change and behind each."""

    before: tuple[float, ...]
    after: tuple[float, ...]
    reaches: tuple[Reach, ...]


def course_of(reach: ReachAt, low: float, high: float) -> Course:
    """`reach(a, b)` is what the value reaches while the answer is anything from a to b."""
    ends: list[tuple[float, float]] = []
    left = MOST
    waiting = [(low, high)]
    while waiting:
        start, end = waiting.pop()
        first, last = reach(start, start), reach(end, end)
        left -= 1
        if first == last and (left < 0 or reach(start, end) == first):
            continue
        middle = round_to_12((start + end) / 2)
        if start < middle < end and end - start > STEP:
            waiting += [(middle, end), (start, middle)]
        elif first != last:
            ends.append((start, end))
    return Course(tuple(start for start, _ in ends), tuple(end for _, end in ends),
                  (reach(low, low), *(reach(end, end) for _, end in ends)))


def reach_beside(course: Course, number: float, side: int) -> Reach:
    """What the value reaches with the answer at the number (side 0), just below it (-1) or just above it (1)."""
    place = bisect_left(course.before, number)       # changes behind smaller numbers
    if side > 0 and place < len(course.before) and course.before[place] == number:
        place += 1
    if side < 0 and place > 0 and course.after[place - 1] == number:
        place -= 1
    return course.reaches[place]
