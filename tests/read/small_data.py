"""Gives back the tests' smallest knowledge base as bytes by file, so that a test can change one of them in memory."""

from __future__ import annotations

from functools import cache
from pathlib import Path

TESTS = Path(__file__).resolve().parent.parent
SMALL_DATA = TESTS / "small_data"
BAD_DATA = TESTS / "bad_data"


def files_of(folder: Path) -> dict[str, bytes]:
    """Every file below `folder`, by its path in it."""
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in sorted(folder.rglob("*"))
            if path.is_file()}


@cache
def _small() -> tuple[tuple[str, bytes], ...]:
    return tuple(files_of(SMALL_DATA).items())


def small_files() -> dict[str, bytes]:
    """The files of tests/small_data; the caller may change the mapping."""
    return dict(_small())


def changed(name: str, old: str, new: str) -> dict[str, bytes]:
    """small_files with the one occurrence of `old` in a file replaced."""
    files = small_files()
    text = files[name].decode()
    assert text.count(old) == 1, f"{name} has '{old}' {text.count(old)} times"
    return files | {name: text.replace(old, new).encode()}
