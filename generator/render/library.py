"""Gives back a pack and its texts by id, turned round wherever pages link back."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from generator.pack.model import (
    ChoiceCell,
    Column,
    Decision,
    Derived,
    Formula,
    Input,
    NumberCell,
    Pack,
    Row,
    Table,
)
from generator.pack.texts import (
    DecisionText,
    DerivedText,
    FormulaText,
    InputText,
    ItemText,
    MediumText,
    RuleText,
    SourceText,
    TableText,
    Texts,
)
from generator.render import addresses, words


@dataclass(frozen=True, slots=True)
class LetterRule:
    """Where a rule from a medium's record stands: `letter` rules have the id
    `<table>.<medium>.<band>.<candidate>`."""

    medium: str
    band: str
    candidate: str


@dataclass(frozen=True, slots=True)
class Library:
    """Everything by id. `rows` are a rule's rows in its table, `letters` the place of each rule that came
    from a medium."""

    pack: Pack
    texts: Texts
    inputs: Mapping[str, Input]
    input_texts: Mapping[str, InputText]
    derived: Mapping[str, Derived]
    derived_texts: Mapping[str, DerivedText]
    decisions: Mapping[str, Decision]
    decision_texts: Mapping[str, DecisionText]
    items: Mapping[tuple[str, str], ItemText]
    media: Mapping[str, MediumText]
    tables: Mapping[str, Table]
    table_texts: Mapping[str, TableText]
    formulas: Mapping[str, Formula]
    formula_texts: Mapping[str, FormulaText]
    sources: Mapping[str, SourceText]
    rules: Mapping[str, RuleText]
    rows: Mapping[str, tuple[Row, ...]]
    letters: Mapping[str, LetterRule]
    worked: Library | None = None


def library(pack: Pack, texts: Texts, worked: tuple[Pack, Texts] | None = None) -> Library:
    """All look-ups of a pack and its texts, made once. `worked` are the small tables of the page that explains how the
    guide decides."""
    rows: dict[str, list[Row]] = {}
    for table in pack.tables:
        for row in table.rows:
            rows.setdefault(row.rule, []).append(row)
    return Library(
        pack=pack,
        texts=texts,
        inputs={record.id: record for record in pack.inputs},
        input_texts={record.id: record for record in texts.inputs},
        derived={record.id: record for record in pack.derived},
        derived_texts={record.id: record for record in texts.derived},
        decisions={record.id: record for record in pack.decisions},
        decision_texts={record.id: record for record in texts.decisions},
        items={(decision.id, item.id): item for decision in texts.decisions for item in decision.items},
        media={record.item.id: record for record in texts.media},
        tables={record.id: record for record in pack.tables},
        table_texts={record.id: record for record in texts.tables},
        formulas={record.id: record for record in pack.formulas},
        formula_texts={record.id: record for record in texts.formulas},
        sources={record.id: record for record in texts.sources},
        rules={record.rule: record for record in texts.rules},
        rows={rule: tuple(found) for rule, found in rows.items()},
        letters={record.rule: _letter_rule(record) for record in texts.rules if record.origin == "letter"},
        worked=library(*worked) if worked else None,
    )


def rule_address(lib: Library, rule: str) -> str:
    """The page and anchor that show a rule: a medium's page for its letters, its table's page for all others.

    A rule that no row of the pack bears has no anchor.
    """
    letter = lib.letters.get(rule)
    page = addresses.medium(letter.medium) if letter else addresses.table(lib.rules[rule].table)
    return f"{page}#{addresses.rule_anchor(rule)}" if rule in lib.rows else page


def verdict_of(lib: Library, rule: str) -> int | None:
    """The rank of a rule's verdict; None when no row of the pack bears the rule any more."""
    found = lib.rows.get(rule)
    return found[0].verdict if found else None


def column_title(lib: Library, column: Column) -> str:
    if column.source == "input":
        return lib.input_texts[column.name].title
    if column.source == "derived":
        return lib.derived_texts[column.name].title
    return lib.decision_texts[column.name].title


def column_address(lib: Library, column: Column) -> str:
    if column.source == "input":
        return addresses.input_line(column.name)
    if column.source == "derived":
        return addresses.formula(lib.derived_texts[column.name].formula)
    return addresses.decision_index(column.name)


def is_media(lib: Library, name: str) -> bool:
    """Whether the options of an input are the media of the guide."""
    options = [option.id for option in lib.inputs[name].options]
    return bool(options) and all(option in lib.media for option in options)


def option_titles(lib: Library, column: Column) -> dict[str, str]:
    """The options a choice column may name, in their order."""
    if column.source == "decision":
        return {item.id: item.title for item in lib.decision_texts[column.name].items}
    return dict(lib.input_texts[column.name].options)


def condition_text(lib: Library, column: Column, cell: NumberCell | ChoiceCell) -> str:
    """One condition of one row in words, with the unit's symbol."""
    if isinstance(cell, NumberCell):
        low, high, symbol = column_range(lib, column)
        absent = "no value" if column.source == "derived" else "not applicable"
        return words.number_cell_text(cell, low, high, symbol, absent)
    noun = "medium" if column.source == "input" and is_media(lib, column.name) else "candidate"
    text = words.choice_cell_text(
        cell, option_titles(lib, column), _flags(lib, column), _bores(lib, column), noun
    )
    needs_one = column.source == "input" and lib.inputs[column.name].may_be_absent
    return words.ANY_ANSWER if text == words.ANY and needs_one else text


def column_range(lib: Library, column: Column) -> tuple[float, float, str]:
    """The lowest and highest number a column may take, and how its unit is printed."""
    if column.source == "derived":
        valid = lib.derived[column.name].valid
        return valid.low, valid.high, lib.derived_texts[column.name].unit_symbol
    record = lib.inputs[column.name]
    return record.low, record.high, lib.input_texts[column.name].unit_symbol


def row_conditions(lib: Library, table: Table, row: Row) -> tuple[str, ...]:
    """The conditions of a row in words, one per column of its table."""
    return tuple(
        words.ANY if place < 0 else condition_text(lib, column, column.cells[place])
        for column, place in zip(table.columns, row.cells, strict=True)
    )


def names_candidate(table: Table, row: Row, decision: str, candidate: str) -> bool:
    """Whether a row can speak about a candidate: its condition names it, or asks for none."""
    for column, place in zip(table.columns, row.cells, strict=True):
        if column.source == "decision" and column.name == decision:
            return place < 0 or candidate in column.cells[place].ids
    return False


# private


def _letter_rule(record: RuleText) -> LetterRule:
    medium, band, candidate = record.rule.removeprefix(f"{record.table}.").split(".")
    return LetterRule(medium, band, candidate)


def _bores(lib: Library, column: Column) -> dict[str, float]:
    """The nominal bores of the options that have one: sizes can be put in order."""
    record = lib.decisions[column.name] if column.source == "decision" else lib.inputs[column.name]
    options = record.candidates if isinstance(record, Decision) else record.options
    return {
        option.id: dict(option.numbers)["nominal_bore"]
        for option in options
        if "nominal_bore" in dict(option.numbers)
    }


def _flags(lib: Library, column: Column) -> dict[str, tuple[str, ...]]:
    if column.source == "decision":
        return {item.id: item.flags for item in lib.decision_texts[column.name].items}
    if is_media(lib, column.name):
        return {identifier: medium.item.flags for identifier, medium in lib.media.items()}
    return {}
