"""A mixture means what it would mean to meet its components, and each of their pairs, one state after the other."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from random import Random

import pytest

from generator.evaluate.mixtures import kinds_of, parts_of, parts_read
from generator.evaluate.prepared import Prepared, prepare
from generator.evaluate.results import Application, ChoiceSet, Component, NumberSet, Selected, StateAnswers
from generator.evaluate.select import select
from generator.pack.model import CONCENTRATION, MEDIUM, MIXED_WITH, State
from tests.agreement.drawing import draw_application, draw_components
from tests.agreement.shipped import desk

MOST_STATES = 40                     # a pair of media that are not answered is of many kinds
MIXTURES = 60


@pytest.fixture(scope="module")
def spread() -> Prepared:
    """The shipped rules with more states that measure, one for every part of a mixture."""
    pack = desk().pack
    return prepare(replace(pack, states=(*pack.states, *(State(f"part_{place}", True) for place in range(MOST_STATES)))))


def test_a_mixture_is_as_bad_as_its_components_and_their_pairs_in_states_of_their_own(
        spread: Prepared, record_property: Callable[[str, object], None]) -> None:
    place = desk()
    differing = 0
    for number in range(MIXTURES):
        random = Random(f"mixture {number}")
        drawn = draw_application(place.limits, number)
        first = drawn.states[0]
        mixed = StateAnswers(first.state, tuple(pair for pair in first.answers if pair[0] != MIXED_WITH),
                             draw_components(random, place.limits))
        states = _in_states_of_their_own(place.prepared, mixed)
        assert len(states) <= MOST_STATES
        together = select(place.prepared, Application("mixed", "", (mixed,)))
        apart = select(spread, Application("mixed", "", states))
        alone = select(place.prepared, Application("alone", "", (replace(mixed, components=()),)))
        assert _verdicts(together) == _verdicts(apart)
        differing += _verdicts(together) != _verdicts(alone)
    record_property("counted", f"{MIXTURES} mixtures, {differing} of them unlike their first component alone")
    assert differing > MIXTURES // 2


def test_a_medium_by_itself_is_one_part_for_every_table() -> None:
    place = desk()
    parts = parts_of(place.prepared, StateAnswers("normal", ((MEDIUM, ChoiceSet(("seawater",))),)))
    assert [part.components for part in parts] == [()]
    assert all(parts_read(place.prepared, table, parts) == list(parts) for table in range(len(place.pack.tables)))


def test_chemistry_is_read_for_each_component_pairs_for_each_pair_and_all_else_once() -> None:
    place = desk()
    parts = parts_of(place.prepared, StateAnswers("normal", ((MEDIUM, ChoiceSet(("seawater",))),), (
        Component(ChoiceSet(("citric_acid",)), None), Component(ChoiceSet(("unlisted",)), None))))
    read = {table.id: [part.components for part in parts_read(place.prepared, number, parts)]
            for number, table in enumerate(place.pack.tables)}
    assert read["liner_chemistry"] == read["principle_conductivity"] == [(1,), (2,), (3,)]
    assert read["liner_mixture"] == [(1, 2), (1, 3), (2, 3)]
    assert read["liner_vacuum"] == read["earthing_pipe"] == [()]


@pytest.mark.parametrize(("one", "other", "kinds"), [
    (("sulfuric_acid",), ("sodium_chloride_brine",), (("acid_with_chloride", True),)),
    (("sodium_chloride_brine",), ("sulfuric_acid",), (("acid_with_chloride", True),)),      # in either order
    (("potassium_chloride",), ("sodium_sulfate",), (("neutral_salts", True),)),
    (("sodium_hydroxide",), ("ethanol_water",), (("not_recorded", True),)),
    (("unlisted",), ("drinking_water",), (("not_recorded", True),)),
    (("nitric_acid",), ("sodium_chloride_brine",),
     (("acid_with_chloride", True), ("nitric_with_chloride", True), ("oxidising_chloride", True))),
    (("sulfuric_acid", "sodium_hydroxide"), ("sodium_chloride_brine",),
     (("acid_with_chloride", False), ("not_recorded", False)))])
def test_a_pair_is_of_every_kind_that_names_it_and_of_the_last_where_none_does(
        one: tuple[str, ...], other: tuple[str, ...], kinds: tuple[tuple[str, bool], ...]) -> None:
    assert kinds_of(desk().prepared, one, other) == kinds


def test_an_open_component_asks_for_the_mixture_and_an_open_medium_for_the_medium() -> None:
    place = desk()
    both = ChoiceSet(("sulfuric_acid", "nitric_acid"))
    for medium, further, asked in ((both, ChoiceSet(("citric_acid",)), {MEDIUM}),
                                   (ChoiceSet(("citric_acid",)), both, {MIXED_WITH})):
        answers = ((MEDIUM, medium), (CONCENTRATION, NumberSet(((5.0, 5.0),))),
                   ("temperature_max", NumberSet(((20.0, 20.0),))))
        known = StateAnswers("normal", answers, (Component(further, NumberSet(((5.0, 5.0),))),))
        selected = select(place.prepared, Application("open", "", (known,)))
        rings = next(one for one in selected.decisions if one.decision == "ring_material")
        titanium = next(one for one in rings.candidates if one.candidate == "titanium")
        named = {name for _, name in titanium.open_inputs} & {MEDIUM, CONCENTRATION, MIXED_WITH}
        assert named == asked


# private

def _in_states_of_their_own(prepared: Prepared, mixed: StateAnswers) -> tuple[StateAnswers, ...]:
    """Every part of the mixture with all its answers written out, in a state of its own."""
    parts = [part for part in parts_of(prepared, mixed) if part.components]
    return tuple(StateAnswers(mixed.state if place == 0 else f"part_{place - 1}", tuple(part.answers.items()))
                 for place, part in enumerate(parts))


def _verdicts(selected: Selected) -> list[tuple[str, str, str, str]]:
    return sorted((decision.decision, one.candidate, one.best, one.worst)
                  for decision in selected.decisions for one in decision.candidates)
