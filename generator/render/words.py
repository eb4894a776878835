"""Gives back conditions, numbers and lists in words: `above 40 up to 60 °C`, `PFA, PTFE or ETFE`."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from generator.evaluate.numbers import plain_text
from generator.pack.model import NOT_APPLICABLE, ChoiceCell, Interval, NumberCell

ANY = "any"
ANY_NUMBER = "any number"
ANY_ANSWER = "any but not applicable"
_EXCEPTIONS_AT_MOST = 3  # "any but X, Y or Z" is easier to read than the other nine names
_NO_BREAK = "\u00a0"
_THIN = "\u202f"  # a narrow blank that no line breaks at


def number_text(value: float, unit_symbol: str = "") -> str:
    """A number with its unit; the unit 1 and no unit are not printed."""
    text = _grouped(plain_text(value)).replace("-", "\u2212", 1)
    return text if unit_symbol in ("", "1") else f"{text}{_NO_BREAK}{unit_symbol}"


def interval_text(interval: Interval, low: float, high: float, unit_symbol: str) -> str:
    """An interval in words; an end at or beyond `low` or `high`, the range of its column, is no limit."""
    below = interval.low > low or (interval.low == low and not interval.low_in)
    above = interval.high < high or (interval.high == high and not interval.high_in)
    if interval.low == interval.high:
        return f"exactly {number_text(interval.low, unit_symbol)}"
    if below and above:
        first = f"{'from' if interval.low_in else 'above'} {number_text(interval.low)}"
        joint = "up to" if interval.high_in else "and below"
        return f"{first} {joint} {number_text(interval.high, unit_symbol)}"
    if below:
        number = number_text(interval.low, unit_symbol)
        return f"{number} or more" if interval.low_in else f"above {number}"
    if above:
        number = number_text(interval.high, unit_symbol)
        return f"up to {number}" if interval.high_in else f"below {number}"
    return ANY


def number_cell_text(cell: NumberCell, low: float, high: float, unit_symbol: str, absent_words: str) -> str:
    """A number's condition in words. `absent_words` says what it means that there is no number.

    A condition that every number meets still asks for one: it is not the same as no condition.
    """
    parts = [interval_text(interval, low, high, unit_symbol) for interval in cell.intervals]
    if cell.absent:
        parts.append(absent_words)
    if ANY in parts:
        return ANY if cell.absent else ANY_NUMBER
    return joined(parts, "or") if parts else "never"


def limits(cell: NumberCell, low: float, high: float) -> tuple[float, ...]:
    """The numbers at which a condition begins or ends, without the ends of the column's own range."""
    ends = {end for interval in cell.intervals for end in (interval.low, interval.high)}
    return tuple(sorted(end for end in ends if low < end < high and math.isfinite(end)))


def choice_cell_text(
    cell: ChoiceCell,
    titles: Mapping[str, str],
    flags: Mapping[str, Sequence[str]],
    measures: Mapping[str, float],
    noun: str,
) -> str:
    """A choice's condition in words.

    `titles` are all options in their order, `flags` the flags of those that carry any, `measures` the bores
    of those that have one. A long list collapses to "flagged x" or to "DN 25 to DN 200" only where exactly
    those are meant.
    """
    names = [identifier for identifier in cell.ids if identifier != NOT_APPLICABLE]
    rest = [identifier for identifier in titles if identifier not in set(names)]
    if names and rest and all(identifier in measures for identifier in titles):
        return joined(_runs(names, titles, measures), "or")
    absent = ["not applicable"] if NOT_APPLICABLE in cell.ids else []
    if not rest and names:
        return joined([ANY, *absent], "or")
    if len(rest) < len(names) and len(rest) <= _EXCEPTIONS_AT_MOST:
        return joined([f"any but {joined([titles[identifier] for identifier in rest], 'or')}", *absent], "or")
    if len(names) > _EXCEPTIONS_AT_MOST:
        flag = _flag_text(set(names), titles, flags, noun)
        if flag:
            return joined([flag, *absent], "or")
    return joined([*(titles[identifier] for identifier in names), *absent], "or")


def joined(parts: Sequence[str], conjunction: str) -> str:
    """`a`, `a or b`, `a, b or c`."""
    if len(parts) < 2:
        return "".join(parts)
    return f"{', '.join(parts[:-1])} {conjunction} {parts[-1]}"


def spelled(identifier: str) -> str:
    """An identifier as words: `depositing_insulating` is `depositing insulating`."""
    return identifier.replace("_", " ")


def capital(text: str) -> str:
    """The text as the beginning of a sentence; pH stays as it is."""
    return text if text.startswith("pH") else text[:1].upper() + text[1:]


def counted(number: int, one: str, many: str = "") -> str:
    """`1 rule`, `2 rules`."""
    return f"{number} {one if number == 1 else many or one + 's'}"


# private


def _grouped(text: str) -> str:
    """Digits of a long whole part in threes: `1 000 000`. Up to four digits stand together."""
    whole, point, rest = text.partition(".")
    sign = "-" if whole.startswith("-") else ""
    digits = whole.removeprefix("-")
    return sign + (f"{int(digits):,}".replace(",", _THIN) if len(digits) > 4 else digits) + point + rest


def _runs(names: list[str], titles: Mapping[str, str], measures: Mapping[str, float]) -> list[str]:
    """Options in order of their measure; three neighbours or more are printed by the first and the last."""
    runs: list[list[str]] = []
    last = ""
    for identifier in sorted(titles, key=lambda option: measures[option]):
        if identifier in names:
            if runs and runs[-1][-1] == last:
                runs[-1].append(identifier)
            else:
                runs.append([identifier])
        last = identifier
    texts: list[str] = []
    for run in runs:
        texts += (
            [f"{titles[run[0]]} to {titles[run[-1]]}"]
            if len(run) > 2
            else [titles[identifier] for identifier in run]
        )
    return texts


def _flag_text(
    names: set[str], titles: Mapping[str, str], flags: Mapping[str, Sequence[str]], noun: str
) -> str:
    for flag in sorted({flag for carried in flags.values() for flag in carried}):
        carriers = {identifier for identifier in titles if flag in flags.get(identifier, ())}
        if carriers == names:
            return f"any {noun} flagged {spelled(flag)}"
        if set(titles) - carriers == names:
            return f"any {noun} not flagged {spelled(flag)}"
    return ""
