"""A region is told so that a reader can tell it from every other region."""

from __future__ import annotations

import pytest
from hypothesis import given, settings, strategies as st

from generator.boxes.sets import ChoiceAxis, Choices, NumberAxis, Numbers, Span
from generator.boxes.words import AxisWords, describe, describe_set, plain
from tests.boxes.random_tables import sets_on, tables

LINER = ChoiceAxis(("pfa", "ptfe", "epdm", "neoprene"))
LINER_WORDS = AxisWords("liner", titles={"pfa": "PFA", "ptfe": "PTFE", "epdm": "EPDM"})
HOT = NumberAxis(-20.0, 200.0)
HOT_WORDS = AxisWords("highest temperature", "°C")


def test_a_box_names_each_restricted_axis_with_its_unit():
    box = (Numbers((Span(40.0, False, 60.0, True),)), Choices(("pfa", "ptfe")))
    assert describe((HOT, LINER), box, (HOT_WORDS, LINER_WORDS)) == (
        "highest temperature above 40 up to 60 °C, liner PFA or PTFE")


def test_the_whole_space_is_everything():
    box = (Numbers((Span(-20.0, True, 200.0, True),)), Choices(LINER.ids))
    assert describe((HOT, LINER), box, (HOT_WORDS, LINER_WORDS)) == "everything"


def test_most_of_the_ids_are_told_by_what_is_missing():
    assert describe_set(LINER, Choices(("pfa", "ptfe", "neoprene")), LINER_WORDS) == "any but EPDM"


@pytest.mark.parametrize(("one", "told"), [
    (Span(-20.0, True, 40.0, True), "up to 40 °C"), (Span(-20.0, True, 40.0, False), "below 40 °C"),
    (Span(40.0, True, 200.0, True), "at least 40 °C"), (Span(40.0, False, 200.0, True), "above 40 °C"),
    (Span(40.0, True, 60.0, False), "from 40 to below 60 °C"), (Span(0.5, True, 0.5, True), "exactly 0.5 °C"),
])
def test_a_span_is_told_by_its_ends_and_what_belongs_to_them(one, told):
    assert describe_set(HOT, Numbers((one,)), HOT_WORDS) == told


def test_plain_numbers_have_no_exponent_and_no_idle_zero():
    assert [plain(x) for x in (1e-7, 1e21, 40.0, 0.25, 100.0)] == [
        "0.0000001", "1000000000000000000000", "40", "0.25", "100"]


@given(tables(most_rows=0), st.data())
@settings(max_examples=400, deadline=None)
def test_two_different_boxes_never_read_the_same(table, data):
    chosen, _ = table
    words = tuple(AxisWords(f"axis {place}", "mm") for place in range(len(chosen)))
    one, other = (data.draw(st.tuples(*(sets_on(axis) for axis in chosen))) for _ in range(2))
    assert (describe(chosen, one, words) == describe(chosen, other, words)) == (one == other)
