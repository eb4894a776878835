"""Gives back where a number in prose, a range, a bore or a worked example is not what the engines hold."""

from __future__ import annotations

from collections.abc import Sequence
from math import isclose, isfinite

from generator.evaluate.numbers import plain_text, round_to_12
from generator.evaluate.results import NumberSet
from generator.pack.model import Formula, Pack, Symbol
from tests.pages.comparing import means_unit
from tests.pages.conditions import Condition, Numbers, Unreadable, read_number, read_number_condition
from tests.pages.differences import Difference, Findings
from tests.pages.engines import Engine
from tests.pages.points import Value, neighbours, points_inside
from tests.pages.reading import Site
from tests.pages.shown import Calculator, Limit


def compare_limits(site: Site, engines: Sequence[Engine], pack: Pack) -> Findings:
    """Numbers in sentences: the rule they lead to begins or ends there in both engines; each leads to one."""
    findings = Findings()
    for limit in site.limits():
        findings.counts["limits in prose"] += 1
        table = limit.rule.split(".")[0]
        for engine in engines:
            if not _changes_there(site, limit, engine, pack):
                findings.add(Difference(limit.page, table, limit.rule, limit.text, limit.text,
                                        f"in {engine.name} the rule does not begin or end there"))
    for page, text in site.loose_numbers():
        findings.add(Difference(page, "-", "prose", text, "-", "a number that comes from no rule"))
    return findings


def compare_ranges(site: Site, engines: Sequence[Engine], pack: Pack) -> Findings:
    """The range of every number on the data sheet: its ends are understood, what lies beside is refused."""
    findings = Findings()
    for name, (low, high, unit) in site.ranges.items():
        typed = [f"{plain_text(number)} {unit}".rstrip() for end in (low, high) for number in (end, *neighbours(end))]
        expected = [True, False, True, True, True, False]
        for engine in engines:
            findings.counts["answers at the ends of a range"] += len(typed)
            for text, fine, answer in zip(typed, expected, engine.understood(name, typed)):
                number = read_number(text)
                if (answer is not None) != fine or (fine and answer != NumberSet(((number[0], number[0]),))):
                    findings.add(Difference("inputs/", "data sheet", name, "Range", text,
                                            f"{engine.name} {'refuses' if answer is None else 'takes'} it"))
    for name in {item.id for item in pack.inputs if item.kind == "number"} ^ set(site.ranges):
        findings.add(
            Difference(
                "inputs/", "data sheet", name, "Range", "-", "only the page or only the engines have it"
            )
        )
    return findings


def compare_bores(site: Site, pack: Pack) -> Findings:
    """The bore of every size on the page of the sizes is the one that the formulas take."""
    findings = Findings()
    page = next(page for page, decision in site.decisions.items() if decision == "size")
    own = {option.id: dict(option.numbers) for decision in pack.decisions if decision.id == "size"
           for option in decision.candidates}
    for line in site.body(page).all("tr"):
        if "id" in line.attributes:
            name = line.attributes["id"].removeprefix("size-")
            bore = read_number(line.first("td", "g-number").text())
            findings.counts["bores"] += 1
            if bore is None or bore != (own.get(name, {}).get("nominal_bore"), "mm"):
                findings.add(Difference(page, "sizes", name, "Nominal bore", "-", f"the page says {bore}"))
    if findings.counts["bores"] != len(own):
        findings.add(Difference(page, "sizes", "-", "-", "-", "sizes are missing or added"))
    return findings


def compare_calculators(site: Site, engines: Sequence[Engine], pack: Pack) -> Findings:
    """Worked examples give the printed result in both engines, and letters hold as far as is printed."""
    findings = Findings()
    formulas = {formula.id: formula for formula in pack.formulas}
    try:
        for calculator in site.calculators():
            formula = formulas.pop(calculator.formula)
            findings.counts["calculators"] += 1
            if _same_letters(findings, calculator, formula, pack):
                _compare_examples(findings, calculator, formula, engines, pack)
                _compare_validity(findings, calculator, formula, engines)
    except Unreadable as problem:
        findings.add(Difference("formulas/", "-", "-", "-", "-", str(problem)))
    for name in formulas:
        findings.add(Difference(f"formulas/{name}/", name, "-", "-", "-", "no page shows it"))
    return findings


# private

def _changes_there(site: Site, limit: Limit, engine: Engine, pack: Pack) -> bool:
    table = next(table for table in pack.tables if table.id == limit.rule.split(".")[0])
    page = site.table(f"tables/{table.id}/")
    row = next((row for row in page.rows if row.rule == limit.rule), None)
    number = read_number(limit.text)
    condition = None if number else read_number_condition(limit.text)
    units = condition.units if isinstance(condition, Numbers) else {number[1] if number else ""}
    if row is None:
        return False
    columns = [column for column in table.columns if column.source != "decision"]
    inside = points_inside(pack, table, row)[0]
    for place, column in enumerate(columns):
        shown = next(item for item in page.columns if item.name == column.name)
        if column.kind != "number" or units != {shown.unit}:
            continue
        ends = condition.ends() if isinstance(condition, Numbers) else {number[0]}
        if ends and all(
            _as_said(engine, table.id, limit.rule, inside, place, end, condition) for end in ends
        ):
            return True
    return False


def _as_said(engine: Engine, table: str, rule: str, inside: tuple[Value, ...], place: int, end: float,
             condition: Condition | None) -> bool:
    """Whether around an end the rule holds where the condition does; for a bare limit: on one side alone."""
    numbers = (neighbours(end)[0], end, neighbours(end)[1])
    answers = engine.decide(table, [(*inside[:place], number, *inside[place + 1:]) for number in numbers])
    held = [any(rule in decided.rules for decided in answer.values()) for answer in answers]
    return held == [condition.holds(number) for number in numbers] if condition else held[0] != held[2]


def _same_letters(findings: Findings, calculator: Calculator, formula: Formula, pack: Pack) -> bool:
    fine = len(calculator.letters) == len(formula.symbols)
    if not fine:
        findings.add(
            Difference(calculator.page, formula.id, "letters", "-", "-", "letters are missing or added")
        )
    for (title, unit, _), symbol in zip(calculator.letters, formula.symbols):
        if not means_unit(pack, unit, symbol.unit):
            fine = False
            findings.add(Difference(calculator.page, formula.id, title, "Unit", "-",
                                    f"the page has {unit}, the engines {symbol.unit}"))
    return fine


def _compare_examples(findings: Findings, calculator: Calculator, formula: Formula, engines: Sequence[Engine],
                      pack: Pack) -> None:
    symbols = {title: symbol.id for (title, _, _), symbol in zip(calculator.letters, formula.symbols)}
    given = [{symbols[title]: typed for title, typed in example.given} for example in calculator.examples]
    if not given:
        findings.add(Difference(calculator.page, formula.id, "examples", "-", "-", "no worked example"))
    answers = [engine.values(formula.id, given) for engine in engines]
    for number, example in enumerate(calculator.examples):
        shown = read_number(example.result)
        where = ", ".join(f"{title} {typed}" for title, typed in example.given)
        findings.counts["worked examples"] += 1
        for engine, answer in zip(engines, answers):
            value = _single(answer[number])
            if shown is None or value is None or not means_unit(pack, shown[1], formula.unit) or \
                    not isclose(value, shown[0], rel_tol=example.tolerance):
                findings.add(
                    Difference(
                        calculator.page,
                        formula.id,
                        f"worked example {number + 1}",
                        "Result",
                        where,
                        f"the page says {example.result}; {engine.name} computes {value} {formula.unit}",
                    )
                )
        if len({answer[number] for answer in answers}) != 1:
            findings.add(
                Difference(
                    calculator.page,
                    formula.id,
                    f"worked example {number + 1}",
                    "Result",
                    where,
                    f"the engines differ: {answers[0][number]} and {answers[1][number]}",
                )
            )


def _compare_validity(
    findings: Findings, calculator: Calculator, formula: Formula, engines: Sequence[Engine]
) -> None:
    symbols = {title: symbol for (title, _, _), symbol in zip(calculator.letters, formula.symbols)}
    base = {symbols[title].id: typed for title, typed in calculator.examples[0].given}
    # Where a letter holds, some value of the others goes with it: a large bore has no value with a small one.
    beside = [(symbols[title].id, _typed(number, symbols[title])) for title, _, condition in calculator.letters
              for number in (*(one for end in _ends(condition) for one in _tried(title, end)), *_between(condition))
              if condition.holds(number)]
    for title, _, condition in calculator.letters:
        symbol = symbols[title]
        for end in _ends(condition):
            for number in _tried(title, end):
                asked = [base, *(base | {name: typed} for name, typed in beside if name != symbol.id)]
                findings.counts["ends of validity"] += 1
                for engine in engines:
                    values = engine.values(formula.id, [one | {symbol.id: _typed(number, symbol)} for one in asked])
                    if None in values or any(not value.absent for value in values) != condition.holds(number):
                        findings.add(Difference(calculator.page, formula.id, title, "Holds for", _typed(number, symbol),
                                                f"in {engine.name} the formula gives {values[0]}"))


def _between(condition: Condition) -> tuple[float, ...]:
    """A number between the ends, and not half-way: there a symmetrical formula may be at another limit."""
    ends = _ends(condition)
    return (round_to_12(ends[0] + 0.3 * (ends[-1] - ends[0])),) if len(ends) > 1 else ()


def _tried(title: str, end: float) -> tuple[float, ...]:
    """An end and what lies beside it; a column of a table is a whole number."""
    return (end, end - 1, end + 1) if title.startswith("Column of the table") else (end, *neighbours(end))


def _typed(number: float, symbol: Symbol) -> str:
    return plain_text(number) if symbol.unit == "1" else f"{plain_text(number)} {symbol.unit}"


def _ends(condition: Condition) -> list[float]:
    return sorted(condition.ends()) if isinstance(condition, Numbers) else []


def _single(value: NumberSet | None) -> float | None:
    if (
        value is None
        or value.absent
        or len(value.intervals) != 1
        or value.intervals[0][0] != value.intervals[0][1]
    ):
        return None
    return value.intervals[0][0] if isfinite(value.intervals[0][0]) else None
