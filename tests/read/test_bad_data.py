"""Tests that each smallest bad example says exactly the lines that stand beside it.

A folder of tests/bad_data holds the files that replace or join those of tests/small_data, perhaps a `removed.txt` with the
names of files that are missing, and `expected.txt`.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from generator.read.knowledge_base import read_files
from tests.read.small_data import BAD_DATA, TESTS, files_of, small_files

READ = TESTS.parent / "generator" / "read"
STAGES = ("Y", "L", "X")
TESTED_ELSEWHERE = {"Y011",
                    "Y014"}     # 2 MB are not kept in a folder, and git keeps no file that cannot be opened
FOLDERS = sorted(path for path in BAD_DATA.iterdir() if path.is_dir() and path.name.startswith(STAGES))


def _said(folder: Path) -> list[str]:
    files = files_of(folder)
    files.pop("expected.txt")
    removed = files.pop("removed.txt", b"").decode().split()
    kept = {name: data for name, data in small_files().items() if name not in removed}
    base, problems = read_files(kept | files)
    assert base is None, "a knowledge base with problems may not be given on"
    return [str(problem) for problem in problems]


@pytest.mark.parametrize("folder", FOLDERS, ids=[folder.name for folder in FOLDERS])
def test_bad_data_says_its_expected_lines_and_no_others(folder: Path):
    assert _said(folder) == (folder / "expected.txt").read_text("utf-8").splitlines()


@pytest.mark.parametrize("folder", FOLDERS, ids=[folder.name for folder in FOLDERS])
def test_bad_data_folder_shows_the_code_that_it_is_named_for(folder: Path):
    codes = re.findall(r": ([A-Z]\d{3}): ", (folder / "expected.txt").read_text("utf-8"))
    assert folder.name[:4] in codes


def test_every_problem_code_of_the_reader_has_a_bad_example():
    used = {code for path in READ.glob("*.py")      # those of overlays (V) have their examples in tests/overlay
            for code in re.findall(r'"([A-UW-Z]\d{3})"', path.read_text("utf-8"))}
    assert used - TESTED_ELSEWHERE == {folder.name[:4] for folder in FOLDERS}
    assert TESTED_ELSEWHERE <= used


def test_messages_are_single_printable_lines_of_bearable_length():
    lines = [line for folder in FOLDERS for line in _said(folder)]
    assert all(line.isprintable() and len(line) < 330 for line in lines)
