"""Gives back the set that a typed answer stands for, and how it was understood; or what to type instead.

`80 degC`, `60 to 80 degC`, `pfa`, `PFA or PTFE`, `not applicable`, `not answered`. Units are case-sensitive,
choices are not. Twin of browser/engine/reading.js.
"""

from __future__ import annotations

from dataclasses import dataclass

from generator.answers import faults
from generator.answers.figures import (LISTED, Fault, Figure, OtherUnit, example, read_number, read_unit,
                                       split_figure, with_unit)
from generator.answers.wording import nearest, shown, squeeze
from generator.evaluate.numbers import plain_text
from generator.evaluate.results import Answer, ChoiceSet, NumberSet
from generator.pack.model import NOT_APPLICABLE, Conversion, Input, Option

BLANK = "not answered"
ABSENT = "not applicable"
UNLISTED = "unlisted"                # the option for what the guide does not hold
_FALSE_FRIENDS = {"yes": "yes", "y": "yes", "true": "yes", "on": "yes",
                  "no": "no", "n": "no", "false": "no", "off": "no"}


@dataclass(frozen=True, slots=True)
class Understood:
    """`text` is the answer in the input's own unit or ids; `answer` is None where nothing was answered."""

    text: str
    answer: Answer | None


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
    begin, between, end = typed.partition(" to ")
    if between:
        return _read_between(item, typed, split_figure(begin), split_figure(end), inputs, other_unit)
    figure = split_figure(typed)
    if figure is None:
        return Fault(faults.NOT_A_NUMBER, f"'{shown(typed)}' is not a number with its unit",
                     f"write it like `{example(item)}`")
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
        return Fault(faults.NOT_A_NUMBER, f"'{shown(typed)}' does not name two numbers",
                     f"write the two ends as `{plain_text(item.low)} to {example(item)}`")
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


def _with_note(text: str, conversion: Conversion) -> str:
    return f"{text} ({conversion.note})" if conversion.note else text


def _read_choice(item: Input, typed: str) -> Understood | Fault:
    parts = typed.split(" or ")
    chosen: set[str] = set()
    at = 0
    while at < len(parts):
        # The longest name first: a title may hold the word `or` itself.
        for end in range(len(parts), at, -1):
            name = " or ".join(parts[at:end])
            found = _find_options(item, name)
            if found:
                break
        else:
            return _unknown_choice(item, parts[at])
        if len(found) > 1:
            return Fault(faults.UNCLEAR_CHOICE, f"'{shown(name)}' may mean {' or '.join(found)}",
                         f"type {' or '.join(f'`{option}`' for option in found)}")
        if _is_yes_or_no(item) and name.lower() in _FALSE_FRIENDS and name not in ("yes", "no", "Yes", "No"):
            return Fault(faults.YES_OR_NO, f"'{shown(name)}' is not written as yes or no",
                         f"type `{found[0]}`")
        chosen.add(found[0])
        at = end
    ids = tuple(name for name in (*(option.id for option in item.options), NOT_APPLICABLE) if name in chosen)
    return Understood(" or ".join(ABSENT if name == NOT_APPLICABLE else name for name in ids), ChoiceSet(ids))


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
    """Unknown words: the nearest id, or all ids where they are few; and the way out if the guide has none."""
    spellings = [(spelling, option) for option in item.options for spelling in (option.id, *option.spellings)]
    near = nearest(name, [spelling for spelling, _ in spellings])
    ids = [option.id for option in item.options]
    if near is not None:
        advice = f"did you mean `{_first_named(spellings, near).id}`?"
    elif len(ids) <= LISTED:
        advice = f"type one of: {', '.join(f'`{option}`' for option in ids)}"
    else:
        advice = f"type an id or a name that the guide lists for '{item.id}'"
    if UNLISTED in ids:
        joint = " For" if near is not None else "; for"
        advice += f"{joint} one that the guide does not hold type `{UNLISTED}`"
    return Fault(faults.UNKNOWN_CHOICE, f"'{shown(name)}' is not a choice of '{item.id}'", advice)


def _first_named(spellings: list[tuple[str, Option]], name: str) -> Option:
    return next(option for spelling, option in spellings if spelling == name)
