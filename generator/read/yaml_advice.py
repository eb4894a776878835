"""Gives back what an author should type instead of a line that YAML cannot read.

Most such lines are tests: `> 5`, `]0.3..10]`, a lone `-` mean something to YAML unless they stand in double
quotes. The parser stops at the first fault, so the rest of the file is searched for further tests of that
kind.
"""

from __future__ import annotations

import re

import yaml

from generator.problems import Place, Problem
from generator.read.shown import shown

# A value that is a test and not a word: comparisons and ranges of numbers, or `-` alone.
_NUMBER = r"-?\d+(?:\.\d+)?(?:[eE][+-]?\d+)?"
_COMPARE = rf"(?:<=|>=|!=|<|>|=)\s*{_NUMBER}"
_RANGE = rf"[\[\]\(]\s*{_NUMBER}\s*\.\.\s*{_NUMBER}\s*[\[\]\)]"
_TEST = rf"(?:{_COMPARE}|{_RANGE})(?:\s*,\s*(?:{_COMPARE}|{_RANGE}))*"
_VALUE = re.compile(rf"(?P<before>(?:^|[\s{{,])(?P<key>[A-Za-z_]\w*):[ ]+)(?P<test>{_TEST}|-(?=\s*(?:$|#)))")


def unquoted_test(line: str, column: int) -> str | None:
    """The test that begins at the 1-based `column` of a line and stands without quotes, or None."""
    return next((match["test"] for match in _VALUE.finditer(line) if match.start("test") + 1 == column), None)


def syntax_problems(file: str, text: str, fault: yaml.MarkedYAMLError) -> list[Problem]:
    """The parser's fault in our words, and every later line with a test that stands without quotes."""
    mark = fault.problem_mark or fault.context_mark
    if mark is None:
        return [Problem(Place(file), "Y002", "this is not YAML", "compare it with a neighbouring file")]
    lines = text.split("\n")
    tests = [_not_quoted(file, number, match) for number, line in enumerate(lines, 1)
             if number >= mark.line + 1
             for match in _VALUE.finditer(line)]
    if tests and tests[0].place.line == mark.line + 1:
        return tests
    return [_fault(file, lines, fault, mark), *tests]


# private

def _not_quoted(file: str, number: int, match: re.Match[str]) -> Problem:
    test = match["test"]
    return Problem(Place(file, number, match.start("test") + 1), "Y003",
                   f"the test `{test}` is not in double quotes",
                   f'write {match["key"]}: "{test}"')


def _fault(file: str, lines: list[str], fault: yaml.MarkedYAMLError, mark: yaml.Mark) -> Problem:
    place = Place(file, mark.line + 1, mark.column + 1)
    said = f"{fault.context or ''} {fault.problem or ''}"
    line = lines[mark.line] if mark.line < len(lines) else ""
    if "quoted scalar" in said and fault.context_mark is not None:
        opened = Place(file, fault.context_mark.line + 1, fault.context_mark.column + 1)
        return Problem(opened, "Y002", "a quote is opened here and never closed properly",
                       r'close it at the end of the text; inside double quotes write \" and \\ for " and ' "\\")
    if "mapping values are not allowed" in said:
        return Problem(place, "Y002",
                       "a colon and a space stand in a text without quotes, or the line is indented wrongly",
                       "put the text in double quotes, or move the key below its neighbours")
    if "block sequence entries" in said:
        return Problem(place, "Y002", "a `-` stands where a value belongs",
                       'write "-" for any value; a list begins on the next line')
    if "cannot start any token" in said:
        sign = line[mark.column:mark.column + 1]
        return Problem(place, "Y002", f"a text cannot begin with `{shown(sign)}`",
                       "put the text in double quotes")
    if "flow mapping" in said or "flow sequence" in said or "flow node" in said:
        opened_line = fault.context_mark.line + 1 if fault.context_mark is not None else mark.line + 1
        return Problem(place, "Y002",
                       f"the bracket opened on line {opened_line} is not closed, or a comma is missing here",
                       "separate the members by single commas and close the bracket; "
                       "put tests and texts with brackets in double quotes")
    if any(part in said for part in ("expected '-' indicator", "expected key", "block")):
        return Problem(place, "Y002", "this line fits neither the list nor the keys above it",
                       "indent it like its neighbours; what follows a closing quote belongs inside the quotes")
    return Problem(place, "Y002", f"this is not YAML ({shown(' '.join(said.split()))})",
                   "put the text in double quotes")
