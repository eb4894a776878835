"""Gives back the pages of the candidates: one per liner, metal, arrangement and ring, one for all sizes."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from generator.pack.model import Row, Table
from generator.pack.texts import DecisionText, ItemText
from generator.problems import Place
from generator.render import addresses, parts, words
from generator.render.library import Library, condition_text, names_candidate
from generator.render.overlay import changes_of_candidate, figures_about, stock_facts
from generator.render.page import Heading, Page, SearchEntry
from generator.render.printing import printed


@dataclass(frozen=True, slots=True)
class TableShare:
    """What one table says about one candidate."""

    anchor: str
    title: parts.Link
    about: str
    rules: tuple[parts.LooseRule, ...]


@dataclass(frozen=True, slots=True)
class BandVerdict:
    conditions: str
    verdict: Markup
    href: str


@dataclass(frozen=True, slots=True)
class MediumLine:
    medium: parts.Link
    bands: tuple[BandVerdict, ...]


@dataclass(frozen=True, slots=True)
class LetterShare:
    """What one table says about one candidate in each medium."""

    anchor: str
    title: parts.Link
    media: tuple[MediumLine, ...]


@dataclass(frozen=True, slots=True)
class CandidateView:
    title: str
    kind: parts.Link
    guidance: parts.Link
    about: str
    facts: tuple[parts.Fact, ...]
    basis: Markup
    tables: tuple[TableShare, ...]
    letters: tuple[LetterShare, ...]
    changes: Markup                  # company beside base, where the company says otherwise
    record: parts.Record


@dataclass(frozen=True, slots=True)
class SizeLine:
    anchor: str
    title: str
    facts: tuple[str, ...]
    synonyms: str
    about: str
    place: str


@dataclass(frozen=True, slots=True)
class SizesView:
    title: str
    question: str
    about: str
    guidance: parts.Link
    fact_names: tuple[str, ...]
    sizes: tuple[SizeLine, ...]
    basis: Markup
    tables: tuple[parts.Link, ...]
    figures: tuple[parts.Link, ...]
    record: parts.Record


def candidate_pages(lib: Library) -> tuple[Page, ...]:
    """A page per candidate, in the committee's order, and one page for all sizes."""
    pages: list[Page] = []
    for decision in lib.texts.decisions:
        if decision.id in addresses.ON_ONE_PAGE:
            pages.append(_sizes_page(lib, decision))
        else:
            pages.extend(_candidate_page(lib, decision, item) for item in decision.items)
    return tuple(pages)


def item_facts(item: ItemText) -> tuple[parts.Fact, ...]:
    """What is said about an item in a word or a number."""
    facts = [parts.Fact(words.capital(words.spelled(name)), value) for name, value in item.facts]
    if item.synonyms:
        facts.append(parts.Fact("Also called", ", ".join(item.synonyms)))
    if item.flags:
        facts.append(parts.Fact("Flags", ", ".join(words.spelled(flag) for flag in item.flags)))
    return tuple(facts)


def band_conditions(lib: Library, table: Table, rule: str) -> str:
    """The conditions of a letter on numbers, which are concentration and temperature."""
    texts = [
        condition_text(lib, column, column.cells[place])
        for column, place in zip(table.columns, lib.rows[rule][0].cells, strict=True)
        if column.kind == "number" and place >= 0
    ]
    return ", ".join(text for text in texts if text != words.ANY) or "all"


# private


def _candidate_page(lib: Library, decision: DecisionText, item: ItemText) -> Page:
    shares = tuple(
        share
        for table in lib.pack.tables
        if decision.id in table.decisions
        if (share := _table_share(lib, table, decision.id, item.id)).rules
    )
    letters = tuple(
        share
        for table in lib.pack.tables
        if table.decisions == (decision.id,)
        if (share := _letter_share(lib, table, item.id)).media
    )
    place = Place(item.file, item.line)
    view = CandidateView(
        title=item.title,
        kind=parts.link(addresses.decision_index(decision.id), decision.title),
        guidance=parts.link(addresses.guidance(decision.id), decision.question),
        about=item.about,
        facts=(*item_facts(item), *stock_facts(lib, decision.id, item.id)),
        basis=parts.basis_line(lib, item.basis),
        tables=shares,
        letters=letters,
        changes=changes_of_candidate(lib, decision.id, item.id),
        record=parts.record(lib, place),
    )
    headings = [Heading("company", "Company beside base")] if view.changes else []
    headings += [Heading(share.anchor, share.title.text) for share in shares]
    headings += [Heading(share.anchor, f"{share.title.text}, medium by medium") for share in letters]
    text = " ".join((item.about, *item.synonyms, *item.flags))
    return Page(
        uri=addresses.uri_of(addresses.candidate(decision.id, item.id)),
        title=item.title,
        section=("Look up", decision.title),
        body=printed("candidate.html", view),
        headings=tuple(headings),
        search=(SearchEntry("", item.title, text),),
        source=place,
    )


def _table_share(lib: Library, table: Table, decision: str, candidate: str) -> TableShare:
    found: dict[str, list[Row]] = {}
    for row in table.rows:
        if row.rule not in lib.letters and names_candidate(table, row, decision, candidate):
            found.setdefault(row.rule, []).append(row)
    return TableShare(
        anchor=f"table-{table.id}",
        title=parts.link(addresses.table(table.id), lib.table_texts[table.id].title),
        about=lib.table_texts[table.id].about,
        rules=tuple(
            parts.loose_rule(lib, table, rule, rows, without=(decision,)) for rule, rows in found.items()
        ),
    )


def _letter_share(lib: Library, table: Table, candidate: str) -> LetterShare:
    bands: dict[str, list[BandVerdict]] = {}
    for row in table.rows:
        letter = lib.letters.get(row.rule)
        if letter and letter.candidate == candidate:
            bands.setdefault(letter.medium, []).append(
                BandVerdict(
                    conditions=band_conditions(lib, table, row.rule),
                    verdict=parts.verdict_mark(row.verdict),
                    href=addresses.target(
                        f"{addresses.medium(letter.medium)}#{addresses.rule_anchor(row.rule)}"
                    ),
                )
            )
    return LetterShare(
        anchor=f"media-{table.id}",
        title=parts.link(addresses.table(table.id), lib.table_texts[table.id].title),
        media=tuple(
            MediumLine(parts.link(addresses.medium(medium), lib.media[medium].item.title), tuple(found))
            for medium, found in bands.items()
        ),
    )


def _sizes_page(lib: Library, decision: DecisionText) -> Page:
    names = tuple(dict.fromkeys(name for item in decision.items for name, _ in item.facts))
    place = Place(decision.items[0].file, decision.items[0].line) if decision.items else None
    lines = tuple(
        SizeLine(
            anchor=f"{decision.id}-{item.id}",
            title=item.title,
            facts=tuple(dict(item.facts).get(name, "") for name in names),
            synonyms=", ".join(item.synonyms),
            about=item.about,
            place=parts.place_text(item.file, item.line),
        )
        for item in decision.items
    )
    bases = tuple(dict.fromkeys(item.basis for item in decision.items if item.basis))
    view = SizesView(
        title=decision.title,
        question=decision.question,
        about=decision.about,
        guidance=parts.link(addresses.guidance(decision.id), decision.question),
        fact_names=tuple(words.capital(words.spelled(name)) for name in names),
        sizes=lines,
        basis=Markup(" ").join(parts.basis_line(lib, basis) for basis in bases),
        tables=tuple(
            parts.link(addresses.table(table.id), lib.table_texts[table.id].title)
            for table in lib.pack.tables
            if decision.id in table.decisions
        ),
        figures=figures_about(lib, decision.id),
        record=parts.record(lib, place),
    )
    search = tuple(
        SearchEntry(line.anchor, line.title, f"{line.synonyms} {' '.join(line.facts)}") for line in lines
    )
    return Page(
        uri=addresses.index_uri(addresses.decision_index(decision.id)),
        title=decision.title,
        section=("Look up", decision.title),
        body=printed("sizes.html", view),
        search=(SearchEntry("", decision.title, decision.about), *search),
        source=place,
    )
