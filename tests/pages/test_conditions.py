"""The reader of printed conditions knows its language, and refuses what has two meanings or none."""

from __future__ import annotations

import math

import pytest

from tests.pages.conditions import (
    Anything,
    Choices,
    Names,
    Numbers,
    Span,
    Unreadable,
    read_choice_condition,
    read_number_condition,
)

INFINITE = math.inf
LINERS = Choices(
    {"PFA": "pfa", "PTFE": "ptfe", "Brine, with chlorine": "brine", "Bromine or iodine": "halogen"},
    {
        "pfa": frozenset(("fluoropolymer",)),
        "ptfe": frozenset(("fluoropolymer",)),
        "brine": frozenset(),
        "halogen": frozenset(),
    },
)
SIZES = Choices({"DN 40": "dn40", "DN 25": "dn25", "DN 15": "dn15", "DN 150": "dn150"}, {},
                ("dn15", "dn25", "dn40", "dn150"))


@pytest.mark.parametrize(
    ("text", "spans", "absent"),
    [
        ("above 40 up to 60 °C", [Span(40, False, 60, True)], False),
        ("from -40 and below -20 °C", [Span(-40, True, -20, False)], False),
        ("from 1 up to 3 m/s", [Span(1, True, 3, True)], False),
        ("-20 °C or more", [Span(-20, True, INFINITE, False)], False),
        ("above 1", [Span(1, False, INFINITE, False)], False),
        (
            "below 0.033 mass %, above 0.85 mass % or not applicable",
            [Span(-INFINITE, False, 0.033, False), Span(0.85, False, INFINITE, False)],
            True,
        ),
        (
            "below 1 m/s or 3 m/s or more",
            [Span(-INFINITE, False, 1, False), Span(3, True, INFINITE, False)],
            False,
        ),
        ("exactly 1", [Span(1, True, 1, True)], False),
        ("not applicable", [], True),
    ],
)
def test_a_condition_on_a_number_is_read_as_spans(text: str, spans: list[Span], absent: bool) -> None:
    found = read_number_condition(text)
    assert isinstance(found, Numbers)
    assert (list(found.spans), found.absent) == (spans, absent)


@pytest.mark.parametrize(("text", "ids"), [
    ("PFA", {"pfa"}),
    ("PFA, PTFE or Bromine or iodine", {"pfa", "ptfe", "halogen"}),
    ("Brine, with chlorine or PFA", {"brine", "pfa"}),
    ("any but PFA or PTFE", {"brine", "halogen"}),
    ("any candidate flagged fluoropolymer", {"pfa", "ptfe"}),
    ("any medium not flagged fluoropolymer", {"brine", "halogen"}),
    ("PFA or not applicable", {"pfa", "not_applicable"}),
])
def test_a_condition_on_a_choice_is_read_as_ids(text: str, ids: set[str]) -> None:
    assert read_choice_condition(text, LINERS) == Names(frozenset(ids))


def test_sizes_are_read_in_the_order_of_their_bores() -> None:
    assert read_choice_condition("DN 15 to DN 40 or DN 150", SIZES) == Names(frozenset(SIZES.by_bore))


def test_any_is_no_condition() -> None:
    assert read_number_condition("any") == read_choice_condition("any", LINERS) == Anything()


@pytest.mark.parametrize(
    "text", ["PVC", "PFA and PTFE", "any but", "any medium flagged sour", "PFA, PTFE", ""]
)
def test_a_choice_that_means_nothing_is_refused(text: str) -> None:
    with pytest.raises(Unreadable):
        read_choice_condition(text, LINERS)


@pytest.mark.parametrize("text", ["<= 40 °C", "about 40 °C", "up to", "up to 4O °C", "above 40 to 60 °C", ""])
def test_a_number_that_means_nothing_is_refused(text: str) -> None:
    with pytest.raises(Unreadable):
        read_number_condition(text)


def test_a_list_with_two_meanings_is_refused() -> None:
    choices = Choices({"A": "a", "B": "b", "A or B": "pair"}, {})
    with pytest.raises(Unreadable):
        read_choice_condition("A or B", choices)
