"""Gives back the pages that open each kind of record: liners, media, tables, formulas, sources, cases."""

from __future__ import annotations

from dataclasses import dataclass

from generator.pack.texts import DecisionText
from generator.render import addresses, parts, words
from generator.render.failing import Failing
from generator.render.library import Library
from generator.render.media import names_of
from generator.render.page import Heading, Page, SearchEntry
from generator.render.printing import printed

LONG = 40                            # entries: a longer list gets a box to find in it


@dataclass(frozen=True, slots=True)
class Entry:
    link: parts.Link
    about: str
    small: str


@dataclass(frozen=True, slots=True)
class Group:
    """Entries under a heading; an empty title needs none."""

    anchor: str
    title: str
    entries: tuple[Entry, ...]


@dataclass(frozen=True, slots=True)
class Filter:
    label: str
    script: str


@dataclass(frozen=True, slots=True)
class IndexView:
    title: str
    about: str
    door: parts.Link | None
    groups: tuple[Group, ...]
    filter: Filter | None            # for a list that is too long to read through
    failing: Failing
    record: parts.Record


def index_pages(lib: Library, failed: Failing = Failing()) -> tuple[Page, ...]:
    """One page per kind of record that has pages of its own."""
    decisions = tuple(
        _decision_page(lib, decision)
        for decision in lib.texts.decisions
        if decision.id not in addresses.ON_ONE_PAGE
    )
    return (
        *decisions,
        _media_page(lib),
        _tables_page(lib),
        _formulas_page(lib),
        *((_series_page(lib),) if lib.texts.series else ()),
        _sources_page(lib),
        _cases_page(lib, failed),
    )


# private


def _decision_page(lib: Library, decision: DecisionText) -> Page:
    candidates = tuple(
        Entry(
            parts.link(addresses.candidate(decision.id, item.id), item.title),
            item.about,
            ", ".join(item.synonyms),
        )
        for item in decision.items
    )
    tables = tuple(
        Entry(
            parts.link(addresses.table(table.id), lib.table_texts[table.id].title),
            lib.table_texts[table.id].about,
            "",
        )
        for table in lib.pack.tables
        if decision.id in table.decisions
    )
    groups = (
        Group("candidates", "In the committee\u2019s order of preference", candidates),
        Group("tables", "The tables that judge them", tables),
    )
    return _page(
        lib,
        addresses.decision_index(decision.id),
        decision.title,
        ("Look up", decision.title),
        decision.about,
        groups,
        parts.link(addresses.guidance(decision.id), decision.question),
    )


def _media_page(lib: Library) -> Page:
    ordered = sorted(lib.texts.media, key=lambda medium: medium.item.title.casefold())
    letters: dict[str, list[Entry]] = {}
    for medium in ordered:
        letters.setdefault(medium.item.title[0].upper(), []).append(
            Entry(
                parts.link(addresses.medium(medium.item.id), medium.item.title),
                words.capital(medium.composition),
                ", ".join(names_of(medium)),
            )
        )
    groups = tuple(
        Group(f"letter-{letter.lower()}", letter, tuple(entries)) for letter, entries in letters.items()
    )
    about = (
        "What stands in the pipe, by name. Each page gives bands of concentration and temperature, and one "
        "verdict per wetted material. A medium not listed here leaves chemistry open."
    )
    return _page(lib, addresses.MEDIA, "Media", ("Look up", "Media"), about, groups)


def _tables_page(lib: Library) -> Page:
    groups: dict[str, list[Entry]] = {}
    for table in lib.pack.tables:
        title = words.joined([lib.decision_texts[name].title for name in table.decisions], "and")
        text = lib.table_texts[table.id]
        rows = words.counted(len({row.rule for row in table.rows}), "rule")
        groups.setdefault(title, []).append(
            Entry(parts.link(addresses.table(table.id), text.title), text.about, rows)
        )
    found = tuple(
        Group(f"group-{number}", title, tuple(entries))
        for number, (title, entries) in enumerate(groups.items(), start=1)
    )
    about = (
        "All verdicts come from these tables and from nothing else. Each row names its condition, verdict, "
        "reason and what it rests on."
    )
    return _page(lib, addresses.TABLES, "Rule tables", ("Look up", "Rule tables"), about, found)


def _formulas_page(lib: Library) -> Page:
    subjects: dict[str, list[Entry]] = {}
    for text in sorted(lib.texts.formulas, key=lambda one: one.title.casefold()):
        subjects.setdefault(text.subject, []).append(
            Entry(
                parts.link(addresses.formula(text.id), text.title),
                text.about,
                "" if text.calculator else "to read",
            )
        )
    groups = tuple(
        Group(f"group-{number}", subject or ("Others" if len(subjects) > 1 else ""), tuple(subjects[subject]))
        for number, subject in enumerate(sorted(subjects, key=lambda one: (not one, one)), start=1)
    )
    about = (
        "Each formula names the unit of every letter, the range in which it holds and the mistake a newcomer "
        "makes with it. Most pages compute; those marked \u201cto read\u201d show equation, limits and examples only. "
        "The same tree is printed, calculated and run in the tests."
    )
    return _page(lib, addresses.FORMULAS, "Formulas", ("Look up", "Formulas"), about, groups)


def _series_page(lib: Library) -> Page:
    entries = tuple(
        Entry(parts.link(addresses.series(text.id), text.title), text.about, "") for text in lib.texts.series
    )
    about = (
        "Sizes, ratings and properties as tables. Each names its standard or source, and whether that was read, "
        "run or recalled. Formulas and verdicts read the same figures."
    )
    return _page(
        lib,
        addresses.SERIES,
        "Tables of figures",
        ("Look up", "Tables of figures"),
        about,
        (Group("", "", entries),),
    )


def _sources_page(lib: Library) -> Page:
    groups: dict[str, list[Entry]] = {}
    for source in lib.texts.sources:
        kind = words.capital(parts.BASIS_KINDS.get(source.kind, source.kind))
        small = ", ".join(part for part in (source.edition, parts.CHECKED.get(source.checked, "")) if part)
        groups.setdefault(kind, []).append(
            Entry(parts.link(addresses.source(source.id), source.title), source.about, small)
        )
    found = tuple(
        Group(f"group-{number}", title, tuple(entries))
        for number, (title, entries) in enumerate(groups.items(), start=1)
    )
    about = "The documents that rules name, and how far anyone has checked the rule against the document."
    return _page(lib, addresses.SOURCES, "Sources", ("Review", "Sources"), about, found)


def _cases_page(lib: Library, failed: Failing) -> Page:
    entries = tuple(
        Entry(parts.link(addresses.case(case.id), case.title), case.story, "") for case in lib.texts.cases
    )
    about = (
        "Measuring points whose verdicts were argued by hand first. They show how decisions hang together, "
        "and they hold the rules in place: a change that moves one of them is seen."
    )
    return _page(
        lib,
        addresses.CASES,
        "Reference cases",
        ("Learn", "Reference cases"),
        about,
        (Group("", "", entries),),
        failed=failed,
    )


def _page(
    lib: Library,
    address: str,
    title: str,
    section: tuple[str, ...],
    about: str,
    groups: tuple[Group, ...],
    door: parts.Link | None = None,
    failed: Failing = Failing(),
) -> Page:
    count = sum(len(group.entries) for group in groups)
    box = Filter(f"Find among the {count} {title[:1].lower()}{title[1:]}, by words of their titles and lines",
                 addresses.target("assets/list_filter.js")) if count > LONG else None
    view = IndexView(title, about, door, groups, box, failed, parts.record(lib, None))
    return Page(
        uri=addresses.index_uri(address),
        title=title,
        section=section,
        body=printed("index.html", view),
        headings=tuple(Heading(group.anchor, group.title) for group in groups if group.title),
        search=(SearchEntry("", title, about),),
    )
