"""Gives back the form of a series: a table of figures against a number or a name."""

from __future__ import annotations

from generator.problems import Problem
from generator.read.records import Basis
from generator.read.series_records import Axis, Series, SeriesColumn, SeriesRow
from generator.read.shape import (
    Field, Problems, Reader, identifier, list_of, may, must, number, number_fault, record, text)
from generator.read.shown import shown
from generator.read.yaml_nodes import Node, Sequence

NO_FIGURE = "none"


def series_form(basis: Reader[Basis], needs_basis: Field) -> Reader[Series]:
    """The reader of a series, put together with the readers of a basis."""
    return record(Series, "a series", {
        "id": must(identifier), "title": must(text), "about": must(text),
        "axis": must(record(Axis, "an axis", {
            "id": must(identifier), "title": must(text), "unit": may(text)}), "{ id: temperature, unit: degC }"),
        "columns": must(list_of(record(SeriesColumn, "a column", {
            "id": must(identifier), "title": must(text), "unit": must(text, "mm"), "basis": may(basis)}),
            "columns", 1), "[{ id: density, title: Density, unit: kg/m3 }]"),
        "rows": must(list_of(_row, "rows", 1), "[[20, 998.2]]"), "trap": must(text), "basis": needs_basis},
        _check)


# private

def _row(node: Node, problems: Problems) -> SeriesRow | None:
    cells = list_of(text, "a row", 2)(node, problems)
    if cells is None or not isinstance(node, Sequence) or len(cells) < len(node.items):
        return None
    figures = [number(cell, problems) for cell in cells[1:] if cell.text != NO_FIGURE]
    return None if None in figures else SeriesRow(cells[0], cells[1:])


def _check(made: Series, problems: Problems) -> None:
    """Each row has a figure for each column; the rows of a number are numbers."""
    for row in made.rows:
        if len(row.figures) != len(made.columns):
            problems.append(Problem(
                row.at.place, "L017",
                f"the row '{shown(row.at.text)}' has {len(row.figures)} figures for {len(made.columns)} columns",
                f"give each column one, or `{NO_FIGURE}` where there is no figure"))
        fault = number_fault(row.at.text) if made.axis.unit is not None else None
        if fault:
            problems.append(Problem(row.at.place, "L007", f"'{shown(row.at.text)}' {fault[0]}", fault[1]))
