"""Gives back a formula and its texts; or what is wrong with its units, names and examples."""

from __future__ import annotations

from collections.abc import Mapping

from generator.compile.cells import Unreadable, interval
from generator.compile.dimensions import NO_SERIES, check, compiled
from generator.compile.expressions import Node, as_written, fault, names, parse
from generator.compile.quantities import Amount, Unit, Vocabulary, coherent_pint, in_words, same_kind, typed_as
from generator.compile.series import Figures
from generator.compile.wording import basis_text
from generator.pack import model, texts
from generator.pack.model import Interval
from generator.problems import Problem
from generator.read.records import Constant, Example, Formula, Symbol, Word
from generator.units import dimension


def compile_formula(
        record: Formula, vocabulary: Vocabulary,
        series: Mapping[str, Figures] = NO_SERIES) -> tuple[model.Formula, texts.FormulaText] | list[Problem]:
    """The formula with its conversions and series written into the expression, or every problem of its record."""
    problems: list[Problem] = []
    units = _units(record, vocabulary, problems)
    valid = {symbol.id.text: _range(symbol, problems) for symbol in record.symbols}
    constants = _constants(record, vocabulary, units, problems)
    result = vocabulary.unit(record.unit)
    if isinstance(result, Problem):
        problems.append(result)
    node = _expression(record, problems)
    if problems or node is None or isinstance(result, Problem):
        return problems
    try:
        found = check(record.expression, node, units, series)
        if found != dimension(result.pint):
            raise fault(
                record.expression, 1,
                f"it gives {in_words(found) if found else 'a plain number'}, but '{record.id}' is "
                f"{'a plain number' if result.is_none else f'in {result.symbol}'}",
                "correct the expression or the unit", "C011")
        expression = compiled(node, units, constants, result, series)
    except Unreadable as unreadable:
        return [unreadable.problem]
    examples = [_example(record, example, units, result, vocabulary, problems) for example in record.examples]
    if problems:
        return problems
    symbols = tuple(
        model.Symbol(symbol.id.text, symbol.unit.text, valid[symbol.id.text]) for symbol in record.symbols)
    return (model.Formula(record.id.text, record.unit.text, symbols, expression),
            _text(record, node, units, result, vocabulary, tuple(example for example in examples if example is not None)))


# private

def _units(record: Formula, vocabulary: Vocabulary, problems: list[Problem]) -> dict[str, Unit]:
    units: dict[str, Unit] = {}
    for symbol in record.symbols:
        unit = vocabulary.unit(symbol.unit)
        if isinstance(unit, Problem):
            problems.append(unit)
        else:
            units[symbol.id.text] = unit
    return units


def _range(symbol: Symbol, problems: list[Problem]) -> Interval:
    span = interval(symbol.range)
    if isinstance(span, Problem):
        problems.append(span)
        return Interval(0.0, True, 0.0, True)
    return Interval(span.low, span.low_in, span.high, span.high_in)


def _constants(
        record: Formula, vocabulary: Vocabulary, units: dict[str, Unit],
        problems: list[Problem]) -> dict[str, float]:
    """The constants in SI by name; their units are added to `units`."""
    values: dict[str, float] = {}
    for constant in record.constants:
        amount = vocabulary.amount(constant.value)
        if isinstance(amount, Problem):
            problems.append(amount)
        else:
            units[constant.id.text] = amount.unit
            values[constant.id.text] = amount.in_unit(
                Unit("", coherent_pint(dimension(amount.unit.pint)), ""))
    return values


def _expression(record: Formula, problems: list[Problem]) -> Node | None:
    try:
        node = parse(record.expression)
    except Unreadable as unreadable:
        problems.append(unreadable.problem)
        return None
    used = names(node)
    declared = {part.id.text: part.id for part in (*record.symbols, *record.constants)}
    unknown = [name for name in used if name not in declared]
    for name in unknown:
        problems.append(fault(record.expression, used[name], f"there is no symbol or constant '{name}'",
                              f"declare it, or use one of {', '.join(declared)}", "C014").problem)
    for name, word in declared.items():
        if name not in used and not unknown:                # a misspelled name is one fault, not two
            problems.append(Problem(
                word.place, "C014", f"'{name}' does not occur in the expression of '{record.id}'",
                "use it, or take it out"))
    return node


def _example(
        record: Formula, example: Example, units: Mapping[str, Unit], result: Unit, vocabulary: Vocabulary,
        problems: list[Problem]) -> texts.ExampleText | None:
    symbols = {symbol.id.text for symbol in record.symbols}
    given: dict[str, float] = {}
    for name, value in example.given:
        if name.text not in symbols:
            problems.append(Problem(name.place, "C015", f"'{record.id}' has no symbol '{name}'",
                                    f"give {', '.join(sorted(symbols))}"))
            continue
        amount = _amount(value, units[name.text], name.text, vocabulary, problems)
        if amount is not None:
            given[name.text] = amount.in_unit(units[name.text])
    missing = sorted(symbols - {name.text for name, _ in example.given})
    if missing:
        problems.append(Problem(
            example.result.place, "C015", f"the example gives no value for {', '.join(missing)}",
            "give every symbol a value"))
    expected = _amount(example.result, result, "the result", vocabulary, problems)
    try:
        tolerance = float(example.tolerance.text)
    except ValueError:
        tolerance = 0.0
    if not 0 < tolerance < 1:
        problems.append(Problem(
            example.tolerance.place, "C015", f"the tolerance '{example.tolerance}' is no part of the result",
            "write a relative tolerance such as 1e-6"))
    if expected is None or missing:
        return None
    return texts.ExampleText(
        tuple((name.text, value.text) for name, value in example.given), example.result.text,
        example.tolerance.text, example.source.text, example.worked.text, arguments=tuple(given.items()),
        expected=expected.in_unit(result), file=example.result.place.file, line=example.result.place.line)


def _amount(
        word: Word, unit: Unit, what: str, vocabulary: Vocabulary, problems: list[Problem]) -> Amount | None:
    amount = vocabulary.amount(word)
    if isinstance(amount, Problem):
        problems.append(amount)
        return None
    if not same_kind(amount.unit, unit):
        problems.append(Problem(
            word.place, "C015", f"'{word}' is not a value of {what}, which is in {unit.in_message}",
            "write the number alone" if unit.is_none else f"write it in {unit.symbol}"))
        return None
    return amount


def _text(record: Formula, node: Node, units: Mapping[str, Unit], result: Unit, vocabulary: Vocabulary,
          examples: tuple[texts.ExampleText, ...]) -> texts.FormulaText:
    symbols = tuple(texts.SymbolText(symbol.id.text, symbol.title.text, symbol.letter.text, symbol.unit.text,
                                     units[symbol.id.text].symbol, *typed_as(units[symbol.id.text], vocabulary))
                    for symbol in record.symbols)
    return texts.FormulaText(
        record.id.text, record.title.text, record.about.text, record.letter.text, result.symbol,
        record.expression.text, as_written(node), symbols, tuple(map(_constant_text, record.constants)),
        record.validity.text, record.accuracy.text, record.trap.text, basis_text(record.basis), examples,
        record.place.file, record.place.line, record.subject.text if record.subject else "",
        record.calculator is None or record.calculator.text == "yes")


def _constant_text(constant: Constant) -> texts.ConstantText:
    return texts.ConstantText(
        constant.id.text, constant.title.text, constant.letter.text, constant.value.text,
        basis_text(constant.basis))
