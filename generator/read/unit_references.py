"""Gives back faults of units: spellings that pint does not bear out, and units that no quantity spells."""

from __future__ import annotations

from generator import units
from generator.problems import Problem
from generator.read.known import Known, twice
from generator.read.records import Formula, Item, KnowledgeBase, Quantity, Word
from generator.read.shown import instead, shown


def check(base: KnowledgeBase, known: Known) -> list[Problem]:
    """The units of quantities, of formulas and their examples, and of the numbers of candidates."""
    problems = [problem for one in base.quantities for problem in _quantity(one)]
    if "quantities" in known.incomplete:
        return problems
    items = [item for one in base.catalogues for item in one.items] + list(base.pipe_sizes)
    series = [(word, word.text) for one in base.series
              for word in (one.axis.unit, *(column.unit for column in one.columns)) if word is not None]
    for word, unit in [pair for one in base.formulas for pair in _formula_units(one)] + _item_units(items) + series:
        if unit not in known.units:
            problems.append(Problem(word.place, "X016", f"no quantity has the unit '{shown(unit)}'",
                                    instead(unit, known.units, "unit")))
    return problems


# private

def _quantity(quantity: Quantity) -> list[Problem]:
    spelled = [one.text for one in quantity.spellings]
    problems = twice([*spelled, *(one.text for one in quantity.refused)],
                     f"quantity '{quantity.id}': spelling")
    own = next((one for one in quantity.spellings if one.text.text == quantity.unit.text), None)
    if own is None:
        return [*problems,
                Problem(quantity.unit.place, "X016",
                        f"the unit '{shown(quantity.unit.text)}' is none of the spellings of "
                                   f"'{quantity.id}'",
                        instead(quantity.unit.text, (word.text for word in spelled), "spelling"))]
    for one in quantity.spellings:
        try:
            units.conversion(one.pint.text, own.pint.text)
        except units.UnitFault as fault:
            problems.append(Problem(one.pint.place, "X017",
                                    f"'{shown(one.text.text)}' cannot be a spelling of '{quantity.id}': "
                                    f"{_on_one_line(str(fault))}",
                                    "write pint's name of the unit, as in meter**3/hour"))
    return problems


def _on_one_line(text: str) -> str:
    """A text of several words on one line, uncut."""
    return " ".join(shown(part) for part in text.split())


def _formula_units(formula: Formula) -> list[tuple[Word, str]]:
    measured = [*(one.value for one in formula.constants),
                *(value for one in formula.examples for _, value in one.given),
                *(one.result for one in formula.examples)]
    return ([(word, word.text) for word in (formula.unit, *(one.unit for one in formula.symbols))]
            + [(word, _unit_of(word)) for word in measured])


def _item_units(items: list[Item]) -> list[tuple[Word, str]]:
    return [(value, _unit_of(value)) for item in items for _, value in item.numbers]


def _unit_of(word: Word) -> str:
    """The unit behind a number; a bare number has the unit 1."""
    return word.text.partition(" ")[2].strip() or "1"
