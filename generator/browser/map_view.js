// Gives back what a map shows: the two axes, the values chosen for the other columns, and what can be chosen.
//
// A view is { x, y, fixed: [[column, key]] }; `y` may be empty. Twin of generator/render/map_view.py.

import { LEFT_OVER } from "./map_sheet.js";
import { cellsHolding, columnSlots, has, keyOf, slotWords } from "./map_slots.js";

const ROWS_AT_MOST = 40; // a choice of more options makes a poor axis, and so a selector by default

// The places of the columns in which some rule sets a condition.
export function placesAsked(sheet) {
  return sheet.columns
    .map((_, place) => place)
    .filter((place) => sheet.table.rows.some((row) => row.cells[place] >= 0));
}

// Choice against number where there are both, the columns that most rules ask for first.
export function defaultView(sheet) {
  const score = new Map(placesAsked(sheet).map((place) => [place, telling(sheet, place)]));
  const asked = [...score.keys()].sort((one, other) => compare(score.get(other), score.get(one)));
  const numbers = asked.filter((place) => sheet.columns[place].kind === "number");
  const choices = asked.filter((place) => sheet.columns[place].kind === "choice");
  const pair = [
    ...numbers.slice(0, 1),
    ...choices.slice(0, 1),
    ...numbers.slice(1, 2),
    ...choices.slice(1, 2),
  ].slice(0, 2);
  if (!numbers.length && pair.length === 2) {
    // The longer list reads better downwards.
    pair.sort((one, other) => sheet.columns[one].options.length - sheet.columns[other].options.length);
  }
  const names = pair.map((place) => sheet.columns[place].name);
  return settledView(sheet, names[0] ?? "", names[1] ?? "", new Map());
}

// The view of two columns. The others take what is wanted of them (a Map), or a value where the rules say
// most.
export function settledView(sheet, x, y, wanted) {
  const fixed = [];
  for (const place of beside(sheet, x, y)) {
    const { name } = sheet.columns[place];
    const slots = columnSlots(sheet, place, rowsInView(sheet, fixed));
    const found = wanted.has(name) ? slots.find((slot) => has(slot, wanted.get(name))) : undefined;
    fixed.push([name, keyOf(found ?? mostTelling(sheet, slots, fixed))]);
  }
  return { x, y, fixed };
}

// The columns beside the axes, { column, title, options: [[key, words]], slots, chosen }. What a number may
// be depends on what is chosen above it.
export function selectors(sheet, view) {
  return beside(sheet, view.x, view.y).map((place, number) => {
    const column = sheet.columns[place];
    const slots = columnSlots(sheet, place, rowsInView(sheet, view.fixed.slice(0, number)));
    return {
      column: column.name,
      title: column.title,
      options: slots.map((slot) => [keyOf(slot), slotWords(column, slot)]),
      slots,
      chosen: slots.findIndex((slot) => has(slot, view.fixed[number][1])),
    };
  });
}

// The rows of the table that count at the chosen values.
export function rowsInView(sheet, fixed) {
  const places = new Map(sheet.columns.map((column, place) => [column.name, place]));
  const holding = fixed.map(([name, key]) => [places.get(name), cellsHolding(sheet, places.get(name), key)]);
  const rows = [];
  sheet.table.rows.forEach((row, number) => {
    if (holding.every(([place, cells]) => cells.has(row.cells[place]))) rows.push(number);
  });
  return rows;
}

// private

// The columns that are chosen by selector, choices before numbers.
function beside(sheet, x, y) {
  const asked = placesAsked(sheet).filter((place) => ![x, y].includes(sheet.columns[place].name));
  return ["choice", "number"].flatMap((kind) => asked.filter((place) => sheet.columns[place].kind === kind));
}

function telling(sheet, place) {
  const column = sheet.columns[place];
  return [
    Number(column.options.length <= ROWS_AT_MOST),
    Number(column.source === "decision"),
    sheet.table.rows.filter((row) => row.cells[place] >= 0).length,
    sheet.table.columns[place].cells.length,
    -place,
  ];
}

// The slot in which the rules come to most verdicts, then that of most rules; the first of equals.
function mostTelling(sheet, slots, fixed) {
  const rows = rowsInView(sheet, fixed);
  const leftOver = `${sheet.table.id}.${LEFT_OVER}`;
  const score = (slot) => {
    const own = rows
      .filter((_, place) => (slot.rows >> BigInt(place)) & 1n)
      .map((row) => sheet.table.rows[row])
      .filter((row) => row.rule !== leftOver);
    const verdicts = new Set(own.map((row) => row.verdict));
    return [Number(slot.kind !== "absent"), verdicts.size, new Set(own.map((row) => row.rule)).size];
  };
  let best = slots[0];
  let most = score(best);
  for (const slot of slots.slice(1)) {
    const here = score(slot);
    if (compare(here, most) > 0) [best, most] = [slot, here];
  }
  return best;
}

function compare(one, other) {
  const place = one.findIndex((value, at) => value !== other[at]);
  return place < 0 ? 0 : one[place] - other[place];
}
