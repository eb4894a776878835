"""Gives back the verdicts of an application with single answers, the slow way: the design's words, one after
the other.

It shares no code with `generator.evaluate`; it asks every table about every combination in every state. A
state's answers are a number, an id, or None for `not applicable`.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Context, Decimal
from itertools import product

from generator.pack.model import NOT_APPLICABLE, VERDICTS, Interval, Pack, Table

Answers = dict[str, float | str | None]          # input -> answer
Chosen = dict[str, int]                          # decision -> place of its candidate


@dataclass(frozen=True, slots=True)
class Said:
    """What a table says about one combination in one state: the worst verdict, and every (place of row,
    verdict)."""

    verdict: int
    rows: tuple[tuple[int, int], ...]            # a row past the last stands for `no value`


def own_verdicts(pack: Pack, states: dict[str, Answers]) -> dict[str, tuple[int, ...]]:
    """The worst, over states and over the tables that name only this decision."""
    return {decision.id: tuple(_worst(pack, states, (decision.id,), {decision.id: place})
                               for place in range(len(decision.candidates))) for decision in pack.decisions}


def verdicts(pack: Pack, states: dict[str, Answers]) -> dict[str, tuple[int, ...]]:
    """The worst of the own verdict and, for each group of tables shared with other decisions, the best over
    the partners in play. Where a decision has no candidate in play, all its candidates count as partners."""
    own = own_verdicts(pack, states)
    found: dict[str, tuple[int, ...]] = {}
    for decision in pack.decisions:
        shown = []
        for place, verdict in enumerate(own[decision.id]):
            for group in groups_with(pack, states, decision.id):
                verdict = min(verdict, best_with_partners(pack, states, group, {decision.id: place}, own)[0])
            shown.append(verdict)
        found[decision.id] = tuple(shown)
    return found


def groups_with(pack: Pack, states: dict[str, Answers], decision: str) -> tuple[tuple[str, ...], ...]:
    """The sets of decisions that share a table with this one in a state where it applies, by first table."""
    groups = [table.decisions for table in pack.tables
              if len(table.decisions) > 1 and decision in table.decisions
              and any(applies(pack, table, state) for state in states)]
    return tuple(dict.fromkeys(groups))


def best_with_partners(pack: Pack, states: dict[str, Answers], group: tuple[str, ...], fixed: Chosen,
                       own: dict[str, tuple[int, ...]]) -> tuple[int, Chosen]:
    """The best verdict with any partners in play, and the first such combination in the committee's order."""
    pools = [(fixed[name],) if name in fixed else in_play(own[name]) for name in group]
    tried = [(_worst(pack, states, group, dict(zip(group, places))), dict(zip(group, places)))
             for places in product(*pools)]
    return max(tried, key=lambda one: one[0])


def selection_verdict(pack: Pack, states: dict[str, Answers], chosen: Chosen) -> int:
    """The worst of all tables and states for one candidate per decision."""
    return min(_worst(pack, states, group, {name: chosen[name] for name in group})
               for group in dict.fromkeys(table.decisions for table in pack.tables))


def best_selections(pack: Pack, states: dict[str, Answers]) -> dict[tuple[str, int], int]:
    """Per candidate (decision, place) the best verdict of any selection with it."""
    names = [decision.id for decision in pack.decisions]
    best: dict[tuple[str, int], int] = {}
    for places in product(*(range(len(decision.candidates)) for decision in pack.decisions)):
        verdict = selection_verdict(pack, states, dict(zip(names, places)))
        for pair in zip(names, places):
            best[pair] = max(best.get(pair, 0), verdict)
    return best


def in_play(own: tuple[int, ...]) -> tuple[int, ...]:
    return tuple(place for place, verdict in enumerate(own) if verdict > 0) or tuple(range(len(own)))


def applies(pack: Pack, table: Table, state: str) -> bool:
    return table.always or any(item.measuring for item in pack.states if item.id == state)


def table_says(pack: Pack, table: Table, answers: Answers, chosen: Chosen) -> Said | None:
    """None where a collect table has no effect. A row that asks for a value there is none of is an open
    one."""
    said: list[tuple[int, int]] = []
    for place, row in enumerate(table.rows):
        matches, lacks = True, False
        for column, cell in zip(table.columns, row.cells):
            if cell < 0:
                continue
            condition = column.cells[cell]
            if column.source == "decision":
                options = next(item.candidates for item in pack.decisions if item.id == column.name)
                matches = matches and options[chosen[column.name]].id in condition.ids
            elif column.kind == "choice":
                answer = answers[column.name]
                matches = matches and (NOT_APPLICABLE if answer is None else answer) in condition.ids
            elif column.source == "derived":
                value = derived_value(pack, column.name, answers, chosen)
                lacks = lacks or value is None
                matches = matches and (value is None or _in_any(value, condition.intervals))
            else:
                answer = answers[column.name]
                matches = matches and (condition.absent if answer is None
                                       else _in_any(answer, condition.intervals))
        if matches:
            said.append((len(table.rows), VERDICTS.index("open")) if lacks else (place, row.verdict))
    said = sorted(set(said))
    if table.hit_policy == "unique":
        assert len(said) == 1, f"{table.id} is not complete and disjoint at {answers} {chosen}: {said}"
    return Said(min(verdict for _, verdict in said), tuple(said)) if said else None


def derived_value(pack: Pack, name: str, answers: Answers, chosen: Chosen) -> float | None:
    """The value of a formula of + - * / in its arguments; None outside its validity or the value's range."""
    item = next(item for item in pack.derived if item.id == name)
    formula = next(formula for formula in pack.formulas if formula.id == item.formula)
    values: dict[str, float] = {}
    for argument in item.arguments:
        if argument.kind == "candidate":
            options = next(decision.candidates for decision in pack.decisions if decision.id == argument.name)
            value = dict(options[chosen[argument.name]].numbers)[argument.property]
        elif argument.kind == "figure":
            figure = next(figure for figure in pack.figures if figure.id == argument.name)
            pair = tuple(decision.candidates[chosen[decision.id]].id for decision in pack.decisions
                         if decision.id in figure.decisions)
            value = next((number for *named, number in figure.values if tuple(named) == pair), None)
        elif argument.kind == "derived":
            value = derived_value(pack, argument.name, answers, chosen)
        else:
            value = answers[argument.name]
        valid = next(symbol.valid for symbol in formula.symbols if symbol.id == argument.symbol)
        if value is None or not _in_any(value, (valid,)):
            return None
        values[argument.symbol] = value
    result = _round(_compute(formula.expression, values))
    return result if _in_any(result, (item.valid,)) else None


# private

def _worst(pack: Pack, states: dict[str, Answers], decisions: tuple[str, ...], chosen: Chosen) -> int:
    said = [table_says(pack, table, answers, chosen)
            for state, answers in states.items() for table in pack.tables
            if table.decisions == decisions and applies(pack, table, state)]
    return min((one.verdict for one in said if one), default=VERDICTS.index("suitable"))


def _in_any(value: float, intervals: tuple[Interval, ...]) -> bool:
    return any((part.low < value or (part.low_in and part.low == value))
               and (value < part.high or (part.high_in and value == part.high)) for part in intervals)


def _compute(node: tuple, values: dict[str, float]) -> float:
    if node[0] == "number":
        return node[1]
    if node[0] == "symbol":
        return values[node[1]]
    left, right = _compute(node[1], values), _compute(node[2], values)
    return {"add": left.__add__, "multiply": left.__mul__, "divide": left.__truediv__}[node[0]](right)


def _round(value: float) -> float:
    return float(Context(prec=12, rounding=ROUND_HALF_UP).plus(Decimal(value)))
