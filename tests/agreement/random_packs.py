"""Gives back small random packs, complete and disjoint by construction, and random applications for any pack.

A table of a random pack is made by cutting its whole input space again and again, so that its boxes neither
overlap nor leave a gap, whatever the numbers are.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from random import Random
from types import MappingProxyType

from generator.evaluate.prepared import whole_range
from generator.evaluate.results import Answer, Application, ChoiceSet, Component, NumberSet, StateAnswers
from generator.evaluate.tables import option_ids
from generator.pack.model import (CONCENTRATION, MEDIUM, Advice, Argument, ChoiceCell, Column, Condition, Decision,
                                  Derived, Figure, Formula, Input, Interval, NumberCell, Option, Pack, Recalled, Row,
                                  State, Symbol, Table)

INPUTS = (
    Input("flow", "number", True, "process", False, "m3/h", 0.0, 10.0),
    Input("chloride", "number", False, "laboratory", True, "mg/L", 0.0, 5.0),
    Input("medium", "choice", True, "process", False,
          options=(Option("water"), Option("acid"), Option("brine"))),
    Input("lining", "choice", False, "piping", True, options=(Option("rubber"), Option("none"))),
)
STATES = (State("normal", True), State("cleaning", False))
RECALLED = (Recalled("iso_1", ""), Recalled("iso_1", "4.2"), Recalled("handbook", ""))
FORMULAS = (
    Formula("per_bore", "m/s", (Symbol("flow", "m3/h", Interval(0.0, True, 8.0, True)),
                                Symbol("bore", "mm", Interval(0.0, False, 9.0, True))),
            ("divide", ("symbol", "flow"), ("symbol", "bore"))),
    Formula("doubled", "1", (Symbol("x", "mg/L", Interval(0.0, True, 5.0, False)),),
            ("add", ("multiply", ("symbol", "x"), ("number", 2.0)), ("number", 1.0))),
)
# A pair without a figure has no value, as where a supplier gave none.
FIGURES = (Figure("true_bore", "mm", ("size", "liner"), (
    ("size_0", "liner_0", 1.5), ("size_0", "liner_1", 2.0), ("size_1", "liner_0", 2.5), ("size_2", "liner_1", 3.0))),)


def random_pack(random: Random, with_derived: bool = True) -> Pack:
    """Two or three decisions, one to six tables of one to three decisions, unique and collect."""
    decisions = tuple(
        Decision(name, tuple(Option(f"{name}_{place}", numbers=(("bore", float(random.randint(1, 4))),))
                             for place in range(random.randint(2, 3))))
        for name in ("size", "liner", "ring")[:random.randint(2, 3)])
    derived = _derived() if with_derived else ()
    tables = tuple(_random_table(random, f"table_{place}", decisions, derived)
                   for place in range(random.randint(1, 6)))
    return Pack(INPUTS, STATES, decisions, FORMULAS, derived, tables, RECALLED, advice=_random_advice(random, decisions),
                figures=FIGURES if with_derived else ())


def random_application(random: Random, pack: Pack, open_share: float) -> Application:
    """One or two states of single answers, of which about `open_share` are widened to sets."""
    shared = {item.id: _random_answer(random, item, open_share) for item in pack.inputs if not item.per_state}
    states = []
    for state in pack.states[:random.randint(1, len(pack.states))]:
        own = {item.id: _random_answer(random, item, open_share) for item in pack.inputs if item.per_state}
        known = shared | own
        states.append(StateAnswers(state.id, tuple((item.id, known[item.id]) for item in pack.inputs)))
    return Application("random", "Random", tuple(states))


def completion(random: Random, pack: Pack, application: Application,
               limits: Mapping[str, tuple[float, ...]] = MappingProxyType({})) -> Application:
    """One of the single applications that the answers still allow; shared inputs are the same in every state.
    Numbers stand on one of their input's `limits` as often as anywhere else."""
    per_state = {item.id: item.per_state for item in pack.inputs}
    whole = {item.id: whole_range(item) for item in pack.inputs}
    shared: dict[str, Answer] = {}
    states = []
    for state in application.states:
        known = whole | dict(state.answers)
        settled = {name: shared.get(name) or one_of(random, answer, limits.get(name, ()))
                   for name, answer in known.items()}
        shared |= {name: answer for name, answer in settled.items() if not per_state[name]}
        components = tuple(Component(
            one_of(random, one.medium or whole[MEDIUM], ()),
            one_of(random, one.concentration or whole[CONCENTRATION], limits.get(CONCENTRATION, ())))
            for one in state.components)
        states.append(StateAnswers(state.state, tuple(settled.items()), components))
    return Application(application.id, application.title, tuple(states))


def one_of(random: Random, answer: Answer, limits: tuple[float, ...] = ()) -> Answer:
    """A single answer out of the set: an end, a limit inside, or anything between."""
    if isinstance(answer, ChoiceSet):
        return ChoiceSet((random.choice(answer.ids),))
    if answer.absent and (not answer.intervals or random.random() < 0.25):
        return NumberSet((), True)
    low, high = random.choice(answer.intervals)
    inside = [limit for limit in limits if low <= limit <= high]
    if inside and random.random() < 0.5:
        limit = random.choice(inside)
        return NumberSet(((limit, limit),))
    draw = random.random()
    number = low if draw < 0.25 else high if draw < 0.5 else float(f"{random.uniform(low, high):.9g}")
    number = min(max(number, low), high)
    return NumberSet(((number, number),))


# private

@dataclass(frozen=True, slots=True)
class _Part:
    """What is left of one column in a box: the condition, and whether it is still the whole column."""

    cell: NumberCell | ChoiceCell
    whole: bool


def _derived() -> tuple[Derived, ...]:
    flow, bore = Argument("flow", "input", "flow"), Argument("bore", "candidate", "size", "bore")
    return (
        Derived("velocity", "per_bore", "m/s", (flow, bore), ("size",), Interval(0.0, True, 5.0, True)),
        Derived("load", "doubled", "1", (Argument("x", "input", "chloride"),), (),
                Interval(0.0, True, 20.0, True)),
        Derived("second", "per_bore", "m/s", (Argument("flow", "derived", "velocity"),
                                              Argument("bore", "candidate", "liner", "bore")),
                ("size", "liner"), Interval(0.0, True, 5.0, True)),
        Derived("true_velocity", "per_bore", "m/s", (flow, Argument("bore", "figure", "true_bore")), ("size", "liner"),
                Interval(0.0, True, 5.0, True)),
    )


def _random_table(random: Random, name: str, decisions: tuple[Decision, ...],
                  derived: tuple[Derived, ...]) -> Table:
    count = min(len(decisions), random.choice((1, 1, 1, 2, 2, 3)))
    named = sorted(random.sample(range(len(decisions)), count))
    ids = tuple(decisions[place].id for place in named)
    usable = [item for item in derived if set(item.decisions) <= set(ids)]
    pool: list[tuple[str, str, str]] = [(item.id, item.kind, "input") for item in INPUTS]
    pool += [(item.id, "number", "derived") for item in usable]
    chosen = [(decision, "choice", "decision") for decision in ids]
    chosen += random.sample(pool, random.randint(1, 3))
    random.shuffle(chosen)
    whole = tuple(_Part(_whole_cell(column, decisions, derived), True) for column in chosen)
    unique = random.random() < 0.7
    if unique:
        boxes = _cut(random, whole, random.randint(1, 4))
    else:
        boxes = [random.choice(_cut(random, whole, random.randint(1, 4)))
                 for _ in range(random.randint(1, 4))]
    cells: list[list[NumberCell | ChoiceCell]] = [[] for _ in chosen]
    rows = []
    for place, box in enumerate(boxes):
        at = []
        for known, part in zip(cells, box):
            if not part.whole and part.cell not in known:
                known.append(part.cell)
            at.append(-1 if part.whole else known.index(part.cell))
        verdict = random.choice((0, 1, 2, 3, 3) if unique else (0, 1, 2))
        recalled = tuple(number for number in range(len(RECALLED)) if random.random() < 0.4)
        rows.append(Row(f"{name}.{place}", verdict, tuple(at), recalled))
    columns = tuple(Column(*column, tuple(known)) for column, known in zip(chosen, cells))
    return Table(name, "unique" if unique else "collect", random.random() < 0.7, ids, columns, tuple(rows))


def _random_advice(random: Random, decisions: tuple[Decision, ...]) -> tuple[Advice, ...]:
    """One that always goes with a result, and three with conditions on an input, a decision or both."""
    columns = [(item.id, item.kind, "input") for item in INPUTS] + [(one.id, "choice", "decision") for one in decisions]
    found = [Advice("always", "caution", ())]
    for name in ("first", "second", "third"):
        asked = random.sample(columns, random.randint(1, 2))
        cells = [_whole_cell(column, decisions, ()) for column in asked]
        parts = [random.choice(_halves(random, cell) or (cell,)) for cell in cells]
        found.append(Advice(name, random.choice(("caution", "hand_over")), tuple(
            Condition(column[0], part) for column, part in zip(asked, parts))))
    return tuple(found)


def _whole_cell(column: tuple[str, str, str], decisions: tuple[Decision, ...],
                derived: tuple[Derived, ...]) -> NumberCell | ChoiceCell:
    name, kind, source = column
    if source == "decision":
        return ChoiceCell(tuple(option.id for decision in decisions if decision.id == name
                                for option in decision.candidates))
    if source == "derived":
        return NumberCell((next(item.valid for item in derived if item.id == name),))
    item = next(item for item in INPUTS if item.id == name)
    if kind == "choice":
        return ChoiceCell(option_ids(item))
    return NumberCell((Interval(item.low, True, item.high, True),), item.may_be_absent)


def _cut(random: Random, box: tuple[_Part, ...], depth: int) -> list[tuple[_Part, ...]]:
    place = random.randrange(len(box))
    halves = _halves(random, box[place].cell) if depth and random.random() < 0.85 else None
    if halves is None:
        return [box]
    return [piece for half in halves
            for piece in _cut(random, (*box[:place], _Part(half, False), *box[place + 1:]), depth - 1)]


def _halves(random: Random, cell: NumberCell | ChoiceCell) -> tuple[NumberCell | ChoiceCell, ...] | None:
    if isinstance(cell, ChoiceCell):
        if len(cell.ids) < 2:
            return None
        left = set(random.sample(cell.ids, random.randint(1, len(cell.ids) - 1)))
        return (ChoiceCell(tuple(name for name in cell.ids if name in left)),
                ChoiceCell(tuple(name for name in cell.ids if name not in left)))
    if cell.absent and cell.intervals and random.random() < 0.3:
        return NumberCell(cell.intervals), NumberCell((), True)
    wide = [part for part in cell.intervals if part.high - part.low > 1]
    if not wide:
        return None
    part = random.choice(wide)
    limit, closed = float(random.randint(int(part.low) + 1, int(part.high - 0.5))), random.random() < 0.5
    below = Interval(part.low, part.low_in, limit, closed)
    above = Interval(limit, not closed, part.high, part.high_in)
    rest = tuple(other for other in cell.intervals if other is not part)
    absent_above = random.random() < 0.5
    lower, upper = ((below, *rest), (above,)) if random.random() < 0.5 else ((below,), (above, *rest))
    return (NumberCell(tuple(sorted(lower, key=lambda item: item.low)), cell.absent and not absent_above),
            NumberCell(tuple(sorted(upper, key=lambda item: item.low)), cell.absent and absent_above))


def _random_answer(random: Random, item: Input, open_share: float) -> Answer:
    if random.random() >= open_share:
        if item.kind == "choice":
            return ChoiceSet((random.choice(option_ids(item)),))
        if item.may_be_absent and random.random() < 0.2:
            return NumberSet((), True)
        number = _random_number(random, item)
        return NumberSet(((number, number),))
    if random.random() < 0.3:
        return whole_range(item)
    if item.kind == "choice":
        some = set(random.sample(option_ids(item), random.randint(1, len(option_ids(item)))))
        return ChoiceSet(tuple(name for name in option_ids(item) if name in some))
    low, high = sorted((_random_number(random, item), _random_number(random, item)))
    return NumberSet(((low, high),), item.may_be_absent and random.random() < 0.3)


def _random_number(random: Random, item: Input) -> float:
    number = random.randint(int(item.low), int(item.high)) + random.choice((0.0, 0.0, 1e-9, -1e-9, 0.5))
    return min(max(number, item.low), item.high)
