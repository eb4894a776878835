"""Gives back the pages of the sources: what each is, who has read it, and all that rests on it."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from generator.pack.texts import SourceText, series_bases
from generator.problems import Place
from generator.render import addresses, parts, words
from generator.render.formulas import bases_of
from generator.render.library import Library, rule_address, verdict_of
from generator.render.page import Page, SearchEntry
from generator.render.printing import printed


@dataclass(frozen=True, slots=True)
class RestingRule:
    rule: parts.Link
    verdict: Markup
    because: str
    clause: str


@dataclass(frozen=True, slots=True)
class RestingMedium:
    medium: parts.Link
    count: str


@dataclass(frozen=True, slots=True)
class SourceView:
    title: str
    index: parts.Link
    about: str
    facts: tuple[parts.Fact, ...]
    unread: bool
    rules: tuple[RestingRule, ...]
    media: tuple[RestingMedium, ...]
    formulas: tuple[parts.Link, ...]
    series: tuple[parts.Link, ...]
    items: tuple[parts.Link, ...]
    cautions: tuple[str, ...]
    idle: bool
    record: parts.Record


def source_pages(lib: Library) -> tuple[Page, ...]:
    """A page per source, in the order of the data."""
    return tuple(_source_page(lib, source) for source in lib.texts.sources)


# private


def _source_page(lib: Library, source: SourceText) -> Page:
    rules = tuple(
        RestingRule(
            rule=parts.link(rule_address(lib, text.rule), text.rule),
            because=text.because,
            clause=text.basis.clause,
            verdict=parts.verdict_mark(verdict_of(lib, text.rule)),
        )
        for text in lib.texts.rules
        if text.basis.source == source.id and text.rule not in lib.letters
    )
    media = _media(lib, source.id)
    formulas = tuple(
        parts.link(addresses.formula(text.id), text.title)
        for text in lib.texts.formulas
        if any(basis.source == source.id for basis in bases_of(text))
    )
    series = tuple(
        parts.link(addresses.series(text.id), text.title)
        for text in lib.texts.series
        if any(basis.source == source.id for basis in series_bases(text))
    )
    items = tuple(
        parts.link(addresses.candidate(decision.id, item.id), item.title)
        for decision in lib.texts.decisions
        for item in decision.items
        if item.basis and item.basis.source == source.id
    )
    cautions = tuple(caution.text for caution in lib.texts.cautions if caution.basis.source == source.id)
    place = Place(source.file, source.line)
    view = SourceView(
        title=source.title,
        index=parts.link(addresses.SOURCES, "Sources"),
        about=source.about,
        facts=tuple(
            parts.Fact(name, value)
            for name, value in (
                ("Kind", parts.BASIS_KINDS.get(source.kind, source.kind)),
                ("Edition", source.edition),
                ("Used", parts.CHECKED.get(source.checked, source.checked)),
            )
            if value
        ),
        unread=source.checked == "recalled",
        rules=rules,
        media=media,
        formulas=formulas,
        series=series,
        items=items,
        cautions=cautions,
        idle=not (rules or media or formulas or series or items or cautions),
        record=parts.record(lib, place),
    )
    return Page(
        uri=addresses.uri_of(addresses.source(source.id)),
        title=source.title,
        section=("Review", "Sources"),
        body=printed("source.html", view),
        source=place,
        search=(SearchEntry("", source.title, f"{source.about} {source.edition}"),),
    )


def _media(lib: Library, source: str) -> tuple[RestingMedium, ...]:
    counts: dict[str, int] = {}
    for rule, letter in lib.letters.items():
        if lib.rules[rule].basis.source == source:
            counts[letter.medium] = counts.get(letter.medium, 0) + 1
    return tuple(
        RestingMedium(
            parts.link(addresses.medium(medium), lib.media[medium].item.title), words.counted(count, "letter")
        )
        for medium, count in counts.items()
    )
