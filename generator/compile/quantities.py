"""Gives back what a spelled unit means: the vocabulary, numbers with units, exact conversions."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from fractions import Fraction

from generator.pack.model import Conversion, Refusal
from generator.problems import Place, Problem
from generator.read.records import Quantity, Word
from generator.units import Dimension, UnitFault, conversion, dimension

_BASES = (("[length]", "meter", "m"), ("[mass]", "kilogram", "kg"), ("[time]", "second", "s"),
          ("[current]", "ampere", "A"), ("[temperature]", "kelvin", "K"), ("[substance]", "mole", "mol"),
          ("[luminosity]", "candela", "cd"))


@dataclass(frozen=True, slots=True)
class Unit:
    """A spelled unit: what pint calls it, how it is printed, and the quantities that know the spelling."""

    spelling: str
    pint: str
    symbol: str
    quantities: tuple[str, ...] = ()

    @property
    def in_message(self) -> str:
        """How a message names it: "m/s", or "no unit" where it is a plain number."""
        return "no unit" if self.is_none else self.symbol

    @property
    def is_none(self) -> bool:
        """True for a plain number, whether its symbol is written `1` or not at all."""
        return self.symbol in ("", "1")


@dataclass(frozen=True, slots=True)
class Amount:
    """A number with its unit, exactly as typed."""

    value: Fraction
    unit: Unit

    def in_unit(self, other: Unit) -> float:
        """The same amount in another unit of the same dimension."""
        n, k, d = conversion(self.unit.pint, other.pint)
        return float((self.value * n + k) / d)


@dataclass(frozen=True, slots=True)
class Vocabulary:
    """All quantities by id, and all spellings of their units."""

    quantities: Mapping[str, Quantity]
    units: Mapping[str, Unit]

    def unit(self, word: Word) -> Unit | Problem:
        """The unit of a spelling; one that only pint knows is taken as pint means it."""
        return self._find(word.text.strip(), word.place)

    def amount(self, word: Word) -> Amount | Problem:
        """A number with its unit, as "100 mm"; a bare number is dimensionless."""
        figure, _, spelling = word.text.strip().partition(" ")
        try:
            value = Fraction(figure)
        except (ValueError, ZeroDivisionError):
            return Problem(
                word.place, "C008", f"'{word.text}' is not a number with a unit", "write it like `100 mm`")
        unit = self._find(spelling.strip() or "1", word.place)
        return unit if isinstance(unit, Problem) else Amount(value, unit)

    def unit_of(self, quantity: str) -> Unit:
        """The one unit in which numbers of a quantity are stored."""
        return self.units_of(self.quantities[quantity])[0]

    def units_of(self, quantity: Quantity) -> tuple[Unit, ...]:
        """All spellings of a quantity, its own unit first."""
        own = [s for s in quantity.spellings if s.text.text == quantity.unit.text]
        return tuple(Unit(s.text.text, s.pint.text, quantity.symbol.text if s in own else s.text.text,
                          self.units[s.text.text].quantities)
                     for s in (*own, *(s for s in quantity.spellings if s not in own)))

    def _find(self, spelling: str, place: Place) -> Unit | Problem:
        if spelling in self.units:
            return self.units[spelling]
        if spelling == "1":
            return Unit("1", "dimensionless", "1")
        for quantity in self.quantities.values():
            for refusal in quantity.refused:
                if refusal.text.text == spelling:
                    return Problem(
                        place, "C012", f"the unit '{spelling}' means more than one thing", refusal.ask.text)
        try:
            dimension(spelling)
        except UnitFault:
            close = get_close_matches(spelling, self.units, 1)
            return Problem(place, "C012", f"there is no unit '{spelling}'",
                           f"write `{close[0]}`" if close else "use a spelling from data/quantities.yml")
        return Unit(spelling, spelling, spelling)


def vocabulary(quantities: Iterable[Quantity]) -> tuple[Vocabulary, list[Problem]]:
    """The vocabulary, and the spellings that would mean two different units."""
    quantities = tuple(quantities)
    problems: list[Problem] = []
    units: dict[str, Unit] = {}
    for quantity in quantities:
        for spelling in quantity.spellings:
            text, own = spelling.text.text, spelling.text.text == quantity.unit.text
            known = units.get(text)
            if known is not None and known.pint != spelling.pint.text:
                problems.append(Problem(
                    spelling.text.place, "C013", f"the spelling '{text}' is '{known.pint}' for "
                    f"'{known.quantities[0]}' and '{spelling.pint}' here", "give it one meaning"))
                continue
            symbol = quantity.symbol.text if own else known.symbol if known else text
            units[text] = Unit(text, spelling.pint.text, symbol,
                               (*(known.quantities if known else ()), quantity.id.text))
    return Vocabulary({quantity.id.text: quantity for quantity in quantities}, units), problems


def conversions(quantity: Quantity) -> tuple[Conversion, ...]:
    """Every spelling of a quantity with its exact way into its unit; the reader checked that there is one."""
    pint = {spelling.text.text: spelling.pint.text for spelling in quantity.spellings}
    return tuple(Conversion(spelling.text.text, *conversion(spelling.pint.text, pint[quantity.unit.text]),
                            spelling.note.text if spelling.note else "") for spelling in quantity.spellings)


def typed_as(unit: Unit, vocabulary: Vocabulary) -> tuple[tuple[Conversion, ...], tuple[Refusal, ...]]:
    """What may be typed where a number in this unit is asked, and what is refused: as its quantity has it."""
    if not unit.quantities:
        return (Conversion(unit.spelling, 1, 0, 1),), ()
    # `K` is spelled by temperatures too; where it is a quantity's own unit it is a difference, and takes no degrees.
    own = [name for name in unit.quantities if vocabulary.quantities[name].unit.text == unit.spelling]
    quantity = vocabulary.quantities[(own or unit.quantities)[0]]
    spellings = tuple(Conversion(one.text.text, *conversion(one.pint.text, unit.pint), one.note.text if one.note else "")
                      for one in quantity.spellings)
    return spellings, refusals(quantity)


def refusals(quantity: Quantity) -> tuple[Refusal, ...]:
    """The spellings that a quantity refuses, with their questions."""
    return tuple(Refusal(refusal.text.text, refusal.ask.text) for refusal in quantity.refused)


def coherent_pint(dimensions: Dimension) -> str:
    """The SI unit of a dimension, as pint spells it; fractional powers have none."""
    powers = dict(dimensions)
    return " * ".join(
        f"{pint}**{powers[name]}" for name, pint, _ in _BASES if name in powers) or "dimensionless"


def in_words(dimensions: Dimension) -> str:
    """A dimension as its SI unit in plain signs: "m^3/s", "1" for a plain number."""
    powers = dict(dimensions)
    above = [_power(symbol, powers[name]) for name, _, symbol in _BASES if powers.get(name, 0) > 0]
    below = [_power(symbol, -powers[name]) for name, _, symbol in _BASES if powers.get(name, 0) < 0]
    others = [name for name in powers if name not in {base for base, _, _ in _BASES}]
    text = " ".join(above + others) or "1"
    if not below:
        return text
    return f"{text}/{below[0]}" if len(below) == 1 else f"{text}/({' '.join(below)})"


def same_kind(one: Unit, other: Unit) -> bool:
    """True when one can stand for the other: the same dimension, and no quantities that are kept apart."""
    if dimension(one.pint) != dimension(other.pint):
        return False
    return not one.quantities or not other.quantities or bool(set(one.quantities) & set(other.quantities))


# private

def _power(symbol: str, power: Fraction) -> str:
    return symbol if power == 1 else f"{symbol}^{power}" if power.denominator == 1 else f"{symbol}^({power})"
