"""Gives back the pages of the media: what each is, and its bands as one table per kind of wetted part."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from markupsafe import Markup

from generator.pack.model import Row, Table
from generator.pack.texts import MediumText
from generator.problems import Place
from generator.render import addresses, parts, words
from generator.render.candidates import band_conditions, item_facts
from generator.render.library import Library, is_media
from generator.render.page import Heading, Page, SearchEntry
from generator.render.printing import printed


@dataclass(frozen=True, slots=True)
class Letter:
    """One verdict of the grid; `note` is the number of the reason below it, or empty. `given` is false for a
    hole."""

    anchor: str
    verdict: Markup
    note: str
    given: bool


@dataclass(frozen=True, slots=True)
class BandRow:
    conditions: str
    letters: tuple[Letter, ...]


@dataclass(frozen=True, slots=True)
class Note:
    number: str
    text: str
    about: str


@dataclass(frozen=True, slots=True)
class Grid:
    """The bands of a medium against the candidates of one decision."""

    anchor: str
    title: parts.Link
    candidates: tuple[parts.Link, ...]
    bands: tuple[BandRow, ...]
    notes: tuple[Note, ...]


@dataclass(frozen=True, slots=True)
class RuleShare:
    title: parts.Link
    rules: tuple[parts.LooseRule, ...]


@dataclass(frozen=True, slots=True)
class MediumView:
    title: str
    index: parts.Link
    about: str
    composition: str
    facts: tuple[parts.Fact, ...]
    basis: Markup
    grids: tuple[Grid, ...]
    shares: tuple[RuleShare, ...]
    record: parts.Record


def medium_pages(lib: Library) -> tuple[Page, ...]:
    """A page per medium, in the order of the data."""
    return tuple(_medium_page(lib, medium) for medium in lib.texts.media)


def names_of(medium: MediumText) -> tuple[str, ...]:
    """What else it is called; its number in the registry is understood too, but stands by itself."""
    return tuple(name for name in medium.item.synonyms if name != medium.cas)


# private


def _medium_page(lib: Library, medium: MediumText) -> Page:
    item = medium.item
    grids = tuple(grid for table in lib.pack.tables if (grid := _grid(lib, table, medium)).bands)
    shares = tuple(share for table in lib.pack.tables if (share := _share(lib, table, item.id)).rules)
    facts = [
        parts.Fact(name, value)
        for name, value in (
            ("Number in the chemical registry", medium.cas),
            ("Conductivity", medium.conductivity),
            ("Gases that pass plastics", ", ".join(words.spelled(gas) for gas in medium.permeants)),
            ("Usual service", _service_title(lib, medium.usual_service)),
        )
        if value
    ]
    place = Place(item.file, item.line)
    view = MediumView(
        title=item.title,
        index=parts.link(addresses.MEDIA, "Media"),
        about=item.about,
        composition=words.capital(medium.composition.rstrip(".")),
        facts=(*item_facts(replace(item, facts=(), synonyms=names_of(medium))), *facts),
        basis=parts.basis_line(lib, item.basis),
        grids=grids,
        shares=shares,
        record=parts.record(lib, place),
    )
    headings = [Heading(grid.anchor, grid.title.text) for grid in grids]
    if shares:
        headings.append(Heading("rules", "Other rules that name it"))
    return Page(
        uri=addresses.uri_of(addresses.medium(item.id)),
        title=item.title,
        section=("Look up", "Media"),
        body=printed("medium.html", view),
        wide=True,
        headings=tuple(headings),
        source=place,
        search=(SearchEntry("", item.title, f"{medium.composition} {medium.cas} {' '.join(item.synonyms)}"),),
    )


def _service_title(lib: Library, service: str) -> str:
    for record in lib.texts.inputs:
        titles = dict(record.options)
        if service in titles:
            return titles[service]
    return words.spelled(service)


def _grid(lib: Library, table: Table, medium: MediumText) -> Grid:
    decision = lib.decision_texts[table.decisions[0]]
    by_band: dict[str, dict[str, Row]] = {}
    for row in table.rows:
        letter = lib.letters.get(row.rule)
        if letter and letter.medium == medium.item.id:
            by_band.setdefault(letter.band, {})[letter.candidate] = row
    columns = [item for item in decision.items if any(item.id in band for band in by_band.values())]
    notes = _notes(lib, table, medium, by_band)
    numbers = {text: note.number for text, note in notes.items()}
    bands = tuple(
        BandRow(
            conditions=words.capital(band_conditions(lib, table, next(iter(letters.values())).rule)),
            letters=tuple(
                _letter(lib, medium, band, item.id, letters.get(item.id), numbers) for item in columns
            ),
        )
        for band, letters in by_band.items()
    )
    return Grid(
        anchor=f"table-{table.id}",
        title=parts.link(addresses.table(table.id), lib.table_texts[table.id].title),
        candidates=tuple(
            parts.link(addresses.candidate(decision.id, item.id), item.title) for item in columns
        ),
        bands=bands,
        notes=tuple(notes.values()),
    )


def _letter(
    lib: Library, medium: MediumText, band: str, candidate: str, row: Row | None, numbers: dict[str, str]
) -> Letter:
    if row is None:
        return Letter("", Markup(""), "", False)
    note = numbers.get(_note_text(lib, medium, band, candidate, row.rule), "")
    return Letter(addresses.rule_anchor(row.rule), parts.verdict_mark(row.verdict), note, True)


def _notes(
    lib: Library, table: Table, medium: MediumText, by_band: dict[str, dict[str, Row]]
) -> dict[str, Note]:
    """The distinct reasons of a grid, numbered in order of appearance, with the candidates they speak about.
    """
    about: dict[str, list[str]] = {}
    titles = {item.id: item.title for item in lib.decision_texts[table.decisions[0]].items}
    for band, letters in by_band.items():
        for candidate in (identifier for identifier in titles if identifier in letters):
            text = _note_text(lib, medium, band, candidate, letters[candidate].rule)
            if text and titles[candidate] not in about.setdefault(text, []):
                about[text].append(titles[candidate])
    return {
        text: Note(str(number), text, words.joined(names, "and"))
        for number, (text, names) in enumerate(about.items(), start=1)
    }


def _note_text(lib: Library, medium: MediumText, band: str, candidate: str, rule: str) -> str:
    """The note the record gives for a letter; the rule's reason where the candidate has no letter of its own
    name."""
    for record in medium.bands:
        if record.id == band:
            for material, _, note in record.letters:
                if material == candidate:
                    return note
    return lib.rules[rule].because


def _share(lib: Library, table: Table, medium: str) -> RuleShare:
    found: dict[str, list[Row]] = {}
    for row in table.rows:
        if (
            row.rule not in lib.letters
            and lib.rules[row.rule].origin == "author"
            and _names(lib, table, row, medium)
        ):
            found.setdefault(row.rule, []).append(row)
    names: Sequence[str] = [
        column.name for column in table.columns if column.source == "input" and is_media(lib, column.name)
    ]
    return RuleShare(
        parts.link(addresses.table(table.id), lib.table_texts[table.id].title),
        tuple(parts.loose_rule(lib, table, rule, rows, names) for rule, rows in found.items()),
    )


def _names(lib: Library, table: Table, row: Row, medium: str) -> bool:
    """Whether a row is about a medium: its condition picks it out, and not merely leaves others out."""
    for column, place in zip(table.columns, row.cells, strict=True):
        if place >= 0 and column.source == "input" and is_media(lib, column.name):
            ids = column.cells[place].ids
            return medium in ids and 2 * len(ids) < len(lib.media)
    return False
