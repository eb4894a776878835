"""Tests that each smallest bad example of meaning says exactly its lines, and that no code lacks one.

The folders are laid out as `tests.read.test_bad_data` describes; here the files can be read, and the compiler
objects.
"""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path

import pytest

from generator.compile.knowledge import compile_knowledge
from generator.read.knowledge_base import read_files
from tests.read.small_data import BAD_DATA, TESTS, files_of, small_files

COMPILE = TESTS.parent / "generator" / "compile"
STAGES = ("C", "G")
# The reader refuses these first, in data files; the compiler's own words for them are tested in test_cells,
# test_quantities and test_completeness.
TESTED_ELSEWHERE = {"C004", "C005", "C006", "C008", "C012", "G004"}
FOLDERS = sorted(path for path in BAD_DATA.iterdir() if path.is_dir() and path.name.startswith(STAGES))


def said(folder: Path) -> list[str]:
    files = files_of(folder)
    files.pop("expected.txt")
    base, problems = read_files(small_files() | files)
    assert base is not None, problems
    pack, texts, problems = compile_knowledge(base, date(2026, 11, 25))
    assert pack is None and texts is None, "data with problems may not be given on"
    return [str(problem) for problem in problems]


@pytest.mark.parametrize("folder", FOLDERS, ids=[folder.name for folder in FOLDERS])
def test_bad_meaning_says_its_expected_lines_and_no_others(folder: Path):
    expected = (folder / "expected.txt").read_text("utf-8").splitlines()
    assert said(folder) == expected
    assert folder.name[:4] in re.findall(r": ([A-Z]\d{3}): ", "\n".join(expected))
    assert all(line.isprintable() for line in expected)


def test_every_problem_code_of_the_compiler_has_a_bad_example():
    used = {
        code for path in COMPILE.glob("*.py")
        for code in re.findall(r'"([A-UW-Z]\d{3})"', path.read_text("utf-8"))}
    assert used - TESTED_ELSEWHERE == {folder.name[:4] for folder in FOLDERS}
    assert TESTED_ELSEWHERE <= used
