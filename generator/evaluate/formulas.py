"""Gives back the derived values of one state: every formula, for every candidate that it depends on.

A value is a set, as an answer is: a single number from single answers, bounds from bounds. Outside the
validity of the formula or the range of the derived value there is no value, which is `absent`. Twin of
browser/engine/formulas.js.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product
from math import isfinite

from generator.evaluate.expressions import Compute, Span, evaluate_expression, prepare_expression
from generator.evaluate.memory import Memory, remembered
from generator.evaluate.numbers import round_to_12
from generator.evaluate.results import Answer, ChoiceSet, NumberSet
from generator.pack.model import NOT_APPLICABLE, Argument, Decision, Derived, Figure, Formula, Interval, Option, Pack

Combination = tuple[int, ...]
NO_VALUE = NumberSet((), True)


@dataclass(frozen=True, slots=True)
class PreparedDerived:
    """A derived value with what makes it quick: `steady` arguments are the same for all candidates, the
    `candidate` and `moving` ones (from other derived values) are not. All are places in `derived.arguments`.

    `properties[i][place]` is what the candidate at `place` gives for the i-th of `candidate`, within the
    validity of its symbol; `projections[i]` picks the candidates of the i-th of `moving` out of a
    combination.
    """

    derived: Derived
    formula: Formula
    compute: Compute
    valids: tuple[Interval, ...]     # validity of each argument's symbol
    sizes: tuple[int, ...]           # number of candidates of each of `derived.decisions`
    steady: tuple[int, ...]
    candidate: tuple[int, ...]
    moving: tuple[int, ...]
    inputs: tuple[str, ...]          # those it is made of, traced through other derived values
    owners: tuple[int, ...]          # for each of `candidate`, its decision's place in `derived.decisions`
    properties: tuple[tuple[Span | None, ...], ...]
    projections: tuple[Combination, ...]


@dataclass(frozen=True, slots=True)
class PreparedFormulas:
    """`decisions` names, per derived value, the decisions whose candidates a combination holds."""

    decisions: dict[str, tuple[str, ...]]
    options: dict[str, dict[str, Option]]
    items: tuple[PreparedDerived, ...]
    figures: dict[str, dict[Combination, NumberSet]]


def prepare_formulas(pack: Pack) -> PreparedFormulas:
    """The derived values of a pack with their indexes; made once per pack."""
    formulas = {formula.id: formula for formula in pack.formulas}
    decisions = {decision.id: decision for decision in pack.decisions}
    needs = {item.id: item.decisions for item in (*pack.figures, *pack.derived)}
    computes = {formula.id: prepare_expression(formula.expression) for formula in pack.formulas}
    inputs: dict[str, tuple[str, ...]] = {item.id: (item.id,) for item in pack.inputs}
    for item in pack.derived:
        inputs[item.id] = tuple(dict.fromkeys(name for argument in item.arguments
                                              for name in inputs.get(argument.name, ())))
    return PreparedFormulas(
        needs, {item.id: {option.id: option for option in item.options} for item in pack.inputs},
        tuple(_prepare(derived, formulas[derived.formula], computes[derived.formula], decisions, needs,
                       inputs[derived.id]) for derived in pack.derived),
        {figure.id: _figure_values(figure, decisions) for figure in pack.figures})


def evaluate_formula(formula: Formula, arguments: dict[str, NumberSet]) -> NumberSet:
    """The formula's value, rounded to 12 digits, in its own unit; arguments have the units of their symbols.

    `absent` where an argument may be absent or outside its validity, or the arithmetic has no value.
    """
    spans = {symbol.id: _within(arguments[symbol.id], symbol.valid) for symbol in formula.symbols}
    return _value(formula, prepare_expression(formula.expression), spans)


def derived_values(prepared: PreparedFormulas, answers: dict[str, Answer],
                   memory: Memory | None = None) -> dict[str, dict[Combination, NumberSet]]:
    """Every derived value of one state, by id and then by the places of the candidates it depends on; figures stand
    among them, since other values are made of both.

    `answers` names every input; a blank one by all that it allows. With a memory they were met before.
    """
    found: dict[str, dict[Combination, NumberSet]] = dict(prepared.figures)
    for item in prepared.items:
        found[item.derived.id] = _derive(prepared, item, answers, found) if memory is None else remembered(
            memory, item.derived.id, item.inputs, answers, lambda item=item: _derive(prepared, item, answers, found))
    return found


# private

def _prepare(derived: Derived, formula: Formula, compute: Compute, decisions: dict[str, Decision],
             needs: dict[str, tuple[str, ...]], inputs: tuple[str, ...]) -> PreparedDerived:
    steady, candidate, moving = [], [], []
    for place, argument in enumerate(derived.arguments):
        if argument.kind == "candidate":
            candidate.append(place)
        elif argument.kind in ("derived", "figure") and needs[argument.name]:
            moving.append(place)
        else:
            steady.append(place)
    symbols = {symbol.id: symbol.valid for symbol in formula.symbols}
    valids = tuple(symbols[argument.symbol] for argument in derived.arguments)
    owners = [derived.arguments[place].name for place in candidate]
    properties = tuple(tuple(_property(derived.arguments[place], valids[place], option)
                             for option in decisions[owner].candidates)
                       for place, owner in zip(candidate, owners))
    projections = tuple(tuple(derived.decisions.index(name) for name in needs[derived.arguments[place].name])
                        for place in moving)
    return PreparedDerived(derived, formula, compute, valids,
                           tuple(len(decisions[name].candidates) for name in derived.decisions),
                           tuple(steady), tuple(candidate), tuple(moving), inputs,
                           tuple(derived.decisions.index(owner) for owner in owners), properties, projections)


def _figure_values(figure: Figure, decisions: dict[str, Decision]) -> dict[Combination, NumberSet]:
    """The number of every pair of candidates; no value where the figure names none."""
    known = {(first, second): number for first, second, number in figure.values}
    one, other = (decisions[name].candidates for name in figure.decisions)
    values: dict[Combination, NumberSet] = {}
    for i, first in enumerate(one):
        for j, second in enumerate(other):
            number = known.get((first.id, second.id))
            values[i, j] = NO_VALUE if number is None else NumberSet(((number, number),))
    return values


def _property(argument: Argument, valid: Interval, option: Option) -> Span | None:
    number = dict(option.numbers).get(argument.property)
    return None if number is None else _argument(argument, valid, NumberSet(((number, number),)))


def _derive(prepared: PreparedFormulas, item: PreparedDerived, answers: dict[str, Answer],
            found: dict[str, dict[Combination, NumberSet]]) -> dict[Combination, NumberSet]:
    arguments = item.derived.arguments
    spans: dict[str, Span | None] = {}
    for place in item.steady:
        argument = arguments[place]
        if argument.kind == "derived":
            known = found[argument.name][()]
        elif argument.kind == "option":
            known = _option_numbers(argument, answers[argument.name], prepared.options[argument.name])
        else:
            known = answers[argument.name]
        spans[argument.symbol] = _argument(argument, item.valids[place], known)
    values: dict[Combination, NumberSet] = {}
    for combination in product(*(range(size) for size in item.sizes)):
        for place, owner, properties in zip(item.candidate, item.owners, item.properties):
            spans[arguments[place].symbol] = properties[combination[owner]]
        for place, projection in zip(item.moving, item.projections):
            known = found[arguments[place].name][tuple(combination[at] for at in projection)]
            spans[arguments[place].symbol] = _argument(arguments[place], item.valids[place], known)
        values[combination] = _clip(_value(item.formula, item.compute, spans), item.derived.valid)
    return values


def _option_numbers(argument: Argument, answer: ChoiceSet, options: dict[str, Option]) -> NumberSet:
    """The hull of the numbers that the possible options have."""
    numbers = [dict(options[name].numbers).get(argument.property) if name != NOT_APPLICABLE else None
               for name in answer.ids]
    known = [number for number in numbers if number is not None]
    if not known:
        return NO_VALUE
    return NumberSet(((min(known), max(known)),), len(known) < len(numbers))


def _argument(argument: Argument, valid: Interval, known: NumberSet) -> Span | None:
    """The set in the symbol's unit, within the symbol's validity."""
    if (argument.n, argument.k, argument.d) != (1, 0, 1):
        known = NumberSet(tuple(_convert(argument, low, high) for low, high in known.intervals), known.absent)
    return _within(known, valid)


def _convert(argument: Argument, low: float, high: float) -> tuple[float, float]:
    n, k, d = float(argument.n), float(argument.k), float(argument.d)
    ends = round_to_12((low * n + k) / d), round_to_12((high * n + k) / d)
    return min(ends), max(ends)


def _within(known: NumberSet, valid: Interval) -> Span | None:
    """The hull of what lies within the validity, its ends taken as closed; None if nothing does."""
    if not known.intervals:
        return None
    low, high = known.intervals[0][0], known.intervals[-1][1]
    if low == high and not known.absent and valid.low < low < valid.high:
        return Span(low, high)
    if low > valid.high or high < valid.low or (low == valid.high and not valid.high_in) or \
            (high == valid.low and not valid.low_in):
        return None
    outside = low < valid.low or high > valid.high or (low == valid.low and not valid.low_in) or \
        (high == valid.high and not valid.high_in)
    return Span(max(low, valid.low), min(high, valid.high), known.absent or outside)


def _value(formula: Formula, compute: Compute, spans: dict[str, Span | None]) -> NumberSet:
    points: dict[str, float] = {}
    single, partial = True, False
    for name, span in spans.items():
        if span is None:
            return NO_VALUE
        points[name] = span.low
        single = single and span.low == span.high
        partial = partial or span.partial
    if single:
        number = compute(points)
        if not isfinite(number):
            return NO_VALUE
        number = round_to_12(number)
        return NumberSet(((number, number),), partial)
    bounds = evaluate_expression(formula.expression, spans)
    if bounds is None:
        return NO_VALUE
    return NumberSet(((round_to_12(bounds.low), round_to_12(bounds.high)),), partial or bounds.partial)


def _clip(value: NumberSet, valid: Interval) -> NumberSet:
    """What lies within the range that is declared for the derived value."""
    if not value.intervals:
        return value
    (low, high), = value.intervals
    if not value.absent and valid.low < low and high < valid.high:
        return value
    span = _within(value, valid)
    return NO_VALUE if span is None else NumberSet(((span.low, span.high),), span.partial)
