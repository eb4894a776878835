"""Gives back typed answers that lead to a chosen box of a table, starting from the answers of an existing
application.

What the box does not ask stays as it was. A derived value is reached by moving the one raw input behind it
that moves least else; sizes are reached by scaling flows with the square of the bore, so that the velocities
stay.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import isfinite

from generator.analyse.mutants import Space
from generator.answers.application import NORMAL, read_application
from generator.boxes.sets import AxisSet, Box, Choices, Numbers, holds
from generator.boxes.words import plain
from generator.evaluate.formulas import derived_values
from generator.evaluate.numbers import round_to_12
from generator.evaluate.prepared import Prepared
from generator.evaluate.results import Answer, Application, ChoiceSet, NumberSet
from generator.evaluate.tables import Combination, is_single
from generator.pack.model import NOT_APPLICABLE, Input

STEPS = 80                           # halvings of an interval: enough for every 12-digit number
Typed = dict[str, str]               # answers of the normal state, as typed


def application_of(prepared: Prepared, typed: Typed, name: str = "proposed") -> Application | None:
    """The application with these answers and no other state; None where an answer is none."""
    read = read_application(prepared.pack, {"id": name, "title": name, NORMAL: typed} | {
        state.id: "none" for state in prepared.pack.states if state.id != NORMAL})
    return None if read.problems else read.application


def resized(prepared: Prepared, typed: Typed, wanted: str, bores: dict[str, float]) -> Typed:
    """The same line in another nominal size: flows scaled, so that every velocity stays. Unchanged where it
    names no pipe size of a known bore; a flow that is open, or a range, stays as it is.
    """
    bore = bores.get(typed.get("pipe_size", ""))
    if bore is None or wanted not in bores:
        return typed
    scale = (bores[wanted] / bore) ** 2
    made = typed | {"pipe_size": wanted}
    for item in prepared.pack.inputs:
        if item.id.startswith("flow_") and item.id in typed:
            figure, _, unit = typed[item.id].partition(" ")
            if _is_number(figure) and " " not in unit:
                made[item.id] = f"{plain(float(f'{float(figure) * scale:.4g}'))} {unit}"
    return made


def placed(
    prepared: Prepared, space: Space, box: Box, typed: Typed, combination: dict[str, int]
) -> Typed | None:
    """The answers changed so that they lie in the box for this combination of candidates (decision: place).
    """
    inputs = {item.id: item for item in prepared.pack.inputs}
    made, fixed = dict(typed), set()
    for column, one in zip(space.table.columns, box, strict=True):
        if column.source == "input":
            answer = _answer(inputs[column.name], one, _known(prepared, made).get(column.name))
            if answer is None:
                return None
            if answer:
                made[column.name] = answer
            fixed.add(column.name)
    for column, one in zip(space.table.columns, box, strict=True):
        if column.source == "derived" and not _has(prepared, made, column.name, combination, one):
            found = _reach(prepared, made, column.name, combination, one, fixed)
            if found is None:
                return None
            made = found
    return made


def combinations(prepared: Prepared, space: Space, box: Box) -> Iterator[dict[str, int]]:
    """The candidates that a box names, decision by decision; a decision without a column of its own keeps
    all.
    """
    found: list[dict[str, int]] = [{}]
    for decision in space.table.decisions:
        candidates = next(one.candidates for one in prepared.pack.decisions if one.id == decision)
        ids = next((one.ids for column, one in zip(space.table.columns, box)
                    if column.name == decision and isinstance(one, Choices)), None)
        places = [at for at, item in enumerate(candidates) if ids is None or item.id in ids]
        found = [known | {decision: at} for known in found for at in places]
    yield from found


# private

def _is_number(text: str) -> bool:
    try:
        return isfinite(float(text))
    except ValueError:
        return False


def _known(prepared: Prepared, typed: Typed) -> dict[str, Answer]:
    application = application_of(prepared, typed)
    return {} if application is None else dict(application.states[0].answers)


def _answer(item: Input, one: AxisSet, now: Answer | None) -> str | None:
    """An answer in the set as typed; empty where the present one is in it already, None where there is none.
    """
    if isinstance(one, Choices):
        if isinstance(now, ChoiceSet) and len(now.ids) == 1 and now.ids[0] in one.ids:
            return ""
        return next((name.replace("_", " ") if name == NOT_APPLICABLE else name for name in one.ids), None)
    if (
        isinstance(now, NumberSet)
        and is_single(now)
        and holds(one, now.intervals[0][0] if now.intervals else None)
    ):
        return ""
    for number in _numbers(one):
        return _with_unit(item, number)
    return "not applicable" if one.absent else None


def _with_unit(item: Input, number: float) -> str:
    return plain(number) if item.unit in ("", "1") else f"{plain(number)} {item.unit}"


def _numbers(one: Numbers) -> Iterator[float]:
    """Numbers of the set: ends that belong to it and lie at a limit, then what lies between."""
    for span in one.spans:
        if span.low == span.high:
            yield span.low
        else:
            middle = round_to_12(float(f"{(span.low + span.high) / 2:.4g}"))
            yield middle if holds(one, middle) else round_to_12((span.low + span.high) / 2)
            yield from (
                end for end, belongs in ((span.low, span.low_in), (span.high, span.high_in)) if belongs
            )


def _has(prepared: Prepared, typed: Typed, name: str, combination: dict[str, int], one: AxisSet) -> bool:
    value = _value(prepared, typed, name, combination)
    return value is not None and holds(one, value)


def _value(prepared: Prepared, typed: Typed, name: str, combination: dict[str, int]) -> float | None:
    known = _known(prepared, typed)
    if not known:
        return None
    key: Combination = tuple(combination[decision] for decision in prepared.formulas.decisions[name])
    found = derived_values(prepared.formulas, prepared.blank | known)[name][key]
    return found.intervals[0][0] if is_single(found) and found.intervals else None


def _reach(prepared: Prepared, typed: Typed, name: str, combination: dict[str, int], one: AxisSet,
           fixed: set[str]) -> Typed | None:
    shared = {
        item.id: sum(item.id in behind for behind in prepared.behind.values())
        for item in prepared.pack.inputs
    }
    movable = sorted(
        (item for item in prepared.pack.inputs if item.id in prepared.behind[name] and item.id not in fixed),
        key=lambda item: shared[item.id],
    )
    for item in movable:
        if item.kind == "choice":
            for option in item.options:
                made = typed | {item.id: option.id}
                if _has(prepared, made, name, combination, one):
                    return made
            continue
        for target in _numbers(one):  # type: ignore[arg-type]
            made = _solved(prepared, typed, item, name, combination, target)
            if made is not None and _has(prepared, made, name, combination, one):
                return made
    return None


def _solved(prepared: Prepared, typed: Typed, item: Input, name: str, combination: dict[str, int],
            target: float) -> Typed | None:
    """The input moved until the value meets the target, by halving; the value must rise or fall with the
    input.
    """
    def value(number: float) -> float | None:
        return _value(prepared, typed | {item.id: _with_unit(item, number)}, name, combination)

    low, high = item.low, item.high
    at_low, at_high = value(low), value(high)
    if at_low is None or at_high is None:
        low, high = max(low, 1e-6), high * (1 - 1e-9)
        at_low, at_high = value(low), value(high)
    if at_low is None or at_high is None or not min(at_low, at_high) <= target <= max(at_low, at_high):
        return None
    best = low
    for _ in range(STEPS):
        best = round_to_12((low + high) / 2)
        here = value(best)
        if here is None or here == target or best in (low, high):
            break
        if (here < target) == (at_low < at_high):
            low = best
        else:
            high = best
    for digits in (3, 4, 5, 6, 8):                   # the shortest figure that still meets the target exactly
        short = float(f"{best:.{digits}g}")
        if item.low <= short <= item.high and value(short) == target:
            best = short
            break
    return typed | {item.id: _with_unit(item, best)}
