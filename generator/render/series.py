"""Gives back the pages of the series: figures against a number or a name, each column with its unit and basis."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from generator.pack.model import Series, SeriesColumn
from generator.pack.texts import SeriesText, series_read
from generator.problems import Place
from generator.render import addresses, parts, words
from generator.render.library import Library
from generator.render.page import Page, SearchEntry
from generator.render.printing import printed

NO_FIGURE = "\u2013"


@dataclass(frozen=True, slots=True)
class Line:
    title: str
    figures: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ColumnNote:
    title: str
    basis: Markup


@dataclass(frozen=True, slots=True)
class SeriesView:
    """The table as it is printed: `corner` heads the first column; a wide table is turned round."""

    id: str
    title: str
    index: parts.Link
    about: str
    corner: str
    heads: tuple[str, ...]
    lines: tuple[Line, ...]
    between: str
    trap: str
    basis: Markup
    notes: tuple[ColumnNote, ...]
    formulas: tuple[parts.Link, ...]
    record: parts.Record


def series_pages(lib: Library) -> tuple[Page, ...]:
    """A page per series, in the order of the data."""
    return tuple(_page(lib, series, text) for series, text in zip(lib.pack.series, lib.texts.series, strict=True))


# private


def _page(lib: Library, series: Series, text: SeriesText) -> Page:
    columns = tuple(_with_unit(column.title, column.unit_symbol) for column in text.columns)
    rows, figures = _figures(series)
    axis = _with_unit(text.axis, text.unit_symbol)
    if len(columns) > max(len(rows), 7):
        corner, heads = axis, rows
        lines = tuple(Line(title, tuple(row[place] for row in figures)) for place, title in enumerate(columns))
    else:
        corner, heads = axis, columns
        lines = tuple(Line(title, row) for title, row in zip(rows, figures, strict=True))
    place = Place(text.file, text.line)
    view = SeriesView(
        id=text.id,
        title=text.title,
        index=parts.link(addresses.SERIES, "Tables of figures"),
        about=text.about,
        corner=corner,
        heads=heads,
        lines=lines,
        between="Between two rows the figures lie on a straight line; outside the rows there is none."
        if series.unit
        else "Nothing is read between two rows.",
        trap=text.trap,
        basis=parts.basis_line(lib, text.basis),
        notes=tuple(
            ColumnNote(column.title, parts.basis_line(lib, column.basis))
            for column in text.columns
            if column.basis is not None
        ),
        formulas=tuple(
            parts.link(addresses.formula(formula.id), formula.title)
            for formula in lib.texts.formulas
            if text.id in series_read(formula.printed)
        ),
        record=parts.record(lib, place),
    )
    return Page(
        uri=addresses.uri_of(addresses.series(text.id)),
        title=text.title,
        section=("Look up", "Tables of figures"),
        body=printed("series.html", view),
        source=place,
        search=(SearchEntry("", text.title, f"{text.about} {', '.join(c.title for c in text.columns)}"),),
    )


def _figures(series: Series) -> tuple[tuple[str, ...], tuple[tuple[str, ...], ...]]:
    """The titles of the rows, and for each row the figures of all columns."""
    places = sorted({place for column in series.columns for place, _ in column.points})
    titles = tuple(words.number_text(place) if series.unit else series.rows[int(place)] for place in places)
    return titles, tuple(tuple(_figure(column, place) for column in series.columns) for place in places)


def _figure(column: SeriesColumn, place: float) -> str:
    found = dict(column.points).get(place)
    return NO_FIGURE if found is None else words.number_text(found)


def _with_unit(title: str, symbol: str) -> str:
    return f"{title}, {symbol}" if symbol not in ("", "1") else title
