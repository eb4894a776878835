"""Gives back a typed number with its unit as a number of an input's own unit, exactly converted.

`104 degF` becomes 40 for an input in degC: the decimal text is taken as an exact fraction, the conversion is
one of whole numbers, and only the result is rounded, to 12 significant digits.
Twin of browser/engine/figures.js.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass

from generator.answers import faults
from generator.answers.wording import nearest, shown
from generator.evaluate.numbers import fraction_to_12, plain_text
from generator.pack.model import Conversion, Input

OtherUnit = Callable[[str, str], tuple[int, int, int] | None]
MOST_DIGITS = 12
LARGEST_POWER = 99                   # of ten: no quantity of the trade needs more
LISTED = 12                          # units or choices that a message lists

_WIDE = 1000.0                       # a range that ends here or beyond spans several powers of ten
_NUMBER = re.compile(r"(-?)(0|[1-9][0-9]*)(?:\.([0-9]+))?(?:[eE]([+-]?[0-9]+))?")
_FIGURE = re.compile(r"([-+]?[.,]?[0-9][0-9.,'_]*(?:[eE][+-]?[0-9]+)?) ?(.*)", re.DOTALL)
_GROUPED = re.compile(r"-?[0-9]{1,3}(,[0-9]{3})+(\.[0-9]+)?")
_PADDED = re.compile(r"(-?)0+([0-9].*)", re.DOTALL)
_DIGIT = re.compile(r"[0-9]")
_SECOND_END = re.compile("[-\u2013\u2014] ?([0-9].*)", re.DOTALL)


@dataclass(frozen=True, slots=True)
class Fault:
    """Why an answer was not understood, and what to type instead; both on one line."""

    code: str
    message: str
    fix: str


@dataclass(frozen=True, slots=True)
class Figure:
    """A number with its unit as typed: the number's text, and the unit's, which may be empty."""

    number: str
    unit: str


def split_figure(text: str) -> Figure | None:
    """The number and the unit of a squeezed text; None if it does not begin with a number."""
    found = _FIGURE.fullmatch(text)
    return None if found is None else Figure(found[1], found[2])


def read_unit(item: Input, unit: str, typed: str, inputs: tuple[Input, ...],
              other_unit: OtherUnit | None) -> Conversion | Fault:
    """How a typed unit becomes the input's own, or why not. `inputs` are all, to know others' units."""
    for conversion in item.conversions:
        if conversion.spelling == unit:
            return conversion
    for refusal in item.refusals:
        if refusal.spelling == unit:
            return Fault(faults.REFUSED_UNIT, f"the unit '{shown(unit)}' is not taken here", refusal.ask)
    if unit == "":
        if item.unit == "1":
            return Conversion("", 1, 0, 1)
        return Fault(faults.MISSING_UNIT, f"'{shown(typed)}' has no unit",
                     f"write `{shown(typed)} {item.unit}`")
    found = other_unit(unit, item.unit) if other_unit is not None else None
    if found is not None:
        return Conversion(unit, *found)
    for other in inputs:
        if any(conversion.spelling == unit for conversion in other.conversions):
            return Fault(faults.OTHER_QUANTITY,
                         f"'{shown(unit)}' is a unit of '{other.id}', not of '{item.id}'",
                         f"use one of: {_units(item)}")
    spellings = [conversion.spelling for conversion in item.conversions]
    near = nearest(unit, spellings)
    return Fault(faults.UNKNOWN_UNIT, f"'{shown(unit)}' is not a known unit of '{item.id}'",
                 f"did you mean `{near}`?" if near is not None else f"use one of: {_units(item)}")


def read_number(item: Input, figure: Figure, conversion: Conversion) -> float | Fault:
    """The number in the input's unit, within its range; or what is wrong with it."""
    typed = f"{figure.number} {figure.unit}".strip(" ")
    found = _NUMBER.fullmatch(figure.number)
    if found is None:
        return _misspelt(figure)
    second = _SECOND_END.fullmatch(figure.unit)
    if second is not None:
        return Fault(faults.NOT_A_NUMBER,
                     f"'{shown(figure.number + figure.unit)}' joins two numbers by a dash",
                     f"write `{shown(f'{figure.number} to {second[1]}')}`")
    if _DIGIT.match(figure.unit):
        return Fault(faults.THOUSANDS, f"'{shown(typed)}' has a space within the number",
                     f"write `{shown(figure.number + figure.unit)}`")
    sign, whole, decimals, power = found[1], found[2], found[3] or "", (found[4] or "0").lstrip("+")
    digits = (whole + decimals).lstrip("0").rstrip("0")
    if len(digits) > MOST_DIGITS:
        return Fault(faults.TOO_MANY_DIGITS, f"'{shown(typed)}' has {len(digits)} significant digits",
                     f"round it to {MOST_DIGITS} digits or fewer")
    shift = _shift(whole, decimals, power)
    if digits and abs(shift) > LARGEST_POWER:
        return Fault(faults.NOT_A_NUMBER, f"'{shown(typed)}' is beyond every quantity that is asked for here",
                     f"write a number like `{example(item)}`")
    size = int(digits or "0")
    numerator, denominator = (size * 10 ** shift, 1) if shift > 0 else (size, 10 ** -shift if digits else 1)
    numerator = -numerator if sign else numerator
    value = fraction_to_12(numerator * conversion.n + denominator * conversion.k, denominator * conversion.d)
    if item.low <= value <= item.high:
        return value
    own = with_unit(plain_text(value), item.unit)
    limits = with_unit(f"{plain_text(item.low)} to {plain_text(item.high)}", item.unit)
    same = (conversion.n, conversion.k, conversion.d) == (1, 0, 1)
    converted = "" if same else f"is {own}, which "
    return Fault(faults.OUTSIDE_RANGE, f"'{shown(typed)}' {converted}is outside {limits}",
                 f"type a value from {limits}")


def example(item: Input) -> str:
    """An answer that the input accepts and that someone may well type: a round number in the lower part of its range."""
    power = 0
    while float(f"1e{power + 1}") <= item.high:
        power += 1
    # Of a wide range the middle in powers of ten: 100 m3/h of 0 to 10000 m3/h.
    middle, low = float(f"1e{(power + 1) // 2}"), max(item.low, 0.0)
    about = middle if item.high >= _WIDE and middle >= low else low + (item.high - low) / 4
    rounded = [value for at in range(-6, power + 1) for first in (1, 2, 5)
               if item.low <= (value := float(f"{first}e{at}")) <= about]
    return with_unit(plain_text(rounded[-1] if rounded else item.high), item.unit)


def upper_end(item: Input) -> str:
    """The last answer that the input accepts."""
    return with_unit(plain_text(item.high), item.unit)


def with_unit(text: str, unit: str) -> str:
    """The text and its unit; a plain number has none."""
    return text if unit == "1" else f"{text} {unit}"


# private

def _misspelt(figure: Figure) -> Fault:
    """The fault of a text that begins like a number and is not written as one."""
    number, unit = figure.number, figure.unit
    typed = f"{number} {unit}".strip(" ")

    def write(*numbers: str) -> str:
        shown_numbers = [f"`{shown(f'{fixed} {unit}'.strip(' '))}`" for fixed in numbers]
        return f"write {', or '.join(shown_numbers)}"

    if _GROUPED.fullmatch(number):
        joined = number.replace(",", "")
        unclear = number.count(",") == 1 and "." not in number
        return Fault(faults.THOUSANDS, f"'{shown(typed)}' has a comma, which may part thousands or decimals",
                     write(joined, number.replace(",", ".")) if unclear else write(joined))
    if number.count(",") == 1 and "." not in number:
        return Fault(faults.DECIMAL_COMMA, f"'{shown(typed)}' has a decimal comma",
                     write(_plain(number.replace(",", "."))))
    if any(sign in number for sign in ",'_") or number.count(".") > 1:
        return Fault(faults.THOUSANDS, f"'{shown(typed)}' has marks between its digits",
                     "write the digits without marks, and a point before decimals")
    if _PADDED.fullmatch(number) and not number.endswith("."):
        return Fault(faults.LEADING_ZERO, f"'{shown(typed)}' begins with a zero that says nothing",
                     write(_plain(number)))
    return Fault(faults.NOT_A_NUMBER, f"'{shown(typed)}' is not written as a number", write(_plain(number)))


def _plain(number: str) -> str:
    """The number without a plus, with digits on both sides of its point, without needless zeros in front."""
    number = number.lstrip("+")
    sign, number = ("-", number[1:]) if number.startswith("-") else ("", number)
    mantissa, mark, power = number.lower().partition("e")
    whole, _, decimals = mantissa.partition(".")
    whole = whole.lstrip("0") or "0"
    return f"{sign}{whole}{'.' if decimals else ''}{decimals}{mark}{power}"


def _shift(whole: str, decimals: str, power: str) -> int:
    """The power of ten that belongs to the significant digits of whole.decimals, as far as it matters."""
    trailing = len(whole + decimals) - len((whole + decimals).rstrip("0"))
    negative = power.startswith("-")
    figures = power.lstrip("-").lstrip("0")
    raised = 10 * LARGEST_POWER if len(figures) > 3 else int(figures or "0")
    return (-raised if negative else raised) - len(decimals) + trailing


def _units(item: Input) -> str:
    spellings = [conversion.spelling for conversion in item.conversions]
    listed = ", ".join(f"`{spelling}`" for spelling in spellings[:LISTED])
    return listed + (", ..." if len(spellings) > LISTED else "")
