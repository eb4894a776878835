"""Gives back whether a mutant is masked: wherever its table says another verdict, another table says one as
bad as both.

With single answers a verdict is the worst of all tables, so no application can then show the mutant. A
derived value that is made of choices alone takes few values; what lies between them no application shows
either.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import product

from generator.analyse.findings import row_box, table_space
from generator.analyse.mutants import Mutant
from generator.boxes.sets import Axis, Box, Numbers, holds, whole
from generator.boxes.split import subtract
from generator.evaluate.formulas import derived_values, prepare_formulas
from generator.evaluate.results import ChoiceSet
from generator.pack.model import Derived, Pack, Table


def is_masked(pack: Pack, mutant: Mutant) -> bool:
    """True when no application with single answers gives another verdict."""
    table = pack.tables[mutant.table]
    axes = table_space(pack, table)
    for region in mutant.regions:
        if not _can_be(pack, table, region.box):
            continue
        if subtract(axes, region.box, _as_bad(pack, mutant.table, axes, region.level)):
            return False
    return True


# private

def _as_bad(pack: Pack, place: int, axes: tuple[Axis, ...], level: int) -> list[Box]:
    """On the table's axes, where a table about the same decisions says a verdict of this level or worse."""
    table = pack.tables[place]
    names = [column.name for column in table.columns]
    found: list[Box] = []
    for other_place, other in enumerate(pack.tables):
        if (
            other_place == place
            or other.decisions != table.decisions
            or not (other.always or not table.always)
        ):
            continue
        other_axes = table_space(pack, other)
        for row in other.rows:
            if row.verdict > level or any(cell >= 0 and column.name not in names
                                          for column, cell in zip(other.columns, row.cells)):
                continue
            box = dict(zip((column.name for column in other.columns), row_box(other, row, other_axes)))
            found.append(tuple(box.get(name, whole(axis)) for name, axis in zip(names, axes)))
    return found


def _can_be(pack: Pack, table: Table, box: Box) -> bool:
    """False where a value that is made of choices alone never takes a number of the box."""
    derived = {one.id: one for one in pack.derived}
    for column, one in zip(table.columns, box):
        if column.source == "derived" and isinstance(one, Numbers):
            values = _values(pack, derived[column.name])
            if values is not None and not any(holds(one, value) for value in values):
                return False
    return True


def _values(pack: Pack, derived: Derived) -> frozenset[float] | None:
    """All values of a derived value whose arguments are properties of candidates and options; None for any
    other.
    """
    if any(argument.kind not in ("candidate", "option") for argument in derived.arguments):
        return None
    names = sorted({argument.name for argument in derived.arguments if argument.kind == "option"})
    options = {item.id: tuple(option.id for option in item.options) for item in pack.inputs}
    only = prepare_formulas(replace(pack, derived=(derived,)))
    found: set[float] = set()
    for chosen in product(*(options[name] for name in names)):
        answers = {name: ChoiceSet((one,)) for name, one in zip(names, chosen)}
        for value in derived_values(only, answers)[derived.id].values():
            found.update(low for low, _ in value.intervals)
    return frozenset(found)
