"""Gives back derived values, each after those it needs, with the units of their arguments joined."""

from __future__ import annotations

from collections.abc import Mapping

from generator.boxes.sets import NumberAxis
from generator.boxes.words import AxisWords
from generator.compile.cells import ColumnDomain, interval
from generator.compile.inputs import Column, Compiled
from generator.compile.quantities import Unit, Vocabulary, same_kind
from generator.compile.wording import in_sentence
from generator.pack import model, texts
from generator.pack.model import Argument, Interval
from generator.problems import Problem
from generator.read.records import Derived, Formula, KnowledgeBase, Word
from generator.units import conversion, dimension

MOST_DECISIONS = 3


def in_order(records: tuple[Derived, ...]) -> tuple[Derived, ...]:
    """The records, each after those it needs, otherwise as in the file. There is no circle among them."""
    known = {record.id.text: record for record in records}
    done: dict[str, Derived] = {}

    def place(record: Derived) -> None:
        if record.id.text not in done:
            for _, source in record.with_:
                if source.text in known:
                    place(known[source.text])
            done[record.id.text] = record

    for record in records:
        place(record)
    return tuple(done.values())


def compile_derived(
        record: Derived, base: KnowledgeBase, vocabulary: Vocabulary, columns: Mapping[str, Compiled],
        decisions: tuple[str, ...]) -> tuple[model.Derived, texts.DerivedText, Compiled] | list[Problem]:
    """One derived value, or what is wrong with it; `columns` holds all that it may need."""
    formula = next(one for one in base.formulas if one.id.text == record.formula.text)
    problems: list[Problem] = []
    unit, span = vocabulary.unit(formula.unit), interval(record.range)
    problems += [one for one in (unit, span) if isinstance(one, Problem)]
    arguments: list[Argument] = []
    needs: set[str] = set()
    for name, source in record.with_:
        made = _argument(name, source, formula, vocabulary, columns)
        if isinstance(made, Problem):
            problems.append(made)
        elif made is not None:
            arguments.append(made)
            needs.update(columns[made.name].column.decisions)
    if len(needs) > MOST_DECISIONS:
        problems.append(Problem(
            record.id.place, "C017", f"'{record.id}' needs the candidates of {len(needs)} decisions",
            f"at most {MOST_DECISIONS} can be judged together; leave one out"))
    if problems or isinstance(unit, Problem) or isinstance(span, Problem):
        return problems
    ordered = tuple(name for name in decisions if name in needs)
    derived = model.Derived(record.id.text, formula.id.text, formula.unit.text, tuple(arguments), ordered,
                            Interval(span.low, span.low_in, span.high, span.high_in))
    text = texts.DerivedText(
        record.id.text, record.title.text, formula.id.text, unit.symbol, record.place.file, record.place.line)
    words = AxisWords(in_sentence(record.title.text), unit.symbol)
    domain = ColumnDomain(record.id.text, NumberAxis(span.low, span.high), unit.symbol)
    return derived, text, Compiled(Column("derived", domain, words, unit, ordered), {})


# private

def _argument(name: Word, source: Word, formula: Formula, vocabulary: Vocabulary,
              columns: Mapping[str, Compiled]) -> Argument | Problem | None:
    """None where something it reads has failed already and was reported there."""
    symbol = next(one for one in formula.symbols if one.id.text == name.text)
    wanted = vocabulary.unit(symbol.unit)
    owner, _, property_ = source.text.partition(".")
    if isinstance(wanted, Problem) or owner not in columns:
        return None
    column = columns[owner].column
    if property_:
        kind = "candidate" if column.source == "decision" else "option"
        given: Unit | None = columns[owner].properties.get(property_)
    else:
        kind, given = column.source, column.unit
    if given is None:
        return Problem(
            source.place, "C017", f"'{source}' is not a number that '{name}' of '{formula.id}' could be",
            "name an input, a derived value, or a number of a candidate such as size.nominal_bore")
    if not same_kind(given, wanted):
        alike = dimension(given.pint) == dimension(wanted.pint)
        return Problem(
            source.place, "C011", f"'{source}' is in {given.in_message}, "
            f"but '{name}' of '{formula.id}' is in {wanted.in_message}",
            "join a value of the same kind" + ("; these two only share a dimension" if alike else ""))
    return Argument(name.text, kind, owner, property_, *conversion(given.pint, wanted.pint))
