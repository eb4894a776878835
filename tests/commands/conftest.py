"""Lets the commands read and compile a folder once in a process, as long as none of its files changes."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from generator.commands import concessions, select


@pytest.fixture(scope="session", autouse=True)
def read_once() -> Iterator[None]:
    """A command reads the shipped data in some seconds, and these tests run a hundred of them."""
    with pytest.MonkeyPatch.context() as patch:
        for command in (select, concessions):
            for name in ("load_pack", "read_folder"):
                patch.setattr(command, name, remembering(getattr(command, name)))
        yield


# private

def remembering(load: Callable[..., object]) -> Callable[..., object]:
    """`load` of a folder and further arguments, called once for the same files; it raises anew what it refuses."""
    known: dict[object, object] = {}

    def remembered(folder: Path, *more: object, **named: object) -> object:
        read = [place for place in (folder, named.get("overlay")) if isinstance(place, Path)]
        files = tuple((path, path.stat().st_mtime_ns, path.stat().st_size)
                      for place in read for path in sorted(place.rglob("*.yml")))
        key = (folder, files, more, tuple(named.items()))
        if key not in known:
            known[key] = load(folder, *more, **named)
        return known[key]

    return remembered
