"""Holds what the guide makes of a typed quantity against our own conversions: read rightly, or asked about in its own terms."""

from __future__ import annotations

from pathlib import Path

import pytest
import yaml

from generator.answers.reading import Understood, read_answer
from tests.outside.shipped import shipped_input, single, understood

SHEET = yaml.safe_load((Path(__file__).parent / "typed_units.yml").read_text("utf-8"))


def lines(part: str) -> list[tuple[str, str, object]]:
    return [(name, typed, expected) for name, row in SHEET[part].items() for typed, expected in row.items()]


@pytest.mark.parametrize(("name", "typed", "expected"), lines("read"))
def test_a_quantity_is_read_as_our_own_conversion_says(name: str, typed: str, expected: float) -> None:
    assert single(understood(name, typed)) == pytest.approx(expected, rel=1e-5)


@pytest.mark.parametrize(("name", "typed", "expected"), lines("chosen"))
def test_a_size_is_known_by_the_mark_of_the_inch(name: str, typed: str, expected: str) -> None:
    assert understood(name, typed) == understood(name, expected)


@pytest.mark.parametrize(("name", "typed", "asks"), lines("asked"))
def test_what_may_mean_two_things_is_asked_and_never_guessed(name: str, typed: str, asks: str) -> None:
    read = read_answer(shipped_input(name), typed)
    assert not isinstance(read, Understood)
    assert asks in read.fix
