// Gives back a figure of a series: of a named row, or at a number between its rows.
//
// Twin of generator/evaluate/series.py.

import { NO_VALUE, evaluateFormula } from "./formulas.js";

// The figure of a row by its name, in the column's unit and in any capitals; `NO_VALUE` where there is none.
export function figureOf(series, column, row) {
  const plain = (name) => name.toLowerCase().trim().split(/\s+/).join(" ");
  const places = [...series.rows.keys()].filter((place) => plain(series.rows[place]) === plain(row));
  const found = columnOf(series, column).points.filter(([place]) => places.includes(place));
  return found.length ? { intervals: [[found[0][1], found[0][1]]], absent: false } : NO_VALUE;
}

// The figures at numbers of the axis, on straight lines between the rows; there are none outside the rows.
export function figureAt(series, column, at) {
  const { unit, points } = columnOf(series, column);
  const valid = { low: points[0][0], low_in: true, high: points.at(-1)[0], high_in: true };
  const formula = {
    id: series.id,
    unit,
    symbols: [{ id: "at", unit: series.unit, valid }],
    expression: ["interpolate", ["symbol", "at"], points],
  };
  return evaluateFormula(formula, { at });
}

// private

function columnOf(series, name) {
  return series.columns.find((column) => column.id === name);
}
