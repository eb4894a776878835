"""Gives back the set that a typed answer stands for, and how it was understood; or what to type instead.

`80 degC`, `60 to 80 degC`, `pfa`, `PFA or PTFE`, `not applicable`, `not answered`. Units are case-sensitive,
choices are not. Twin of browser/engine/reading.js.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass

from generator.answers import faults
from generator.answers.figures import (LISTED, Fault, Figure, OtherUnit, example, read_number, read_unit,
                                       split_figure, upper_end, with_unit)
from generator.answers.wording import longest_within, nearest, shown, squeeze
from generator.evaluate.numbers import plain_text
from generator.evaluate.results import Answer, ChoiceSet, NumberSet
from generator.pack.model import NOT_APPLICABLE, Conversion, Input, Option

BLANK = "not answered"
ABSENT = "not applicable"
UNLISTED = "unlisted"                # the option that a name is taken for which the guide does not hold
BORE = "nominal_bore"                # the number of an option that makes it a size
_ABOVE = (">=", ">", "\u2265", "above ", "over ", "more than ", "at least ")
_BELOW = ("<=", "<", "\u2264", "below ", "under ", "less than ", "at most ", "up to ")
_NUMBER_WITHIN = re.compile("(?:[ ~\u2248:(]|[A-Za-z]\\.)(-?[0-9].*)", re.DOTALL)
_TURNS = re.compile("[-\u2013\u2014!]|(?:^| )not? ")     # before a number: it would mean another one
_SIZE = re.compile("(?:dn ?)?([0-9]+(?:\\.[0-9]+)?)(?: ?mm)?")
_FALSE_FRIENDS = {"yes": "yes", "y": "yes", "true": "yes", "on": "yes",
                  "no": "no", "n": "no", "false": "no", "off": "no"}


@dataclass(frozen=True, slots=True)
class Understood:
    """`text` is the answer in the input's own unit or ids; `answer` is None where nothing was answered. `unknown`
    says of each name that was taken for `unlisted` what it might have meant."""

    text: str
    answer: Answer | None
    unknown: tuple[str, ...] = ()


def read_answer(item: Input, text: str, inputs: tuple[Input, ...] = (),
                other_unit: OtherUnit | None = None) -> Understood | Fault:
    """What a typed answer to `item` means.

    `inputs` are all inputs of the pack: a unit of another quantity is then named as such. `other_unit` gives
    the exact conversion (n, k, d) of a spelling that the vocabulary does not hold to a unit, or None.
    """
    typed = squeeze(text)
    if typed == "" or typed.lower() == BLANK:
        return Understood(BLANK, None)
    if typed.lower() == ABSENT:
        if not item.may_be_absent:
            return Fault(faults.NOT_ALLOWED, f"'{item.id}' always applies",
                         "type an answer, or leave it out if it is not known")
        absent = NumberSet((), True) if item.kind == "number" else ChoiceSet((NOT_APPLICABLE,))
        return Understood(ABSENT, absent)
    if item.kind == "choice":
        return _read_choice(item, typed)
    if " or " in typed:
        return Fault(faults.NOT_A_NUMBER, f"'{shown(typed)}' names several numbers",
                     "write the two ends between which it lies, like `60 to 80`, and the unit")
    one_end = _one_end(item, typed, inputs, other_unit)
    if one_end is not None:
        return one_end
    begin, between, end = typed.partition(" to ")
    if between:
        return _read_between(item, typed, split_figure(begin), split_figure(end), inputs, other_unit)
    figure = split_figure(typed)
    if figure is None:
        return Fault(faults.NOT_A_NUMBER, f"'{shown(typed)}' is not a number with its unit",
                     _fix_within(item, typed, inputs, other_unit) or f"write it like `{example(item)}`")
    number, conversion = _read_figure(item, figure, figure.number, inputs, other_unit)
    if isinstance(number, Fault):
        return number
    return Understood(_with_note(with_unit(plain_text(number), item.unit), conversion),
                      NumberSet(((number, number),)))


# private

def _read_figure(item: Input, figure: Figure, lacking: str, inputs: tuple[Input, ...],
                 other_unit: OtherUnit | None) -> tuple[float | Fault, Conversion]:
    """The number and how it was converted; `lacking` is what a missing unit has to follow.

    The faults of the number come first: what follows a space within a number looks like a unit.
    """
    none = Conversion("", 1, 0, 1)
    spelt = read_number(item, figure, none)
    if isinstance(spelt, Fault) and spelt.code != faults.OUTSIDE_RANGE:
        return spelt, none
    conversion = read_unit(item, figure.unit, lacking, inputs, other_unit)
    if isinstance(conversion, Fault):
        return conversion, none
    return read_number(item, figure, conversion), conversion


def _read_between(item: Input, typed: str, first: Figure | None, second: Figure | None,
                  inputs: tuple[Input, ...], other_unit: OtherUnit | None) -> Understood | Fault:
    if first is None or second is None:
        fix = _fix_within(item, typed, inputs, other_unit, " to ") if first is None else ""
        return Fault(faults.NOT_A_NUMBER, f"'{shown(typed)}' does not name two numbers",
                     fix or f"write the two ends as `{plain_text(item.low)} to {upper_end(item)}`")
    begin = Figure(first.number, first.unit or second.unit)
    low, _ = _read_figure(item, begin, typed, inputs, other_unit)
    if isinstance(low, Fault):
        return low
    high, conversion = _read_figure(item, second, second.number, inputs, other_unit)
    if isinstance(high, Fault):
        return high
    if low > high:
        turned = f"{second.number} {second.unit}" if first.unit and second.unit else second.number
        return Fault(faults.WRONG_WAY_ROUND, f"'{shown(typed)}' begins above its end",
                     f"write `{shown(f'{turned} to {begin.number} {begin.unit}')}`")
    ends = plain_text(low) if low == high else f"{plain_text(low)} to {plain_text(high)}"
    return Understood(_with_note(with_unit(ends, item.unit), conversion), NumberSet(((low, high),)))


def _one_end(item: Input, typed: str, inputs: tuple[Input, ...],
             other_unit: OtherUnit | None) -> Fault | None:
    """The fault of `> 60 degC` and the like, with the other end filled in; None for all else."""
    sign = next((one for one in (*_ABOVE, *_BELOW) if typed.lower().startswith(one)), None)
    figure = split_figure(typed[len(sign):].strip(" ")) if sign is not None else None
    if figure is None or " to " in figure.unit:
        return None
    own = figure.unit in ("", item.unit)
    number = figure.number if own else f"{figure.number} {figure.unit}"
    if sign in _ABOVE:
        ends = f"{number} to {upper_end(item)}"
    else:
        low = plain_text(item.low)
        ends = (f"{low} to {with_unit(number, item.unit)}" if own
                else f"{with_unit(low, item.unit)} to {number}")
    meant = read_answer(item, ends, inputs, other_unit)
    return Fault(faults.NOT_A_NUMBER, f"'{shown(typed)}' names one end only",
                 meant.fix if isinstance(meant, Fault) else
                 f"write `{shown(ends)}`, with the end of the range")


def _fix_within(item: Input, typed: str, inputs: tuple[Input, ...], other_unit: OtherUnit | None,
                joint: str = "") -> str:
    """What to type for `ca. 60 degC`: its own number; empty without one, or where it may mean another."""
    found = _NUMBER_WITHIN.search(typed)
    if found is None or joint not in found[1] or _TURNS.search(typed[:found.start(1)]):
        return ""
    meant = read_answer(item, found[1], inputs, other_unit)
    return meant.fix if isinstance(meant, Fault) else f"write it like `{shown(found[1])}`"


def _with_note(text: str, conversion: Conversion) -> str:
    return f"{text} ({conversion.note})" if conversion.note else text


def _read_choice(item: Input, typed: str) -> Understood | Fault:
    parts = typed.split(" or ")
    chosen: set[str] = set()
    unknown: list[str] = []
    at = 0
    while at < len(parts):
        # The longest name first: a title may hold the word `or` itself.
        end, name, found = next(
            ((end, name, found) for end in range(len(parts), at, -1)
             if (found := _find_options(item, name := " or ".join(parts[at:end])))), (at + 1, parts[at], []))
        if not found:
            if all(option.id != UNLISTED for option in item.options):
                return _unknown_choice(item, name)
            unknown.append(_not_held(item, name))
            found = [UNLISTED]
        if len(found) > 1:
            return Fault(faults.UNCLEAR_CHOICE, f"'{shown(name)}' may mean {' or '.join(found)}",
                         f"type {' or '.join(f'`{option}`' for option in found)}")
        if _is_yes_or_no(item) and name.lower() in _FALSE_FRIENDS and name not in ("yes", "no", "Yes", "No"):
            return Fault(faults.YES_OR_NO, f"'{shown(name)}' is not written as yes or no",
                         f"type `{found[0]}`")
        chosen.add(found[0])
        at = end
    ids = tuple(name for name in (*(option.id for option in item.options), NOT_APPLICABLE) if name in chosen)
    text = " or ".join(ABSENT if name == NOT_APPLICABLE else name for name in ids)
    return Understood(f"{text} ({'; '.join(unknown)})" if unknown else text, ChoiceSet(ids), tuple(unknown))


def _find_options(item: Input, name: str) -> list[str]:
    lower = name.lower()
    if item.may_be_absent and lower == ABSENT:
        return [NOT_APPLICABLE]
    exact = [option.id for option in item.options if option.id == lower]
    if exact:
        return exact
    if _is_yes_or_no(item) and lower in _FALSE_FRIENDS:
        return [_FALSE_FRIENDS[lower]]
    return [option.id for option in item.options if lower in option.spellings]


def _is_yes_or_no(item: Input) -> bool:
    ids = [option.id for option in item.options]
    return "yes" in ids and "no" in ids


def _unknown_choice(item: Input, name: str) -> Fault:
    """Unknown words: the nearest id, or all ids where they are few."""
    size = _size_advice(item, name)
    if size is not None:
        return Fault(faults.UNKNOWN_CHOICE, f"'{shown(name)}' is not a choice of '{item.id}'", size)
    near = _nearest_option(item, name)
    ids = [option.id for option in item.options]
    if near is not None:
        advice = f"did you mean `{near.id}`?"
    elif len(ids) <= LISTED:
        advice = f"type one of: {', '.join(f'`{option}`' for option in ids)}"
    else:
        advice = f"type an id or a name that the guide lists for '{item.id}'"
    return Fault(faults.UNKNOWN_CHOICE, f"'{shown(name)}' is not a choice of '{item.id}'", advice)


def _not_held(item: Input, name: str) -> str:
    """What is said of a name that is taken for `unlisted`: never the nearest, but named where one is near."""
    near = _nearest_option(item, name) or _nearest_option(item, name, longest_within)
    advice = "try its formula or its CAS number" if near is None else f"perhaps '{near.id}' is meant"
    return f"'{shown(name)}' is no name in this guide; {advice}"


def _nearest_option(item: Input, name: str, like: Callable[[str, list[str]], str | None] = nearest) -> Option | None:
    """The option with the spelling most like the name; None where none is like it."""
    spellings = [(spelling, option) for option in item.options for spelling in (option.id, *option.spellings)]
    near = like(name, [spelling for spelling, _ in spellings])
    return next((option for spelling, option in spellings if spelling == near), None)


def _size_advice(item: Input, name: str) -> str | None:
    """What to type for a size that is not there: the same size spelt well, else its neighbours; or None."""
    found = _SIZE.fullmatch(name.lower())
    sizes = sorted(((number, _size_name(option, number)) for option in item.options
                    for key, number in option.numbers if key == BORE), key=lambda size: size[0])
    if found is None or not sizes:
        return None
    bore = float(found[1])
    same = [size for number, size in sizes if number == bore]
    if same:
        return f"did you mean `{same[0]}`?"
    below = [size for number, size in sizes if number < bore]
    above = [size for number, size in sizes if number > bore]
    if not below:
        return f"the sizes begin at `{above[0]}`"
    if not above:
        return f"the sizes end at `{below[-1]}`"
    return f"type `{below[-1]}` or `{above[0]}`, the sizes next to it"


def _size_name(option: Option, bore: float) -> str:
    """`DN 80` where that is understood, else the id."""
    name = f"DN {plain_text(bore)}"
    return name if name.lower() in option.spellings else option.id
