"""Gives back what a command was pointed at, or raises CannotRun with a line for what is not there."""

from __future__ import annotations

import argparse
from collections.abc import Iterable
from pathlib import Path

from generator.problems import Place, Problem
from generator.read.knowledge_base import WhichOverlay

_SIGNS = ("guide.yml", "quantities.yml", "inputs.yml", "states.yml", "decisions.yml")


class CannotRun(Exception):
    """A command lacks what it works on: exit code 2, and nothing was judged."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(problems)
        super().__init__("\n".join(str(problem) for problem in self.problems))


def need_knowledge_base(folder: Path) -> None:
    """Nothing. A folder with any of the lists that every knowledge base has is one, however incomplete."""
    if not any((folder / name).is_file() for name in _SIGNS):
        name = folder.as_posix()
        raise CannotRun([Problem(Place(name), "Y015", f"no knowledge base in '{name}'",
                                 "run it in the project's folder or give --data FOLDER")])


def chosen_overlay(options: argparse.Namespace) -> WhichOverlay:
    """What --base and --overlay say: the base alone, a folder, or the overlay that guide.yml names."""
    if options.base:
        return None
    if options.overlay is not None and not (options.overlay / "overlay.yml").is_file():
        name = options.overlay.as_posix()
        raise CannotRun([Problem(Place(name), "Y015", f"no overlay in '{name}'",
                                 "give a folder with an overlay.yml, such as data/overlays/ninefold")])
    return options.overlay or "named"


def read_applications(paths: Iterable[Path]) -> list[tuple[str, bytes]]:
    """The name and the bytes of each file."""
    read: list[tuple[str, bytes]] = []
    problems: list[Problem] = []
    for path in paths:
        try:
            read.append((path.as_posix(), path.read_bytes()))
        except OSError as fault:
            problems.append(Problem(
                Place(path.as_posix()), "Y014", f"the file cannot be opened ({fault.strerror})",
                "type the path of an application file: guide select FILE.yml"))
    if problems:
        raise CannotRun(problems)
    return read
