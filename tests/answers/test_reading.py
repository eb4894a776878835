"""Checks what typed answers are understood as, and the exact words for those that are not."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.answers.figures import Fault
from generator.answers.reading import Understood, read_answer
from generator.evaluate.results import ChoiceSet, NumberSet
from generator.pack.model import Option
from tests.evaluate.drawn import small_pack

PACK = small_pack()
INPUTS = {item.id: item for item in PACK.inputs}


def understood(name: str, text: str) -> Understood:
    found = read_answer(INPUTS[name], text, PACK.inputs)
    assert isinstance(found, Understood), found
    return found


def fault(name: str, text: str) -> str:
    found = read_answer(INPUTS[name], text, PACK.inputs)
    assert isinstance(found, Fault), found
    return f"{found.code}: {found.message}; fix: {found.fix}"


@pytest.mark.parametrize(("name", "text", "number", "shown"), [
    ("temperature_max", "80 degC", 80.0, "80 degC"),
    ("temperature_max", "80 C", 80.0, "80 degC"),
    ("temperature_max", "80°C", 80.0, "80 degC"),
    ("temperature_max", " \u221240 degF ", -40.0, "-40 degC"),
    ("temperature_max", "104 degF", 40.0, "40 degC"),
    ("temperature_max", "176 degF", 80.0, "80 degC"),
    ("temperature_max", "32 degF", 0.0, "0 degC"),
    ("temperature_max", "273.15 K", 0.0, "0 degC"),
    ("temperature_max", "-0 degC", 0.0, "0 degC"),
    ("temperature_max", "8.0e1 degC", 80.0, "80 degC"),
    ("flow_max", "120 m3/h", 120.0, "120 m3/h"),
    ("flow_max", "120\u00a0m³/h", 120.0, "120 m3/h"),
    ("flow_max", "450 gpm", 102.206118168, "102.206118168 m3/h (US gallons)"),
    ("flow_max", "10 L/s", 36.0, "36 m3/h"),
    ("pressure_max", "6 barg", 6.0, "6 bar gauge"),
    ("pressure_max", "150 psig", 10.342135939753, "10.3421359398 bar gauge"),
    ("ratio", "0.5", 0.5, "0.5"),
    ("concentration", "30 mass %", 30.0, "30 mass %"),
])
def test_a_number_is_understood_in_the_unit_of_its_input(
    name: str, text: str, number: float, shown: str
) -> None:
    found = understood(name, text)
    assert found.text == shown
    assert found.answer == NumberSet(((pytest.approx(number, rel=5e-12, abs=0),) * 2,))


@pytest.mark.parametrize("text", ["60 to 80 degC", "60 degC to 80 degC", "140 degF to 80 degC"])
def test_two_ends_are_understood_with_one_unit_or_two(text: str) -> None:
    assert understood("temperature_max", text) == Understood("60 to 80 degC", NumberSet(((60.0, 80.0),)))


def test_two_equal_ends_are_a_single_number() -> None:
    assert understood("temperature_max", "60 to 60 degC").text == "60 degC"


@pytest.mark.parametrize("text", ["", "  ", "not answered", "Not answered"])
def test_a_blank_is_understood_as_not_answered(text: str) -> None:
    assert understood("temperature_max", text) == Understood("not answered", None)


def test_not_applicable_is_understood_where_the_input_allows_it() -> None:
    assert understood("flow_max", "not applicable").answer == NumberSet((), True)
    assert understood("pipe_size", "not applicable").answer == ChoiceSet(("not_applicable",))


@pytest.mark.parametrize(
    ("text", "ids"),
    [
        ("water", ("water",)),
        ("Drinking Water", ("water",)),
        ("ORE SLURRY", ("ore_slurry",)),
        ("salt  water", ("brine",)),
        ("brine or water", ("water", "brine")),
        ("water or water", ("water",)),
    ],
)
def test_a_choice_is_understood_by_id_title_or_synonym(text: str, ids: tuple[str, ...]) -> None:
    assert understood("medium", text) == Understood(" or ".join(ids), ChoiceSet(ids))


def test_a_title_that_holds_the_word_or_is_one_choice() -> None:
    assert understood("service", "clean or coating or scaling").answer == ChoiceSet(("clean", "sticky"))


def test_one_of_several_may_be_not_applicable() -> None:
    assert understood("pipe_size", "not applicable or dn25").answer == ChoiceSet(("dn25", "not_applicable"))


@pytest.mark.parametrize(("name", "text", "wrong", "fix"), [
    ("temperature_max", "hot", "A007: 'hot' is not a number with its unit",
     "write it like `50 degC`"),
    ("temperature_max", "+5 degC", "A007: '+5 degC' is not written as a number",
     "write `5 degC`"),
    ("temperature_max", ".5 degC", "A007: '.5 degC' is not written as a number",
     "write `0.5 degC`"),
    ("temperature_max", "80. degC", "A007: '80. degC' is not written as a number",
     "write `80 degC`"),
    ("temperature_max", "60-80 degC", "A007: '60-80 degC' joins two numbers by a dash",
     "write `60 to 80 degC`"),
    ("temperature_max", "60 or 80 degC", "A007: '60 or 80 degC' names several numbers",
     "write the two ends between which it lies, like `60 to 80`, and the unit"),
    ("temperature_max", "ca. 60 degC", "A007: 'ca. 60 degC' is not a number with its unit",
     "write it like `60 degC`"),
    ("temperature_max", "~60", "A007: '~60' is not a number with its unit", "write `60 degC`"),
    ("temperature_max", "ca. 60-80 degC", "A007: 'ca. 60-80 degC' is not a number with its unit",
     "write `60 to 80 degC`"),
    ("temperature_max", "about 60 to 80 degC", "A007: 'about 60 to 80 degC' does not name two numbers",
     "write it like `60 to 80 degC`"),
    ("temperature_max", "- 5 degC", "A007: '- 5 degC' is not a number with its unit",
     "write it like `50 degC`"),
    ("temperature_max", "not 60 degC", "A007: 'not 60 degC' is not a number with its unit",
     "write it like `50 degC`"),
    ("temperature_max", "ca. .5 degC", "A007: 'ca. .5 degC' is not a number with its unit",
     "write it like `50 degC`"),
    ("temperature_max", "> 60 degC", "A007: '> 60 degC' names one end only",
     "write `60 to 250 degC`, with the end of the range"),
    ("temperature_max", "up to 60", "A007: 'up to 60' names one end only",
     "write `-50 to 60 degC`, with the end of the range"),
    ("temperature_max", ">=140 degF", "A007: '>=140 degF' names one end only",
     "write `140 degF to 250 degC`, with the end of the range"),
    ("temperature_max", "\u2264 140 degF", "A007: '\u2264 140 degF' names one end only",
     "write `-50 degC to 140 degF`, with the end of the range"),
    ("pressure_max", "< 6 bar", "A007: '< 6 bar' names one end only", "gauge or absolute? type `6 barg`"),
    ("ratio", "> 0.5", "A007: '> 0.5' names one end only", "write `0.5 to 10`, with the end of the range"),
    ("temperature_max", "low to 80 degC", "A007: 'low to 80 degC' does not name two numbers",
     "write the two ends as `-50 to 250 degC`"),
    ("temperature_max", "1e400 degC", "A007: '1e400 degC' is beyond every quantity that is asked for here",
     "write a number like `50 degC`"),
    ("temperature_max", "1,5 degC", "A008: '1,5 degC' has a decimal comma",
     "write `1.5 degC`"),
    ("flow_max", "1,500 m3/h", "A009: '1,500 m3/h' has a comma, which may part thousands or decimals",
     "write `1500 m3/h`, or `1.500 m3/h`"),
    ("flow_max", "1,234.5 m3/h", "A009: '1,234.5 m3/h' has a comma, which may part thousands or decimals",
     "write `1234.5 m3/h`"),
    ("flow_max", "1 500 m3/h", "A009: '1 500 m3/h' has a space within the number",
     "write `1500 m3/h`"),
    ("flow_max", "1_500 m3/h", "A009: '1_500 m3/h' has marks between its digits",
     "write the digits without marks, and a point before decimals"),
    ("temperature_max", "010 degC", "A010: '010 degC' begins with a zero that says nothing",
     "write `10 degC`"),
    ("temperature_max", "1.2345678901234 degC", "A011: '1.2345678901234 degC' has 14 significant digits",
     "round it to 12 digits or fewer"),
    ("temperature_max", "80", "A012: '80' has no unit",
     "write `80 degC`"),
    ("temperature_max", "60 to 80", "A012: '60 to 80' has no unit",
     "write `60 to 80 degC`"),
    ("temperature_max", "60 degC to 80", "A012: '80' has no unit",
     "write `80 degC`"),
    ("temperature_max", "80 degc", "A013: 'degc' is not a known unit of 'temperature_max'",
     "did you mean `degC`?"),
    ("temperature_max", "80 Rankine", "A013: 'Rankine' is not a known unit of 'temperature_max'",
     "use one of: `degC`, `°C`, `C`, `degF`, `K`"),
    ("pressure_max", "6 bar", "A014: the unit 'bar' is not taken here",
     "gauge or absolute? type `6 barg`"),
    ("concentration", "30 %", "A014: the unit '%' is not taken here",
     "by mass or by volume? type `10 mass %`"),
    ("temperature_max", "6 barg", "A015: 'barg' is a unit of 'pressure_max', not of 'temperature_max'",
     "use one of: `degC`, `°C`, `C`, `degF`, `K`"),
    ("temperature_max", "251 degC", "A016: '251 degC' is outside -50 to 250 degC",
     "type a value from -50 to 250 degC"),
    ("temperature_max", "500 degF", "A016: '500 degF' is 260 degC, which is outside -50 to 250 degC",
     "type a value from -50 to 250 degC"),
    ("ratio", "11", "A016: '11' is outside 0 to 10",
     "type a value from 0 to 10"),
    ("temperature_max", "80 to 60 degC", "A017: '80 to 60 degC' begins above its end",
     "write `60 to 80 degC`"),
    ("temperature_max", "80 degC to 60 degC", "A017: '80 degC to 60 degC' begins above its end",
     "write `60 degC to 80 degC`"),
    ("pipe_size", "DN 70", "A018: 'DN 70' is not a choice of 'pipe_size'",
     "type `dn25` or `dn100`, the sizes next to it"),
    ("pipe_size", "100", "A018: '100' is not a choice of 'pipe_size'", "did you mean `dn100`?"),
    ("pipe_size", "400 mm", "A018: '400 mm' is not a choice of 'pipe_size'", "did you mean `dn400`?"),
    ("pipe_size", "DN 20", "A018: 'DN 20' is not a choice of 'pipe_size'", "the sizes begin at `dn25`"),
    ("pipe_size", "DN 500", "A018: 'DN 500' is not a choice of 'pipe_size'", "the sizes end at `dn400`"),
    ("pipe_size", "DNN100", "A018: 'DNN100' is not a choice of 'pipe_size'", "did you mean `dn100`?"),
    ("pipe_size", "24 in", "A018: '24 in' is not a choice of 'pipe_size'",
     "type one of: `dn25`, `dn100`, `dn400`"),
    ("service", "clean or foggy", "A018: 'foggy' is not a choice of 'service'",
     "type one of: `clean`, `slurry`, `sticky`"),
    ("medium", "H2O", "A019: 'H2O' may mean water or brine",
     "type `water` or `brine`"),
    ("temperature_max", "not applicable", "A020: 'temperature_max' always applies",
     "type an answer, or leave it out if it is not known"),
    ("cathodic", "NO", "A021: 'NO' is not written as yes or no",
     "type `no`"),
    ("cathodic", "true", "A021: 'true' is not written as yes or no",
     "type `yes`"),
])
def test_a_fault_says_what_is_wrong_and_what_to_type(name: str, text: str, wrong: str, fix: str) -> None:
    assert fault(name, text) == f"{wrong}; fix: {fix}"


@given(st.sampled_from(["", "DN ", "DN", "NPS "]), st.integers(0, 2000), st.sampled_from(["", " mm", " in"]))
def test_a_suggested_size_is_never_another_number_than_the_typed_one(before: str, number: int, after: str) -> None:
    found = read_answer(INPUTS["pipe_size"], f"{before}{number}{after}", PACK.inputs)
    if isinstance(found, Fault) and "did you mean" in found.fix:
        assert found.fix == f"did you mean `dn{number}`?"


def test_a_size_is_offered_by_the_name_on_the_pipe_where_that_is_understood() -> None:
    sizes = tuple(Option(f"dn{bore}", (f"dn{bore}", f"dn {bore}"), (("nominal_bore", float(bore)),)) for bore in (65, 80))
    item = replace(INPUTS["pipe_size"], options=sizes)
    assert read_answer(item, "DN 70").fix == "type `DN 65` or `DN 80`, the sizes next to it"
    assert read_answer(item, "80").fix == "did you mean `DN 80`?"


def test_a_spelling_that_only_the_command_line_knows_is_converted_exactly() -> None:
    def rankine(spelling: str, unit: str) -> tuple[int, int, int] | None:
        return (100, -49167, 180) if (spelling, unit) == ("degR", "degC") else None

    found = read_answer(INPUTS["temperature_max"], "491.67 degR", PACK.inputs, rankine)
    assert found == Understood("0 degC", NumberSet(((0.0, 0.0),)))


@given(st.integers(-45, 240), st.integers(0, 4), st.integers(0, 9999))
def test_a_converted_number_is_the_exact_fraction_rounded_once(whole: int, places: int, part: int) -> None:
    typed = f"{whole}.{part:04d}"[:len(str(whole)) + 1 + places].rstrip(".")
    found = understood("temperature_max", f"{typed} degF")
    exact = (Fraction(typed) * 5 - 160) / 9
    assert abs(Fraction(found.answer.intervals[0][0]) - exact) <= abs(exact) * Fraction(6, 10 ** 12)


@given(
    st.sampled_from(sorted(INPUTS)),
    st.text(max_size=40)
    | st.from_regex(
        r"[-+]?[0-9.,' ]{1,8}(e[0-9]{1,5})? ?(degC|m3/h|bar|to|or)? ?[0-9.]{0,4} ?(degF|gpm|psig)?",
        fullmatch=True,
    ),
)
def test_any_text_is_understood_or_gets_a_fault_on_one_line(name: str, text: str) -> None:
    found = read_answer(INPUTS[name], text, PACK.inputs)
    if isinstance(found, Fault):
        assert found.message and found.fix
        assert not {"\n", "\r", "\u2028"} & set(found.message + found.fix)
        assert found.code[0] == "A"
    else:
        again = read_answer(INPUTS[name], found.text.split(" (")[0])
        assert again == Understood(found.text.split(" (")[0], found.answer)


@pytest.mark.parametrize("typed, ids, said", [
    ("liquid helium", ("unlisted",), ["'liquid helium' is no name in this guide; try its formula or its CAS number"]),
    ("watr", ("unlisted",), ["'watr' is no name in this guide; perhaps 'water' is meant"]),
    ("cold brine of 20 %", ("unlisted",), ["'cold brine of 20 %' is no name in this guide; perhaps 'brine' is meant"]),
    ("h20", ("unlisted",), ["'h20' is no name in this guide; try its formula or its CAS number"]),
    ("water or mercury", ("water", "unlisted"), ["'mercury' is no name in this guide; try its formula or its CAS number"]),
])
def test_a_name_that_the_guide_does_not_hold_is_unlisted_and_never_the_nearest(
        typed: str, ids: tuple[str, ...], said: list[str]) -> None:
    found = read_answer(INPUTS["medium"], typed, PACK.inputs)
    assert isinstance(found, Understood)
    assert found.answer == ChoiceSet(ids)
    assert list(found.unknown) == said
    assert found.text == f"{' or '.join(ids)} ({said[0]})"


def test_a_very_long_text_is_refused_without_being_repeated() -> None:
    assert len(fault("temperature_max", "9" * 100_000)) < 200
    assert len(fault("service", "x" * 100_000)) < 300
    stranger = read_answer(INPUTS["medium"], "x" * 100_000, PACK.inputs)
    assert isinstance(stranger, Understood) and len(stranger.text) < 200
    assert len(fault("temperature_max", "0." + "0" * 50_000 + "1 degC")) < 200
    assert len(fault("temperature_max", f"1e{'9' * 50_000} degC")) < 200
