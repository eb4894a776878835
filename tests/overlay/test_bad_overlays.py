"""Tests that each smallest bad example of an overlay says exactly the lines that stand beside it.

A folder of tests/bad_overlays holds the files that replace or join those of tests/small_overlay, perhaps a `removed.txt`
with the names of files that are missing, and `expected.txt`.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.overlay.small import laid, small_overlay
from tests.read.small_data import TESTS, files_of

FOLDERS = sorted(path for path in (TESTS / "bad_overlays").iterdir() if path.is_dir())
ROOMS = [TESTS.parent / "generator" / name for name in ("read", "compile")]


def said(folder: Path) -> list[str]:
    files = files_of(folder)
    files.pop("expected.txt", None)
    removed = files.pop("removed.txt", b"").decode().split()
    kept = {name: data for name, data in small_overlay().items() if name not in removed}
    pack, texts, problems = laid(kept | files)
    assert pack is None and texts is None, "an overlay with problems may not be given on"
    return [str(problem) for problem in problems]


def test_the_small_overlay_itself_is_in_order():
    pack, texts, problems = laid(small_overlay())
    assert problems == []
    assert pack is not None and texts is not None
    assert texts.overlay is not None
    assert [(one.kind, one.base, one.base_verdict, one.verdict) for one in texts.overlay.changes] == \
        [("fills", "liner_temperature.otherwise", "open", "suitable")]


@pytest.mark.parametrize("folder", FOLDERS, ids=[folder.name for folder in FOLDERS])
def test_bad_overlay_says_its_expected_lines_and_no_others(folder: Path):
    lines = said(folder)
    assert lines == (folder / "expected.txt").read_text("utf-8").splitlines()
    assert folder.name[:4] in re.findall(r": ([A-Z]\d{3}): ", "\n".join(lines))
    assert all(line.isprintable() and len(line) < 400 for line in lines)


def test_every_problem_code_of_overlays_has_a_bad_example():
    used = {code for room in ROOMS for path in room.glob("*.py")
            for code in re.findall(r'"(V\d{3})"', path.read_text("utf-8"))}
    assert used == {folder.name[:4] for folder in FOLDERS if folder.name.startswith("V")}
