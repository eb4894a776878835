"""Gives back printed problems; the form that every command shares."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterable

from generator.problems import Problem


def print_problems(problems: Iterable[Problem], as_json: bool) -> None:
    """One line each to standard error, or one JSON object to standard output."""
    if as_json:
        print_json({"problems": [problem.as_record() for problem in problems]})
        return
    listed = list(problems)
    for problem in listed:
        print(problem, file=sys.stderr)
    print(f"{len(listed)} problem{'' if len(listed) == 1 else 's'}", file=sys.stderr)


def print_json(document: dict) -> None:
    """The document, readable and with characters as they are."""
    print(json.dumps(document, ensure_ascii=False, indent=1))
