"""Compares the rounding of both engines on random numbers, exact ties and fractions."""

from __future__ import annotations

import random
import struct
from decimal import ROUND_HALF_UP, Context, Decimal
from fractions import Fraction

import pytest

from generator.evaluate.numbers import fraction_to_12, plain_text, round_to_12
from tests.engine.twin import Twin

EXACT = Context(prec=12, rounding=ROUND_HALF_UP)


def draw_numbers(seed: int, count: int) -> list[float]:
    """Plain magnitudes, whole bit patterns, and numbers made to be exact ties at the twelfth digit."""
    rng = random.Random(seed)
    drawn: list[float] = [0.0, -0.0, 2.5, 1234567.890625, -1234567.890625, 999999999999.5, 5e-324,
                          1.7976931348623157e308]
    while len(drawn) < count:
        drawn.append(rng.choice((-1, 1)) * rng.uniform(1, 10) * 10 ** rng.randint(-15, 15))
        bits = struct.unpack("<d", rng.randbytes(8))[0]
        if bits == bits and abs(bits) != float("inf"):
            drawn.append(bits)
        places = rng.randint(0, 12)                  # often 13 digits that end in a five
        whole = rng.randrange(10 ** (12 - places), 10 ** (13 - places))
        drawn.append(rng.choice((-1, 1)) * (whole + rng.randrange(2 ** min(places, 12)) / 2 ** places))
    return drawn[:count]


def test_round_to_12_agrees_with_decimal_on_exact_values_and_ties() -> None:
    numbers = draw_numbers(1, 60_000)
    ties = [x for x in numbers if len(Decimal(x).normalize().as_tuple().digits) == 13]
    assert len(ties) > 1_000
    for x in numbers:
        assert round_to_12(x) == float(EXACT.create_decimal_from_float(x)), x


def test_round_to_12_gives_the_same_number_in_both_engines(twin: Twin) -> None:
    numbers = draw_numbers(2, 120_000)
    theirs = twin.batch("numbers", "roundTo12", [(x,) for x in numbers])
    assert [x for x, y in zip(numbers, theirs) if round_to_12(x) != float(y)] == []


def test_round_to_12_gives_zero_without_a_sign() -> None:
    assert str(round_to_12(-0.0)) == "0.0"


def test_fraction_to_12_gives_the_same_number_in_both_engines_and_is_the_nearest(twin: Twin) -> None:
    rng = random.Random(3)
    drawn = [(rng.randrange(-10 ** rng.randint(1, 25), 10 ** rng.randint(1, 25)),
              rng.randrange(1, 10 ** rng.randint(1, 20))) for _ in range(20_000)]
    drawn += [(sign * (2 * rng.randrange(10 ** 11, 10 ** 12) + 1), 2 * 10 ** rng.randint(0, 8))
              for sign in (-1, 1) for _ in range(2_000)]
    drawn += [(0, 7), (9999999999995, 10), (-9999999999995, 10), (1, 3)]
    theirs = twin.batch("numbers", "fractionTo12", [({"$big": str(n)}, {"$big": str(d)}) for n, d in drawn])
    for (numerator, denominator), other in zip(drawn, theirs):
        mine = fraction_to_12(numerator, denominator)
        assert mine == float(other), (numerator, denominator)
        exact = Fraction(numerator, denominator)
        digits = EXACT.divide(Decimal(numerator), Decimal(denominator))
        assert abs(Fraction(mine) - exact) <= abs(exact) * Fraction(6, 10 ** 12)
        if len(str(abs(numerator))) < 12 and denominator < 10 ** 12:
            assert mine == float(digits)


def test_plain_text_gives_the_same_text_in_both_engines_and_reads_back_as_the_number(twin: Twin) -> None:
    numbers = [round_to_12(x) for x in draw_numbers(4, 20_000) if abs(x) < 1e300]
    theirs = twin.batch("numbers", "plainText", [(x,) for x in numbers])
    for x, other in zip(numbers, theirs):
        assert plain_text(x) == other
        assert float(other) == x
        assert "e" not in other


@pytest.mark.parametrize(("number", "text"), [
    (40.0, "40"), (0.000012, "0.000012"), (-2.5, "-2.5"), (-0.0, "0"), (1e21, "1000000000000000000000"),
    (1.5e-9, "0.0000000015"), (1e16, "10000000000000000")])
def test_plain_text_has_no_exponent(number: float, text: str) -> None:
    assert plain_text(number) == text
