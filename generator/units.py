"""Gives back exact conversions between units, and their dimensions. The only place where pint is used.

A conversion is three whole numbers: a value x of one unit is (x*n + k)/d of the other. They are taken from
exact fractions and compared with pint's floating-point answer, so that 32 degF is 0 degC and not 5e-13. Gauge
and absolute pressure are different quantities with one dimension: from gauge to gauge, or absolute to
absolute, is only a factor.
"""

from __future__ import annotations

import re
from fractions import Fraction
from functools import cache

import pint

CLOSE = 1e-12                        # relative: how well the exact and the floating-point way have to agree
LARGEST = 2**53                      # JSON numbers of this size and below reach the browser without loss

Dimension = tuple[tuple[str, Fraction], ...]      # (("[length]", 3), ("[time]", -1)); empty: a plain number


class UnitFault(ValueError):
    """Units that pint does not know, or that measure different things; the message says which."""


def dimension(pint_text: str) -> Dimension:
    """The powers of base dimensions in a unit, sorted; raises UnitFault for what pint does not know."""
    return tuple(sorted((name, Fraction(power))
                 for name, power in _unit(pint_text).dimensionality.items() if power))


def same_dimension(one: str, other: str) -> bool:
    """Yes when both units measure the same kind of thing; raises UnitFault for what pint does not know."""
    return dimension(one) == dimension(other)


@cache
def conversion(from_pint: str, to_pint: str) -> tuple[int, int, int]:
    """(n, k, d) in lowest terms with d > 0, so that x of the first unit is (x*n + k)/d of the second.

    Raises UnitFault where pint does not know a unit, where dimensions differ, or where the relation is not a
    straight line of whole numbers.
    """
    if not same_dimension(from_pint, to_pint):
        raise UnitFault(f"'{from_pint}' and '{to_pint}' do not measure the same thing")
    at_0, at_1, at_2 = (_exactly(x, from_pint, to_pint) for x in (0, 1, 2))
    slope = at_1 - at_0
    if not slope or at_2 - at_1 != slope:
        raise UnitFault(f"'{from_pint}' does not become '{to_pint}' by a factor and an offset")
    d = slope.denominator * at_0.denominator // _common(slope.denominator, at_0.denominator)
    n, k = int(slope * d), int(at_0 * d)
    if max(abs(n), abs(k), d) > LARGEST:     # pi hides in such a factor: it is not exact in the first place
        raise UnitFault(f"'{from_pint}' does not become '{to_pint}' by a ratio of short whole numbers")
    _compare_with_floats(from_pint, to_pint, slope, at_0)
    return n, k, d


def any_spelling(text: str, to_pint: str) -> tuple[int, int, int] | None:
    """The conversion of a unit that a person typed and only pint knows, or None; never raises.

    Left out on purpose: pressures (pint cannot tell gauge from absolute), plain numbers (nor mass from volume parts),
    and a temperature scale where a difference is wanted. `C` is pint's coulomb and falls out by its dimension.
    """
    try:
        wanted = dimension(to_pint)
        if not wanted or wanted == dimension("pascal") or dimension(text) != wanted:
            return None
        n, k, d = conversion(text, to_pint)
    except UnitFault:
        return None
    is_scale = conversion(to_pint, "kelvin")[1] != 0 if wanted == dimension("kelvin") else False
    return (n, k, d) if k == 0 or is_scale else None


# private

# Names joined by * and /, with powers of one digit: what a person types as a unit. Anything else never
# reaches pint, which would begin to compute 9**9**9.
_NAME = r"[^\W\d_][\w°]*"
_POWER = r"(?:\s*(?:\*\*|\^)\s*-?[1-9])?"
_WORDS = re.compile(rf"(?:1\s*/\s*)?{_NAME}{_POWER}(?:\s*[*/·]\s*{_NAME}{_POWER}|\s+{_NAME}{_POWER})*")


@cache
def _exact() -> pint.UnitRegistry:
    return pint.UnitRegistry(non_int_type=Fraction, cache_folder=None)


@cache
def _floating() -> pint.UnitRegistry:
    return pint.UnitRegistry(cache_folder=None)


@cache
def _unit(pint_text: str) -> pint.Unit:
    if len(pint_text) > 120 or not _WORDS.fullmatch(pint_text):
        raise UnitFault(
            f"'{pint_text[:60]}' is not written as names of units joined by * and /, with powers like **3")
    try:
        return _exact().Unit(pint_text)
    except Exception as fault:       # pint raises a dozen unrelated classes on texts it cannot take apart
        raise UnitFault(f"pint knows no unit '{pint_text}'") from fault


def _exactly(x: int, from_pint: str, to_pint: str) -> Fraction:
    try:
        return Fraction(_exact().Quantity(Fraction(x), _unit(from_pint)).to(_unit(to_pint)).magnitude)
    except Exception as fault:       # as above; offset units in products and logarithmic units among them
        raise UnitFault(f"pint cannot convert '{from_pint}' to '{to_pint}'") from fault


def _common(one: int, other: int) -> int:
    while other:
        one, other = other, one % other
    return one


def _compare_with_floats(from_pint: str, to_pint: str, slope: Fraction, offset: Fraction) -> None:
    floating = _floating()
    for x in (1.0, 7.25, 1234.5):
        theirs = floating.Quantity(x, floating.Unit(from_pint)).to(floating.Unit(to_pint)).magnitude
        ours = float(Fraction(x) * slope + offset)
        size = max(abs(ours), abs(float(offset)), abs(x * float(slope)))
        if abs(ours - theirs) > CLOSE * size:
            raise UnitFault(
                f"'{from_pint}' to '{to_pint}': exactly {ours}, but {theirs} by pint's floating-point way")
