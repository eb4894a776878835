"""Gives back the committee's two lists: the register of all rules, and the count of what they rest on."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from markupsafe import Markup

from generator.pack.texts import RuleText
from generator.render import addresses, parts, words
from generator.render.library import Library, rule_address, verdict_of
from generator.render.page import Heading, Page, SearchEntry
from generator.render.printing import printed


@dataclass(frozen=True, slots=True)
class RegisterLine:
    rule: parts.Link
    verdict: Markup
    because: str
    basis: Markup


@dataclass(frozen=True, slots=True)
class RegisterGroup:
    anchor: str
    title: parts.Link
    rules: tuple[RegisterLine, ...]


@dataclass(frozen=True, slots=True)
class MediumCount:
    medium: parts.Link
    count: str


@dataclass(frozen=True, slots=True)
class RegisterView:
    counted: str
    groups: tuple[RegisterGroup, ...]
    media: tuple[MediumCount, ...]
    record: parts.Record


@dataclass(frozen=True, slots=True)
class BasisCount:
    kind: str
    checked: str
    rules: str
    letters: str


@dataclass(frozen=True, slots=True)
class Unconfirmed:
    """What waits for one document: the rules, and how many letters of media."""

    title: str
    source: parts.Link | None
    letters: str
    rules: tuple[RegisterLine, ...]


@dataclass(frozen=True, slots=True)
class BasisView:
    counted: str
    provisional: str
    counts: tuple[BasisCount, ...]
    unconfirmed: tuple[Unconfirmed, ...]
    record: parts.Record


def register_page(lib: Library) -> Page:
    """Every rule an author wrote, one per line and by table; letters are counted by medium."""
    groups = []
    for table in lib.pack.tables:
        rules = tuple(
            _line(lib, text) for text in lib.texts.rules if text.table == table.id and _is_written(text)
        )
        if rules:
            title = lib.table_texts[table.id].title
            groups.append(
                RegisterGroup(f"table-{table.id}", parts.link(addresses.table(table.id), title), rules)
            )
    letters = Counter(letter.medium for letter in lib.letters.values())
    media = tuple(
        MediumCount(
            parts.link(addresses.medium(medium.item.id), medium.item.title),
            words.counted(letters[medium.item.id], "letter"),
        )
        for medium in lib.texts.media
    )
    written = sum(len(group.rules) for group in groups)
    view = RegisterView(
        counted=f"{words.counted(written, 'rule')} written in tables and "
        f"{words.counted(sum(letters.values()), 'letter')} written in media",
        groups=tuple(groups),
        media=media,
        record=parts.record(lib, None),
    )
    return Page(
        uri=addresses.uri_of(addresses.RULES),
        title="Rule register",
        section=("Review",),
        body=printed("register.html", view),
        headings=(
            *(Heading(group.anchor, group.title.text) for group in groups),
            Heading("letters", "Letters"),
        ),
        search=(SearchEntry("", "Rule register", "all rules by table"),),
    )


def basis_page(lib: Library) -> Page:
    """How many rules rest on what, and what still waits for someone to read the document."""
    rules = Counter((text.basis.kind, text.basis.checked) for text in lib.texts.rules if _is_written(text))
    letters = Counter((lib.rules[rule].basis.kind, lib.rules[rule].basis.checked) for rule in lib.letters)
    counts = tuple(
        BasisCount(
            parts.BASIS_KINDS.get(kind, kind),
            parts.CHECKED.get(checked, "no document to read"),
            str(rules[kind, checked]),
            str(letters[kind, checked]),
        )
        for kind, checked in sorted({*rules, *letters}, key=_order)
    )
    recalled = [
        text
        for text in lib.texts.rules
        if parts.is_provisional(text.basis) and (_is_written(text) or text.rule in lib.letters)
    ]
    view = BasisView(
        counted=words.counted(rules.total() + letters.total(), "rule"),
        provisional=words.counted(len(recalled), "rule"),
        counts=counts,
        unconfirmed=tuple(
            _unconfirmed(lib, source, recalled)
            for source in dict.fromkeys(text.basis.source for text in recalled)
        ),
        record=parts.record(lib, None),
    )
    return Page(
        uri=addresses.uri_of(addresses.BASIS),
        title="What the rules rest on",
        section=("Review",),
        body=printed("basis.html", view),
        headings=(Heading("counts", "Counts"), Heading("unconfirmed", "To be confirmed")),
        search=(SearchEntry("", "What the rules rest on", "basis recalled to be confirmed provisional"),),
    )


# private


def _is_written(text: RuleText) -> bool:
    """A rule with a sentence of its author, not one that the compiler added."""
    return text.origin in ("author", "otherwise")


def _line(lib: Library, text: RuleText) -> RegisterLine:
    return RegisterLine(
        parts.link(rule_address(lib, text.rule), text.rule),
        parts.verdict_mark(verdict_of(lib, text.rule)),
        text.because,
        parts.basis_line(lib, text.basis),
    )


def _order(key: tuple[str, str]) -> tuple[int, str]:
    kinds = tuple(parts.BASIS_KINDS)
    return (kinds.index(key[0]) if key[0] in kinds else len(kinds), key[1])


def _unconfirmed(lib: Library, source: str, recalled: list[RuleText]) -> Unconfirmed:
    found = [text for text in recalled if text.basis.source == source]
    letters = sum(text.rule in lib.letters for text in found)
    known = lib.sources.get(source)
    return Unconfirmed(
        title=known.title if known else "No single document named",
        source=parts.link(addresses.source(source), known.title) if known else None,
        letters=words.counted(letters, "letter") + " of media" if letters else "",
        rules=tuple(_line(lib, text) for text in found if text.rule not in lib.letters),
    )
