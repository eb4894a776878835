"""Gives back a figure of a series: of a named row, or at a number between its rows.

Twin of browser/engine/series.js.
"""

from __future__ import annotations

from generator.evaluate.formulas import NO_VALUE, evaluate_formula
from generator.evaluate.results import NumberSet
from generator.pack.model import Formula, Interval, Series, SeriesColumn, Symbol


def figure_of(series: Series, column: str, row: str) -> NumberSet:
    """The figure of a row by its name, in the column's unit and in any capitals; `NO_VALUE` where there is none."""
    wanted = " ".join(row.lower().split())
    places = [float(place) for place, name in enumerate(series.rows) if " ".join(name.lower().split()) == wanted]
    found = [figure for place, figure in _column(series, column).points if place in places]
    return NumberSet(((found[0], found[0]),)) if found else NO_VALUE


def figure_at(series: Series, column: str, at: NumberSet) -> NumberSet:
    """The figures at numbers of the axis, on straight lines between the rows; there are none outside the rows."""
    points = _column(series, column).points
    valid = Interval(points[0][0], True, points[-1][0], True)
    formula = Formula(series.id, _column(series, column).unit, (Symbol("at", series.unit, valid),),
                      ("interpolate", ("symbol", "at"), points))
    return evaluate_formula(formula, {"at": at})


# private

def _column(series: Series, name: str) -> SeriesColumn:
    return next(column for column in series.columns if column.id == name)
