"""Gives back numbers of at most 12 significant digits, rounded by one rule, and their plain text.

The rule: the exact value of the binary number (or of the fraction) is rounded to 12 significant digits, a
half away from zero. Twin of browser/engine/numbers.js.
"""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Context, Decimal

DIGITS = 12


def round_to_12(x: float) -> float:
    """`x` rounded to 12 significant digits; zero has no sign; what is not finite stays as it is."""
    if "5" in f"{x:.12e}"[13:15]:
        # The thirteenth digit is a five: perhaps an exact tie, which formatting would round to the even
        # digit.
        return _round_exactly(x)
    return float(f"{x:.11e}") + 0.0


def fraction_to_12(numerator: int, denominator: int) -> float:
    """The fraction rounded to 12 significant digits. The denominator is more than zero.

    Its size must stay within what a float can hold (1e-300 to 1e300 in size, or zero).
    """
    size = abs(numerator)
    if size == 0:
        return 0.0
    power = DIGITS + len(str(denominator)) - len(str(size))
    digits = _rounded_quotient(size, denominator, power)
    if digits >= 10 ** DIGITS:                       # one digit too many: the guess of the power was high
        power -= 1
        digits = _rounded_quotient(size, denominator, power)
    return float(f"{'-' if numerator < 0 else ''}{digits}e{-power}")


def plain_text(x: float) -> str:
    """The shortest decimal that is `x`, without an exponent: `40`, `0.000012`, `-2.5`. `x` is finite."""
    text = format(Decimal(repr(x)), "f")
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


# private

def _round_exactly(x: float) -> float:
    return float(Context(prec=DIGITS, rounding=ROUND_HALF_UP).create_decimal_from_float(x)) + 0.0


def _rounded_quotient(size: int, denominator: int, power: int) -> int:
    """size / denominator * 10**power as a whole number, a half away from zero."""
    if power >= 0:
        size *= 10 ** power
    else:
        denominator *= 10 ** -power
    return (2 * size + denominator) // (2 * denominator)
