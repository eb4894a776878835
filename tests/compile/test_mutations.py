"""Tests that no damage to data/ makes the compiler raise: what the reader lets through is compiled or refused
in words.

MUTATIONS and MUTATED_DATA as in tests.read.test_mutations; here the damage is also done inside a single word
or number, which the reader more often lets pass.
"""

from __future__ import annotations

import random
from datetime import date

from generator.compile.knowledge import compile_knowledge
from generator.problems import Problem
from generator.read.knowledge_base import read_files
from tests.read.small_data import files_of
from tests.read.test_mutations import FOLDER, MUTATIONS, mutate

SMALL_SIGNS = "0123456789.-+*/()[]<>=,eE _"


def mutate_a_word(data: bytes, chance: random.Random) -> bytes:
    """`data` with one letter of its text replaced, left out, doubled or added."""
    text = data.decode("utf-8")
    at = chance.randrange(len(text))
    sign = chance.choice(SMALL_SIGNS)
    return chance.choice((text[:at] + sign + text[at + 1:], text[:at] + text[at + 1:],
                          text[:at] + text[at:at + 2] + text[at:],
                          text[:at] + sign + text[at:])).encode("utf-8")


def test_compiler_never_raises_on_damage_that_the_reader_lets_through():
    files = files_of(FOLDER)
    names = sorted(name for name in files if name.endswith(".yml"))
    chance = random.Random(20_240_301)
    compiled = refused = 0
    for number in range(MUTATIONS):
        name = chance.choice(names)
        damaged = chance.choice((mutate, mutate_a_word, mutate_a_word))(files[name], chance)
        base, _ = read_files(files | {name: damaged})
        if base is None:
            continue
        try:
            pack, texts, problems = compile_knowledge(base, date(2026, 11, 25))
        except Exception as fault:
            raise AssertionError(f"mutation {number} of {name} raised {fault!r}:\n{damaged!r}") from fault
        assert (pack is None) == (texts is None) == bool(problems)
        assert all(isinstance(one, Problem) and str(one).isprintable() and one.fix for one in problems)
        compiled += pack is not None
        refused += bool(problems)
    assert compiled > 0 and refused > MUTATIONS * 0.02
