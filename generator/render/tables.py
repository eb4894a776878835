"""Gives back the pages of the rule tables: columns, every row with verdict, reason and basis, sources."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from markupsafe import Markup

from generator.analyse.pinning import CountedLimit
from generator.evaluate.prepared import prepare
from generator.pack.model import Column, Table
from generator.problems import Place
from generator.render import addresses, parts, words
from generator.render.library import (
    Library,
    column_address,
    column_range,
    column_title,
    option_titles,
    row_conditions,
    verdict_of,
)
from generator.render.map import MapView, table_map
from generator.render.map_cases import AnsweredState, answered_states
from generator.render.overlay import changes_of_table, company_link
from generator.render.page import Heading, Page, SearchEntry
from generator.render.printing import printed

_BOXES_AT_MOST = 40  # more boxes of `otherwise` than this are counted, not listed
_UNFOLDED_AT_MOST = 14  # a longer table would part the sentences of a prose page too far

POLICIES = {
    "unique": "Exactly one row meets any answer.",
    "collect": "Every row that meets the answer counts, and the worst decides. Where no row does, "
    "the table takes nothing away.",
}


@dataclass(frozen=True, slots=True)
class ColumnView:
    title: parts.Link
    about: str


@dataclass(frozen=True, slots=True)
class Leftover:
    """The boxes that fall to `otherwise`, in words."""

    count: str
    boxes: tuple[tuple[str, ...], ...]
    more: str


@dataclass(frozen=True, slots=True)
class TableView:
    """`caption` names the table to a reader who cannot see it; `letters` are the media whose bands it reads.
    """

    id: str
    title: str
    index: parts.Link
    about: str
    policy: str
    when: str
    safety: bool
    decisions: tuple[parts.Link, ...]
    columns: tuple[ColumnView, ...]
    map: MapView
    rows: tuple[parts.RuleRow, ...]
    leftover: Leftover | None
    letters: tuple[parts.Link, ...]
    letter_count: str
    sources: tuple[parts.Link, ...]
    changes: Markup                  # company beside base, where the company says otherwise
    company: parts.Link | None       # the page of the overlay, where it changes the table; `added`: where it adds it
    added: parts.Link | None
    record: parts.Record


@dataclass(frozen=True, slots=True)
class TableBlock:
    """The rows of a table alone, to stand in prose; `folded` counts them where they wait behind a summary."""

    title: parts.Link
    columns: tuple[ColumnView, ...]
    rows: tuple[parts.RuleRow, ...]
    letter_count: str
    letters: tuple[parts.Link, ...]
    folded: str


def table_pages(
    lib: Library, counted: Mapping[str, tuple[CountedLimit, ...]] | None = None
) -> tuple[Page, ...]:
    """A page per rule table, in the order of the data; `counted` is what is known of limits and cases, by table."""
    states = answered_states(lib, prepare(lib.pack))
    return tuple(_table_page(lib, table, states, counted) for table in lib.pack.tables)


def table_block(lib: Library, identifier: str) -> Markup:
    """The rows of a table as HTML for a prose page; anchors stay on the table's own page."""
    table = lib.tables[identifier]
    media = _media_of(lib, table)
    rows = _author_rows(lib, table)
    return printed(
        "parts/table_block.html",
        TableBlock(
            title=parts.link(addresses.table(identifier), lib.table_texts[identifier].title),
            columns=_columns(lib, table),
            rows=rows,
            letters=media,
            letter_count=_letter_count(lib, table, len(media)),
            folded=words.counted(len(rows), "row") if len(rows) > _UNFOLDED_AT_MOST else "",
        ),
    )


# private


def _table_page(lib: Library, table: Table, states: tuple[AnsweredState, ...],
                counted: Mapping[str, tuple[CountedLimit, ...]] | None) -> Page:
    text = lib.table_texts[table.id]
    rows = _author_rows(lib, table)
    media = _media_of(lib, table)
    place = Place(text.file, text.line)
    rules = list(dict.fromkeys(row.rule for row in table.rows if row.rule not in lib.letters))
    sources = dict.fromkeys(lib.rules[row.rule].basis.source for row in table.rows)
    view = TableView(
        id=table.id,
        title=text.title,
        index=parts.link(addresses.TABLES, "Rule tables"),
        about=text.about,
        policy=POLICIES[table.hit_policy],
        safety=text.safety,
        when="In every state, also while nothing is measured."
        if table.always
        else "Only in states that measure.",
        decisions=tuple(
            parts.link(addresses.decision_index(name), lib.decision_texts[name].title)
            for name in table.decisions
        ),
        columns=_columns(lib, table),
        map=table_map(lib, table, states, counted),
        rows=rows,
        leftover=_leftover(lib, table),
        letters=media,
        letter_count=_letter_count(lib, table, len(media)),
        sources=tuple(
            parts.link(addresses.source(name), lib.sources[name].title)
            for name in sources
            if name in lib.sources
        ),
        changes=changes_of_table(lib, table.id),
        company=company_link(lib, table.id, added=False),
        added=company_link(lib, table.id, added=True),
        record=parts.record(lib, place),
    )
    search = [
        SearchEntry(
            addresses.rule_anchor(rule),
            f"{text.title}: {_verdict_word(lib, rule)}",
            f"{lib.rules[rule].because} {rule}",
        )
        for rule in rules
    ]
    return Page(
        uri=addresses.uri_of(addresses.table(table.id)),
        title=text.title,
        section=("Look up", "Rule tables"),
        body=printed("table.html", view),
        wide=True,
        source=place,
        headings=(Heading("columns", "What it reads"), Heading("map-heading", "Its map"), Heading("rules", "Its rules"),
                  *((Heading("company", "Company beside base"),) if view.changes else ())),
        search=(SearchEntry("", text.title, text.about), *search),
    )


def _verdict_word(lib: Library, rule: str) -> str:
    rank = verdict_of(lib, rule)
    return "never matches" if rank is None else parts.VERDICTS[rank]


def _author_rows(lib: Library, table: Table) -> tuple[parts.RuleRow, ...]:
    return parts.rule_rows(lib, table, (row for row in table.rows if row.rule not in lib.letters))


def _media_of(lib: Library, table: Table) -> tuple[parts.Link, ...]:
    """The media whose letters are rows of a table."""
    media = dict.fromkeys(lib.letters[row.rule].medium for row in table.rows if row.rule in lib.letters)
    return tuple(
        parts.link(f"{addresses.medium(name)}#table-{table.id}", lib.media[name].item.title) for name in media
    )


def _letter_count(lib: Library, table: Table, media: int) -> str:
    letters = sum(row.rule in lib.letters for row in table.rows)
    return (
        f"{words.counted(letters, 'row')} from {words.counted(media, 'medium', 'media')}" if letters else ""
    )


def _columns(lib: Library, table: Table) -> tuple[ColumnView, ...]:
    return tuple(
        ColumnView(
            parts.link(column_address(lib, column), column_title(lib, column)), _column_about(lib, column)
        )
        for column in table.columns
    )


def _column_about(lib: Library, column: Column) -> str:
    if column.kind == "choice":
        kind = "candidate of the decision" if column.source == "decision" else "answer"
        return f"{kind}, one of {len(option_titles(lib, column))}"
    low, high, symbol = column_range(lib, column)
    origin = "computed" if column.source == "derived" else "answer"
    return f"{origin}, {words.number_text(low)} to {words.number_text(high, symbol)}"


def _leftover(lib: Library, table: Table) -> Leftover | None:
    boxes = [
        row_conditions(lib, table, row) for row in table.rows if lib.rules[row.rule].origin == "otherwise"
    ]
    if not boxes:
        return None
    more = len(boxes) - _BOXES_AT_MOST
    return Leftover(
        count=words.counted(len(boxes), "region"),
        boxes=tuple(boxes[:_BOXES_AT_MOST]),
        more=f"and {words.counted(more, 'more region', 'more regions')}" if more > 0 else "",
    )
