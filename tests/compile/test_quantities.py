"""A spelled unit means one thing, an amount is exact, and kinds that only share a dimension stay apart."""

from __future__ import annotations

from fractions import Fraction

import pytest

from generator.compile.quantities import Amount, Unit, same_kind, vocabulary
from generator.problems import Place, Problem
from generator.read.records import Quantity, Refusal, Spelling, Word

AT = Place("data/quantities.yml", 3, 5)


def word(text: str) -> Word:
    return Word(text, AT)


def quantity(name: str, unit: str, *spellings: tuple[str, str], refused: tuple[str, ...] = ()) -> Quantity:
    return Quantity(
        word(name), word(name), word(unit), word(unit),
        tuple(Spelling(word(text), word(pint)) for text, pint in spellings),
        tuple(Refusal(word(text), word("gauge or absolute? type `6 bar gauge`")) for text in refused))


WORDS, PROBLEMS = vocabulary((
    quantity("length", "mm", ("mm", "millimeter"), ("m", "meter")),
    quantity("elevation", "m", ("m", "meter"), ("ft", "foot")),
    quantity("gauge_pressure", "bar gauge", ("bar gauge", "bar"), ("barg", "bar"), refused=("bar",)),
    quantity("absolute_pressure", "bar abs", ("bar abs", "bar"), ("bara", "bar"))))


def unit(spelling: str) -> Unit:
    found = WORDS.unit(word(spelling))
    assert isinstance(found, Unit)
    return found


def test_one_spelling_in_two_quantities_is_fine_when_it_means_the_same():
    assert PROBLEMS == [] and unit("m").quantities == ("length", "elevation")


def test_an_amount_is_kept_exactly_until_it_is_converted():
    amount = WORDS.amount(word("0.1 ft"))
    assert isinstance(amount, Amount)
    assert (amount.value, amount.in_unit(unit("mm"))) == (Fraction(1, 10), 30.48)


def test_gauge_and_absolute_pressure_share_a_dimension_and_are_not_the_same_kind():
    assert same_kind(unit("barg"), unit("bar gauge")) and not same_kind(unit("barg"), unit("bara"))
    assert same_kind(unit("bara"), Unit("kPa", "kilopascal", "kPa"))


@pytest.mark.parametrize(("text", "code", "said"), [
    ("6 bar", "C012", "gauge or absolute?"), ("6 bargh", "C012", "`barg`"), ("six mm", "C008", "100 mm"),
])
def test_a_unit_or_number_that_is_not_understood_is_told_with_a_fix(text, code, said):
    problem = WORDS.amount(word(text))
    assert isinstance(problem, Problem) and problem.code == code
    assert said in f"{problem.message}; {problem.fix}"


def test_a_spelling_that_only_pint_knows_is_taken_as_pint_means_it():
    assert WORDS.unit(word("inch")) == Unit("inch", "inch", "inch")
