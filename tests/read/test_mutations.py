"""Tests that no damage to data/ makes the reader raise: bytes and lines are changed at random, one file at a time.

MUTATIONS sets how many, MUTATED_DATA which folder; the suite takes a few hundred of tests/small_data.
"""

from __future__ import annotations

import os
import random
from pathlib import Path

from generator.problems import Problem
from generator.read.knowledge_base import read_files
from tests.read.small_data import SMALL_DATA, files_of

MUTATIONS = int(os.environ.get("MUTATIONS", "300"))
FOLDER = Path(os.environ.get("MUTATED_DATA", SMALL_DATA))
SIGNS = [b"\x00", b"\xff", b"\t", b"\n", b" ", b":", b": ", b"-", b"- ", b"[", b"]", b"{", b"}", b",", b"#",
         b"&a ", b"*a", b"!x ",
         b"|", b">", b"%", b"@", b"'", b'"', b"\\", b"<<: ", b"---\n", b"...\n", b"0", b"9" * 400, b"e999",
         b"~", b".", b"?",
         "\u2028".encode(), "\U0001F600".encode(), b"\xed\xa0\x80", b"\xef\xbb\xbf", b"not applicable",
         b"[" * 200]


def mutate(data: bytes, chance: random.Random) -> bytes:
    """`data` with one change of bytes or lines."""
    kind = chance.randrange(8)
    at = chance.randrange(len(data) + 1)
    lines = data.split(b"\n")
    one, other = chance.randrange(len(lines)), chance.randrange(len(lines))
    if kind == 0:
        return data[:at] + chance.choice(SIGNS) + data[at:]
    if kind == 1:
        return data[:at] + data[at + chance.randrange(1, 40):]
    if kind == 2:
        return data[:at] + bytes([chance.randrange(256)]) + data[at + 1:]
    if kind == 3:
        return data[:at]
    if kind == 4:
        lines.insert(one, lines[other])
    elif kind == 5:
        del lines[one]
    elif kind == 6:
        lines[one], lines[other] = lines[other], lines[one]
    else:
        words = lines[one].split(b" ")
        chance.shuffle(words)
        lines[one] = chance.choice([b" ", b"  ", b""]) + b" ".join(words)
    return b"\n".join(lines)


def test_reader_never_raises_when_a_file_is_damaged():
    files = files_of(FOLDER)
    names = sorted(name for name in files if name.endswith(".yml"))
    chance = random.Random(20_240_229)
    refused = 0
    for number in range(MUTATIONS):
        name = chance.choice(names)
        damaged = mutate(files[name], chance)
        try:
            base, problems = read_files(files | {name: damaged})
        except Exception as fault:
            raise AssertionError(f"mutation {number} of {name} raised {fault!r}:\n{damaged!r}") from fault
        assert (base is None) == bool(problems)
        assert all(isinstance(one, Problem) and str(one).isprintable() and one.fix for one in problems)
        refused += bool(problems)
    # Some damage is none (a line twice in prose, a letter for another), but most of it has to be seen.
    assert refused > MUTATIONS * 0.4
