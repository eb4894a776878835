"""Gives back a series as the engines read it, with its texts and with what formulas need of it."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from generator.compile.quantities import Unit, Vocabulary
from generator.compile.wording import basis_text
from generator.pack import model, texts
from generator.problems import Problem
from generator.read.series_form import NO_FIGURE
from generator.read.series_records import Series, SeriesColumn


@dataclass(frozen=True, slots=True)
class Figures:
    """A series for formulas: the unit of its axis (None: names), and of each column the unit and the points."""

    id: str
    axis: Unit | None
    columns: tuple[tuple[str, Unit, tuple[tuple[float, float], ...]], ...]


def compile_series(
        record: Series, vocabulary: Vocabulary) -> tuple[model.Series, texts.SeriesText, Figures] | list[Problem]:
    """One series, or what is wrong with its units."""
    axis = vocabulary.unit(record.axis.unit) if record.axis.unit is not None else None
    units = [vocabulary.unit(column.unit) for column in record.columns]
    problems = [one for one in (axis, *units) if isinstance(one, Problem)]
    if problems:
        return problems
    columns = tuple((column.id.text, unit, _points(record, place, axis is not None))
                    for place, (column, unit) in enumerate(zip(record.columns, units)) if isinstance(unit, Unit))
    made = model.Series(
        record.id.text, axis.spelling if isinstance(axis, Unit) else "",
        () if isinstance(axis, Unit) else tuple(row.at.text for row in record.rows),
        tuple(model.SeriesColumn(name, unit.spelling, points) for name, unit, points in columns))
    text = texts.SeriesText(
        record.id.text, record.title.text, record.about.text, record.axis.title.text,
        axis.symbol if isinstance(axis, Unit) else "",
        tuple(_column_text(column, unit) for column, (_, unit, _) in zip(record.columns, columns)),
        record.trap.text, basis_text(record.basis), record.place.file, record.place.line)
    return made, text, Figures(record.id.text, axis if isinstance(axis, Unit) else None, columns)


# private

def _points(record: Series, place: int, numbered: bool) -> tuple[tuple[float, float], ...]:
    return tuple((float(Fraction(row.at.text)) if numbered else float(number), float(Fraction(row.figures[place].text)))
                 for number, row in enumerate(record.rows) if row.figures[place].text != NO_FIGURE)


def _column_text(column: SeriesColumn, unit: Unit) -> texts.SeriesColumnText:
    return texts.SeriesColumnText(column.id.text, column.title.text, unit.symbol,
                                  basis_text(column.basis) if column.basis else None)
