"""Gives back the lines of the data sheet and the candidates of each decision, as the engines read them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from generator.boxes.sets import ChoiceAxis, NumberAxis
from generator.boxes.words import AxisWords
from generator.compile import quantities
from generator.compile.cells import ColumnDomain, interval
from generator.compile.quantities import Unit, Vocabulary
from generator.compile.wording import in_sentence, item_text
from generator.pack import model, texts
from generator.pack.model import NOT_APPLICABLE, Option
from generator.problems import Problem
from generator.read.records import Choice, Decision, Input, Item, KnowledgeBase, Word
from generator.read.series_records import Series

YES_NO = (Option("yes", ("yes",)), Option("no", ("no",)))


@dataclass(frozen=True, slots=True)
class Column:
    """Something a table can ask: what it can hold, how it is spoken of, and the unit of its numbers."""

    source: str                      # input, decision or derived
    domain: ColumnDomain
    words: AxisWords
    unit: Unit | None = None
    decisions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Compiled:
    """One input or decision, ready; `properties` are the units of its options' numbers."""

    column: Column
    properties: dict[str, Unit]


def compile_input(record: Input, base: KnowledgeBase, vocabulary: Vocabulary,
                  ) -> tuple[model.Input, texts.InputText, Compiled] | list[Problem]:
    """One line of the data sheet, or what is wrong with it."""
    absent = _is_yes(record.not_applicable)
    if record.kind.text == "number":
        made = _number_input(record, base, vocabulary, absent)
    else:
        made = _choice_input(record, base, vocabulary, absent)
    if isinstance(made, list):
        return made
    asked, titles, compiled = made
    units: tuple[tuple[str, str], ...] = ()
    if record.quantity is not None:
        own = asked.unit
        ordered = sorted(asked.conversions, key=lambda conversion: conversion.spelling != own)
        units = tuple((conversion.spelling, conversion.note) for conversion in ordered)
    text = texts.InputText(
        record.id.text, record.title.text, record.group.text, record.help.text, record.blank.text,
        record.asked_of.text, compiled.column.domain.unit, _is_yes(record.safety), titles, units,
        record.id.place.file, record.id.place.line, _is_yes(record.first))
    return asked, text, compiled


def compile_decision(record: Decision, base: KnowledgeBase, vocabulary: Vocabulary,
                     ) -> tuple[model.Decision, texts.DecisionText, Compiled] | list[Problem]:
    """A decision with its candidates in the committee's order of preference, or what is wrong with them."""
    items = next(one.items for one in base.catalogues if one.id.text == record.catalogue.text)
    made = _options(items, vocabulary, base.series)
    if isinstance(made, list):
        return made
    options, properties = made
    text = texts.DecisionText(record.id.text, record.title.text, record.question.text, record.about.text,
                              tuple(map(item_text, items)))
    domain = ColumnDomain(
        record.id.text, ChoiceAxis(tuple(option.id for option in options)), flags=_flags(items))
    words = AxisWords(
        in_sentence(record.title.text), titles={item.id.text: item.title.text for item in items})
    column = Column("decision", domain, words, decisions=(record.id.text,))
    return model.Decision(record.id.text, options), text, Compiled(column, properties)


# private

def _is_yes(word: Word | None) -> bool:
    return word is not None and word.text == "yes"


def _number_input(record: Input, base: KnowledgeBase, vocabulary: Vocabulary, absent: bool,
                  ) -> tuple[model.Input, tuple[tuple[str, str], ...], Compiled] | list[Problem]:
    assert record.quantity is not None and record.range is not None
    quantity = vocabulary.quantities[record.quantity.text]
    unit = vocabulary.unit_of(quantity.id.text)
    span = interval(record.range)
    if isinstance(span, Problem):
        return [span]
    if not (span.low_in and span.high_in):
        return [Problem(
            record.range.place, "C007",
            f"the range of '{record.id}' leaves an end out, and its answers are closed",
            f'write "[{record.range.text.strip()[1:-1]}]"')]
    if record.assumed is not None:
        amount = vocabulary.amount(record.assumed)
        if isinstance(amount, Problem):
            return [amount]
        if not quantities.same_kind(amount.unit, unit) or not span.low <= amount.in_unit(unit) <= span.high:
            return [Problem(
                record.assumed.place, "C016",
                f"the assumed value '{record.assumed}' is no answer to '{record.id}'",
                f"write a value within {record.range}{'' if unit.is_none else f' {unit.symbol}'}")]
    asked = model.Input(
        record.id.text, "number", record.per.text == "state", record.asked_of.text, absent, unit.spelling,
        span.low, span.high, quantities.conversions(quantity), quantities.refusals(quantity),
        assumed=record.assumed.text if record.assumed else "", recorded=_is_yes(record.recorded),
        asked_for=tuple(medium.item.id.text for medium in base.media if record.asked_with is not None
                        and record.asked_with.text in {flag.text for flag in medium.item.flags}))
    domain = ColumnDomain(record.id.text, NumberAxis(span.low, span.high, absent), unit.symbol)
    return asked, (), Compiled(Column("input", domain, AxisWords(
        in_sentence(record.title.text), unit.symbol), unit), {})


def _choice_input(record: Input, base: KnowledgeBase, vocabulary: Vocabulary, absent: bool,
                  ) -> tuple[model.Input, tuple[tuple[str, str], ...], Compiled] | list[Problem]:
    flags: dict[str, frozenset[str]] = {}
    properties: dict[str, Unit] = {}
    if record.kind.text == "yes_no":
        options, titles = YES_NO, (("yes", "Yes"), ("no", "No"))
    elif record.choices_from is not None:
        items = {"media": tuple(medium.item for medium in base.media), "mixtures": base.mixtures,
                 "pipe_sizes": base.pipe_sizes}[record.choices_from.text]
        made = _options(items, vocabulary, base.series)
        if isinstance(made, list):
            return made
        options, properties = made
        flags = _flags(items) if record.choices_from.text != "mixtures" else {}
        titles = tuple((item.id.text, item.title.text) for item in items)
    else:
        options = tuple(_option(choice, base.series) for choice in record.choices)
        properties = _chosen_columns(record.choices, base.series)
        titles = tuple((choice.id.text, choice.title.text) for choice in record.choices)
    asked = model.Input(record.id.text, "choice", record.per.text == "state", record.asked_of.text, absent,
                        options=options, assumed=record.assumed.text if record.assumed else "",
                        recorded=_is_yes(record.recorded))
    ids = tuple(option.id for option in options)
    axis = ChoiceAxis((*ids, NOT_APPLICABLE) if absent and NOT_APPLICABLE not in ids else ids)
    domain = ColumnDomain(record.id.text, axis, flags=flags)
    words = AxisWords(in_sentence(record.title.text), titles=dict(titles))
    return asked, titles, Compiled(Column("input", domain, words), properties)


def _options(
        items: Iterable[Item], vocabulary: Vocabulary,
        series: tuple[Series, ...]) -> tuple[tuple[Option, ...], dict[str, Unit]] | list[Problem]:
    """Options with their numbers, each property in one unit: that of the first quantity that knows it."""
    problems: list[Problem] = []
    items = tuple(items)
    properties = _chosen_columns(items, series)
    options: list[Option] = []
    for item in items:
        numbers: list[tuple[str, float]] = []
        for name, value in item.numbers:
            amount = vocabulary.amount(value)
            if isinstance(amount, Problem):
                problems.append(amount)
                continue
            known = amount.unit.quantities
            unit = properties.setdefault(name.text, vocabulary.unit_of(known[0]) if known else amount.unit)
            if not quantities.same_kind(amount.unit, unit):
                problems.append(Problem(
                    value.place, "C008", f"'{name}' is '{value}' here and in {unit.in_message} elsewhere",
                    f"write it in {unit.in_message}"))
                continue
            numbers.append((name.text, amount.in_unit(unit)))
        numbers += _columns_of(item, series)
        options.append(Option(item.id.text, _spellings(item.id, item.title, item.synonyms), tuple(numbers),
                              tuple((name.text, word.text) for name, word in item.words)))
    return problems or (tuple(options), properties)


def _option(choice: Choice, series: tuple[Series, ...]) -> Option:
    return Option(choice.id.text, _spellings(choice.id, choice.title, choice.synonyms),
                  tuple(_columns_of(choice, series)), tuple((name.text, word.text) for name, word in choice.words))


def _columns_of(record: Item | Choice, series: tuple[Series, ...]) -> list[tuple[str, float]]:
    """A word that names a column of a series, as the number of the column: formulas choose by it."""
    words = {name.text: word.text for name, word in record.words}
    return [(one.id.text, float(number)) for one in series for number, column in enumerate(one.columns, 1)
            if words.get(one.id.text) == column.id.text]


def _chosen_columns(records: Iterable[Item | Choice], series: tuple[Series, ...]) -> dict[str, Unit]:
    names = {name.text for record in records for name, _ in record.words}
    return {one.id.text: Unit("1", "dimensionless", "1") for one in series if one.id.text in names}


def _spellings(*words: Word | tuple[Word, ...]) -> tuple[str, ...]:
    """Lower case, each once, in order; an id may be typed with spaces for its underscores."""
    flat = [one.text for word in words for one in (word if isinstance(word, tuple) else (word,))]
    return tuple(dict.fromkeys(" ".join(text.lower().split()) for text in (*flat, flat[0].replace("_", " "))))


def _flags(items: Iterable[Item]) -> dict[str, frozenset[str]]:
    bearers: dict[str, set[str]] = {}
    for item in items:
        for flag in item.flags:
            bearers.setdefault(flag.text, set()).add(item.id.text)
    return {flag: frozenset(ids) for flag, ids in sorted(bearers.items())}
