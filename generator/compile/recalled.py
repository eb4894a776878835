"""Gives back a pack in which every row names the documents that its figures were quoted from by memory.

A row's own basis counts, and for each derived value that it puts a condition on the bases of the formula, of
its constants and the series that it reads, of the numbers of candidates and options in it, and of the derived values behind it.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from generator.pack.model import Argument, Derived, Pack, Recalled, Row, Table
from generator.pack.texts import BasisText, ItemText, Texts, series_bases, series_read

RECALLED = "recalled"


def mark_recalled(pack: Pack, texts: Texts) -> Pack:
    """The pack with `recalled` filled in, the documents in the order of the sources and then of their clauses."""
    rules = {rule.rule: _documents([rule.basis]) for rule in texts.rules}
    behind: dict[str, frozenset[Recalled]] = {}
    for item in pack.derived:
        behind[item.id] = _behind(pack, texts, item, behind)
    sources = [source.id for source in texts.sources]
    found = frozenset().union(*rules.values(), *behind.values())
    documents = tuple(sorted(found, key=lambda one: (sources.index(one.source), one.clause)))
    places = {document: place for place, document in enumerate(documents)}
    tables = tuple(_table(table, rules, behind, places) for table in pack.tables)
    return replace(pack, tables=tables, recalled=documents)


# private

def _documents(bases: Iterable[BasisText | None]) -> frozenset[Recalled]:
    return frozenset(Recalled(basis.source, basis.clause) for basis in bases
                     if basis is not None and basis.checked == RECALLED)


def _behind(pack: Pack, texts: Texts, item: Derived, before: dict[str, frozenset[Recalled]]) -> frozenset[Recalled]:
    formula = next(one for one in texts.formulas if one.id == item.formula)
    read = series_read(formula.printed)
    found = _documents([formula.basis, *(constant.basis for constant in formula.constants),
                        *(basis for one in texts.series if one.id in read for basis in series_bases(one))])
    for argument in item.arguments:
        if argument.kind == "derived":
            found |= before[argument.name]
        elif argument.property:
            found |= _documents(one.basis for one in _items(pack, texts, argument)
                                if argument.property in dict(one.facts))
    return found


def _items(pack: Pack, texts: Texts, argument: Argument) -> list[ItemText]:
    if argument.kind == "candidate":
        return [item for decision in texts.decisions if decision.id == argument.name for item in decision.items]
    options = {option.id for item in pack.inputs if item.id == argument.name for option in item.options}
    return [item for item in (*texts.pipe_sizes, *(medium.item for medium in texts.media)) if item.id in options]


def _table(table: Table, rules: dict[str, frozenset[Recalled]], behind: dict[str, frozenset[Recalled]],
           places: dict[Recalled, int]) -> Table:
    def of_row(row: Row) -> Row:
        found = rules[row.rule].union(*(behind[column.name] for column, cell in zip(table.columns, row.cells, strict=True)
                                        if column.source == "derived" and cell >= 0))
        return replace(row, recalled=tuple(sorted(places[one] for one in found)))

    return replace(table, rows=tuple(map(of_row, table.rows)))
