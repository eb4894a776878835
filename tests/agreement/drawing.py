"""Gives back applications drawn around the limits of a pack: the same ones for the same pack and number.

Most answers of an application are quiet, so that single rules can decide; some stand on a limit, on the
12-digit number next to it, between two limits or anywhere. A derived value is brought to its limit by solving
for one of the answers behind it. One application in three has answers that are still sets.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import exp, isfinite, log
from random import Random

from generator.evaluate.numbers import round_to_12
from generator.evaluate.results import Answer, Application, ChoiceSet, Component, NumberSet, StateAnswers
from generator.evaluate.tables import is_single, option_ids
from generator.pack.model import CONCENTRATION, MEDIUM, MIXED_WITH, NOT_APPLICABLE, ChoiceCell, Derived, Input, Interval, NumberCell, Option
from tests.agreement.limits import Aim, Limits, aim_of, neighbours

# Answers under which most rules have nothing to say; an input that is not named here is always drawn.
QUIET: dict[str, tuple[float | str, ...]] = {
    "solids": ("none",), "particle_hardness": (NOT_APPLICABLE,), "deposition_velocity": (0.5,),
    "oil_or_solvent": ("none",), "chloride": (10.0,), "fluoride": (0.1,), "free_chlorine": (0.1,),
    "conductivity": (5000.0,),
    "conductivity_temperature": (25.0,), "temperature_coefficient": (2.0,), "density": (1000.0,),
    "viscosity": (1.0,), "service": ("clean",),
    "temperature_min": (15.0,), "temperature_max": (20.0,), "pressure_min": (1.5,), "pressure_max": (1.0,),
    "vacuum_protection": ("documented",), "temperature_step": (10.0,), "altitude": (0.0,),
    "concentration": (NOT_APPLICABLE,), "mixed_with": (NOT_APPLICABLE,),
    "pipe_wall": ("bare_metal", "lined_metal"), "cathodic_protection": ("none",), "stray_current": ("no",),
    "hygienic_required": ("no",), "drinking_water_approval": ("no",),
}
SET_SHARE = 0.36                                 # of applications that have a set among their answers
MIXED_SHARE = 0.12                               # of applications that have a mixture in one of their states
AIMED_SHARE = 0.6                                # of applications that satisfy one row picked out of all
PINNED_SHARE = 0.15                              # of applications that keep a candidate or two
BOLDNESS = (0.0, 0.0, 0.03, 0.1, 0.35)           # chance of an answer to be drawn: one per application

Answers = dict[str, Answer]


def draw_set_application(limits: Limits, number: int) -> Application:
    """The application of this number, with at least one set among its answers."""
    return draw_application(limits, number, 1.0)


def draw_application(limits: Limits, number: int, set_share: float = SET_SHARE) -> Application:
    """The application of this number."""
    random = Random(number)
    pack = limits.pack
    extra = random.choices((0, 1, 2), (0.72, 0.22, 0.06))[0]
    others = set(random.sample([state.id for state in pack.states[1:]], min(extra, len(pack.states) - 1)))
    boldness = random.choice(BOLDNESS)
    shared: Answers = {}
    states: list[tuple[str, Answers]] = []
    pinned: tuple[tuple[str, str], ...] = ()
    aimed = random.choice(limits.aims) if limits.aims and random.random() < AIMED_SHARE else None
    for state in pack.states:
        if state.id == pack.states[0].id or state.id in others:
            answers, chosen = _draw_state(random, limits, boldness, shared, aimed)
            pinned = pinned or _pins(Random(f"pins {number}"), limits, aimed, chosen)
            shared = shared or {item.id: answers[item.id] for item in pack.inputs if not item.per_state}
            states.append((state.id, answers))
    if random.random() < set_share:
        _open_some(random, limits, states)
    mixed = random.choice(states)[0] if MIXED_WITH in limits.inputs and random.random() < MIXED_SHARE else None
    return Application(str(number), f"Drawn {number}", tuple(
        StateAnswers(name, tuple((item.id, answers[item.id]) for item in pack.inputs),
                     draw_components(random, limits) if name == mixed else ())
        for name, answers in states), pinned=pinned)


def draw_components(random: Random, limits: Limits) -> tuple[Component, ...]:
    """One or two components of a mixture: mostly a medium at a strength that its record knows, at times one of
    several, or not answered."""
    ids = option_ids(limits.inputs[MEDIUM])
    return tuple(_component(random, limits, ids) for _ in range(random.choices((1, 2), (0.7, 0.3))[0]))


def limit_applications(limits: Limits) -> Iterator[Application]:
    """One after the other every limit of every number column, and the 12-digit numbers beside it, in an
    application that meets the row's other conditions. Limits of derived values are solved for, and the
    solution's neighbours taken."""
    for table in limits.pack.tables:
        for column in table.columns:
            if column.kind != "number":
                continue
            for cell in column.cells:
                row = next(row for row in table.rows if row.cells[table.columns.index(column)] >= 0
                           and column.cells[row.cells[table.columns.index(column)]] is cell)
                for limit in sorted({end for part in cell.intervals for end in (part.low, part.high)}):
                    yield from _on_limit(limits, aim_of(table, row.cells, row.verdict), column.name, limit)


def has_sets(application: Application) -> bool:
    """Whether an answer is not single."""
    return any(not is_single(answer) for state in application.states for _, answer in state.answers) or any(
        answer is None or not is_single(answer) for state in application.states for one in state.components
        for answer in (one.medium, one.concentration))


def single(number: float | str) -> Answer:
    """A number or an id as an answer; `not_applicable` of a number is an absent one."""
    return ChoiceSet((number,)) if isinstance(number, str) else NumberSet(((number, number),))


# private

def _on_limit(limits: Limits, aim: Aim, column: str, limit: float) -> Iterator[Application]:
    random = Random(f"{column} {limit}")
    answers, _ = _draw_state(random, limits, 0.0, {}, aim)
    item = limits.inputs.get(column)
    derived = limits.derived.get(column)
    moved, at = column, limit
    if derived is not None:
        if not limits.behind[column]:
            return
        moved = random.choice(limits.behind[column])
        item = limits.inputs[moved]
        _solve(random, limits, derived, limit, _candidates(random, limits, answers), answers, (moved,))
        if not answers[moved].intervals:
            return
        at = answers[moved].intervals[0][0]
    for number in (at, *neighbours(at)):
        if item.low <= number <= item.high:
            known = answers | {moved: single(number)}
            yield Application(f"{column} {limit} {number}", "On a limit", (StateAnswers(
                limits.pack.states[0].id, tuple((one.id, known[one.id]) for one in limits.pack.inputs)),))


def _pins(random: Random, limits: Limits, aimed: Aim | None, chosen: dict[str, Option]) -> tuple[tuple[str, str], ...]:
    """Mostly none; else the candidates that the aimed row speaks of, so that no better partner hides it, or any two."""
    if random.random() >= PINNED_SHARE:
        return ()
    asked = [name for name, _ in aimed.conditions] if aimed else random.sample(sorted(chosen), 2)
    needed = {decision for name in asked for decision in (limits.derived[name].decisions if name in limits.derived else (name,))}
    return tuple((decision.id, chosen[decision.id].id) for decision in limits.pack.decisions if decision.id in needed)


def _draw_state(random: Random, limits: Limits, boldness: float, shared: Answers,
                aimed: Aim | None) -> tuple[Answers, dict[str, Option]]:
    answers: Answers = {}
    for item in limits.pack.inputs:
        quiet = QUIET.get(item.id)
        if item.id in shared:
            answers[item.id] = shared[item.id]
        elif quiet and random.random() >= boldness:
            answers[item.id] = _settled(item, random.choice(quiet))
        else:
            answers[item.id] = _draw_answer(random, limits, item)
    chosen = _candidates(random, limits, answers)
    free = set(limits.inputs) - set(shared)
    medium = answers.get("medium")
    if isinstance(medium, ChoiceSet):
        bands = limits.bands.get(("medium", medium.ids[0]))
        if bands:
            _satisfy(random, limits, random.choice(bands), chosen, answers, free)
    for rows in limits.usual:
        fitting = [aim for aim in rows if _fits(aim, answers)]
        if fitting:
            _satisfy(random, limits, random.choice(fitting), chosen, answers, free)
    if aimed:
        _satisfy(random, limits, aimed, chosen, answers, free)
    elif random.random() < boldness * 2:
        _bring_to_limit(random, limits, chosen, answers, free)
    return answers, chosen


def _component(random: Random, limits: Limits, ids: tuple[str, ...]) -> Component:
    way = random.random()
    if way < 0.1:
        return Component(None, None)
    medium = random.choice(ids)
    chosen = {medium, random.choice(ids)} if way < 0.2 else {medium}
    bands = [cell for aim in limits.bands.get((MEDIUM, medium), ()) for name, cell in aim.conditions
             if name == CONCENTRATION]
    item = limits.inputs[CONCENTRATION]
    strength = _inside(random, random.choice(bands), item.low, item.high) if bands else None
    return Component(ChoiceSet(tuple(name for name in ids if name in chosen)), strength if way < 0.9 else None)


def _candidates(random: Random, limits: Limits, answers: Answers) -> dict[str, Option]:
    """A candidate per decision; the size mostly that of the pipe."""
    chosen = {decision.id: random.choice(decision.candidates) for decision in limits.pack.decisions}
    pipe = answers.get("pipe_size")
    if isinstance(pipe, ChoiceSet) and "size" in chosen and random.random() < 0.8:
        bores = {option.id: option.numbers for option in limits.inputs["pipe_size"].options}
        sizes = next(decision.candidates for decision in limits.pack.decisions if decision.id == "size")
        bore = bores.get(pipe.ids[0])
        chosen["size"] = next((size for size in sizes if size.numbers == bore), chosen["size"])
    return chosen


def _settled(item: Input, value: float | str) -> Answer:
    if item.kind == "number" and value == NOT_APPLICABLE:
        return NumberSet((), True)
    return single(value)


def _draw_answer(random: Random, limits: Limits, item: Input) -> Answer:
    if item.kind == "choice":
        return ChoiceSet((random.choice(option_ids(item)),))
    if item.may_be_absent and random.random() < 0.15:
        return NumberSet((), True)
    return single(_draw_number(random, limits.numbers[item.id], item.low, item.high))


def _draw_number(random: Random, limits: tuple[float, ...], low: float, high: float) -> float:
    """On a limit, beside it, between two, or anywhere; always within the range and of at most 12 digits."""
    inside = [limit for limit in limits if low <= limit <= high] or [low, high]
    way = random.random()
    place = random.randrange(len(inside))
    if way < 0.35:
        number = inside[place]
    elif way < 0.6:
        number = random.choice(neighbours(inside[place]))
    elif way < 0.85:
        number = random.uniform(inside[place], inside[min(place + 1, len(inside) - 1)])
    elif low > 0 and high / low > 100:
        number = exp(random.uniform(log(low), log(high)))
    else:
        number = random.uniform(low, high)
    return _within(number, low, high)


def _within(number: float, low: float, high: float) -> float:
    return min(max(round_to_12(number), low), high)


def _fits(aim: Aim, answers: Answers) -> bool:
    """Whether the choices that the aim asks for are the ones already given."""
    return all(answers[name].ids[0] in cell.ids for name, cell in aim.conditions
               if isinstance(cell, ChoiceCell) and name in answers)


def _satisfy(random: Random, limits: Limits, aim: Aim, chosen: dict[str, Option], answers: Answers,
             free: Iterable[str]) -> None:
    """Changes the free answers so that the aim's row matches; what cannot be reached is left."""
    for decision in limits.pack.decisions:
        for name, cell in aim.conditions:
            if name == decision.id and chosen[name].id not in cell.ids:
                fitting = [option for option in decision.candidates if option.id in cell.ids]
                chosen[name] = random.choice(fitting)
    for name, cell in aim.conditions:
        item = limits.inputs.get(name)
        if item is not None and name not in free:
            continue
        if isinstance(cell, ChoiceCell):
            if item is not None and answers[name].ids[0] not in cell.ids:
                answers[name] = ChoiceSet((random.choice(cell.ids),))
        elif item is not None:
            answers[name] = _inside(random, cell, item.low, item.high)
    for name, cell in aim.conditions:
        derived = limits.derived.get(name)
        if derived is not None and cell.intervals:
            target = _inside(random, cell, derived.valid.low, min(derived.valid.high, _highest(limits, name)))
            _solve(random, limits, derived, target.intervals[0][0], chosen, answers, free)


def _highest(limits: Limits, name: str) -> float:
    """Twice the highest limit inside the range: the range itself may go far beyond all that matters."""
    derived = limits.derived[name]
    inside = [limit for limit in limits.numbers.get(name, ()) if limit < derived.valid.high]
    return max(inside, default=derived.valid.high / 2) * 2


def _inside(random: Random, cell: NumberCell, low: float, high: float) -> Answer:
    """A number of the cell: at an end, beside it, or between."""
    if not cell.intervals or (cell.absent and random.random() < 0.2):
        return NumberSet((), True)
    part = random.choice(cell.intervals)
    low, high = max(low, part.low), min(high, part.high)
    number = low
    if low < high:
        number = random.choice((low, high, random.uniform(low, high), random.uniform(low, high)))
    if not _in_interval(number, part):
        below, above = neighbours(number)
        number = above if _in_interval(above, part) else below
    return single(round_to_12(number))


def _in_interval(number: float, part: Interval) -> bool:
    return (part.low < number or (part.low_in and part.low == number)) and \
        (number < part.high or (part.high_in and number == part.high))


def _bring_to_limit(random: Random, limits: Limits, chosen: dict[str, Option], answers: Answers,
                    free: Iterable[str]) -> None:
    derived = random.choice(limits.pack.derived)
    inside = [limit for limit in limits.numbers.get(derived.id, ())
              if derived.valid.low <= limit <= derived.valid.high]
    if inside:
        target = random.choice(inside)
        _solve(random, limits, derived, random.choice((target, *neighbours(target))), chosen, answers, free)


def _solve(random: Random, limits: Limits, derived: Derived, target: float, chosen: dict[str, Option],
           answers: Answers, free: Iterable[str]) -> None:
    """Changes one free number behind a derived value so that it comes to the target, by the secant method."""
    names = [name for name in limits.behind[derived.id] if name in free]
    if not names:
        return
    name = random.choice(names)
    item = limits.inputs[name]
    known = answers[name].intervals[0][0] if answers[name].intervals else (item.low + item.high) / 2

    def value(number: float) -> float | None:
        return _value(limits, derived, chosen, answers | {name: single(number)})

    before, number = known, _within(known * 1.25 + 0.125, item.low, item.high)
    at_before, at = value(before), value(number)
    for _ in range(8):
        if at is None or at_before is None or at == at_before or at == target:
            break
        step = (target - at) * (number - before) / (at - at_before)
        following = _within(number + step, item.low, item.high)
        before, at_before, number, at = number, at, following, value(following)
    if at is not None:
        answers[name] = single(number)


def _value(limits: Limits, derived: Derived, chosen: dict[str, Option], answers: Answers) -> float | None:
    compute, valid = limits.formulas[derived.formula]
    numbers: dict[str, float] = {}
    for argument in derived.arguments:
        if argument.kind == "derived":
            number = _value(limits, limits.derived[argument.name], chosen, answers)
        elif argument.kind == "figure":
            figure = next(figure for figure in limits.pack.figures if figure.id == argument.name)
            pair = tuple(chosen[name].id for name in figure.decisions)
            number = next((found for *named, found in figure.values if tuple(named) == pair), None)
        elif argument.kind == "candidate":
            number = dict(chosen[argument.name].numbers).get(argument.property)
        elif argument.kind == "option":
            options = {option.id: option for option in limits.inputs[argument.name].options}
            option = options.get(answers[argument.name].ids[0])
            number = dict(option.numbers).get(argument.property) if option else None
        else:
            parts = answers[argument.name].intervals
            number = parts[0][0] if parts else None
        if number is None:
            return None
        numbers[argument.symbol] = (number * argument.n + argument.k) / argument.d
        if not _in_interval(numbers[argument.symbol], valid[argument.symbol]):
            return None
    found = compute(numbers)
    return round_to_12(found) if isfinite(found) else None


def _open_some(random: Random, limits: Limits, states: list[tuple[str, Answers]]) -> None:
    """Widens one to four answers to sets; a shared one in every state."""
    for _ in range(random.choices((1, 2, 3, 4), (0.5, 0.25, 0.15, 0.1))[0]):
        item = random.choice(limits.pack.inputs)
        _, answers = random.choice(states)
        opened = _opened(random, limits, item, answers[item.id])
        for _, known in states:
            if known is answers or not item.per_state:
                known[item.id] = opened


def _opened(random: Random, limits: Limits, item: Input, answer: Answer) -> Answer:
    """A blank, one of several, between two, or perhaps not applicable; never a single answer."""
    blank = random.random() < 0.3
    if item.kind == "choice":
        ids = option_ids(item)
        some = set() if blank else {answer.ids[0], *random.sample(ids, min(len(ids), random.randint(1, 3)))}
        some = some if len(some) > 1 else set(ids)
        return ChoiceSet(tuple(name for name in ids if name in some))
    if blank:
        return NumberSet(((item.low, item.high),), item.may_be_absent)
    known = answer.intervals[0][0] if answer.intervals else item.low
    low, high = sorted((known, _draw_number(random, limits.numbers[item.id], item.low, item.high)))
    if low == high:
        low, high = item.low, item.high
    return NumberSet(((low, high),), item.may_be_absent and random.random() < 0.3)
