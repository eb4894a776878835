"""Gives back the pieces that many pages share: links, verdict marks, bases, rule rows, the record's line."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import groupby

from markupsafe import Markup

from generator.pack.model import VERDICTS, Row, Table
from generator.pack.texts import BasisText
from generator.problems import Place
from generator.render import addresses, words
from generator.render.library import Library, column_title, row_conditions, rule_address
from generator.render.printing import printed

BASIS_KINDS = {
    "standard": "standard",
    "handbook": "handbook",
    "physics": "physics",
    "common_practice": "common practice",
    "company": "company rule",
    "supplier": "supplier data",
}
CHECKED = {
    "read": "read in the document",
    "run": "computed with a published program",
    "recalled": "from memory, to be confirmed against the document",
}

# A shape for each verdict, so that colour is never the only sign.
MARKS = {"suitable": "\u2713", "caution": "\u25b2", "unsuitable": "\u2715", "open": "?"}


@dataclass(frozen=True, slots=True)
class Link:
    href: str
    text: str


@dataclass(frozen=True, slots=True)
class Fact:
    """A name and what is to be said about it; the value may be finished HTML."""

    name: str
    value: str | Markup


@dataclass(frozen=True, slots=True)
class Verdict:
    id: str
    word: str
    mark: str


@dataclass(frozen=True, slots=True)
class Basis:
    kind: str
    clause: str
    checked: str
    note: str
    source: Link | None
    provisional: bool


@dataclass(frozen=True, slots=True)
class RuleRow:
    """One row of a rule. Only the first row of a rule shows its verdict and reason, over `span` rows.

    `leftover` stands for all rows of `otherwise`: their conditions are whatever the author's rules leave
    over.
    """

    anchor: str
    rule: str
    href: str
    cells: tuple[str, ...]
    leftover: bool
    first: bool
    span: int
    verdict: Markup
    because: str
    basis: Markup
    record: Link | None
    place: str
    company: bool = False            # a rule of the company's overlay


@dataclass(frozen=True, slots=True)
class Condition:
    """A condition with the name of its column, for rows that stand outside their table."""

    column: str
    words: str


@dataclass(frozen=True, slots=True)
class LooseRule:
    """A rule that stands alone: its conditions carry their names, `any` left out; several rows are
    alternatives.

    `leftover` is the table's `otherwise`; `unconditional` a rule that asks for nothing more.
    """

    anchor: str
    rule: str
    href: str
    rows: tuple[tuple[Condition, ...], ...]
    leftover: bool
    unconditional: bool
    verdict: Markup
    because: str
    basis: Markup
    company: bool = False            # a rule of the company's overlay


def link(address: str, text: str) -> Link:
    return Link(addresses.target(address), text)


@cache
def verdict_mark(rank: int | None) -> Markup:
    """A verdict as text with its shape. None: the rule can no longer match anything."""
    if rank is None:
        return printed("parts/verdict.html", Verdict("none", "never matches", "\u2205"))
    name = VERDICTS[rank]
    return printed("parts/verdict.html", Verdict(name, name, MARKS[name]))


def verdict_mark_of(name: str) -> Markup:
    return verdict_mark(VERDICTS.index(name))


def basis_line(lib: Library, basis: BasisText | None) -> Markup:
    """A basis in words, with a link to its source; empty where a record needs none."""
    if basis is None:
        return Markup("")
    source = lib.sources.get(basis.source)
    return _basis_markup(basis, source.title if source else "")


def is_provisional(basis: BasisText | None) -> bool:
    """A figure recalled from memory holds only until someone has read the document."""
    return basis is not None and basis.checked == "recalled"


def rule_rows(lib: Library, table: Table, rows: Iterable[Row]) -> tuple[RuleRow, ...]:
    """Rows of a table as they stand on its own page, those of one rule together."""
    views: list[RuleRow] = []
    for rule, group in groupby(rows, key=lambda row: row.rule):
        text = lib.rules[rule]
        leftover = text.origin == "otherwise"
        whole = tuple(group)
        found = whole[:1] if leftover else whole
        for number, row in enumerate(found):
            views.append(
                RuleRow(
                    anchor=addresses.rule_anchor(rule),
                    rule=rule,
                    href=addresses.target(rule_address(lib, rule)),
                    cells=() if leftover else row_conditions(lib, table, row),
                    leftover=leftover,
                    first=number == 0,
                    span=len(found),
                    verdict=verdict_mark(row.verdict),
                    because=text.because,
                    basis=basis_line(lib, text.basis),
                    record=record_link(lib, Place(text.file, text.line)),
                    place=place_text(text.file, text.line),
                    company=is_company(lib, text.rule),
                )
            )
    return tuple(views)


def loose_rule(
    lib: Library, table: Table, rule: str, rows: Sequence[Row], without: Sequence[str] = ()
) -> LooseRule:
    """Rows of one rule outside their table. Columns in `without` are known from where they stand."""
    text = lib.rules[rule]
    leftover = text.origin == "otherwise"
    shown = () if leftover else tuple(dict.fromkeys(_conditions(lib, table, row, without) for row in rows))
    unconditional = not leftover and not all(shown)
    return LooseRule(
        anchor=addresses.rule_anchor(rule),
        rule=rule,
        href=addresses.target(rule_address(lib, rule)),
        rows=() if unconditional else shown,
        leftover=leftover,
        unconditional=unconditional,
        verdict=verdict_mark(rows[0].verdict if rows else None),
        because=text.because,
        basis=basis_line(lib, text.basis),
        company=is_company(lib, rule),
    )


def is_company(lib: Library, rule: str) -> bool:
    """Whether a rule is the company's and not the base's."""
    overlay, text = lib.texts.overlay, lib.rules[rule]
    return overlay is not None and (
        text.origin == "overlay" or any(one.table == text.table for one in overlay.added))


def record_link(lib: Library, place: Place) -> Link | None:
    """The record in the repository, for editing; None where the edition names no repository."""
    repository = lib.texts.edition.repository
    if not repository or not place.file:
        return None
    return Link(f"{repository.rstrip('/')}/{place.file}#L{place.line}", "Edit this record")


def place_text(file: str, line: int) -> str:
    return f"{file}:{line}" if file else ""


@dataclass(frozen=True, slots=True)
class Record:
    """Where the facts of a page are written, with the edition that published them."""

    edition: str
    notice: str
    place: str
    edit: Link | None


def record(lib: Library, place: Place | None) -> Record:
    edition = lib.texts.edition
    words_of_edition = f"{edition.company}, {edition.title}, {edition.edition}"
    if place is None:
        return Record(words_of_edition, edition.notice, "", None)
    return Record(
        words_of_edition, edition.notice, place_text(place.file, place.line), record_link(lib, place)
    )


# private


@cache
def _basis_markup(basis: BasisText, source_title: str) -> Markup:
    source = link(addresses.source(basis.source), source_title) if source_title else None
    return printed(
        "parts/basis.html",
        Basis(
            kind=BASIS_KINDS.get(basis.kind, words.spelled(basis.kind)),
            clause=basis.clause,
            checked=CHECKED.get(basis.checked, basis.checked),
            note=basis.note,
            source=source,
            provisional=is_provisional(basis),
        ),
    )


def _conditions(lib: Library, table: Table, row: Row, without: Sequence[str]) -> tuple[Condition, ...]:
    texts = row_conditions(lib, table, row)
    return tuple(
        Condition(column_title(lib, column), text)
        for column, text in zip(table.columns, texts, strict=True)
        if column.name not in without and text != words.ANY
    )
