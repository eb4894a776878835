"""Checks how the answers of a file become an application: states, shared, same and assumed ones, problems."""

from __future__ import annotations

import pytest

from generator.answers.application import AnswerProblem, UnderstoodAnswer, read_application
from generator.evaluate.results import Answer, ChoiceSet, Component, NumberSet
from tests.evaluate.drawn import small_pack

PACK = small_pack()


def answers(typed: dict[str, object]) -> dict[str, dict[str, Answer]]:
    read = read_application(PACK, typed)
    assert read.problems == ()
    return {state.state: dict(state.answers) for state in read.application.states}


def problems(typed: dict[str, object]) -> list[str]:
    return [f"{problem.state}.{problem.input} {problem.part}: {problem.code}: {problem.message}; "
            f"fix: {problem.fix}"
            for problem in read_application(PACK, typed).problems]


def single(number: float) -> NumberSet:
    return NumberSet(((number, number),))


def test_an_application_names_its_states_as_described_ruled_out_or_neither() -> None:
    read = read_application(
        PACK, {"id": "intake", "title": "Sea intake", "normal": {}, "steaming": "none"}
    ).application
    assert (read.id, read.title) == ("intake", "Sea intake")
    assert [state.state for state in read.states] == ["normal"]
    assert read.ruled_out == ("steaming",)
    assert read.undescribed == ("cleaning",)


def test_an_input_of_the_application_holds_in_every_described_state() -> None:
    found = answers({"normal": {"pipe_size": "dn100"}, "cleaning": {"temperature_max": "90 degC"}})
    assert found["cleaning"]["pipe_size"] == found["normal"]["pipe_size"] == ChoiceSet(("dn100",))


def test_an_input_of_a_state_never_takes_the_answer_of_normal_unless_it_says_same() -> None:
    found = answers(
        {"normal": {"temperature_max": "40 degC", "medium": "water"}, "cleaning": {"medium": "same"}}
    )
    assert "temperature_max" not in found["cleaning"]
    assert found["cleaning"]["medium"] == ChoiceSet(("water",))


def test_same_is_a_blank_where_normal_has_no_answer() -> None:
    assert "medium" not in answers({"normal": {}, "cleaning": {"medium": "same"}})["cleaning"]


def test_answers_stand_in_the_order_of_the_vocabulary() -> None:
    read = read_application(PACK, {"normal": {"ratio": "1", "temperature_max": "4 degC", "medium": "brine"}})
    assert [name for name, _ in read.application.states[0].answers] == [
        "medium",
        "temperature_max",
        "elevation",
        "ratio",
    ]


def test_an_assumed_text_is_used_and_recorded_once_for_the_whole_application() -> None:
    read = read_application(PACK, {"normal": {}, "cleaning": {}})
    assert read.application.assumed == (("normal", "elevation"),)
    assert [dict(state.answers)["elevation"] for state in read.application.states] == [single(0.0)] * 2
    assert UnderstoodAnswer("normal", "elevation", "", "0 m") in read.understood


def test_an_assumed_word_comes_from_the_option_chosen_in_the_same_state() -> None:
    read = read_application(
        PACK, {"normal": {"medium": "water"}, "cleaning": {"medium": "ore slurry"}}
    ).application
    assert [dict(state.answers)["service"] for state in read.states] == [
        ChoiceSet(("clean",)),
        ChoiceSet(("slurry",)),
    ]
    assert ("cleaning", "service") in read.assumed


def test_nothing_is_assumed_where_the_option_is_not_single_or_has_no_such_word() -> None:
    for medium in ("water or brine", "brine", "", "not answered"):
        assert "service" not in answers({"normal": {"medium": medium}})["normal"]


def test_a_typed_answer_is_never_replaced_by_the_assumed_one() -> None:
    read = read_application(
        PACK, {"normal": {"medium": "water", "service": "slurry", "elevation": "100 ft"}}
    ).application
    assert read.assumed == ()
    assert dict(read.states[0].answers)["elevation"] == single(30.48)


def test_what_was_understood_is_listed_beside_what_was_typed() -> None:
    read = read_application(
        PACK,
        {
            "normal": {"temperature_max": " 104  degF", "flow_max": "450 gpm", "elevation": "0 m"},
            "cleaning": {"temperature_max": "same"},
        },
    )
    assert read.understood == (
        UnderstoodAnswer("normal", "temperature_max", "104 degF", "40 degC"),
        UnderstoodAnswer("normal", "flow_max", "450 gpm", "102.206118168 m3/h (US gallons)"),
        UnderstoodAnswer("normal", "elevation", "0 m", "0 m"),
        UnderstoodAnswer("cleaning", "temperature_max", "same", "40 degC"))


def test_names_that_the_guide_does_not_hold_are_told_with_their_state() -> None:
    read = read_application(PACK, {"normal": {"medium": "mercury", "mixed_with": "brine at 5 mass %; quicklime"},
                                   "cleaning": {"medium": "water"}})
    assert read.problems == ()
    assert read.application.unknown == (
        ("normal", "'mercury' is no name in this guide; try its formula or its CAS number"),
        ("normal", "'quicklime' is no name in this guide; try its formula or its CAS number"))


def test_all_problems_of_an_application_are_given_with_their_places() -> None:
    assert problems(
        {
            "id": "x",
            "nromal": {},
            "temperature_max": "5 degC",
            "normal": {"tempreture_max": "5 degC", "service": "claen"},
            "cleaning": {"pipe_size": "dn25", "temperature_max": "500 degC"},
            "steaming": "never",
        }
    ) == [
        "nromal. key: A002: there is no state 'nromal'; fix: did you mean `normal`?",
        "temperature_max. key: A002: there is no state 'temperature_max'; fix: move it under `normal`",
        "steaming. value: A001: 'steaming' has neither answers nor `none`; fix: write its answers, `{}` "
        "where none is known, "
        "or `none` where it never happens",
        "normal.tempreture_max key: A003: there is no input 'tempreture_max'; fix: did you mean "
        "`temperature_max`?",
        "normal.service value: A018: 'claen' is not a choice of 'service'; fix: type one of: `clean`, `slurry`, `sticky`",
        "cleaning.temperature_max value: A016: '500 degC' is outside -50 to 250 degC; fix: type a value "
        "from -50 to 250 degC",
        "cleaning.pipe_size key: A005: 'pipe_size' is the same in every state; fix: answer it once, under "
        "`normal`",
    ]


def test_an_application_without_a_normal_state_has_a_problem() -> None:
    fix = "write the answers under `normal`"
    wrong = "A004: the state 'normal' is not described"
    assert problems({"cleaning": {}}) == [f"normal. key: {wrong}; fix: {fix}"]
    assert problems({"normal": "none"}) == [f"normal. value: {wrong}; fix: {fix}"]


def test_same_in_normal_itself_has_nothing_to_copy() -> None:
    assert problems({"normal": {"medium": "same", "pipe_size": "same"}}) == [
        f"normal.{name} value: A006: `same` takes the answer of 'normal', which is here; fix: type the "
        f"answer, or `not answered`"
        for name in ("medium", "pipe_size")]


def test_an_answer_that_is_not_a_text_has_a_problem() -> None:
    read = read_application(PACK, {"normal": {"medium": 5}})
    assert read.problems == (AnswerProblem(
        "normal", "medium", "value", "A001", "the answer to 'medium' is not a text",
        "write one answer, like `60 to 80 degC` or `yes`"),)


def test_pinned_candidates_are_read_by_id_or_name_beside_the_states() -> None:
    option = PACK.decisions[0].candidates[0]
    for typed in (option.id, f"  {option.id.upper()} ", *option.spellings):
        read = read_application(PACK, {"id": "a", "title": "A", "normal": {}, "pinned": {PACK.decisions[0].id: typed}})
        assert read.problems == ()
        assert read.application.pinned == ((PACK.decisions[0].id, option.id),)
        assert read.understood[-1].state == "pinned" and read.understood[-1].understood == option.id


def test_pins_that_are_no_mapping_are_a_problem_with_the_way_to_write_them() -> None:
    read = read_application(PACK, {"id": "a", "title": "A", "normal": {}, "pinned": "none"})
    assert [(problem.state, problem.code) for problem in read.problems] == [("pinned", "A001")]
    assert read.application.pinned == ()


def test_components_are_read_each_with_its_concentration_in_ids_and_own_units() -> None:
    read = read_application(PACK, {"normal": {"medium": "water", "mixed_with": "salt water at 2 to 5 mass %; ore slurry"}})
    (state,) = read.application.states
    assert not read.problems
    assert state.components == (
        Component(ChoiceSet(("brine",)), NumberSet(((2.0, 5.0),))), Component(ChoiceSet(("ore_slurry",)), None))
    assert [(one.input, one.understood) for one in read.understood if one.input == "mixed_with"] == [
        ("mixed_with", "brine at 2 to 5 mass %; ore_slurry")]


@pytest.mark.parametrize("typed", ["", "not answered", "none", "Not applicable"])
def test_a_medium_that_is_mixed_with_nothing_has_no_components(typed: str) -> None:
    (state,) = read_application(PACK, {"normal": {"medium": "water", "mixed_with": typed}}).application.states
    assert state.components == ()


def test_same_takes_the_components_of_normal_and_a_blank_takes_none() -> None:
    typed = {"normal": {"medium": "water", "mixed_with": "brine at 5 mass %"}, "cleaning": {"mixed_with": "same"},
             "steaming": {"medium": "same"}}
    normal, cleaning, steaming = read_application(PACK, typed).application.states
    assert cleaning.components == normal.components != ()
    assert steaming.components == ()


@pytest.mark.parametrize(("mixed_with", "service"), [
    ("water", "clean"),                     # its usual service is that of the medium
    ("ore slurry", None),                   # another one: nobody can assume which
    ("water or ore slurry", None),
    ("brine", None)])                       # none is known of it
def test_a_service_is_assumed_only_where_all_components_have_the_same(mixed_with: str, service: str | None) -> None:
    read = read_application(PACK, {"normal": {"medium": "water", "mixed_with": mixed_with}})
    assert dict(read.application.states[0].answers).get("service") == (service and ChoiceSet((service,)))
