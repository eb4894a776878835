"""Checks application files: the ways to write an answer, and every bad file against its expected lines."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from generator.answers import faults
from generator.commands.application_file import read_application_file, units_known_to_pint
from generator.evaluate.results import ChoiceSet, NumberSet
from generator.problems import Place, Refused
from generator.read.records import Quantity, Spelling, Word
from tests.evaluate.drawn import small_pack

PACK = small_pack()
BAD = Path(__file__).parent.parent / "bad_applications"
FOLDERS = sorted(folder for folder in BAD.iterdir() if folder.is_dir())


def word(text: str) -> Word:
    return Word(text, Place("quantities.yml"))


def read(text: str) -> tuple[dict[str, object], list[str]]:
    found, problems = read_application_file(PACK, "application.yml", text.encode())
    states = () if found is None else found.application.states
    return dict(states[0].answers) if states else {}, [str(problem) for problem in problems]


@pytest.mark.parametrize(("written", "name", "answer"), [
    ("temperature_max: 104 degF", "temperature_max", NumberSet(((40.0, 40.0),))),
    ("temperature_max: {between: [60, 80 degC]}", "temperature_max", NumberSet(((60.0, 80.0),))),
    ("temperature_max: {between: [140 degF, 80 degC]}", "temperature_max", NumberSet(((60.0, 80.0),))),
    ("medium: {one_of: [brine, water]}", "medium", ChoiceSet(("water", "brine"))),
    ("medium: [brine, water]", "medium", ChoiceSet(("water", "brine"))),
    ("medium: brine or water", "medium", ChoiceSet(("water", "brine"))),
    ("flow_max: not applicable", "flow_max", NumberSet((), True)),
    ("cathodic: no", "cathodic", ChoiceSet(("no",))),
    ("cathodic: \"yes\"", "cathodic", ChoiceSet(("yes",))),
])
def test_an_answer_may_be_written_as_text_or_as_a_list(written: str, name: str, answer: object) -> None:
    answers, problems = read(f"id: a\ntitle: A\nnormal:\n  {written}\n")
    assert problems == []
    assert answers[name] == answer


@pytest.mark.parametrize("written", ["temperature_max:", "temperature_max: null", "temperature_max: ~",
                                     "temperature_max: not answered", "temperature_max: \"\""])
def test_an_answer_left_open_is_not_answered(written: str) -> None:
    answers, problems = read(f"id: a\ntitle: A\nnormal:\n  {written}\n")
    assert problems == []
    assert "temperature_max" not in answers


def test_a_unit_that_only_pint_knows_is_understood_on_the_command_line() -> None:
    flow = Quantity(word("volume_flow"), word("Volume flow"), word("m3/h"), word("m³/h"),
                    (Spelling(word("m3/h"), word("meter**3/hour")),))
    data = b"{id: a, title: A, normal: {flow_max: 2 liter/second}}"
    found, problems = read_application_file(PACK, "application.yml", data, units_known_to_pint([flow]))
    assert problems == []
    assert dict(found.application.states[0].answers)["flow_max"] == NumberSet(((7.2, 7.2),))


@pytest.mark.parametrize("folder", FOLDERS, ids=lambda folder: folder.name)
def test_a_bad_application_gives_exactly_its_expected_lines(folder: Path) -> None:
    _, problems = read_application_file(PACK, "application.yml", (folder / "application.yml").read_bytes())
    assert f"{Refused(problems)}\n" == (folder / "expected.txt").read_text("utf-8")
    assert folder.name[:4] in {problem.code for problem in problems}


def test_every_code_of_a_bad_answer_has_a_smallest_bad_file() -> None:
    codes = {value for name, value in vars(faults).items() if name.isupper()}
    assert codes == {folder.name[:4] for folder in FOLDERS if folder.name.startswith("A")}


GOOD = b"""id: intake
title: Sea water intake
normal:
  medium: {one_of: [brine, water]}
  temperature_max: {between: [60, 80 degC]}
  flow_max: 450 gpm
  pipe_size: dn100
  cathodic: "no"
cleaning: {temperature_max: 194 degF, medium: same}
steaming: none
"""


def test_a_good_application_has_no_problem() -> None:
    found, problems = read_application_file(PACK, "application.yml", GOOD)
    assert problems == []
    assert [state.state for state in found.application.states] == ["normal", "cleaning"]


def test_a_mutated_application_gives_problems_and_never_a_traceback() -> None:
    rng = random.Random(31)
    refused = 0
    for _ in range(1_500):
        data = bytearray(GOOD)
        for _ in range(rng.randint(1, 3)):
            at = rng.randrange(len(data))
            kind = rng.random()
            if kind < 0.4:
                data[at] = rng.choice(b" :{}[],-\"'#&*!|>%@`\t\n\x00\xff0159aez")
            elif kind < 0.7:
                del data[at:at + rng.randint(1, 12)]
            else:
                data[at:at] = data[rng.randrange(len(data)):][:rng.randint(1, 30)]
        _, problems = read_application_file(PACK, "application.yml", bytes(data))
        refused += bool(problems)
        assert all("\n" not in str(problem) for problem in problems)
    assert refused > 700


def test_a_list_of_components_says_the_same_as_semicolons_between_them() -> None:
    listed = b"id: a\ntitle: A\nnormal:\n  medium: water\n  mixed_with: [brine at 5 mass %, ore slurry]\n"
    typed = listed.replace(b"[brine at 5 mass %, ore slurry]", b"brine at 5 mass %; ore slurry")
    (one, faults), (other, others) = (read_application_file(PACK, "a.yml", data) for data in (listed, typed))
    assert faults == others == []
    assert one == other and len(one.application.states[0].components) == 2
