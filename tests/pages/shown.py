"""Gives back the shape of what pages show: tables, rows and cells, mentions, limits, calculators."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from tests.pages.conditions import Anything, Condition, Numbers

VERDICT_WORDS = ("unsuitable", "open", "caution", "suitable")      # from bad to good


@dataclass(frozen=True, slots=True)
class Column:
    """A column by the id its head leads to. `kind` is number or choice, `low` to `high` its printed range."""

    name: str
    title: str
    source: str                      # input, derived or decision
    kind: str
    low: float = 0.0
    high: float = 0.0
    unit: str = ""


@dataclass(frozen=True, slots=True)
class Row:
    """A row of a table, or a cell of a matrix. `cell` says where it stands, `words` what a column prints."""

    page: str
    rule: str
    cell: str
    conditions: Mapping[str, Condition]
    words: Mapping[str, str]
    verdict: str
    leftover: bool = False

    def holds(self, point: Mapping[str, float | str | None]) -> bool:
        return all(condition.holds(point[name]) for name, condition in self.conditions.items())


@dataclass(frozen=True, slots=True)
class Table:
    """A rule table as printed on one page. `boxes` are the regions said to fall to its last row."""

    page: str
    id: str
    decisions: tuple[str, ...]
    policy: str                      # unique or collect
    columns: tuple[Column, ...]
    rows: tuple[Row, ...]
    media: tuple[str, ...] = ()      # pages that hold further rows
    boxes: tuple[Row, ...] = ()


@dataclass(frozen=True, slots=True)
class Mention:
    """A rule that is named outside its table, with the verdict and, where printed, the conditions there, a
    line per row of the rule."""

    page: str
    table: str
    rule: str
    verdict: str
    conditions: tuple[Mapping[str, Condition], ...] = ()


@dataclass(frozen=True, slots=True)
class Limit:
    """A number or condition in prose that leads to a rule."""

    page: str
    rule: str
    text: str


@dataclass(frozen=True, slots=True)
class Example:
    given: tuple[tuple[str, str], ...]               # title of the letter, answer
    result: str
    tolerance: float


@dataclass(frozen=True, slots=True)
class Calculator:
    """A formula's page: titles of its letters with unit and range, in order, and its worked examples."""

    page: str
    formula: str
    letters: tuple[tuple[str, str, Numbers | Anything], ...]
    examples: tuple[Example, ...]
