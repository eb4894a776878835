"""Gives back a place in a file, and a problem: one fault of the data, said in one line with what to type instead."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, order=True, slots=True)
class Place:
    """A spot in a file; `line` and `column` count from 1, and 0 stands for the file as a whole."""

    file: str
    line: int = 0
    column: int = 0

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}" if self.line else self.file


@dataclass(frozen=True, order=True, slots=True)
class Problem:
    """One fault. `message` says what is wrong, `fix` says what to type instead; both are single lines.

    Codes are one letter for the stage and three digits, and never change meaning: Y reading YAML, L records,
    X references between records, C compiling, G gaps and overlaps, R reference cases, A answers, P pages.
    """

    place: Place
    code: str
    message: str
    fix: str

    def __str__(self) -> str:
        return f"{self.place}: {self.code}: {self.message}; fix: {self.fix}"

    def as_record(self) -> dict[str, object]:
        """The same facts for a script: file, line, column, code, message, fix."""
        return {"file": self.place.file, "line": self.place.line, "column": self.place.column,
                "code": self.code, "message": self.message, "fix": self.fix}


class Refused(Exception):
    """The data or an application has problems; raised once, at the edge, with all of them in order of place."""

    def __init__(self, problems: list[Problem] | tuple[Problem, ...]) -> None:
        self.problems = tuple(sorted(set(problems)))
        super().__init__("\n".join(str(problem) for problem in self.problems))
