"""Gaps, overlaps and merging are compared with counting every point of small random tables."""

from __future__ import annotations

import random
import time

import pytest
from hypothesis import given, settings, strategies as st

from generator.boxes.sets import (
    ChoiceAxis, Choices, NumberAxis, Numbers, Span, complement, holds, is_empty, meet, whole)
from generator.boxes.split import common, covers, merge, overlaps, subtract, uncovered
from tests.boxes.random_tables import axes, in_box, points, sets_on, tables

TEMPERATURE = NumberAxis(0.0, 100.0)
LINER = ChoiceAxis(("pfa", "ptfe", "epdm"))


def span(low: float, high: float, brackets: str = "[]") -> Span:
    return Span(low, brackets[0] == "[", high, brackets[1] == "]")


@given(tables())
@settings(max_examples=300, deadline=None)
def test_uncovered_names_every_point_that_no_box_holds_and_no_other_and_each_once(table):
    chosen, boxes = table
    gaps = uncovered(chosen, boxes)
    for point in points(chosen):
        free = not any(in_box(box, point) for box in boxes)
        assert sum(in_box(gap, point) for gap in gaps) == (1 if free else 0), point


@given(tables())
@settings(max_examples=300, deadline=None)
def test_overlaps_name_each_pair_with_exactly_the_points_it_shares(table):
    chosen, boxes = table
    found = {(i, j): region for i, j, region in overlaps(chosen, boxes)}
    for i in range(len(boxes)):
        for j in range(i + 1, len(boxes)):
            shared = {
                point for point in points(chosen) if in_box(boxes[i], point) and in_box(boxes[j], point)}
            region = found.get((i, j))
            told = set() if region is None else {point for point in points(chosen) if in_box(region, point)}
            assert told == shared
            assert (common(chosen, boxes[i], boxes[j]) is None) == (not shared)


@given(tables())
@settings(max_examples=300, deadline=None)
def test_merge_keeps_the_content_and_leaves_no_two_boxes_that_could_be_one(table):
    chosen, boxes = table
    merged = merge(chosen, boxes)
    for point in points(chosen):
        assert any(in_box(box, point) for box in merged) == any(in_box(box, point) for box in boxes)
    for i, one in enumerate(merged):
        for other in merged[i + 1:]:
            differing = sum(a != b for a, b in zip(one, other, strict=True))
            assert differing > 1, "boxes that differ on one axis only are one box"


@given(tables(most_rows=4), st.data())
@settings(max_examples=200, deadline=None)
def test_subtract_leaves_the_points_of_the_box_that_no_other_holds(table, data):
    chosen, boxes = table
    box = data.draw(st.tuples(*(sets_on(axis) for axis in chosen)))
    left = subtract(chosen, box, boxes)
    for point in points(chosen):
        expected = in_box(box, point) and not any(in_box(other, point) for other in boxes)
        assert sum(in_box(piece, point) for piece in left) == (1 if expected else 0)
    assert covers(chosen, boxes, box) == (not left)


@given(axes(), st.data())
@settings(max_examples=200, deadline=None)
def test_meet_and_complement_agree_with_asking_each_point(axis, data):
    one, other = data.draw(sets_on(axis)), data.draw(sets_on(axis))
    both, rest = meet(axis, one, other), complement(axis, one)
    for (value,) in points((axis,)):
        assert holds(both, value) == (holds(one, value) and holds(other, value))
        assert holds(rest, value) != holds(one, value)
    assert is_empty(meet(axis, one, rest))
    assert complement(axis, rest) == meet(axis, one, whole(axis))


def test_a_missing_point_between_two_open_ends_is_a_gap_of_exactly_that_point():
    boxes = ((Numbers((span(0, 40, "[)"),)),), (Numbers((span(40, 100, "(]"),)),))
    assert uncovered((TEMPERATURE,), boxes) == ((Numbers((span(40, 40),)),),)


def test_two_closed_ends_at_one_number_overlap_in_exactly_that_point():
    boxes = ((Numbers((span(0, 40),)),), (Numbers((span(40, 100),)),))
    assert tuple(overlaps((TEMPERATURE,), boxes)) == ((0, 1, (Numbers((span(40, 40),)),)),)


def test_a_number_that_may_be_absent_leaves_the_absent_answer_as_a_gap():
    axis = NumberAxis(0.0, 100.0, may_be_absent=True)
    assert uncovered((axis,), ((Numbers((span(0, 100),)),),)) == ((Numbers((), absent=True),),)


def test_ids_with_the_same_gap_are_told_in_one_box():
    boxes = tuple((Choices((liner,)), Numbers((span(0, 40),))) for liner in LINER.ids)
    assert uncovered((LINER, TEMPERATURE), boxes) == ((Choices(LINER.ids), Numbers((span(40, 100, "(]"),))),)


def chemistry(media: int, liners: int, seed: int):
    """About media x 4 x liners rows, and one of them left out."""
    draw = random.Random(seed)
    chosen = (ChoiceAxis(tuple(f"m{i}" for i in range(media))), NumberAxis(0.0, 100.0, True),
              NumberAxis(-20.0, 200.0), ChoiceAxis(tuple(f"l{i}" for i in range(liners))))
    rows = []
    for medium in chosen[0].ids:
        cuts = [0, *sorted(draw.sample(range(5, 95), 1)), 100]
        for place, (low, high) in enumerate(zip(cuts, cuts[1:], strict=False)):
            hot = sorted(draw.sample(range(30, 150, 5), 2))
            for start, end in ((-20, hot[0]), (hot[0], hot[1])):
                for liner in chosen[3].ids:
                    shares = Numbers((span(low, high, "[]" if place == 0 else "(]"),))
                    heat = Numbers((span(start, end, "[]" if start == -20 else "(]"),))
                    rows.append((Choices((medium,)), shares, heat, Choices((liner,))))
    return chosen, tuple(rows)


def test_a_chemistry_table_of_two_thousand_rows_is_checked_in_under_a_second_and_a_half():
    chosen, rows = chemistry(80, 7, seed=1)
    assert len(rows) == 2240
    start = time.process_time()
    gaps, pairs = uncovered(chosen, rows), list(overlaps(chosen, rows))
    assert time.process_time() - start < 1.5
    assert pairs == [] and gaps
    assert uncovered(chosen, (*rows, *gaps)) == () and not list(overlaps(chosen, (*rows, *gaps)))


def test_a_random_table_of_five_hundred_rows_and_five_columns_is_checked_in_under_a_second():
    draw = random.Random(7)
    chosen = (NumberAxis(0.0, 1.0), NumberAxis(0.0, 1.0), NumberAxis(0.0, 1.0), ChoiceAxis(tuple("abcdef")),
              ChoiceAxis(tuple("wxyz")))
    leaves = [tuple(whole(axis) for axis in chosen)]
    while len(leaves) < 500:
        leaf = leaves.pop(draw.randrange(len(leaves)))
        axis = draw.randrange(5)
        one = leaf[axis]
        if isinstance(one, Choices):
            if len(one.ids) < 2:
                leaves.append(leaf)
                continue
            parts = (Choices(one.ids[:1]), Choices(one.ids[1:]))
        else:
            (only,) = one.spans
            middle = draw.uniform(only.low, only.high)
            parts = (Numbers((Span(only.low, only.low_in, middle, False),)),
                     Numbers((Span(middle, True, only.high, only.high_in),)))
        leaves += [(*leaf[:axis], part, *leaf[axis + 1:]) for part in parts]
    start = time.process_time()
    assert uncovered(chosen, leaves) == () and not list(overlaps(chosen, leaves))
    without = leaves[:100] + leaves[101:]
    assert uncovered(chosen, without) == (leaves[100],)
    assert time.process_time() - start < 1.0


@pytest.mark.parametrize("rows", [6, 12])
def test_a_small_table_is_checked_in_under_ten_milliseconds(rows):
    boxes = [(Choices((LINER.ids[i % 3],)), Numbers((span(10 * i, 10 * i + 5),))) for i in range(rows)]
    start = time.process_time()
    uncovered((LINER, TEMPERATURE), boxes)
    list(overlaps((LINER, TEMPERATURE), boxes))
    assert time.process_time() - start < 0.01
